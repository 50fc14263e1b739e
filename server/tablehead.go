package server

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/server/contract"
)

type tableColumn struct {
	name, unit string
	set        func(*instrument.ConversionRequest, string) error // nil: the cell is only returned
}

// readHead reads the first line: names, each perhaps with a unit in brackets.
func (t *tableFeed) readHead() (head []string, err error) {
	head, err = t.in.Read()
	switch {
	case err == io.EOF:
		return nil, headFault("/", "csv", "the table has no head; name its columns in the first line")
	case errors.Is(err, errLongRow):
		return nil, headFault("/", "csv", "the head holds more than %d bytes; name the columns in the first line, and end it with a line feed", maxRow)
	case err != nil:
		return nil, headFault("/", "csv", "the head cannot be read: %s", contract.Clip(err.Error()))
	case len(head) > maxColumns:
		return nil, headFault("/", "csv", "the head has %d columns; at most %d are read", len(head), maxColumns)
	case slices.ContainsFunc(head, func(name string) bool { return strings.Contains(name, "\r") }):
		return nil, headFault("/", "csv", "the lines end with a carriage return alone; save the table with line feeds (LF or CRLF)")
	case slices.ContainsFunc(head, func(name string) bool { return !utf8.ValidString(name) }):
		return nil, headFault("/", "charset", "the head %s", notUTF8)
	}
	head[0] = strings.TrimPrefix(head[0], "\ufeff") // the byte order mark that spreadsheets write first
	for _, name := range head {
		t.columns = append(t.columns, columnOf(name))
	}
	return head, t.checkHead(head)
}

func headFault(where, rule, reason string, of ...any) error {
	return &contract.Fault{Where: where, Reason: fmt.Sprintf(reason, of...), Rule: rule}
}

// columnOf reads a name in the head with its unit, if any: reading [SG], reading (SG).
func columnOf(name string) tableColumn {
	c := tableColumn{name: name}
	if at := strings.IndexAny(name, "[("); at >= 0 {
		c.name, c.unit = name[:at], strings.TrimSpace(strings.TrimRight(strings.TrimSpace(name[at+1:]), "])"))
	}
	c.name = strings.ToLower(strings.TrimSpace(c.name))
	c.set = setters[c.name]
	return c
}

// checkHead refuses a head whose columns would be misread: a known name given twice, or one that
// is a letter off while that column is missing.
func (t *tableFeed) checkHead(head []string) error {
	times := map[string]int{}
	for _, c := range t.columns {
		times[c.name]++
	}
	if times["reading"] == 0 {
		return t.noReading(head)
	}
	var faults []error
	for _, known := range slices.Sorted(maps.Keys(setters)) {
		if n := times[known]; n > 1 {
			faults = append(faults, headFault(known, "repeated", "the head has this column %d times; give it once, and name the others otherwise", n))
		}
	}
	for _, c := range t.columns {
		for _, known := range slices.Sorted(maps.Keys(setters)) {
			if times[known] == 0 && quantity.Slip(c.name, known) {
				faults = append(faults, headFault(contract.Clip(c.name), "unknown", "no column of this name is read; %q may be meant. Correct it, or name it otherwise", known))
			}
		}
	}
	return errors.Join(faults...)
}

// noReading says what may be wrong with a head that has no reading.
func (t *tableFeed) noReading(head []string) error {
	line := strings.Join(head, string(t.in.Comma))
	for _, other := range []struct{ mark, advice string }{
		{";", "semicolons between its names; ask with sep=semicolon, and with decimal=comma where the numbers have a comma"},
		{"\t", "tabs between its names; save the table with commas or semicolons"},
		{",", "commas between its names; ask with sep=comma, or without decimal=comma where the numbers have a point"},
	} {
		if len(head) == 1 && other.mark != string(t.in.Comma) && strings.Contains(line, other.mark) {
			return headFault("sep", "separator", "the head %q has %s", contract.Clip(line), other.advice)
		}
	}
	return headFault("reading", "required", "the head %q has no column \"reading\"%s", contract.Clip(line), contract.Hint("reading", head))
}
