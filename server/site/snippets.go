package site

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"saltlock/server/contract"
)

// call is the example request of an operation, to be written in several languages.
type call struct {
	operationID, method, base string
	arguments                 []argument
	only                      []any
	formats                   []string
	queried                   bool   // it has query parameters at all
	kept                      bool   // it stores something, or asks for what was stored
	keyed                     bool   // it needs a key
	URL                       string // path and query
	Body                      string // JSON, indented
}

// argument is one parameter of the example. A list has one for each value.
type argument struct {
	*openapi3.Parameter
	kind   string // name of its schema, where the contract names it
	values []any
}

func newCall(op *contract.Operation, base string) call {
	c := call{operationID: op.OperationID, method: op.Route.Method, base: base, queried: len(op.Query) > 0, formats: op.Formats,
		kept: op.Class.Stored(), keyed: op.Security != nil && len(*op.Security) > 0}
	for _, ref := range op.Parameters {
		p := ref.Value
		if p.Name == "only" {
			c.only = p.Schema.Value.Enum
		}
		if p.Example == nil || !p.Required && p.Extensions["x-try"] != true && p.Extensions["x-try"] != op.OperationID {
			continue
		}
		a := argument{Parameter: p, kind: p.Schema.Ref[strings.LastIndex(p.Schema.Ref, "/")+1:], values: []any{p.Example}}
		if list, ok := p.Example.([]any); ok {
			a.values = list
		}
		c.arguments = append(c.arguments, a)
	}
	c.URL = exampleURL(op.Route.Path, c.arguments)
	if op.RequestBody != nil {
		if media := op.RequestBody.Value.Content.Get("application/json"); media != nil && media.Example != nil {
			body, _ := json.MarshalIndent(media.Example, "", "  ") // what was read as YAML is JSON
			c.Body = string(body)
		}
	}
	return c
}

// exampleURL is the path with the example of each parameter that is required or that a first try
// needs.
func exampleURL(path string, arguments []argument) string {
	var q []string
	for _, a := range arguments {
		for _, v := range a.values {
			if a.In == openapi3.ParameterInPath {
				path = strings.Replace(path, "{"+a.Name+"}", escape(v), 1)
			} else {
				q = append(q, a.Name+"="+escape(v))
			}
		}
	}
	if len(q) == 0 {
		return path
	}
	return path + "?" + strings.Join(q, "&")
}

// with is the URL with more behind it.
func (c call) with(query string) string {
	if strings.Contains(c.URL, "?") {
		return c.URL + "&" + query
	}
	return c.URL + "?" + query
}

// Curl is the request for a shell.
func (c call) Curl() string {
	address := c.base + c.URL
	if slices.Contains(c.formats, "text/plain") {
		address = c.base + c.with("format=text")
	}
	line := "curl '" + address + "'"
	if c.method != http.MethodGet && c.method != http.MethodPost {
		line += " -X " + c.method
	}
	if c.keyed {
		line += " -H 'Authorization: Bearer KEY'"
	}
	if c.Body == "" {
		return line
	}
	return line + " -H 'Content-Type: application/json' -d '" + strings.ReplaceAll(c.Body, "'", `'\''`) + "'"
}

// Sheet is a formula for Google Sheets and one for LibreOffice and Excel. The second gives a
// single number if the operation can.
func (c call) Sheet() []string {
	if c.kept || c.method != http.MethodGet || !slices.Contains(c.formats, "text/csv") {
		return nil
	}
	path, query, _ := strings.Cut(c.URL, "?")
	table := c.base + path + ".csv"
	if query != "" {
		table += "?" + query
	}
	formulas := []string{`=IMPORTDATA("` + table + `")`}
	if len(c.only) > 0 {
		return append(formulas, fmt.Sprintf(`=NUMBERVALUE(WEBSERVICE("%s%s"),".")`, c.base, c.with("format=text&only="+fmt.Sprint(c.only[0]))))
	}
	return append(formulas, fmt.Sprintf(`=WEBSERVICE("%s%s")`, c.base, c.with("format=text")))
}

// Tries reports whether a link can ask the example as it is.
func (c call) Tries() bool { return c.method == http.MethodGet && !c.kept }

// Library reports whether the client libraries have the operation in a useful form.
func (c call) Library() bool {
	return !c.kept && slices.Contains(c.formats, "text/plain") && c.formats[0] == "application/json"
}

// Go is the call with clients/go.
func (c call) Go() string {
	var in, fields []string
	for _, a := range c.arguments {
		if a.In == openapi3.ParameterInPath {
			in = append(in, goValue(a.values[0]))
			continue
		}
		v := goArgument(a)
		fields = append(fields, camel(a.Name)+": "+v)
	}
	name := camel(c.operationID) + "WithResponse"
	switch {
	case c.Body != "":
		in = append(in, "nil", `"application/json"`, "strings.NewReader(`"+c.Body+"`)")
		name = camel(c.operationID) + "WithBodyWithResponse"
	case len(fields) > 0:
		in = append(in, "&saltlock."+camel(c.operationID)+"Params{"+strings.Join(fields, ", ")+"}")
	case c.queried:
		in = append(in, "nil")
	}
	return `client, err := saltlock.NewClientWithResponses("` + c.base + `")
if err != nil {
	return err
}
answer, err := client.` + name + "(" + strings.Join(append([]string{"ctx"}, in...), ", ") + `)
if err != nil {
	return err
}
if answer.JSON200 == nil { // a problem document says what is wrong
	return fmt.Errorf("%s", answer.Body)
}
fmt.Println(answer.JSON200.Summary)`
}

// goArgument is a field of the parameters; optional ones are pointers.
func goArgument(a argument) string {
	if a.Schema.Value.Type.Is("array") {
		list := make([]string, len(a.values))
		for i, v := range a.values {
			list[i] = goValue(v)
		}
		return "[]string{" + strings.Join(list, ", ") + "}"
	}
	v := goValue(a.values[0])
	if a.Required {
		return v // a constant fits an enum too
	}
	if len(a.Schema.Value.Enum) > 0 {
		v = "saltlock." + a.kind + "(" + v + ")"
	}
	return "new(" + v + ")"
}

func goValue(v any) string {
	if s, ok := v.(string); ok {
		return strconv.Quote(s)
	}
	return fmt.Sprint(v)
}

// camel is the name that the Go generator makes from one in the contract.
func camel(name string) string {
	var out strings.Builder
	for part := range strings.SplitSeq(name, "_") {
		out.WriteString(strings.ToUpper(part[:1]) + part[1:])
	}
	return out.String()
}

// TypeScript is the call with clients/typescript.
func (c call) TypeScript() string {
	groups := map[string][]string{}
	for _, a := range c.arguments {
		groups[a.In] = append(groups[a.In], a.Name+": "+a.literal('\'', "true", "false"))
	}
	in := "{ client"
	for _, group := range []string{openapi3.ParameterInPath, openapi3.ParameterInQuery} {
		if list := groups[group]; len(list) > 0 {
			in += ", " + group + ": { " + strings.Join(list, ", ") + " }"
		}
	}
	if c.Body != "" {
		in += ", body: " + c.Body
	}
	return "import { connect, " + c.operationID + " } from 'saltlock'\n\nconst client = connect('" + c.base + "')\nconst { data, error } = await " + c.operationID + "(" + in + " })\nconsole.log(data?.summary ?? error?.detail)"
}

// Python is the call with clients/python.
func (c call) Python() string {
	var in []string
	for _, a := range c.arguments {
		in = append(in, a.Name+"="+a.literal('"', "True", "False"))
	}
	if c.Body != "" {
		in = append(in, "body="+pythonJSON(c.Body))
	}
	return "import saltlock\n\nanswer = saltlock.Client(\"" + c.base + "\")." + snake(c.operationID) + "(" + strings.Join(in, ", ") + ")\nprint(answer[\"summary\"])"
}

// literal is the value in a language with such quotes and truths.
func (a argument) literal(quote byte, yes, no string) string {
	list := make([]string, len(a.values))
	for i, v := range a.values {
		switch v := v.(type) {
		case string:
			q := string(quote)
			list[i] = q + strings.NewReplacer(`\`, `\\`, q, `\`+q).Replace(v) + q
		case bool:
			list[i] = no
			if v {
				list[i] = yes
			}
		default:
			list[i] = fmt.Sprint(v)
		}
	}
	if a.Schema.Value.Type.Is("array") {
		return "[" + strings.Join(list, ", ") + "]"
	}
	return list[0]
}

// pythonJSON is a JSON text as a Python literal. Its strings contain none of the three words.
func pythonJSON(body string) string {
	return strings.NewReplacer(": true", ": True", ": false", ": False", ": null", ": None").Replace(body)
}

// snake is the name that Python has for an operation.
func snake(name string) string {
	var out strings.Builder
	for i, r := range name {
		if r >= 'A' && r <= 'Z' {
			if i > 0 {
				out.WriteByte('_')
			}
			r += 'a' - 'A'
		}
		out.WriteRune(r)
	}
	return out.String()
}
