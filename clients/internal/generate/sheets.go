package main

import (
	"fmt"
	"net/url"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// column is an argument of the functions that convert readings.
type column struct {
	parameter
	Kind string // quantity, number, boolean or text
}

// columns are the fields of a reading in the batch, in the order of getConversion's parameters:
// the batch is an object, which has no order.
func columns(c *contract) ([]column, error) {
	one, err := c.Operation("getConversion")
	if err != nil {
		return nil, err
	}
	many, err := c.Operation("convertReadings")
	if err != nil {
		return nil, err
	}
	fields := many.Body.Value.Items.Value.Properties
	var all []column
	for _, p := range one.Parameters {
		if field, ok := fields[p.Name]; ok {
			all = append(all, column{p, kind(field.Value)})
		}
	}
	return all, nil
}

// kind is what a cell must hold for a field. A quantity is a number whose unit may come from
// elsewhere; a field that is always text has none.
// have its unit from elsewhere; what is text in all its forms has none.
func kind(s *openapi3.Schema) string {
	switch {
	case s.Type.Is("number"), s.Type.Is("integer"):
		return "number"
	case s.Type.Is("boolean"):
		return "boolean"
	case s.Format == "reading", s.Format == "temperature":
		return "quantity"
	}
	return "text"
}

// cell is the JSDoc type of what a range holds.
func cell(kind string) string {
	if kind == "quantity" {
		return "string|number"
	}
	return strings.Replace(kind, "text", "string", 1)
}

// bare says how the unit of a quantity can be given.
func bare(c column) string {
	if c.Kind != "quantity" {
		return ""
	}
	return " A cell or a range, with the unit in each cell or in " + c.Name + "_unit."
}

// inputs are the names of the typed parameters, in words.
func inputs(o operation) string {
	names := make([]string, len(o.Parameters))
	for i, p := range o.Parameters {
		names[i] = p.Name
		if p.Required {
			names[i] += " (needed)"
		}
	}
	return strings.Join(names, ", ")
}

// trimVerb turns getSaltMix into SaltMix.
func trimVerb(id string) string { return strings.TrimPrefix(id, "get") }

// field is the meaning of a field of the answer, with its unit.
func field(o operation, name string) (string, error) {
	p := o.Answer.Value.Properties[name]
	if p == nil {
		return "", fmt.Errorf("%s: only=%s is no field of the answer", o.ID, name)
	}
	text := describe(p)
	if unit := unitOf(p); unit != "" && !strings.Contains(text, unit) {
		text = strings.TrimSuffix(text, ".") + ", " + unit + "."
	}
	return text, nil
}

func unitOf(s *openapi3.SchemaRef) string {
	if unit, ok := s.Value.Extensions["x-unit"].(string); ok {
		return unit
	}
	if len(s.Value.AllOf) == 1 {
		return unitOf(s.Value.AllOf[0])
	}
	return ""
}

// pair is a name and its value in a query.
type pair struct{ Name, Value string }

// query is the example of an operation.
func query(o operation) ([]pair, error) {
	var all []pair
	for _, p := range o.Parameters {
		if !p.Try {
			continue
		}
		example := p.Example
		if example == nil {
			example = p.Schema.Value.Example
		}
		if example == nil {
			return nil, fmt.Errorf("%s: %s has no example", o.ID, p.Name)
		}
		values, ok := example.([]any)
		if !ok {
			values = []any{example}
		}
		for _, v := range values {
			all = append(all, pair{p.Name, fmt.Sprint(v)})
		}
	}
	return all, nil
}

// joined is the address of an example, as a URL.
func joined(pairs []pair) string {
	parts := make([]string, len(pairs))
	for i, p := range pairs {
		parts[i] = p.Name + "=" + strings.ReplaceAll(url.QueryEscape(p.Value), "+", "%20")
	}
	return strings.Join(parts, "&")
}
