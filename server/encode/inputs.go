package encode

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"unsafe"
)

// Inputs appends a request as an object of texts that can be sent again: quantities as text,
// fields sorted by name, and nothing for fields that were not given.
func Inputs(b []byte, request any) ([]byte, error) {
	of := reflect.ValueOf(request)
	if of.Kind() != reflect.Pointer {
		if !of.IsValid() {
			return append(b, "{}"...), nil
		}
		here := reflect.New(of.Type())
		here.Elem().Set(of)
		of = here
	}
	start := len(b)
	if !of.IsNil() {
		var given bool
		var err error
		if b, given, err = giverOf(of.Type().Elem())(b, of.UnsafePointer()); err != nil || given && b[start] == '{' {
			return b, err
		}
	}
	return append(b[:start], "{}"...), nil
}

// giver appends the value of one type at an address; false where nothing was given.
type giver func(b []byte, at unsafe.Pointer) ([]byte, bool, error)

var givers sync.Map // of reflect.Type

func giverOf(t reflect.Type) giver {
	if g, ok := givers.Load(t); ok {
		return g.(giver)
	}
	g := newGiver(t)
	givers.Store(t, g)
	return g
}

// always makes a giver of a value that is always given.
func always(write writer) giver {
	return func(b []byte, at unsafe.Pointer) ([]byte, bool, error) {
		b, err := write(b, at)
		return b, true, err
	}
}

// giverLater is giverOf for a part of a type that may contain itself.
func giverLater(t reflect.Type) giver {
	find := sync.OnceValue(func() giver { return giverOf(t) })
	return func(b []byte, at unsafe.Pointer) ([]byte, bool, error) { return find()(b, at) }
}

func newGiver(t reflect.Type) giver {
	switch t.Kind() {
	case reflect.Interface:
		return giveAny(t)
	case reflect.Pointer:
		of := giverLater(t.Elem())
		return func(b []byte, at unsafe.Pointer) ([]byte, bool, error) {
			to := *(*unsafe.Pointer)(at)
			if to == nil {
				return b, false, nil
			}
			return of(b, to)
		}
	}
	switch kindOf(t) {
	case asAppended:
		return always(seen(t, appendedText))
	case asText:
		return always(seen(t, marshaledText))
	case asString:
		return always(seen(t, func(b []byte, v reflect.Value) ([]byte, error) {
			return Text(b, v.Interface().(fmt.Stringer).String()), nil
		}))
	}
	switch t.Kind() {
	case reflect.Struct:
		return fieldsGiver(t)
	case reflect.Slice:
		return listGiver(t)
	}
	return always(writerOf(t))
}

// giveAny appends what an interface holds.
func giveAny(t reflect.Type) giver {
	return func(b []byte, at unsafe.Pointer) ([]byte, bool, error) {
		v := reflect.NewAt(t, at).Elem().Elem()
		if !v.IsValid() {
			return b, false, nil
		}
		here := reflect.New(v.Type())
		here.Elem().Set(v)
		return giverOf(v.Type())(b, here.UnsafePointer())
	}
}

func fieldsGiver(t reflect.Type) giver {
	fields := givenFields(t)
	return func(b []byte, at unsafe.Pointer) ([]byte, bool, error) {
		start := len(b)
		b = append(b, '{')
		for i := range fields {
			value := fields[i].in(at)
			if value == nil || fields[i].optional && *(*unsafe.Pointer)(value) == nil {
				continue
			}
			before := len(b)
			if before > start+1 {
				b = append(b, ',')
			}
			var found bool
			var err error
			if b, found, err = fields[i].give(append(b, fields[i].lead...), value); err != nil {
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
}

func listGiver(t reflect.Type) giver {
	of, size := giverLater(t.Elem()), t.Elem().Size()
	return func(b []byte, at unsafe.Pointer) ([]byte, bool, error) {
		v := reflect.NewAt(t, at).Elem()
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
			if b, found, err = of(b, unsafe.Add(v.UnsafePointer(), uintptr(i)*size)); err != nil {
				return b, false, err
			}
			if !found {
				b = append(b, "null"...)
			}
		}
		return append(b, ']'), true, nil
	}
}

// givenField is a field of a request.
type givenField struct {
	field
	optional bool // a pointer, which most requests leave nil
	give     giver
}

func givenFields(t reflect.Type) []givenField {
	var fields []givenField
	collectGiven(t, nil, &fields)
	slices.SortStableFunc(fields, func(x, y givenField) int { return strings.Compare(x.name, y.name) })
	for i := range fields {
		fields[i].place(t)
		fields[i].optional = fields[i].of.Kind() == reflect.Pointer
		fields[i].give = giverLater(fields[i].of)
	}
	return fields
}

// collectGiven lists the named fields, including those of embedded structs.
func collectGiven(t reflect.Type, index []int, to *[]givenField) {
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
			*to = append(*to, givenField{field: field{index: at, name: name, lead: append(Text(nil, name), ':')}})
		}
	}
}

// kind is how the value of a type is written.
type kind int

const (
	other kind = iota
	asAppended
	asText
	asString
)

func kindOf(t reflect.Type) kind {
	switch {
	case t.Kind() == reflect.Struct && t.Implements(textAppender):
		return asAppended
	case t.Implements(textMarshaler):
		return asText
	case t.Implements(reflect.TypeFor[fmt.Stringer]()):
		return asString
	}
	return other
}
