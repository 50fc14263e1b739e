package server

import (
	"errors"
	"fmt"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"

	"saltlock/api"
	"saltlock/chem/quantity"
)

// contractFaults tells what the validator found, in the words of the contract;
// not ok if the error is not the validator's.
func contractFaults(err error, faults *[]api.Fault) ([]kind, bool) {
	switch e := err.(type) {
	case openapi3.MultiError:
		var kinds []kind
		for _, each := range e {
			found, _ := contractFaults(each, faults)
			kinds = append(kinds, found...)
		}
		return kinds, true
	case *openapi3filter.RequestError:
		return requestFaults(e, faults), true
	case *openapi3.SchemaError:
		return []kind{schemaFault("", e, faults)}, true
	}
	return nil, false
}

func requestFaults(e *openapi3filter.RequestError, faults *[]api.Fault) []kind {
	where := "/"
	if e.Parameter != nil {
		where = e.Parameter.Name
	}
	var kinds []kind
	for _, each := range flattened(e.Err) {
		if schema := new(openapi3.SchemaError); errors.As(each, &schema) {
			kinds = append(kinds, schemaFault(where, schema, faults))
			continue
		}
		f := api.Fault{Where: where, Reason: "cannot be read; see the contract", Rule: "type"}
		switch {
		case errors.Is(each, openapi3filter.ErrInvalidRequired):
			f.Reason, f.Rule = "missing; give it"+example(e.Parameter), "required"
		case errors.Is(each, openapi3filter.ErrInvalidEmptyValue):
			f.Reason, f.Rule = "empty; give a value"+example(e.Parameter)+" or leave it out", "empty"
		case e.Parameter != nil:
			f.Reason = "is not of type " + strings.Join(e.Parameter.Schema.Value.Type.Slice(), " or ") + example(e.Parameter)
		}
		*faults = append(*faults, f)
		kinds = append(kinds, invalidRequest)
	}
	return kinds
}

// flattened opens the validator's nested lists.
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
		return fmt.Sprintf(", as %q", list[0])
	}
	return fmt.Sprintf(", as %q", p.Example)
}

// schemaFault tells one broken rule: what was given, what is allowed, what to do.
func schemaFault(where string, e *openapi3.SchemaError, faults *[]api.Fault) kind {
	if at := e.JSONPointer(); where == "" || where == "/" {
		where = "/" + strings.Join(at, "/")
	} else if len(at) > 0 {
		where += "/" + strings.Join(at, "/")
	}
	k, f := invalidRequest, api.Fault{Where: where, Rule: e.SchemaField, Reason: e.Reason}
	switch e.SchemaField {
	case "format":
		f.Rule = "quantity"
		if parse := new(quantity.ParseError); errors.As(e.Origin, &parse) {
			f.Reason = parse.Error()
		}
	case "enum":
		allowed := make([]string, len(e.Schema.Enum))
		for i, v := range e.Schema.Enum {
			allowed[i] = fmt.Sprint(v)
		}
		f.Reason = fmt.Sprintf("%q is given; one of %s is allowed", fmt.Sprint(e.Value), strings.Join(allowed, ", "))
		if near := nearest(fmt.Sprint(e.Value), allowed); near != "" {
			f.Reason += fmt.Sprintf("; %q is the nearest", near)
		}
	case "minimum", "maximum":
		k, f.Rule = outOfRange, "range"
		f.Reason = fmt.Sprintf("%v is given; %s", e.Value, e.Reason)
	case "type":
		f.Reason = "is not of type " + strings.Join(e.Schema.Type.Slice(), " or ")
	case "properties":
		f.Rule = "unknown"
		if near := nearest(unknownName(e.Reason), propertyNames(e.Schema)); near != "" {
			f.Reason += fmt.Sprintf("; %q is the nearest it knows", near)
		}
	}
	*faults = append(*faults, f)
	return k
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
	return names
}
