package encode

import (
	"reflect"
	"strings"
	"sync"
	"unsafe"
)

// field is a field of an object: where it is, and how its name and value are written.
type field struct {
	index   []int
	through []uintptr // offsets of the pointers on the way
	offset  uintptr   // in its struct
	of      reflect.Type
	tagged  bool
	name    string
	lead    []byte // "name":
	write   writer
	left    func(at unsafe.Pointer) bool // whether it is left out; nil if it never is
	quoted  bool
}

func structWriter(t reflect.Type) writer {
	fields := fieldsOf(t)
	for _, f := range fields {
		if f.quoted {
			return seen(t, whole)
		}
	}
	return func(b []byte, at unsafe.Pointer) ([]byte, error) {
		b = append(b, '{')
		first := true
		var err error
		for i := range fields {
			f := &fields[i]
			value := f.in(at)
			if value == nil || f.left != nil && f.left(value) {
				continue
			}
			if !first {
				b = append(b, ',')
			}
			first = false
			if b, err = f.write(append(b, f.lead...), value); err != nil {
				return b, err
			}
		}
		return append(b, '}'), nil
	}
}

// in returns the address of the field in a struct; nil if it is behind a nil pointer.
func (f *field) in(at unsafe.Pointer) unsafe.Pointer {
	for _, offset := range f.through {
		if at = *(*unsafe.Pointer)(unsafe.Add(at, offset)); at == nil {
			return nil
		}
	}
	return unsafe.Add(at, f.offset)
}

// place finds the offset of a field from its index.
func (f *field) place(t reflect.Type) {
	for _, i := range f.index {
		if t.Kind() == reflect.Pointer {
			t = t.Elem()
			f.through, f.offset = append(f.through, f.offset), 0
		}
		sf := t.Field(i)
		f.offset += sf.Offset
		t = sf.Type
	}
	f.of = t
}

var objects sync.Map // of reflect.Type: []field

// fieldsOf lists the fields that encoding/json writes, in its order.
func fieldsOf(t reflect.Type) []field {
	if fields, ok := objects.Load(t); ok {
		return fields.([]field)
	}
	var all []field
	collect(t, nil, map[reflect.Type]bool{}, &all)
	var fields []field
	for i, f := range all {
		if dominant(all, i) {
			fields = append(fields, f)
		}
	}
	for i := range fields {
		fields[i].place(t)
	}
	objects.Store(t, fields)
	return fields
}

func collect(t reflect.Type, index []int, above map[reflect.Type]bool, to *[]field) {
	if above[t] {
		return
	}
	above[t] = true
	defer delete(above, t)
	for i := range t.NumField() {
		sf := t.Field(i)
		name, options, _ := strings.Cut(sf.Tag.Get("json"), ",")
		inner := sf.Type
		if inner.Kind() == reflect.Pointer {
			inner = inner.Elem()
		}
		isStruct := sf.Anonymous && inner.Kind() == reflect.Struct
		if sf.Tag.Get("json") == "-" || !sf.IsExported() && !isStruct {
			continue
		}
		at := append(index[:len(index):len(index)], i)
		if isStruct && name == "" {
			collect(inner, at, above, to)
			continue
		}
		if !sf.IsExported() {
			continue
		}
		f := field{index: at, tagged: name != "", name: name, write: writerOf(sf.Type), left: leftOut(sf.Type, options), quoted: has(options, "string")}
		if name == "" {
			f.name = sf.Name
		}
		f.lead = append(Text(nil, f.name), ':')
		*to = append(*to, f)
	}
}

func has(options, option string) bool {
	for o := range strings.SplitSeq(options, ",") {
		if o == option {
			return true
		}
	}
	return false
}

// dominant reports whether a field is the one written among those that share its name: the least
// deep one, and of several the only one with a tag.
func dominant(all []field, i int) bool {
	for j, other := range all {
		if j == i || other.name != all[i].name {
			continue
		}
		deeper, same := len(other.index) > len(all[i].index), len(other.index) == len(all[i].index)
		if !deeper && !(same && all[i].tagged && !other.tagged) {
			return false
		}
	}
	return true
}

// leftOut returns when a field with these options is left out; nil if it never is.
func leftOut(t reflect.Type, options string) func(at unsafe.Pointer) bool {
	omitEmpty, omitZero := has(options, "omitempty"), has(options, "omitzero")
	switch {
	case !omitEmpty && !omitZero:
		return nil
	case t.Kind() == reflect.Pointer && !omitZero:
		return func(at unsafe.Pointer) bool { return *(*unsafe.Pointer)(at) == nil }
	case t.Kind() == reflect.String && !omitZero:
		return func(at unsafe.Pointer) bool { return *(*string)(at) == "" }
	}
	isZero := reflect.Value.IsZero
	if t.Implements(reflect.TypeFor[interface{ IsZero() bool }]()) {
		isZero = func(v reflect.Value) bool {
			return v.Kind() == reflect.Pointer && v.IsNil() || v.Interface().(interface{ IsZero() bool }).IsZero()
		}
	}
	return func(at unsafe.Pointer) bool {
		v := reflect.NewAt(t, at).Elem()
		return omitEmpty && empty(v) || omitZero && isZero(v)
	}
}

// empty reports what omitempty leaves out.
func empty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Array, reflect.Map, reflect.Slice, reflect.String:
		return v.Len() == 0
	case reflect.Bool, reflect.Interface, reflect.Pointer, reflect.Float32, reflect.Float64,
		reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uintptr:
		return v.IsZero()
	}
	return false
}

// Field returns the field that the JSON of v would have under a name; false if there would be
// none, or null.
func Field(v any, name string) (any, bool) {
	of := reflect.ValueOf(v)
	for of.Kind() == reflect.Pointer && !of.IsNil() {
		of = of.Elem()
	}
	if of.Kind() != reflect.Struct {
		return nil, false
	}
	if !of.CanAddr() {
		here := reflect.New(of.Type()).Elem()
		here.Set(of)
		of = here
	}
	for _, f := range fieldsOf(of.Type()) {
		if f.name != name {
			continue
		}
		at := f.in(of.Addr().UnsafePointer())
		if at == nil || f.left != nil && f.left(at) {
			return nil, false
		}
		value := reflect.NewAt(f.of, at).Elem()
		if value.Kind() == reflect.Pointer && value.IsNil() {
			return nil, false
		}
		return value.Interface(), true
	}
	return nil, false
}
