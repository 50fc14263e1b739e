package store

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// RowError says what is wrong in one cell of a table.
type RowError struct {
	File   string
	Line   int
	Column string
	Value  string
	Reason string
}

func (e *RowError) Error() string {
	return fmt.Sprintf("%s line %d, %s %q: %s", e.File, e.Line, e.Column, e.Value, e.Reason)
}

// row is one record of a table by column name. Its methods read a cell and collect what is wrong
// in faults, so that all faults of a table come at once.
type row struct {
	file   string
	line   int
	cells  map[string]string
	faults *[]error
}

// fault adds a fault to a cell.
func (r row) fault(column, reason string, args ...any) {
	*r.faults = append(*r.faults, &RowError{
		File: r.file, Line: r.line, Column: column, Value: r.cells[column], Reason: fmt.Sprintf(reason, args...),
	})
}

// text returns a cell that must not be empty.
func (r row) text(column string) string {
	s := r.cells[column]
	if s == "" {
		r.fault(column, "is missing")
	}
	return s
}

// oneOf returns a cell that must be one of the allowed words.
func (r row) oneOf(column string, allowed ...string) string {
	s := r.cells[column]
	if !slices.Contains(allowed, s) {
		r.fault(column, "is none of %s", strings.Join(allowed, ", "))
	}
	return s
}

// list splits a cell at its semicolons.
func (r row) list(column string) []string {
	items := []string{}
	if r.cells[column] == "" {
		return items
	}
	for _, s := range strings.Split(r.cells[column], ";") {
		s = strings.TrimSpace(s)
		if s == "" || slices.Contains(items, s) {
			r.fault(column, "has an empty or a repeated entry")
			continue
		}
		items = append(items, s)
	}
	return items
}

// estimate reads a decimal number; an empty cell is nil.
func estimate[Q quantity.Quantity](r row, column string) *quantity.Estimate[Q] {
	s := r.cells[column]
	if s == "" {
		return nil
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || strings.Trim(s, "0123456789.-") != "" {
		r.fault(column, "is not a decimal number")
		return nil
	}
	e := quantity.Exactly(Q(v))
	return &e
}

// band reads two cells as the bounds of a range that lies within another.
func band[Q quantity.Quantity](r row, lo, hi string, within quantity.Range[Q]) tolerance.Band[Q] {
	low, high := estimate[Q](r, lo), estimate[Q](r, hi)
	for column, e := range map[string]*quantity.Estimate[Q]{lo: low, hi: high} {
		if e != nil && within.Check(column, e.Value) != nil {
			r.fault(column, "is outside %g to %g", float64(within.Lo), float64(within.Hi))
		}
	}
	b, err := tolerance.NewBand(low, high)
	if err != nil {
		r.fault(lo, "%v", err)
	}
	return b
}

// headed finds the column of each field of a table. The header must name each column once, in any
// order; older names count as today's, and columns added later may be missing.
func headed(file string, header, columns []string) ([]string, error) {
	have := make([]string, len(header))
	for i, h := range header {
		if today, older := olderColumns[h]; older {
			h = today
		}
		if !slices.Contains(columns, h) || slices.Contains(have[:i], h) {
			return nil, fmt.Errorf("%s line 1: column %q is unknown or there twice; the columns are %s", file, header[i], strings.Join(columns, ","))
		}
		have[i] = h
	}
	for _, c := range columns {
		if !slices.Contains(have, c) && !slices.Contains(laterColumns, c) {
			return nil, fmt.Errorf("%s line 1: column %q is missing; the columns are %s", file, c, strings.Join(columns, ","))
		}
	}
	return have, nil
}

// records reads a CSV table with the given columns.
func records(file string, from io.Reader, columns []string, each func(row)) error {
	var faults []error
	cr := csv.NewReader(from)
	header, err := cr.Read()
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	have, err := headed(file, header, columns)
	if err != nil {
		return err
	}
	for {
		fields, err := cr.Read()
		if err == io.EOF {
			return errors.Join(faults...)
		}
		if err != nil {
			return errors.Join(append(faults, fmt.Errorf("%s: %w", file, err))...)
		}
		line, _ := cr.FieldPos(0)
		r := row{file: file, line: line, cells: make(map[string]string, len(columns)), faults: &faults}
		for i, c := range have {
			r.cells[c] = fields[i]
			if fields[i] != strings.TrimSpace(fields[i]) {
				r.fault(c, "has a blank at an end")
			}
		}
		each(r)
	}
}
