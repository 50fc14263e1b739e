package encode

import (
	"encoding"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
)

// Inputs appends a request as an object of texts that can be sent again: quantities
// as text, fields in the order of their names, nothing where nothing was given.
func Inputs(b []byte, request any) ([]byte, error) {
	start := len(b)
	b, given, err := appendGiven(b, reflect.ValueOf(request))
	if err != nil || given && b[start] == '{' {
		return b, err
	}
	return append(b[:start], "{}"...), nil
}

// given are the fields of a struct in the order of their names, made once for each type.
var given sync.Map // of reflect.Type: []field

// appendGiven appends one value; false where there is none.
func appendGiven(b []byte, v reflect.Value) ([]byte, bool, error) {
	if v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface {
		if v.IsNil() {
			return b, false, nil
		}
		v = v.Elem()
	}
	if !v.IsValid() {
		return b, false, nil
	}
	switch kindOf(v.Type()) {
	case asAppended:
		b, err := appendedText(b, v)
		return b, true, err
	case asText:
		text, err := v.Interface().(encoding.TextMarshaler).MarshalText()
		return Text(b, string(text)), true, err
	case asString:
		return Text(b, v.Interface().(fmt.Stringer).String()), true, nil
	}
	switch v.Kind() {
	case reflect.Struct:
		return appendFields(b, v)
	case reflect.Slice:
		return appendList(b, v)
	}
	b, err := writerOf(v.Type())(b, v)
	return b, true, err
}

func appendFields(b []byte, v reflect.Value) ([]byte, bool, error) {
	start := len(b)
	b = append(b, '{')
	for _, f := range givenFields(v.Type()) {
		value, ok := f.in(v)
		if !ok {
			continue
		}
		before := len(b)
		if before > start+1 {
			b = append(b, ',')
		}
		var found bool
		var err error
		if b, found, err = appendGiven(append(b, f.lead...), value); err != nil {
			return b, false, err
		}
		if !found {
			b = b[:before]
		}
	}
	if len(b) == start+1 {
		return b[:start], false, nil
	}
	return append(b, '}'), true, nil
}

func appendList(b []byte, v reflect.Value) ([]byte, bool, error) {
	if v.Len() == 0 {
		return b, false, nil
	}
	b = append(b, '[')
	for i := range v.Len() {
		if i > 0 {
			b = append(b, ',')
		}
		var found bool
		var err error
		if b, found, err = appendGiven(b, v.Index(i)); err != nil {
			return b, false, err
		}
		if !found {
			b = append(b, "null"...)
		}
	}
	return append(b, ']'), true, nil
}

func givenFields(t reflect.Type) []field {
	if fields, ok := given.Load(t); ok {
		return fields.([]field)
	}
	var fields []field
	collectGiven(t, nil, &fields)
	slices.SortStableFunc(fields, func(x, y field) int { return strings.Compare(x.name, y.name) })
	given.Store(t, fields)
	return fields
}

// collectGiven lists the fields with a name, those of embedded structs among them.
func collectGiven(t reflect.Type, index []int, to *[]field) {
	for i := range t.NumField() {
		sf := t.Field(i)
		name, _, _ := strings.Cut(sf.Tag.Get("json"), ",")
		at := append(index[:len(index):len(index)], i)
		inner := sf.Type
		if inner.Kind() == reflect.Pointer {
			inner = inner.Elem()
		}
		if sf.Anonymous && inner.Kind() == reflect.Struct && kindOf(inner) == other {
			collectGiven(inner, at, to)
		} else if name != "-" && name != "" {
			*to = append(*to, field{index: at, name: name, lead: append(Text(nil, name), ':')})
		}
	}
}

// kind is how a type says what it is.
type kind int

const (
	other kind = iota
	asAppended
	asText
	asString
)

var kinds sync.Map // of reflect.Type

func kindOf(t reflect.Type) kind {
	if k, ok := kinds.Load(t); ok {
		return k.(kind)
	}
	k := other
	switch {
	case t.Kind() == reflect.Struct && t.Implements(textAppender):
		k = asAppended
	case t.Implements(textMarshaler):
		k = asText
	case t.Implements(reflect.TypeFor[fmt.Stringer]()):
		k = asString
	}
	kinds.Store(t, k)
	return k
}
