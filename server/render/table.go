package render

import (
	"reflect"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"saltlock/chem/quantity"
)

// Table is one plain table with a unit in each head.
type Table struct {
	Head []string
	Rows [][]string
}

// Table makes a table of a slice of structs: a column for each quantity, one for its uncertainty
// if any row has one, and one for each word or count, named by the json tags in the order of the
// fields. Notes and lists of structs do not fit in a cell and are left out.
func (v Voice) Table(rows any) Table {
	list := reflect.ValueOf(rows)
	columns := columnsOf(list.Type().Elem(), "", nil)
	var t Table
	for _, c := range columns {
		measures := make([]quantity.Measure, list.Len())
		uncertain := false
		for i := range list.Len() {
			if m, ok := c.measure(list.Index(i)); ok {
				measures[i] = v.Family(m)
				uncertain = uncertain || m.Uncertainty > 0
			}
		}
		t.add(c, list, measures, uncertain, v)
	}
	return t
}

func (t *Table) add(c column, list reflect.Value, measures []quantity.Measure, uncertain bool, v Voice) {
	if t.Rows == nil {
		t.Rows = make([][]string, list.Len())
	}
	unit := c.unit
	if unit != "" {
		unit = v.Family(quantity.Measure{Unit: unit}).Unit
	}
	t.Head = append(t.Head, headOf(c.name, unit))
	if uncertain {
		t.Head = append(t.Head, headOf(c.name+"_uncertainty", unit))
	}
	for i := range t.Rows {
		cell, spread := c.text(list.Index(i)), ""
		if unit != "" && measures[i].Unit != "" {
			cell = v.cell(measures[i].Value, measures[i].Uncertainty)
			if measures[i].Uncertainty > 0 {
				spread = v.cell(measures[i].Uncertainty, measures[i].Uncertainty)
			}
		}
		t.Rows[i] = append(t.Rows[i], cell)
		if uncertain {
			t.Rows[i] = append(t.Rows[i], spread)
		}
	}
}

func headOf(name, unit string) string {
	if unit == "" || unit == "1" {
		return name
	}
	return name + " [" + unit + "]"
}

// Family converts a measure to the voice's unit family.
func (v Voice) Family(m quantity.Measure) quantity.Measure {
	if c, ok := us(m.Unit); ok && v.Units == US {
		return quantity.Measure{Value: m.Value*c.scale + c.offset, Unit: c.unit, Uncertainty: m.Uncertainty * c.scale}
	}
	return m
}

// cell writes a number to the second digit of its uncertainty, or to six digits.
func (v Voice) cell(x, u float64) string { return string(v.appendCell(nil, x, u)) }

// Number writes one bare number for a spreadsheet cell.
func (v Voice) Number(m quantity.Measure) string { return v.cell(m.Value, m.Uncertainty) }

// Rounded writes a number and its uncertainty to the second digit of the uncertainty.
func (v Voice) Rounded(x, u float64, unit string) string {
	return strings.TrimSpace(v.cell(x, u) + " ± " + v.cell(u, u) + " " + unit)
}

// AppendCSV writes the table as RFC 4180, with the separator given.
func (t Table) AppendCSV(b []byte, separator rune) []byte {
	b = AppendRow(b, separator, t.Head)
	for _, row := range t.Rows {
		b = AppendRow(b, separator, row)
	}
	return b
}

// quoted is what a quoted cell holds.
var quoted = strings.NewReplacer(`"`, `""`, "\r\n", "\r\n", "\n", "\r\n", "\r", "")

// hidden reports whether a rune does something in a terminal or an editor and shows nothing: control
// characters, and those that turn the order of what follows.
func hidden(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\r' && r != '\t' || r >= '\u202A' && r <= '\u202E' || r >= '\u2066' && r <= '\u2069'
}

// harmless keeps a spreadsheet from running a cell as a formula, and a terminal from obeying it. A number, even with a unit after
// it, is harmless; some versions accept wide signs for the narrow ones, or pass over blanks.
func harmless(cell string) string {
	if strings.ContainsFunc(cell, hidden) {
		cell = strings.Map(func(r rune) rune {
			if hidden(r) {
				return -1
			}
			return r
		}, cell)
	}
	bare := strings.TrimLeftFunc(cell, func(r rune) bool { return unicode.IsSpace(r) || r == '\uFEFF' })
	first, _ := utf8.DecodeRuneInString(bare)
	tabbed := strings.HasPrefix(cell, "\t") || strings.HasPrefix(cell, "\r")
	if !tabbed && (!strings.ContainsRune("=+-@＝＋－＠", first) || signedQuantity.MatchString(bare)) {
		return cell
	}
	return "'" + cell
}

var signedQuantity = regexp.MustCompile(`^[+-](?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?(?: ?[A-Za-z°‰%µ]+(?:/[A-Za-z]+)?)?$`)
