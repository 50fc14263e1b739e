package main

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"text/template"
	"unicode"

	"github.com/getkin/kin-openapi/openapi3"
)

var functions = template.FuncMap{
	"snake": snake, "upper": strings.ToUpper, "type": pythonType, "schemaType": schemaType, "fields": fields, "typed": typedDict, "argument": argument, "names": parameterNames, "headers": headers,
	"wrap": wrap, "quote": strconv.Quote, "prose": prose, "columns": columns, "trim": trimVerb, "field": field, "query": query, "joined": joined,
	"cell": cell, "bare": bare, "inputs": inputs,
}

// keywords are Python keywords that a field of the contract may have as its name.
var keywords = map[string]bool{"and": true, "as": true, "class": true, "def": true, "del": true, "for": true, "from": true, "global": true,
	"if": true, "import": true, "in": true, "is": true, "lambda": true, "not": true, "or": true, "pass": true, "return": true, "try": true,
	"while": true, "with": true, "yield": true, "self": true, "body": true}

// argument is the Python name for a name of the contract.
func argument(name string) string {
	name = strings.ReplaceAll(strings.ToLower(name), "-", "_")
	if keywords[name] {
		return name + "_"
	}
	return name
}

// snake turns getSaltMix into get_salt_mix.
func snake(s string) string {
	var b strings.Builder
	runes := []rune(s)
	for i, r := range runes {
		if unicode.IsUpper(r) && i > 0 && (unicode.IsLower(runes[i-1]) || i+1 < len(runes) && unicode.IsLower(runes[i+1])) {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// pythonType is the annotation for a value; named schemas keep their names.
func pythonType(s *openapi3.SchemaRef) string {
	if s == nil {
		return "None"
	}
	if name := named(s); name != "" {
		return name
	}
	return schemaType(s.Value)
}

// schemaType is the annotation for what a schema itself describes.
func schemaType(s *openapi3.Schema) string {
	if len(s.AllOf) == 1 {
		return pythonType(s.AllOf[0])
	}
	if union := append(slices.Clone(s.OneOf), s.AnyOf...); len(union) > 0 {
		types := make([]string, len(union))
		for i, u := range union {
			types[i] = pythonType(u)
		}
		return "Union[" + strings.Join(types, ", ") + "]"
	}
	if len(s.Enum) > 0 && s.Type.Is("string") {
		quoted := enum(s)
		for i, v := range quoted {
			quoted[i] = strconv.Quote(v)
		}
		return "Literal[" + strings.Join(quoted, ", ") + "]"
	}
	switch {
	case s.Type.Is("array"):
		return "list[" + pythonType(s.Items) + "]"
	case s.Type.Is("string"):
		return "str"
	case s.Type.Is("number"):
		return "float"
	case s.Type.Is("integer"):
		return "int"
	case s.Type.Is("boolean"):
		return "bool"
	case s.Type.Is("object") && s.AdditionalProperties.Schema != nil:
		return "dict[str, " + pythonType(s.AdditionalProperties.Schema) + "]"
	case s.Type.Is("object"):
		return "dict[str, Any]"
	}
	return "Any"
}

// property is a field of a TypedDict.
type property struct {
	Name, Type, Description string
}

// typedDict reports whether a schema is an object with fields, and whether Python can write it as
// a class.
func typedDict(s schema) (kind string) {
	switch {
	case !s.Type.Is("object") || len(s.Properties) == 0:
		return "alias"
	case slices.ContainsFunc(slices.Collect(maps.Keys(s.Properties)), func(n string) bool { return keywords[n] }):
		return "call"
	}
	return "class"
}

// fields are the properties, required ones first.
func fields(s schema) []property {
	var all []property
	for _, always := range []bool{true, false} {
		for _, name := range slices.Sorted(maps.Keys(s.Properties)) {
			if slices.Contains(s.Required, name) != always {
				continue
			}
			p := s.Properties[name]
			t := pythonType(p)
			if !always {
				t = "NotRequired[" + t + "]"
			}
			all = append(all, property{name, t, describe(p)})
		}
	}
	return all
}

// describe is the contract's description of a field, or else of its type.
func describe(s *openapi3.SchemaRef) string {
	if s.Value == nil {
		return ""
	}
	if s.Value.Description == "" && len(s.Value.AllOf) == 1 {
		return describe(s.Value.AllOf[0])
	}
	return prose(s.Value.Description)
}

// parameterNames are the names in the URL of an operation, as a Python tuple.
func parameterNames(o operation) string {
	var b strings.Builder
	for _, p := range slices.Concat(o.Parameters, o.Shaping) {
		if p.In != "header" {
			fmt.Fprintf(&b, "%q, ", p.Name)
		}
	}
	return "(" + strings.TrimSuffix(b.String(), " ") + ")"
}

// headers are the arguments sent as headers, as a Python dict.
func headers(o operation) string {
	var pairs []string
	for _, p := range o.Parameters {
		if p.In == "header" {
			pairs = append(pairs, fmt.Sprintf("%q: %q", argument(p.Name), p.Name))
		}
	}
	return "{" + strings.Join(pairs, ", ") + "}"
}

// prose puts a text of the contract on one line.
func prose(s string) string { return strings.Join(strings.Fields(s), " ") }

// wrap breaks a text into lines of at most 96 characters that begin with prefix.
func wrap(prefix, text string) string {
	var lines []string
	line := prefix
	for _, word := range strings.Fields(text) {
		if len(line)+len(word) > 95 && line != prefix {
			lines, line = append(lines, strings.TrimRight(line, " ")), prefix
		}
		line += word + " "
	}
	return strings.Join(append(lines, strings.TrimRight(line, " ")), "\n")
}
