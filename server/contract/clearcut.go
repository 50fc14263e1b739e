package contract

import (
	"net/http"
	"net/url"
	"strconv"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"
)

// clearcut recognises requests of one operation that follow the contract beyond doubt, by checks
// prepared once. Whatever it does not recognise goes to the validator, whose words a refusal needs
// anyway: clearcut never says that a request is wrong.
type clearcut struct {
	query, path map[string]valueCheck
	required    []string // of the query
	headers     []string // if one is present, the validator decides
}

// valueCheck reports whether one value is right beyond doubt.
type valueCheck func(value string) bool

// clearcutOf returns the checks of an operation; nil if everything is left to the validator.
func clearcutOf(op *openapi3.Operation, item *openapi3.PathItem, formats map[string]check) *clearcut {
	if op.RequestBody != nil || op.Security != nil && len(*op.Security) > 0 || len(item.Parameters) > 0 {
		return nil
	}
	k := &clearcut{query: map[string]valueCheck{}, path: map[string]valueCheck{}}
	for _, p := range op.Parameters {
		switch p := p.Value; p.In {
		case openapi3.ParameterInQuery:
			k.query[p.Name] = valueCheckOf(p, formats)
			if p.Required {
				k.required = append(k.required, p.Name)
			}
		case openapi3.ParameterInPath:
			k.path[p.Name] = valueCheckOf(p, formats)
		case openapi3.ParameterInHeader:
			if p.Required {
				return nil
			}
			k.headers = append(k.headers, http.CanonicalHeaderKey(p.Name))
		default:
			return nil
		}
	}
	return k
}

// recognises reports whether the request follows the contract beyond doubt.
func (k *clearcut) recognises(c echo.Context, q url.Values) bool {
	if k == nil || q.Get("decimal") == "comma" { // its numbers are read differently
		return false
	}
	german := German(q)
	for name, values := range q {
		if right, known := k.query[name]; !known || len(values) != 1 || !right(values[0]) || german && thousands.MatchString(values[0]) {
			return false
		}
	}
	for _, name := range k.required {
		if _, ok := q[name]; !ok {
			return false
		}
	}
	for i, name := range c.ParamNames() {
		if right, known := k.path[name]; !known || !right(c.ParamValues()[i]) {
			return false
		}
	}
	for _, name := range k.headers {
		if c.Request().Header[name] != nil {
			return false
		}
	}
	return true
}

func never(string) bool { return false }

// valueCheckOf makes the check of one parameter.
func valueCheckOf(p *openapi3.Parameter, formats map[string]check) valueCheck {
	s := p.Schema
	if s == nil || p.Content != nil || p.Style != "" || p.Explode != nil || p.AllowReserved {
		return never
	}
	return valueCheckOfSchema(s.Value, formats)
}

func valueCheckOfSchema(s *openapi3.Schema, formats map[string]check) valueCheck {
	switch {
	case s.OneOf != nil || s.AnyOf != nil || s.AllOf != nil || s.Not != nil || s.Nullable || s.Pattern != "":
		return never
	case s.Type.Is("string") && s.Enum != nil:
		return enumCheck(s, formats)
	case s.Type.Is("string"):
		return textCheck(s, formats)
	case s.Type.Is("boolean") && s.Enum == nil:
		return func(v string) bool { return v == "true" || v == "false" }
	case (s.Type.Is("integer") || s.Type.Is("number")) && s.Enum == nil && s.MultipleOf == nil && !s.ExclusiveMin.IsTrue() && !s.ExclusiveMax.IsTrue():
		return numberCheck(s)
	}
	return never
}

func enumCheck(s *openapi3.Schema, formats map[string]check) valueCheck {
	text, allowed := textCheck(s, formats), map[string]bool{}
	for _, v := range s.Enum {
		if word, ok := v.(string); ok {
			allowed[word] = text(word)
		}
	}
	return func(v string) bool { return allowed[v] }
}

// textCheck bounds a text, counting characters only where each is one byte, and lets its format
// read it.
func textCheck(s *openapi3.Schema, formats map[string]check) valueCheck {
	format, known := formats[s.Format]
	if s.Format != "" && !known {
		return never
	}
	least, most := int(max(s.MinLength, 1)), MaxText
	if s.MaxLength != nil {
		most = int(min(*s.MaxLength, MaxText))
	}
	return func(v string) bool {
		n := 0
		for _, r := range v {
			if n++; r > 0xFFFF || r == '\uFFFD' {
				return false
			}
		}
		return n >= least && n <= most && (format == nil || format.Validate(v) == nil)
	}
}

// numberCheck accepts a number as people write it: digits, with a point among them if it need not
// be whole.
func numberCheck(s *openapi3.Schema) valueCheck {
	whole := s.Type.Is("integer")
	return func(v string) bool {
		point := false
		for i := range len(v) {
			switch d := v[i]; {
			case d >= '0' && d <= '9':
			case d == '.' && !whole && !point && i > 0 && i < len(v)-1:
				point = true
			default:
				return false
			}
		}
		if len(v) == 0 || len(v) > 9 || len(v) > 1 && v[0] == '0' && v[1] != '.' {
			return false
		}
		x, err := strconv.ParseFloat(v, 64)
		return err == nil && (s.Min == nil || x >= *s.Min) && (s.Max == nil || x <= *s.Max)
	}
}
