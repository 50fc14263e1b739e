package render

import (
	"bytes"
	"strconv"
)

// Column is one column of a table whose columns are known before its first row.
type Column[T any] struct {
	Name    string
	Unit    string                          // "" for words
	Measure func(T) (x, u float64, ok bool) // in this unit; not ok if there is none
	Text    func([]byte, T) []byte          // appends words
}

// Row writes rows of one type: each quantity with its uncertainty beside it.
type Row[T any] struct {
	voice     Voice
	separator byte
	quoted    bool // numbers may need quoting
	columns   []rowColumn[T]
}

type rowColumn[T any] struct {
	Column[T]
	scale, offset float64 // to the voice's unit family
}

// NewRow makes the layout of a table.
func NewRow[T any](v Voice, separator rune, columns []Column[T]) *Row[T] {
	r := &Row[T]{voice: v, separator: byte(separator), quoted: v.Comma && separator == ','}
	for _, c := range columns {
		of := rowColumn[T]{Column: c, scale: 1}
		if to, ok := us(c.Unit); ok && v.Units == US {
			of.Unit, of.scale, of.offset = to.unit, to.scale, to.offset
		}
		r.columns = append(r.columns, of)
	}
	return r
}

// Head lists the heads of the columns.
func (r *Row[T]) Head() []string {
	var head []string
	for _, c := range r.columns {
		head = append(head, headOf(c.Name, c.Unit))
		if c.Unit != "" {
			head = append(head, headOf(c.Name+"_uncertainty", c.Unit))
		}
	}
	return head
}

// Append writes the cells of one row, each followed by a separator.
func (r *Row[T]) Append(b []byte, of T) []byte {
	for i := range r.columns {
		c := &r.columns[i]
		if c.Unit == "" {
			start := len(b)
			b = append(quoteFrom(c.Text(b, of), start, r.separator), r.separator)
			continue
		}
		x, u, ok := c.Measure(of)
		if !ok {
			b = append(b, r.separator, r.separator)
			continue
		}
		b = r.appendMeasure(b, x*c.scale+c.offset, u*c.scale)
	}
	return b
}

// AppendEmpty writes the cells of a row without values.
func (r *Row[T]) AppendEmpty(b []byte) []byte {
	for _, c := range r.columns {
		b = append(b, r.separator)
		if c.Unit != "" {
			b = append(b, r.separator)
		}
	}
	return b
}

// appendMeasure writes a number and its uncertainty.
func (r *Row[T]) appendMeasure(b []byte, x, u float64) []byte {
	start := len(b)
	b = r.voice.appendCell(b, x, u)
	if r.quoted {
		b = quoteFrom(b, start, r.separator)
	}
	b = append(b, r.separator)
	if u > 0 {
		start = len(b)
		b = r.voice.appendCell(b, u, u)
		if r.quoted {
			b = quoteFrom(b, start, r.separator)
		}
	}
	return append(b, r.separator)
}

// AppendRow writes cells as a row of a table by RFC 4180, with the separator given.
func AppendRow(b []byte, separator rune, cells []string) []byte {
	b = AppendCells(b, separator, cells)
	return append(b[:len(b)-1], "\r\n"...)
}

// AppendCells writes cells, each followed by a separator. No spreadsheet runs any of them as a
// formula.
func AppendCells(b []byte, separator rune, cells []string) []byte {
	for _, cell := range cells {
		start := len(b)
		b = append(b, harmless(cell)...)
		b = append(quoteFrom(b, start, byte(separator)), byte(separator))
	}
	return b
}

// quoteFrom quotes a cell at the end of b that would otherwise end early or lose its spaces.
func quoteFrom(b []byte, start int, separator byte) []byte {
	cell := b[start:]
	if len(cell) == 0 || cell[0] != ' ' && bytes.IndexByte(cell, separator) < 0 && bytes.IndexByte(cell, '"') < 0 &&
		bytes.IndexByte(cell, '\n') < 0 && bytes.IndexByte(cell, '\r') < 0 {
		return b
	}
	text := quoted.Replace(string(cell))
	return append(append(append(b[:start], '"'), text...), '"')
}

// appendCell writes a number to the second digit of its uncertainty, or to six digits.
func (v Voice) appendCell(b []byte, x, u float64) []byte {
	start := len(b)
	if u > 0 {
		b = appendFixed(b, x, max(0, 1-magnitude(u)))
	} else {
		b = strconv.AppendFloat(b, x, 'g', 6, 64)
		if bytes.IndexByte(b[start:], 'e') >= 0 {
			if f, err := strconv.ParseFloat(string(b[start:]), 64); err == nil {
				b = strconv.AppendFloat(b[:start], f, 'f', -1, 64)
			}
		}
	}
	if v.Comma {
		if i := bytes.IndexByte(b[start:], '.'); i >= 0 {
			b[start+i] = ','
		}
	}
	return b
}
