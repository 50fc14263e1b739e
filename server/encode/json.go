// Package encode writes answers as JSON: numbers with twelve significant digits,
// by code that is put together once for each type and appends to a buffer. All
// else is as encoding/json has it.
package encode

import (
	"bytes"
	"encoding"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"saltlock/chem/quantity"
)

// JSON appends v.
func JSON(b []byte, v any) ([]byte, error) {
	if v == nil {
		return append(b, "null"...), nil
	}
	of := reflect.ValueOf(v)
	return writerOf(of.Type())(b, of)
}

// writer appends a value of one type.
type writer func(b []byte, v reflect.Value) ([]byte, error)

var writers sync.Map // of reflect.Type

// writerOf returns the writer of a type, which a type that holds itself finds while it is made.
func writerOf(t reflect.Type) writer {
	if w, ok := writers.Load(t); ok {
		return w.(writer)
	}
	var made writer
	var ready sync.WaitGroup
	ready.Add(1)
	w, loaded := writers.LoadOrStore(t, writer(func(b []byte, v reflect.Value) ([]byte, error) {
		ready.Wait()
		return made(b, v)
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
		return marshaled
	case t.Kind() == reflect.Struct && t.Implements(textAppender):
		return appendedText
	case t.Kind() != reflect.Pointer && t.Implements(textMarshaler):
		return marshaledText
	case t.Kind() != reflect.Pointer && (reflect.PointerTo(t).Implements(jsonMarshaler) || reflect.PointerTo(t).Implements(textMarshaler)):
		return whole // whether its methods count depends on where it is
	}
	switch t.Kind() {
	case reflect.Bool:
		return func(b []byte, v reflect.Value) ([]byte, error) { return strconv.AppendBool(b, v.Bool()), nil }
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return func(b []byte, v reflect.Value) ([]byte, error) { return strconv.AppendInt(b, v.Int(), 10), nil }
	case reflect.Float64:
		return func(b []byte, v reflect.Value) ([]byte, error) { return Number(b, v.Float()) }
	case reflect.String:
		return func(b []byte, v reflect.Value) ([]byte, error) { return Text(b, v.String()), nil }
	case reflect.Interface:
		return func(b []byte, v reflect.Value) ([]byte, error) {
			if v.IsNil() {
				return append(b, "null"...), nil
			}
			return writerOf(v.Elem().Type())(b, v.Elem())
		}
	case reflect.Pointer:
		return pointerWriter(writerOf(t.Elem()))
	case reflect.Struct:
		return structWriter(t)
	case reflect.Map:
		if t.Key().Kind() == reflect.String && !t.Key().Implements(textMarshaler) {
			return mapWriter(writerOf(t.Elem()))
		}
	case reflect.Slice, reflect.Array:
		if t.Elem().Kind() != reflect.Uint8 {
			return listWriter(writerOf(t.Elem()))
		}
	}
	return whole
}

// whole leaves a value to encoding/json, and rounds the numbers in it.
func whole(b []byte, v reflect.Value) ([]byte, error) {
	if v.CanAddr() {
		v = v.Addr()
	}
	text, err := json.Marshal(v.Interface())
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

// appendedText is marshaledText for a type that appends its text itself.
func appendedText(b []byte, v reflect.Value) ([]byte, error) {
	if v.CanAddr() {
		v = v.Addr() // of which an interface takes no memory
	}
	start := len(b)
	b, err := v.Interface().(encoding.TextAppender).AppendText(append(b, '"'))
	text := b[start+1:]
	if slices.ContainsFunc(text, func(c byte) bool { return plainness[c] == escape }) || !utf8.Valid(text) || bytes.Contains(text, lineEnds) {
		return Text(b[:start], string(text)), err
	}
	return append(b, '"'), err
}

// lineEnds are the first bytes of two line ends that are escaped, and of other signs.
var lineEnds = []byte("\u2028")[:2]

// isEstimate tells whether a type is a quantity.Estimate of something.
func isEstimate(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && t.PkgPath() == reflect.TypeFor[quantity.Measure]().PkgPath() && strings.HasPrefix(t.Name(), "Estimate[")
}

// estimateWriter writes what Estimate.MarshalJSON does, whose unit belongs to the type.
func estimateWriter(t reflect.Type) writer {
	unit := reflect.Zero(t).Interface().(interface{ Measure() quantity.Measure }).Measure().Unit
	middle := append(Text([]byte(`,"unit":`), unit), `,"uncertainty":`...)
	end := append(Text([]byte(`,"unit":`), unit), '}')
	return func(b []byte, v reflect.Value) ([]byte, error) {
		b, err := Number(append(b, `{"value":`...), v.Field(0).Float())
		if err != nil {
			return b, err
		}
		u := v.Field(1).Float()
		if u == 0 {
			return append(b, end...), nil
		}
		b, err = Number(append(b, middle...), u)
		return append(b, '}'), err
	}
}

// noteWriter writes what Note.MarshalJSON does of a note that has its sentence.
func noteWriter(b []byte, v reflect.Value) ([]byte, error) {
	code, text := v.FieldByIndex(noteCode).String(), v.FieldByIndex(noteText).String()
	if text == "" {
		return whole(b, v)
	}
	b = append(Text(append(b, `{"code":`...), code), `,"text":`...)
	return append(Text(b, text), '}'), nil
}

var noteCode, noteText = fieldOfNote("Code"), fieldOfNote("Text")

func fieldOfNote(name string) []int {
	f, ok := reflect.TypeFor[quantity.Note]().FieldByName(name)
	if !ok {
		panic("a note has no " + name)
	}
	return f.Index
}

func pointerWriter(of writer) writer {
	return func(b []byte, v reflect.Value) ([]byte, error) {
		if v.IsNil() {
			return append(b, "null"...), nil
		}
		return of(b, v.Elem())
	}
}

func listWriter(of writer) writer {
	return func(b []byte, v reflect.Value) ([]byte, error) {
		if v.Kind() == reflect.Slice && v.IsNil() {
			return append(b, "null"...), nil
		}
		b = append(b, '[')
		var err error
		for i := range v.Len() {
			if i > 0 {
				b = append(b, ',')
			}
			if b, err = of(b, v.Index(i)); err != nil {
				return b, err
			}
		}
		return append(b, ']'), nil
	}
}

func mapWriter(of writer) writer {
	return func(b []byte, v reflect.Value) ([]byte, error) {
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
			if b, err = of(b, v.MapIndex(key)); err != nil {
				return b, err
			}
		}
		return append(b, '}'), nil
	}
}
