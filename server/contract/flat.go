package contract

import (
	"encoding/json"
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// Flattening turns the flat query of GET /v1/transfers/plan into the body of its POST:
// container_start_volume becomes container.start_volume. It is derived from the contract at start,
// so that both entrances stay alike.
type Flattening struct {
	paths map[string][]string // by query name
	types map[string]string   // JSON type by query name
}

// flatten finds the place in the body for every query parameter of the operation.
func flatten(op *Operation, body *openapi3.Schema) (*Flattening, error) {
	f := &Flattening{paths: map[string][]string{}, types: map[string]string{}}
	places := map[string][]string{}
	walkProperties(body, nil, func(path []string, s *openapi3.Schema) {
		name := strings.TrimPrefix(strings.Join(path, "_"), "animals_0_") // a query is about one kind of animal
		places[name] = path
		f.types[name] = s.Type.Slice()[0]
	})
	for name := range op.Query {
		if presentation[name] {
			continue
		}
		if places[name] == nil {
			return nil, fmt.Errorf("contract: query %s of %s has no place in the posted body", name, op.OperationID)
		}
		f.paths[name] = places[name]
	}
	return f, nil
}

// walkProperties visits every property that has no properties itself; an array counts as its first
// item.
func walkProperties(s *openapi3.Schema, path []string, visit func([]string, *openapi3.Schema)) {
	for name, p := range s.Properties {
		at := append(append([]string{}, path...), name)
		v := bare(p.Value)
		if v.Type.Is("array") {
			at, v = append(at, "0"), v.Items.Value
		}
		if v.Type.Is("object") {
			walkProperties(v, at, visit)
		} else {
			visit(at, v)
		}
	}
}

// Body writes a query as the body it stands for.
func (f *Flattening) Body(q url.Values) ([]byte, error) {
	root := map[string]any{}
	for name, path := range f.paths {
		if !q.Has(name) {
			continue
		}
		value, err := f.value(name, q.Get(name))
		if err != nil {
			return nil, err
		}
		place(root, path, value)
	}
	return json.Marshal(root)
}

// value is one parameter as JSON, already checked against the contract: a query may also write 1
// for true, 04 for 4 and .5 for 0.5.
func (f *Flattening) value(name, text string) (any, error) {
	switch f.types[name] {
	case "string":
		return text, nil
	case "boolean":
		return strconv.ParseBool(text)
	case "integer":
		return strconv.ParseInt(text, 10, 64)
	}
	return strconv.ParseFloat(text, 64)
}

func place(at map[string]any, path []string, value any) {
	for i, key := range path[:len(path)-1] {
		if path[i+1] == "0" {
			list, ok := at[key].([]any)
			if !ok {
				list = []any{map[string]any{}}
				at[key] = list
			}
			place(list[0].(map[string]any), path[i+2:], value)
			return
		}
		next, ok := at[key].(map[string]any)
		if !ok {
			next = map[string]any{}
			at[key] = next
		}
		at = next
	}
	at[path[len(path)-1]] = value
}

// Has reports whether a query name stands for a field of the body.
func (f *Flattening) Has(name string) bool { return f.paths[name] != nil }

// Name is the query name of a place in the body, for reporting faults.
func (f *Flattening) Name(dotted string) string {
	flat := strings.ReplaceAll(dotted, ".", "_")
	for name, path := range f.paths {
		if strings.Join(path, "_") == flat || strings.TrimPrefix(strings.Join(path, "_"), "animals_0_") == flat {
			return name
		}
	}
	return flat
}

// bare is a schema without the description around a reference.
func bare(s *openapi3.Schema) *openapi3.Schema {
	for s.Type == nil && len(s.AllOf) == 1 {
		s = s.AllOf[0].Value
	}
	return s
}
