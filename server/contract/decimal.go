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
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"saltlock/chem/quantity"
)

// comma reports whether the numbers of the request have a decimal comma.
func (r *Request) comma() bool { return r.Query.Get("decimal") == "comma" }

// German reports whether a query was written by somebody who reads German and may therefore write
// 1.000 for a thousand. Whoever says what a point means is taken at their word.
func German(q url.Values) bool { return q.Get("lang") == "de" && q.Get("decimal") == "" }

// reader is how the quantities of the body are read; nil if any parser reads them as they are.
func (r *Request) reader() reader {
	switch {
	case r.comma():
		return pointed
	case German(r.Query):
		return certain
	}
	return nil
}

// thousands is a number with one point and three digits behind it, in a unit that people have
// thousands of.
var thousands = regexp.MustCompile(`^\s*([1-9]\d{0,2})\.(\d{3})(\s*(?:|[lL]|m[lL]|gal|g|mg|mm|[µu]S/cm|ppm|mg/L|m[lL]/min|m[lL]/h|[lL]/h))\s*$`)

// unclear is the error of a text in which a point may separate thousands: 1.000 L is a litre or a
// thousand. A volume wrong by that much costs animals their lives.
func unclear(text string) error {
	m := thousands.FindStringSubmatch(text)
	if m == nil {
		return nil
	}
	unit := ""
	if m[3] = strings.TrimSpace(m[3]); m[3] != "" {
		unit = " " + m[3]
	}
	few, many := strings.TrimRight(m[1]+"."+m[2], "0"), m[1]+m[2]+unit
	few = strings.TrimSuffix(few, ".") + unit
	return &quantity.ParseError{Given: text, Reason: "with lang=de it may mean " + few + " or " + many + "; write one of them, or send decimal=point",
		Note: &quantity.Note{Code: "thousands_unclear", Params: []any{few, many}}}
}

// Unread is a text at a place that cannot be read as a quantity.
type Unread struct {
	Where string
	Why   *quantity.ParseError
}

func (e *Unread) Error() string { return e.Where + ": " + e.Why.Error() }

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

// certain leaves a text as it is, unless nobody can know what its point means.
func certain(s *openapi3.Schema, text string) (string, error) {
	if !hasMark(s) && !s.Type.Is("integer") {
		return text, nil
	}
	return text, unclear(text)
}

// pointQuery turns the decimal commas of a query into points, or finds points that are not clear,
// as read says. It returns what is wrong with the texts it leaves alone.
func pointQuery(op *Operation, q url.Values, read reader) error {
	p := pointing{read: read}
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
func PointJSON(s *openapi3.Schema, body []byte) ([]byte, error) { return pointJSON(s, body, pointed) }

func pointJSON(s *openapi3.Schema, body []byte, read reader) ([]byte, error) {
	in := json.NewDecoder(bytes.NewReader(body))
	in.UseNumber()
	var v any
	if err := in.Decode(&v); err != nil {
		return body, noJSON(err)
	}
	p := pointing{read: read}
	written, err := json.Marshal(p.value(s, v, ""))
	return written, errors.Join(append(p.faults, err)...)
}

// reader writes a text of a schema as the parsers take it.
type reader func(s *openapi3.Schema, text string) (string, error)

// pointing collects what a reader cannot read.
type pointing struct {
	read   reader
	faults []error
}

func (p *pointing) text(s *openapi3.Schema, text, where string) string {
	with, err := p.read(s, text)
	if err == nil {
		return with
	}
	if parse := new(quantity.ParseError); errors.As(err, &parse) {
		p.faults = append(p.faults, &Unread{where, parse})
	} else {
		p.faults = append(p.faults, &Fault{Where: where, Reason: err.Error(), Rule: ruleQuantity})
	}
	return text
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
