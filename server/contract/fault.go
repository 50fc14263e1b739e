package contract

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
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
		reason, rule := "cannot be read; see the contract", "type"
		switch {
		case errors.Is(each, openapi3filter.ErrInvalidRequired):
			faults.Say(where, "required", missing(e.Parameter))
			kinds = append(kinds, InvalidRequest)
			continue
		case errors.Is(each, openapi3filter.ErrInvalidEmptyValue):
			reason, rule = "empty; leave it out, or give a value"+example(e.Parameter), "empty"
		case e.Parameter != nil:
			if reason = mustBe(e.Parameter.Schema.Value.Type.Slice()); !e.Parameter.Schema.Value.Type.Is("boolean") {
				reason += example(e.Parameter)
			}
		}
		faults.Add(where, reason, rule)
		kinds = append(kinds, InvalidRequest)
	}
	return kinds
}

// missing says that a parameter or field is missing.
func missing(p *openapi3.Parameter) quantity.Note {
	if said := strings.TrimPrefix(example(p), ", for example "); said != "" {
		return quantity.Note{Code: "field_missing_as", Params: []any{said}}
	}
	return quantity.Note{Code: "field_missing"}
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

func example(p *openapi3.Parameter) string {
	if p == nil || p.Example == nil {
		return ""
	}
	if list, ok := p.Example.([]any); ok {
		return fmt.Sprintf(", for example %q", fmt.Sprint(list[0]))
	}
	return fmt.Sprintf(", for example %q", fmt.Sprint(p.Example)) // an example may be a number
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
	rule, reason := ruleOf(e)
	faults.Add(where, reason, rule)
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

// ruleOf names the rule that was broken and says how to keep it.
func ruleOf(e *openapi3.SchemaError) (rule, reason string) {
	switch e.SchemaField {
	case "format":
		if e.Origin != nil {
			return ruleQuantity, e.Origin.Error()
		}
		return ruleQuantity, e.Reason
	case "minLength":
		if e.Value == "" {
			return "empty", "empty; give a value or leave it out"
		}
	case "enum":
		if e.Value == nil {
			return "enum", "null is given; leave it out, or give a value"
		}
		given, allowed := Clip(fmt.Sprint(e.Value)), make([]string, len(e.Schema.Enum))
		for i, v := range e.Schema.Enum {
			allowed[i] = fmt.Sprint(v)
		}
		return "enum", fmt.Sprintf("%q is none of the choices: %s%s", given, strings.Join(allowed, ", "), Hint(given, allowed))
	case "minimum", "maximum":
		return "range", fmt.Sprintf("%v is given; the %s", e.Value, e.Reason)
	case "type":
		if x, ok := e.Value.(float64); ok && e.Schema.Type.Is("string") {
			return "type", fmt.Sprintf("%v is a number; write it as text, in quotes: \"%v\", with its unit if it has one", x, x)
		}
		return "type", mustBe(e.Schema.Type.Slice())
	case "properties":
		name := unknownName(e.Reason)
		return "unknown", fmt.Sprintf("there is no field %q here%s", Clip(name), Hint(name, propertyNames(e.Schema)))
	}
	return e.SchemaField, e.Reason
}

// mustBe says which types a value may have.
func mustBe(types []string) string {
	said := make([]string, len(types))
	for i, name := range types {
		said[i] = cmp.Or(typeNames[name], name)
	}
	return "must be " + strings.Join(said, " or ")
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
