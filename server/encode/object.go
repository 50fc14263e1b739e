package encode

import (
	"reflect"
	"slices"
	"strings"
	"sync"
)

// field is a field of an object: where it is, and how its name and value are written.
type field struct {
	index     []int
	sibling   bool // of the field before it, in the same struct
	tagged    bool
	name      string
	lead      []byte // "name":
	write     writer
	omitEmpty bool
	omitZero  bool
	isZero    func(reflect.Value) bool
	quoted    bool
}

func structWriter(t reflect.Type) writer {
	fields := fieldsOf(t)
	for _, f := range fields {
		if f.quoted {
			return whole
		}
	}
	return func(b []byte, v reflect.Value) ([]byte, error) {
		b = append(b, '{')
		first := true
		var err error
		var parent reflect.Value
		var there bool
		for i := range fields {
			f := &fields[i]
			if !f.sibling {
				parent, there = f.parent(v)
			}
			if !there {
				continue
			}
			value := parent.Field(f.index[len(f.index)-1])
			if f.omitEmpty && empty(value) || f.omitZero && f.isZero(value) {
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

// parent returns the struct that a field stands in; false where it lies behind a nil pointer.
func (f *field) parent(v reflect.Value) (reflect.Value, bool) {
	for _, at := range f.index[:len(f.index)-1] {
		v = v.Field(at)
		if v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return v, false
			}
			v = v.Elem()
		}
	}
	return v, true
}

// in returns the field of a struct; false where it lies behind a nil pointer.
func (f *field) in(v reflect.Value) (reflect.Value, bool) {
	of, there := f.parent(v)
	if !there {
		return of, false
	}
	return of.Field(f.index[len(f.index)-1]), true
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
	for i := 1; i < len(fields); i++ {
		before, at := fields[i-1].index, fields[i].index
		fields[i].sibling = slices.Equal(before[:len(before)-1], at[:len(at)-1])
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
		f := field{index: at, tagged: name != "", name: name, write: writerOf(sf.Type),
			omitEmpty: has(options, "omitempty"), omitZero: has(options, "omitzero"), quoted: has(options, "string"), isZero: reflect.Value.IsZero}
		if name == "" {
			f.name = sf.Name
		}
		if sf.Type.Implements(reflect.TypeFor[interface{ IsZero() bool }]()) {
			f.isZero = func(v reflect.Value) bool {
				return v.Kind() == reflect.Pointer && v.IsNil() || v.Interface().(interface{ IsZero() bool }).IsZero()
			}
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

// dominant tells whether a field is the one written of all that share its name:
// the one least deep, of several the only one with a tag.
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

// empty is what omitempty leaves out.
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

// Field returns the field that an object of JSON would have under a name; false if
// it would have none, or null.
func Field(v any, name string) (any, bool) {
	of := reflect.ValueOf(v)
	for of.Kind() == reflect.Pointer && !of.IsNil() {
		of = of.Elem()
	}
	if of.Kind() != reflect.Struct {
		return nil, false
	}
	for _, f := range fieldsOf(of.Type()) {
		if f.name != name {
			continue
		}
		value, ok := f.in(of)
		if !ok || f.omitEmpty && empty(value) || f.omitZero && f.isZero(value) || value.Kind() == reflect.Pointer && value.IsNil() {
			return nil, false
		}
		return value.Interface(), true
	}
	return nil, false
}
