package server_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

// Every method an answer names is listed, once, with all its fields.
func TestMethods(t *testing.T) {
	s := newService(t)
	var list struct {
		Items []struct{ Key, Title, Source, Validity, Uncertainty, Standing string }
	}
	if err := json.Unmarshal([]byte(s.get(t, "/v1/methods").body), &list); err != nil {
		t.Fatal(err)
	}
	var keys []string
	for _, m := range list.Items {
		if slices.Contains(keys, m.Key) {
			t.Errorf("method %s is listed twice", m.Key)
		}
		keys = append(keys, m.Key)
		if m.Title == "" || m.Source == "" || m.Validity == "" || m.Uncertainty == "" || m.Standing == "" {
			t.Errorf("method %s lacks a field: %+v", m.Key, m)
		}
	}
	for _, q := range questions {
		if q.method != "GET" || !strings.HasPrefix(q.target, "/v1/") {
			continue
		}
		var used struct{ Methods []string }
		if err := json.Unmarshal([]byte(s.get(t, q.target).body), &used); err != nil {
			t.Fatal(err)
		}
		for _, m := range used.Methods {
			if !slices.Contains(keys, m) {
				t.Errorf("GET %s uses %q, which /v1/methods does not list", q.target, m)
			}
		}
	}
}

// Every number in the contract has a unit, every string a bound, and every object refuses unknown
// fields.
func TestContractIsTight(t *testing.T) {
	s := newService(t)
	if err := s.doc.Validate(t.Context()); err != nil {
		t.Error(err)
	}
	for name, ref := range s.doc.Components.Schemas {
		tight(t, name, ref)
	}
}

func tight(t *testing.T, at string, ref *openapi3.SchemaRef) {
	t.Helper()
	v := ref.Value
	if v.Type.Is("number") && (v.Format != "double" || v.Extensions["x-unit"] == nil) {
		t.Errorf("%s is a number without format double or x-unit", at)
	}
	if v.Type.Is("object") && v.AdditionalProperties.Has == nil {
		t.Errorf("%s does not say additionalProperties", at)
	}
	if v.Type.Is("array") && v.MaxItems == nil {
		t.Errorf("%s is an array without maxItems", at)
	}
	for name, p := range v.Properties {
		if p.Ref == "" {
			tight(t, at+"."+name, p)
		}
	}
	if v.Items != nil && v.Items.Ref == "" {
		tight(t, at+"[]", v.Items)
	}
}
