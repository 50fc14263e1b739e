package render

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"saltlock/chem/quantity"
)

// column is one field of a struct, reached through the structs around it.
type column struct {
	name string
	unit string // "" for words and counts
	path []int
}

type measured interface{ Measure() quantity.Measure }

var (
	measuredType = reflect.TypeFor[measured]()
	stringerType = reflect.TypeFor[fmt.Stringer]()
)

// columnsOf lists the fields of a struct that fit into a cell.
func columnsOf(t reflect.Type, prefix string, path []int) []column {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	var columns []column
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" || !f.IsExported() && !f.Anonymous { // what an unexported struct embeds is exported
			continue
		}
		at := append(append([]int{}, path...), i)
		ft := f.Type
		if ft.Kind() == reflect.Pointer {
			ft = ft.Elem()
		}
		switch {
		case ft == reflect.TypeFor[quantity.Note]():
		case ft.Implements(measuredType):
			unit := reflect.Zero(ft).Interface().(measured).Measure().Unit
			columns = append(columns, column{prefix + name, unit, at})
		case ft.Implements(stringerType), ft.Kind() < reflect.Complex64 && ft.Kind() != reflect.Invalid, ft.Kind() == reflect.String,
			ft == reflect.TypeFor[[]string]():
			columns = append(columns, column{prefix + name, "", at})
		case ft.Kind() == reflect.Struct && f.Anonymous:
			columns = append(columns, columnsOf(ft, prefix, at)...)
		case ft.Kind() == reflect.Struct:
			columns = append(columns, columnsOf(ft, prefix+name+"_", at)...)
		}
	}
	return columns
}

// value is the column's value in a row; not ok if a pointer on the way is nil.
func (c column) value(row reflect.Value) (reflect.Value, bool) {
	for _, i := range c.path {
		if row.Kind() == reflect.Pointer {
			if row.IsNil() {
				return row, false
			}
			row = row.Elem()
		}
		row = row.Field(i)
	}
	if row.Kind() == reflect.Pointer {
		return row.Elem(), !row.IsNil()
	}
	return row, true
}

func (c column) measure(row reflect.Value) (quantity.Measure, bool) {
	if c.unit == "" {
		return quantity.Measure{}, false
	}
	v, ok := c.value(row)
	if !ok {
		return quantity.Measure{}, false
	}
	return v.Interface().(measured).Measure(), true
}

func (c column) text(row reflect.Value) string {
	v, ok := c.value(row)
	if !ok || c.unit != "" {
		return ""
	}
	if v.Kind() == reflect.Float64 {
		return strconv.FormatFloat(v.Float(), 'g', 4, 64)
	}
	if list, ok := v.Interface().([]string); ok {
		return strings.Join(list, "; ")
	}
	return fmt.Sprint(v.Interface())
}
