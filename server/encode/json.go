// Package encode writes answers as JSON with twelve significant digits. Its code is assembled once
// for each type and appends to a buffer. In everything else it agrees with encoding/json.
package encode

import (
	"encoding"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"
	"unsafe"

	"saltlock/chem/quantity"
)

// JSON appends v.
func JSON(b []byte, v any) ([]byte, error) {
	if v == nil {
		return append(b, "null"...), nil
	}
	of := reflect.ValueOf(v)
	if of.Kind() == reflect.Pointer && !of.IsNil() {
		return writerOf(of.Type().Elem())(b, of.UnsafePointer())
	}
	here := reflect.New(of.Type())
	here.Elem().Set(of)
	return writerOf(of.Type())(b, here.UnsafePointer())
}

// writer appends the value of one type at an address. Addresses avoid the checks that
// reflect.Value makes at every step, and writing JSON is the largest part of an answer. This is
// safe as long as a writer gets only the type it was made for: each is made from the writers of
// its fields and elements, whose offsets and types come from reflect.
type writer func(b []byte, at unsafe.Pointer) ([]byte, error)

// seen makes a writer of a function that works by reflection.
func seen(t reflect.Type, write func(b []byte, v reflect.Value) ([]byte, error)) writer {
	return func(b []byte, at unsafe.Pointer) ([]byte, error) { return write(b, reflect.NewAt(t, at).Elem()) }
}

var writers sync.Map // of reflect.Type

// writerOf returns the writer of a type. A type that contains itself finds its writer while it is
// being made.
func writerOf(t reflect.Type) writer {
	if w, ok := writers.Load(t); ok {
		return w.(writer)
	}
	var made writer
	var ready sync.WaitGroup
	ready.Add(1)
	w, loaded := writers.LoadOrStore(t, writer(func(b []byte, at unsafe.Pointer) ([]byte, error) {
		ready.Wait()
		return made(b, at)
	}))
	if loaded {
		return w.(writer)
	}
	made = newWriter(t)
	ready.Done()
	writers.Store(t, made)
	return made
}

var (
	jsonMarshaler = reflect.TypeFor[json.Marshaler]()
	textMarshaler = reflect.TypeFor[encoding.TextMarshaler]()
	textAppender  = reflect.TypeFor[encoding.TextAppender]()
)

func newWriter(t reflect.Type) writer {
	switch {
	case isEstimate(t):
		return estimateWriter(t)
	case t == reflect.TypeFor[quantity.Note]():
		return noteWriter
	case t.Kind() != reflect.Pointer && t.Implements(jsonMarshaler):
		return seen(t, marshaled)
	case t == reflect.TypeFor[quantity.Convention]():
		return func(b []byte, at unsafe.Pointer) ([]byte, error) { return appended(b, (*quantity.Convention)(at)) }
	case t.Kind() == reflect.Struct && t.Implements(textAppender):
		return seen(t, appendedText)
	case t.Kind() != reflect.Pointer && t.Implements(textMarshaler):
		return seen(t, marshaledText)
	case t.Kind() != reflect.Pointer && (reflect.PointerTo(t).Implements(jsonMarshaler) || reflect.PointerTo(t).Implements(textMarshaler)):
		return seen(t, whole)
	}
	switch t.Kind() {
	case reflect.Bool:
		return func(b []byte, at unsafe.Pointer) ([]byte, error) { return strconv.AppendBool(b, *(*bool)(at)), nil }
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return seen(t, func(b []byte, v reflect.Value) ([]byte, error) { return strconv.AppendInt(b, v.Int(), 10), nil })
	case reflect.Float64:
		return func(b []byte, at unsafe.Pointer) ([]byte, error) { return Number(b, *(*float64)(at)) }
	case reflect.String:
		return func(b []byte, at unsafe.Pointer) ([]byte, error) { return Text(b, *(*string)(at)), nil }
	case reflect.Interface:
		return seen(t, func(b []byte, v reflect.Value) ([]byte, error) { return JSON(b, v.Interface()) })
	case reflect.Pointer:
		return pointerWriter(writerOf(t.Elem()))
	case reflect.Struct:
		return structWriter(t)
	case reflect.Map:
		if t.Key().Kind() == reflect.String && !t.Key().Implements(textMarshaler) {
			return seen(t, writeMap)
		}
	case reflect.Slice, reflect.Array:
		if t.Elem().Kind() != reflect.Uint8 {
			return listWriter(t)
		}
	}
	return seen(t, whole)
}

// whole leaves a value to encoding/json and then rounds the numbers in it.
func whole(b []byte, v reflect.Value) ([]byte, error) {
	text, err := json.Marshal(v.Addr().Interface())
	if err != nil {
		return b, err
	}
	return rounded(b, text)
}

func marshaled(b []byte, v reflect.Value) ([]byte, error) {
	if v.Kind() == reflect.Interface && v.IsNil() {
		return append(b, "null"...), nil
	}
	return whole(b, v)
}

func marshaledText(b []byte, v reflect.Value) ([]byte, error) {
	if v.Kind() == reflect.Interface && v.IsNil() {
		return append(b, "null"...), nil
	}
	text, err := v.Interface().(encoding.TextMarshaler).MarshalText()
	return Text(b, string(text)), err
}

// appendedText is marshaledText for a type that can append its text.
func appendedText(b []byte, v reflect.Value) ([]byte, error) {
	return appended(b, v.Addr().Interface().(encoding.TextAppender)) // an address takes no memory
}

func appended(b []byte, of encoding.TextAppender) ([]byte, error) {
	start := len(b)
	b, err := of.AppendText(append(b, '"'))
	text := b[start+1:]
	if !isPlain(text) {
		return Text(b[:start], string(text)), err
	}
	return append(b, '"'), err
}

// isPlain reports whether a text needs no escaping in JSON.
func isPlain(text []byte) bool {
	var found byte
	for _, c := range text {
		found |= plainness[c]
	}
	return found == 0 || found == ofSeveral && utf8.Valid(text)
}

// isEstimate reports whether a type is a quantity.Estimate of something.
func isEstimate(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && t.PkgPath() == reflect.TypeFor[quantity.Measure]().PkgPath() && strings.HasPrefix(t.Name(), "Estimate[")
}

// estimateWriter writes what Estimate.MarshalJSON does; the unit belongs to the type.
func estimateWriter(t reflect.Type) writer {
	unit := reflect.Zero(t).Interface().(interface{ Measure() quantity.Measure }).Measure().Unit
	middle := append(Text([]byte(`,"unit":`), unit), `,"uncertainty":`...)
	end := append(Text([]byte(`,"unit":`), unit), '}')
	return func(b []byte, at unsafe.Pointer) ([]byte, error) {
		e := (*struct{ value, u float64 })(at)
		b, err := Number(append(b, `{"value":`...), e.value)
		if err != nil {
			return b, err
		}
		if e.u == 0 {
			return append(b, end...), nil
		}
		b, err = Number(append(b, middle...), e.u)
		return append(b, '}'), err
	}
}

// noteWriter writes what Note.MarshalJSON does of a note that has its sentence.
func noteWriter(b []byte, at unsafe.Pointer) ([]byte, error) {
	n := (*quantity.Note)(at)
	if n.Text == "" {
		return whole(b, reflect.ValueOf(n).Elem())
	}
	b = append(Text(append(b, `{"code":`...), string(n.Code)), `,"text":`...)
	return append(Text(b, n.Text), '}'), nil
}

func pointerWriter(of writer) writer {
	return func(b []byte, at unsafe.Pointer) ([]byte, error) {
		to := *(*unsafe.Pointer)(at)
		if to == nil {
			return append(b, "null"...), nil
		}
		return of(b, to)
	}
}

func listWriter(t reflect.Type) writer {
	of, size := writerOf(t.Elem()), t.Elem().Size()
	list := func(b []byte, first unsafe.Pointer, n int) ([]byte, error) {
		b = append(b, '[')
		var err error
		for i := range n {
			if i > 0 {
				b = append(b, ',')
			}
			if b, err = of(b, unsafe.Add(first, uintptr(i)*size)); err != nil {
				return b, err
			}
		}
		return append(b, ']'), nil
	}
	if t.Kind() == reflect.Array {
		return func(b []byte, at unsafe.Pointer) ([]byte, error) { return list(b, at, t.Len()) }
	}
	return func(b []byte, at unsafe.Pointer) ([]byte, error) {
		s := *(*[]struct{})(at) // any slice has its first element and its length at the same places
		if s == nil {
			return append(b, "null"...), nil
		}
		return list(b, unsafe.Pointer(unsafe.SliceData(s)), len(s))
	}
}

func writeMap(b []byte, v reflect.Value) ([]byte, error) {
	if v.IsNil() {
		return append(b, "null"...), nil
	}
	keys := v.MapKeys()
	slices.SortFunc(keys, func(x, y reflect.Value) int { return strings.Compare(x.String(), y.String()) })
	b = append(b, '{')
	var err error
	for i, key := range keys {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(Text(b, key.String()), ':')
		if b, err = JSON(b, v.MapIndex(key).Interface()); err != nil {
			return b, err
		}
	}
	return append(b, '}'), nil
}
