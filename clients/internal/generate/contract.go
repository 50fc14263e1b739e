package main

import (
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// contract is what the templates see of openapi.yaml.
type contract struct {
	Version, Server string
	Operations      []operation
	Schemas         []schema
}

// operation is an operation that answers in JSON.
type operation struct {
	ID, Method, Path, Summary, Description string
	Parameters                             []parameter // typed ones, required first
	Shaping                                []parameter // that shape the answer; see shaping
	Body                                   *openapi3.SchemaRef
	Media                                  string // of the body
	Answer                                 *openapi3.SchemaRef
}

type parameter struct {
	Name, In, Description string
	Required              bool
	Schema                *openapi3.SchemaRef
	Example               any
	Try                   bool // part of a first example
}

// schema is a named part of the contract.
type schema struct {
	Name string
	*openapi3.Schema
}

// shaping are the parameters that turn the answer into something other than its schema; typed
// calls leave them out.
var shaping = []string{"format", "only", "sep", "again"}

func read(file string) (*contract, error) {
	doc, err := openapi3.NewLoader().LoadFromFile(file)
	if err != nil {
		return nil, err
	}
	if len(doc.Servers) == 0 {
		return nil, fmt.Errorf("%s names no server", file)
	}
	c := &contract{Version: doc.Info.Version, Server: doc.Servers[0].URL}
	for _, path := range slices.Sorted(maps.Keys(doc.Paths.Map())) {
		item := doc.Paths.Value(path)
		for _, method := range slices.Sorted(maps.Keys(item.Operations())) {
			o := item.GetOperation(method)
			if slices.Contains(o.Tags, "service") {
				continue // clients do not ask for probes and pages
			}
			c.Operations = append(c.Operations, newOperation(method, path, item.Parameters, o))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(doc.Components.Schemas)) {
		c.Schemas = append(c.Schemas, schema{name, doc.Components.Schemas[name].Value})
	}
	return c, nil
}

func newOperation(method, path string, shared openapi3.Parameters, o *openapi3.Operation) operation {
	op := operation{ID: o.OperationID, Method: method, Path: path, Summary: o.Summary, Description: strings.TrimSpace(o.Description)}
	for _, ref := range slices.Concat(shared, o.Parameters) {
		p := newParameter(o.OperationID, ref.Value)
		if slices.Contains(shaping, p.Name) {
			op.Shaping = append(op.Shaping, p)
		} else {
			op.Parameters = append(op.Parameters, p)
		}
	}
	slices.SortStableFunc(op.Parameters, func(a, b parameter) int {
		switch {
		case a.Required == b.Required:
			return 0
		case a.Required:
			return -1
		}
		return 1
	})
	if o.RequestBody != nil {
		for _, media := range slices.Sorted(maps.Keys(o.RequestBody.Value.Content)) {
			if strings.HasSuffix(media, "json") {
				op.Body, op.Media = o.RequestBody.Value.Content[media].Schema, media
			}
		}
	}
	op.Answer = answer(o)
	return op
}

func newParameter(operation string, p *openapi3.Parameter) parameter {
	try := p.Extensions["x-try"]
	return parameter{p.Name, p.In, strings.TrimSpace(p.Description), p.Required, p.Schema, p.Example, p.Required || try == true || try == operation}
}

// answer is the schema of a successful JSON answer; nil if there is none.
func answer(o *openapi3.Operation) *openapi3.SchemaRef {
	for _, status := range []int{http.StatusOK, http.StatusCreated} {
		if r := o.Responses.Status(status); r != nil {
			if json := r.Value.Content.Get("application/json"); json != nil {
				return json.Schema
			}
		}
	}
	return nil
}

// Only are the fields that can be asked for alone.
func (o operation) Only() []string {
	for _, p := range o.Shaping {
		if p.Name == "only" {
			return enum(p.Schema.Value)
		}
	}
	return nil
}

// Operation finds an operation by its id.
func (c *contract) Operation(id string) (operation, error) {
	for _, o := range c.Operations {
		if o.ID == id {
			return o, nil
		}
	}
	return operation{}, fmt.Errorf("the contract has no operation %s", id)
}

// Asked are the operations with fields that a spreadsheet cell can hold.
func (c *contract) Asked() []operation {
	return slices.DeleteFunc(slices.Clone(c.Operations), func(o operation) bool {
		return o.Method != http.MethodGet || len(o.Only()) == 0
	})
}

func enum(s *openapi3.Schema) []string {
	values := make([]string, len(s.Enum))
	for i, v := range s.Enum {
		values[i] = fmt.Sprint(v)
	}
	return values
}

// named is the schema that a reference, or an allOf of one, names; empty if none.
func named(s *openapi3.SchemaRef) string {
	if s.Ref != "" {
		return s.Ref[strings.LastIndex(s.Ref, "/")+1:]
	}
	if s.Value != nil && len(s.Value.AllOf) == 1 {
		return named(s.Value.AllOf[0])
	}
	return ""
}
