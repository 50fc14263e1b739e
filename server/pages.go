package server

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"saltlock/chem/instrument"
	"saltlock/server/render"
)

//go:embed pages/*.html
var pageFiles embed.FS

// pages are written once, at start.
type pages struct {
	docs     []byte
	pitfalls []byte
	problems map[string][]byte
}

// problemPage explains one type of problem.
type problemPage struct {
	kind
	Meaning string
	Do      string
}

var problemPages = []problemPage{
	{kind: invalidRequest, Meaning: "Something in the request is missing, given twice, unknown, of another type, or a quantity whose number or unit cannot be read.",
		Do: "Each entry of errors names the place, what was given and what is allowed. Mend them all at once; the documentation lists every parameter."},
	{kind: outOfRange, Meaning: "A value is well formed, but a formula needed for the answer does not hold there. Saltlock does not answer outside the range of its sources.",
		Do: "Check for a slip (a Fahrenheit temperature given as Celsius, grams for kilograms). The entry gives the range that holds; /v1/methods tells where it comes from."},
	{kind: unreachable, Meaning: "No share of the waters given makes the target: it is fresher than the freshest of them, or saltier than the saltiest.",
		Do: "The entry says what can be reached. Bring in a fresher or saltier water, or change the target."},
	{kind: noPlan, Meaning: "With these waters, this container and this line no plan keeps the animals within their limits. Welfare outranks convenience, so there is no plan rather than a harmful one.",
		Do: "Each entry names the field that stands in the way and the smallest change that would free it."},
	{kind: keyMissing, Meaning: "Who knows the id of a saved transfer may read it; changing it, logging readings and deleting it take the key that was told when it was saved.",
		Do: "Send the key as Authorization: Bearer KEY."},
	{kind: keyWrong, Meaning: "The key that was sent is not that of this saved transfer.", Do: "Look for the answer that the transfer was saved with. The service keeps only a hash and cannot tell the key; without it, save the transfer anew."},
	{kind: conflict, Meaning: "As the saved transfer stands, that cannot be done: a start that readings count from is not moved, an ended transfer takes no readings, a log is kept in order.",
		Do: "Read the transfer; the entry says what stands in the way."},
	{kind: changedSince, Meaning: "The request names a state of the saved transfer, by If-Match, that is no longer the latest.", Do: "Read the transfer again, decide anew, and send the new ETag."},
	{kind: retryReused, Meaning: "An Idempotency-Key makes a repeated request harmless. This one came before with another body, so it is no repetition.", Do: "Take a new random key for each new request."},
	{kind: notFound, Meaning: "There is no such species, saved transfer or page. A saved transfer is deleted 30 days after its end.", Do: "The entry gives the nearest names; /v1/species?q= finds by any name."},
	{kind: notAcceptable, Meaning: "The Accept header names no format that this operation answers in.", Do: "Ask for JSON, CSV or plain text, or leave the header out."},
}

// endpoint is one operation on the documentation page.
type endpoint struct {
	*operation
	Path, Example string
	Parameters    []*openapi3.Parameter
}

// RouteMethod is the HTTP method of the operation.
func (e endpoint) RouteMethod() string { return e.route.Method }

// Tries tells whether the example can be asked as it stands.
func (e endpoint) Tries() bool {
	return e.RouteMethod() == http.MethodGet && !strings.Contains(e.Example, "{")
}

// BodyExample is the example of the request body, indented; empty without one.
func (e endpoint) BodyExample() (string, error) {
	if e.RequestBody == nil {
		return "", nil
	}
	body, err := json.MarshalIndent(e.RequestBody.Value.Content.Get("application/json").Example, "", "  ")
	return string(body), err
}

// renderPages writes the documentation and the pages of the problem types.
func renderPages(c *contract) (pages, error) {
	p := pages{problems: map[string][]byte{}}
	t, err := template.New("").Funcs(template.FuncMap{"type": parameterType, "prose": prose}).ParseFS(pageFiles, "pages/*.html")
	if err != nil {
		return p, err
	}
	var out bytes.Buffer
	if err := t.ExecuteTemplate(&out, "docs.html", map[string]any{"Info": c.doc.Info, "Endpoints": endpoints(c)}); err != nil {
		return p, fmt.Errorf("write the documentation: %w", err)
	}
	p.docs = bytes.Clone(out.Bytes())
	rows, err := pitfalls()
	if err != nil {
		return p, fmt.Errorf("compute the pitfalls: %w", err)
	}
	out.Reset()
	if err := t.ExecuteTemplate(&out, "pitfalls.html", rows); err != nil {
		return p, fmt.Errorf("write the pitfalls: %w", err)
	}
	p.pitfalls = bytes.Clone(out.Bytes())
	for _, page := range problemPages {
		out.Reset()
		if err := t.ExecuteTemplate(&out, "problem.html", page); err != nil {
			return p, fmt.Errorf("write the page of %s: %w", page.Name, err)
		}
		p.problems[page.Name] = bytes.Clone(out.Bytes())
	}
	return p, nil
}

// pitfall is one mistake and its cost in each water, in words.
type pitfall struct {
	Mistake string
	Errors  [4]string
}

// pitfalls computes the mistakes anew, so that the page cannot be out of date.
func pitfalls() ([]pitfall, error) {
	all, err := instrument.Pitfalls()
	if err != nil {
		return nil, err
	}
	rows := make([]pitfall, len(all))
	for i, p := range all {
		rows[i].Mistake = render.Voice{}.Say(p.Mistake, p.Params...)
		for k, m := range p.Errors {
			rows[i].Errors[k] = fmt.Sprintf("%+.2f %s", m.Value, m.Unit)
		}
	}
	return rows, nil
}

// endpoints lists the operations in the order of the tags, then of the paths.
func endpoints(c *contract) []endpoint {
	var list []endpoint
	for _, op := range c.operations {
		e := endpoint{operation: op, Path: op.route.Path, Example: exampleURL(op)}
		for _, ref := range op.Parameters {
			e.Parameters = append(e.Parameters, ref.Value)
		}
		list = append(list, e)
	}
	order := map[string]int{}
	for i, tag := range c.doc.Tags {
		order[tag.Name] = i
	}
	slices.SortFunc(list, func(a, b endpoint) int {
		if d := order[a.Tags[0]] - order[b.Tags[0]]; d != 0 {
			return d
		}
		return strings.Compare(a.Path+a.route.Method, b.Path+b.route.Method)
	})
	return list
}

// exampleURL is the path with the example of each parameter that is required,
// or that a first try needs.
func exampleURL(op *operation) string {
	path, q := op.route.Path, []string{}
	for _, ref := range op.Parameters {
		p := ref.Value
		switch values := p.Example.(type) {
		case []any:
			for _, v := range values {
				q = append(q, p.Name+"="+escape(v))
			}
		case nil:
		default:
			if p.In == openapi3.ParameterInPath {
				path = strings.Replace(path, "{"+p.Name+"}", escape(values), 1)
			} else if p.Required || p.Extensions["x-try"] == true || p.Extensions["x-try"] == op.OperationID {
				q = append(q, p.Name+"="+escape(values))
			}
		}
	}
	if len(q) == 0 {
		return path
	}
	return path + "?" + strings.Join(q, "&")
}

func escape(v any) string { return strings.ReplaceAll(url.QueryEscape(fmt.Sprint(v)), "+", "%20") }

// prose sets what stands between backticks as code, and parts paragraphs.
func prose(text string) template.HTML {
	var out strings.Builder
	for paragraph := range strings.SplitSeq(strings.TrimSpace(text), "\n\n") {
		out.WriteString("<p>")
		for i, part := range strings.Split(paragraph, "`") {
			if i%2 == 1 {
				part = "<code>" + template.HTMLEscapeString(part) + "</code>"
			} else {
				part = template.HTMLEscapeString(part)
			}
			out.WriteString(part)
		}
		out.WriteString("</p>")
	}
	return template.HTML(out.String())
}

// parameterType says in a word what a parameter takes.
func parameterType(p *openapi3.Parameter) string {
	s := p.Schema.Value
	if s.Type.Is("array") {
		s = s.Items.Value
	}
	switch {
	case len(s.Enum) > 0:
		words := make([]string, len(s.Enum))
		for i, v := range s.Enum {
			words[i] = fmt.Sprint(v)
		}
		return strings.Join(words, " | ")
	case s.Format != "" && s.Format != "double":
		return strings.ReplaceAll(s.Format, "-", " ")
	}
	return strings.Join(s.Type.Slice(), " ")
}
