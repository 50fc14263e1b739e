package site

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"saltlock/server/contract"
)

// endpoint is one operation in the reference.
type endpoint struct {
	*contract.Operation
	call
	Parameters []*openapi3.Parameter
	Fields     []docField // of the body
	Answers    []docField // of the JSON answer
	Ending     *contract.Deprecation
	Live       live
}

// live is what this server answers to the example.
type live struct {
	Status int
	Lines  []string // the text form
	JSON   string   // the beginning of the JSON form
	Cut    bool
}

// docField is a field of a body or answer.
type docField struct {
	Name, Type, Meaning string
	Required            bool
}

// section is a tag with its operations.
type section struct {
	Name, Description string
	Endpoints         []endpoint
}

// referenceBody is what the reference shows.
type referenceBody struct {
	Info     *openapi3.Info
	Sections []section
	Words    []wording
}

// RouteMethod is the HTTP method of the operation.
func (e endpoint) RouteMethod() string { return e.Route.Method }

// RoutePath is its path in the contract.
func (e endpoint) RoutePath() string { return e.Route.Path }

// reference takes the contract apart for the page and tries every example.
func reference(c *contract.Contract, base string, ask asker) referenceBody {
	body := referenceBody{Info: c.Doc.Info, Words: wordings(c)}
	for _, tag := range c.Doc.Tags {
		part := section{Name: tag.Name, Description: tag.Description}
		for _, op := range c.Operations {
			if op.Tags[0] == tag.Name {
				part.Endpoints = append(part.Endpoints, newEndpoint(op, base, ask))
			}
		}
		slices.SortFunc(part.Endpoints, func(a, b endpoint) int {
			return cmp.Or(strings.Compare(a.Route.Path, b.Route.Path), strings.Compare(a.Route.Method, b.Route.Method))
		})
		body.Sections = append(body.Sections, part)
	}
	return body
}

func newEndpoint(op *contract.Operation, base string, ask asker) endpoint {
	e := endpoint{Operation: op, call: newCall(op, base), Ending: op.Ending}
	for _, ref := range op.Parameters {
		e.Parameters = append(e.Parameters, ref.Value)
	}
	if op.RequestBody != nil {
		if media := op.RequestBody.Value.Content.Get("application/json"); media != nil {
			e.Fields = fieldsOf(media.Schema.Value, "", 0)
		}
	}
	if ok := op.Responses.Value("200"); ok != nil {
		if media := ok.Value.Content["application/json"]; media != nil && media.Schema != nil {
			e.Answers = fieldsOf(media.Schema.Value, "", 0)
		}
	}
	e.Live = e.try(ask)
	return e
}

// try asks the example; a POST only if the contract says that it stores nothing.
func (e endpoint) try(ask asker) live {
	if e.kept || slices.Contains(e.Operation.Formats, "text/html") {
		return live{}
	}
	if slices.Contains([]string{"/docs", "/docs/pitfalls", "/problems/{type}"}, e.Route.Path) {
		return live{} // pages show themselves
	}
	status, body := ask(e.Route.Method, e.URL, []byte(e.Body))
	l := live{Status: status}
	if !json.Valid(body) {
		l.JSON, l.Cut = beginning(strings.TrimSpace(string(body)), 12)
		return l
	}
	var indented bytes.Buffer
	_ = json.Indent(&indented, body, "", "  ") // it is valid
	l.JSON, l.Cut = beginning(strings.TrimSpace(indented.String()), 48)
	if status == http.StatusOK && slices.Contains(e.Operation.Formats, "text/plain") {
		_, text := ask(e.Route.Method, e.with("format=text"), []byte(e.Body))
		l.Lines = strings.Split(strings.TrimSpace(string(text)), "\n")
		l.Lines = l.Lines[:min(len(l.Lines), 10)]
	}
	return l
}

// beginning is the first lines of a text, and whether more follow.
func beginning(text string, most int) (string, bool) {
	lines := strings.Split(text, "\n")
	if len(lines) <= most {
		return text, false
	}
	return strings.Join(lines[:most], "\n"), true
}

// deepest is how many levels of fields inside fields are listed.
const deepest = 3

// fieldsOf lists the fields of an object, with fields inside them after a point.
func fieldsOf(s *openapi3.Schema, prefix string, depth int) []docField {
	for len(s.AllOf) == 1 {
		s = s.AllOf[0].Value
	}
	if s.Type.Is("array") && s.Items != nil {
		return fieldsOf(s.Items.Value, prefix+"[]", depth)
	}
	names := make([]string, 0, len(s.Properties))
	for name := range s.Properties {
		names = append(names, name)
	}
	slices.SortFunc(names, func(a, b string) int { // required fields come first
		if x, y := slices.Contains(s.Required, a), slices.Contains(s.Required, b); x != y {
			if x {
				return -1
			}
			return 1
		}
		return strings.Compare(a, b)
	})
	var list []docField
	for _, name := range names {
		p := s.Properties[name].Value
		f := docField{Name: strings.TrimPrefix(prefix+"."+name, "."), Type: schemaType(p), Meaning: p.Description, Required: slices.Contains(s.Required, name)}
		list = append(list, f)
		if depth < deepest && unitOf(p) == "" {
			list = append(list, fieldsOf(p, f.Name, depth+1)...)
		}
	}
	return list
}

// unitOf is the unit of a quantity in an answer.
func unitOf(s *openapi3.Schema) string {
	if unit, ok := s.Extensions["x-unit"].(string); ok {
		return unit
	}
	if _, ok := s.Properties["unit"]; ok {
		return "unit"
	}
	for _, part := range s.AllOf {
		if unit := unitOf(part.Value); unit != "" {
			return unit
		}
	}
	return ""
}

// schemaType says in a word what a parameter or field holds.
func schemaType(s *openapi3.Schema) string {
	if s.Type.Is("array") && s.Items != nil {
		return "list of " + schemaType(s.Items.Value)
	}
	if unit := unitOf(s); unit != "" && !s.Type.Is("number") {
		return "quantity, " + unit
	}
	switch {
	case len(s.AllOf) == 1:
		return schemaType(s.AllOf[0].Value)
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

// Type says in a word what a parameter takes.
func (e endpoint) Type(p *openapi3.Parameter) string { return schemaType(p.Schema.Value) }

// Example is the URL of the example, as a link.
func (e endpoint) Example() template.URL { return template.URL(e.URL) }
