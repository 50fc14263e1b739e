package contract

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"

	"saltlock/chem/quantity"
)

// Describe says in the words of the contract what the validator found, and what was not read as a
// quantity before it; not ok if the error is neither.
func Describe(err error, faults *Faults) ([]Kind, bool) {
	switch e := err.(type) {
	case *Unread:
		faults.SayParse(e.Where, e.Why)
		return []Kind{InvalidRequest}, true
	case openapi3.MultiError:
		var kinds []Kind
		for _, each := range e {
			found, _ := Describe(each, faults)
			kinds = append(kinds, found...)
		}
		return kinds, true
	case *openapi3filter.RequestError:
		return requestFaults(e, faults), true
	case *openapi3.SchemaError:
		return schemaFaults("/", e, faults), true
	}
	return nil, false
}

func requestFaults(e *openapi3filter.RequestError, faults *Faults) []Kind {
	where := "/"
	if e.Parameter != nil {
		where = e.Parameter.Name
	}
	var kinds []Kind
	for _, each := range inOrder(flattened(e.Err), placeOf) {
		if schema := new(openapi3.SchemaError); errors.As(each, &schema) {
			kinds = append(kinds, schemaFaults(where, schema, faults)...)
			continue
		}
		switch {
		case errors.Is(each, openapi3filter.ErrInvalidRequired):
			faults.Say(where, "required", missing(e.Parameter))
		case errors.Is(each, openapi3filter.ErrInvalidEmptyValue):
			faults.Say(where, "empty", empty(e.Parameter))
		case e.Parameter != nil:
			faults.Say(where, "type", mustBe(e.Parameter.Schema.Value.Type.Slice(), e.Parameter))
		default:
			faults.Say(where, "type", quantity.Note{Code: "not_readable"})
		}
		kinds = append(kinds, InvalidRequest)
	}
	return kinds
}

// missing says that a parameter or field is missing.
func missing(p *openapi3.Parameter) quantity.Note {
	if said := example(p); said != "" {
		return quantity.Note{Code: "field_missing_as", Params: []any{said}}
	}
	return quantity.Note{Code: "field_missing"}
}

// empty says that a parameter or field was given without a value.
func empty(p *openapi3.Parameter) quantity.Note {
	if said := example(p); said != "" {
		return quantity.Note{Code: "field_empty_as", Params: []any{said}}
	}
	return quantity.Note{Code: "field_empty"}
}

// flattened unpacks the validator's nested lists.
func flattened(err error) []error {
	if many, ok := err.(openapi3.MultiError); ok {
		var all []error
		for _, each := range many {
			all = append(all, flattened(each)...)
		}
		return all
	}
	return []error{err}
}

// example is the parameter's example in quotes; empty if it has none.
func example(p *openapi3.Parameter) string {
	if p == nil || p.Example == nil {
		return ""
	}
	if list, ok := p.Example.([]any); ok {
		return strconv.Quote(fmt.Sprint(list[0]))
	}
	return strconv.Quote(fmt.Sprint(p.Example)) // an example may be a number
}

// schemaFaults words one broken rule: what was given, what is allowed, what to do.
func schemaFaults(where string, e *openapi3.SchemaError, faults *Faults) []Kind {
	if e.SchemaField == "allOf" { // a description around a reference; the fault lies inside, and its place is whole
		var kinds []Kind
		for _, each := range inOrder(flattened(errors.Unwrap(e.Origin)), placeOf) {
			if inner := new(openapi3.SchemaError); errors.As(each, &inner) {
				kinds = append(kinds, schemaFaults(where, inner, faults)...)
			}
		}
		return kinds
	}
	k := InvalidRequest
	if e.SchemaField == "minimum" || e.SchemaField == "maximum" {
		k = OutOfRange
	}
	if faults.Full() {
		faults.Untold++
		return []Kind{k}
	}
	where = join(where, e.JSONPointer())
	switch e.SchemaField {
	case "format":
		if e.Value == "" || errors.Is(e.Origin, ErrLong) {
			return []Kind{k} // minLength or maxLength reports it
		}
	case "properties":
		where = join(where, []string{unknownName(e.Reason)})
	}
	if parse := new(quantity.ParseError); e.SchemaField == "format" && errors.As(e.Origin, &parse) {
		faults.SayParse(where, parse)
		return []Kind{k}
	}
	if e.SchemaField == "required" {
		faults.Say(where, "required", missing(nil))
		return []Kind{k}
	}
	if rule, said, ok := ruleOf(e); ok {
		faults.Say(where, rule, said)
	} else {
		faults.Add(where, reasonOf(e), rule)
	}
	return []Kind{k}
}

// placeOf is where the validator found an error.
func placeOf(err error) string {
	if e := new(openapi3.SchemaError); errors.As(err, &e) {
		return strings.Join(e.JSONPointer(), "/") + " " + e.SchemaField + " " + e.Reason
	}
	return ""
}

// join appends a path in the body to its beginning; a query name stays as it is.
func join(where string, at []string) string {
	if len(at) == 0 {
		return where
	}
	for _, name := range at {
		where = strings.TrimSuffix(where, "/") + "/" + Clip(name)
	}
	return where
}

// ruleOf names the rule that was broken and says how to keep it; not ok if no sentence does.
func ruleOf(e *openapi3.SchemaError) (rule string, said quantity.Note, ok bool) {
	say := func(code quantity.Code, params ...any) (string, quantity.Note, bool) {
		return cmp.Or(rules[e.SchemaField], e.SchemaField), quantity.Note{Code: code, Params: params}, true
	}
	given := Clip(written(e.Value))
	switch s := e.Schema; e.SchemaField {
	case "minLength":
		if e.Value == "" {
			return "empty", empty(nil), true
		}
		return say("text_too_short", int(s.MinLength))
	case "maxLength":
		if s.MaxLength != nil {
			return say("text_too_long", int(*s.MaxLength))
		}
	case "maxItems":
		if s.MaxItems != nil {
			return say("list_too_long", int(*s.MaxItems))
		}
	case "minItems":
		return say("list_too_short", int(s.MinItems))
	case "enum":
		if e.Value == nil {
			return say("null_given")
		}
		allowed := make([]string, len(s.Enum))
		for i, v := range s.Enum {
			allowed[i] = fmt.Sprint(v)
		}
		if near := quantity.Nearest(given, allowed); near != "" {
			return say("choice_unknown_near", strconv.Quote(given), strings.Join(allowed, ", "), strconv.Quote(near))
		}
		return say("choice_unknown", strconv.Quote(given), strings.Join(allowed, ", "))
	case "minimum":
		if s.Min != nil && !s.ExclusiveMin.IsTrue() {
			return say("number_too_small", given, written(*s.Min))
		}
	case "maximum":
		if s.Max != nil && !s.ExclusiveMax.IsTrue() {
			return say("number_too_large", given, written(*s.Max))
		}
	case "type":
		if x, ok := e.Value.(float64); ok && s.Type.Is("string") {
			return say("number_as_text", written(x), strconv.Quote(written(x)))
		}
		return "type", mustBe(s.Type.Slice(), nil), true
	case "properties":
		name := unknownName(e.Reason)
		if near := quantity.Nearest(name, propertyNames(s)); near != "" {
			return say("field_unknown_near", strconv.Quote(Clip(name)), strconv.Quote(near))
		}
		return say("field_unknown", strconv.Quote(Clip(name)))
	}
	return cmp.Or(rules[e.SchemaField], e.SchemaField), quantity.Note{}, false
}

// written writes a value as a client does: 1000000, not 1e+06.
func written(v any) string {
	if x, ok := v.(float64); ok && math.Abs(x) < 1e15 {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return fmt.Sprint(v)
}

// rules are the names of broken rules that differ from the schema's words for them.
var rules = map[string]string{"format": ruleQuantity, "minimum": "range", "maximum": "range", "properties": "unknown"}

// reasonOf is what the validator says, where no sentence does.
func reasonOf(e *openapi3.SchemaError) string {
	switch {
	case e.SchemaField == "format" && e.Origin != nil:
		return e.Origin.Error()
	case e.SchemaField == "minimum" || e.SchemaField == "maximum":
		return fmt.Sprintf("%v is given; the %s", e.Value, e.Reason)
	}
	return e.Reason
}

// mustBe says which types a value may have, with an example of the parameter.
func mustBe(types []string, p *openapi3.Parameter) quantity.Note {
	said := make([]any, len(types))
	for i, name := range types {
		said[i] = cmp.Or(typeNames[name], name)
	}
	switch shown := example(p); {
	case len(said) > 1:
		return quantity.Note{Code: "must_be_either", Params: said[:2]}
	case shown != "" && types[0] != "boolean":
		return quantity.Note{Code: "must_be_as", Params: append(said, shown)}
	}
	return quantity.Note{Code: "must_be", Params: said}
}

// typeNames are the JSON types in words.
var typeNames = map[string]string{"boolean": "true or false", "integer": "a whole number", "number": "a number", "string": "text", "array": "a list", "object": "an object"}

// Hint names the nearest of the known names, if one is near.
func Hint(given string, known []string) string {
	if near := quantity.Nearest(given, known); near != "" {
		return fmt.Sprintf("; %q is the nearest", near)
	}
	return ""
}

// unknownName takes the name out of the validator's reason, which quotes it.
func unknownName(reason string) string {
	if parts := strings.Split(reason, `"`); len(parts) > 1 {
		return parts[1]
	}
	return ""
}

func propertyNames(s *openapi3.Schema) []string {
	var names []string
	for name := range s.Properties {
		names = append(names, name)
	}
	slices.Sort(names) // of equally near names, always the same is offered
	return names
}
