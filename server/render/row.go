package render

import (
	"reflect"

	"saltlock/chem/quantity"
)

// Row writes structs of one type as rows of a table whose columns are known
// before the first of them: each quantity with its uncertainty beside it.
type Row struct {
	voice   Voice
	columns []column
}

// NewRow makes the layout of a struct's type.
func (v Voice) NewRow(t reflect.Type) Row { return Row{v, columnsOf(t, "", nil)} }

// Head lists the heads of the columns.
func (r Row) Head() []string {
	var head []string
	for _, c := range r.columns {
		unit := c.unit
		if unit != "" {
			unit = r.voice.family(quantity.Measure{Unit: unit}).Unit
			head = append(head, headOf(c.name, unit), headOf(c.name+"_uncertainty", unit))
			continue
		}
		head = append(head, headOf(c.name, ""))
	}
	return head
}

// Cells appends the cells of one row; of a zero Value as many empty ones.
func (r Row) Cells(to []string, row reflect.Value) []string {
	for _, c := range r.columns {
		if c.unit == "" {
			text := ""
			if row.IsValid() {
				text = c.text(row)
			}
			to = append(to, text)
			continue
		}
		value, spread := "", ""
		if row.IsValid() {
			if m, ok := c.measure(row); ok {
				m = r.voice.family(m)
				value = r.voice.cell(m.Value, m.Uncertainty)
				if m.Uncertainty > 0 {
					spread = r.voice.cell(m.Uncertainty, m.Uncertainty)
				}
			}
		}
		to = append(to, value, spread)
	}
	return to
}
