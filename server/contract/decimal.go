package contract

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"net/url"
	"regexp"
	"slices"
	"strconv"

	"github.com/getkin/kin-openapi/openapi3"

	"saltlock/chem/quantity"
)

// comma reports whether the numbers of the request have a decimal comma.
func (r *Request) comma() bool { return r.Query.Get("decimal") == "comma" }

// hasMark reports whether a text of this schema holds numbers with a decimal mark. Free text,
// names and times do not, whatever commas they contain.
func hasMark(s *openapi3.Schema) bool {
	switch s.Format {
	case "", "date-time", "clock", "time-zone":
		return false
	}
	return true
}

// decimalComma is a comma that can only be a decimal mark.
var decimalComma = regexp.MustCompile(`(\d),(\d)`)

// pointed writes a text with decimal commas as the parsers read it. A point in it is an error:
// 1.234 is more than a thousand to some and a little over one to others.
func pointed(s *openapi3.Schema, text string) (string, error) {
	if !hasMark(s) {
		return text, nil
	}
	all, err := quantity.DecimalComma(text)
	if s.Format == "portion" && err == nil { // its commas also separate the quantities
		return decimalComma.ReplaceAllString(text, "$1.$2"), nil
	}
	return all, err
}

// pointQuery turns the decimal commas of a query into points, and returns what is wrong with those
// it leaves alone.
func pointQuery(op *Operation, q url.Values) error {
	p := pointing{}
	for _, name := range slices.Sorted(maps.Keys(q)) {
		parameter, ok := op.Query[name]
		if !ok {
			continue
		}
		schema := bare(parameter.Schema.Value)
		for i, v := range q[name] {
			if schema.Type.Is("array") {
				q[name][i] = p.text(bare(schema.Items.Value), v, name+"/"+strconv.Itoa(i))
			} else {
				q[name][i] = p.text(schema, v, name)
			}
		}
	}
	return errors.Join(p.faults...)
}

// PointJSON turns the decimal commas of the quantities in a JSON value into points. Faults of some
// come with the value, so that the rest can be judged too.
func PointJSON(s *openapi3.Schema, body []byte) ([]byte, error) {
	in := json.NewDecoder(bytes.NewReader(body))
	in.UseNumber()
	var v any
	if err := in.Decode(&v); err != nil {
		return body, noJSON(err)
	}
	p := pointing{}
	written, err := json.Marshal(p.value(s, v, ""))
	return written, errors.Join(append(p.faults, err)...)
}

// pointing collects what cannot be read with a decimal comma.
type pointing struct{ faults []error }

func (p *pointing) text(s *openapi3.Schema, text, where string) string {
	with, err := pointed(s, text)
	if err != nil {
		p.faults = append(p.faults, &Fault{Where: where, Reason: err.Error(), Rule: ruleQuantity})
		return text
	}
	return with
}

// value is a JSON value with points; where is its JSON pointer.
func (p *pointing) value(s *openapi3.Schema, v any, where string) any {
	s = bare(s)
	switch v := v.(type) {
	case string:
		return p.text(s, v, orRoot(where))
	case []any:
		if s.Items != nil {
			for i, item := range v {
				v[i] = p.value(s.Items.Value, item, where+"/"+strconv.Itoa(i))
			}
		}
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			if field := s.Properties[name]; field != nil {
				v[name] = p.value(field.Value, v[name], where+"/"+name)
			}
		}
	}
	return v
}
