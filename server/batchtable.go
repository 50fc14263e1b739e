package server

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"net/http"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/server/contract"
	"saltlock/server/render"
)

const (
	maxRow     = 64 << 10         // bytes that one row of a table may hold
	maxColumns = 100              // of the table that comes in
	maxDrained = 512 << 10        // bytes left of a table that are still taken; beyond, net/http closes the link
	patience   = 30 * time.Second // for the next row, and for the client to take one
)

// convertTable answers a table while it is being sent, in constant memory.
func (s *Server) convertTable(c echo.Context) error {
	a := c.Get("asked").(*asked)
	limit := &rowLimit{from: c.Request().Body, left: maxRow}
	buffered := bufio.NewReaderSize(limit, 32<<10)
	in := csv.NewReader(buffered)
	in.Comma, in.FieldsPerRecord, in.LazyQuotes = a.separator, -1, true
	in.TrimLeadingSpace = true
	head, err := in.Read()
	if err != nil {
		return &contract.Fault{Where: "/", Reason: "the table has no head; name its columns in the first line", Rule: "csv"}
	}
	if len(head) > maxColumns {
		return &contract.Fault{Where: "/", Reason: fmt.Sprintf("the head has %d columns; at most %d are read", len(head), maxColumns), Rule: "csv"}
	}
	if slices.ContainsFunc(head, func(name string) bool { return strings.Contains(name, "\r") }) {
		return &contract.Fault{Where: "/", Reason: "the lines end with a carriage return alone; save the table with line feeds (LF or CRLF)", Rule: "csv"}
	}
	t, err := newTableConversion(a.voice, head)
	if err != nil {
		return err
	}
	// Only now: net/http still reads what is left of a body after a refusal, and
	// does not expect to on a link of both directions.
	link := http.NewResponseController(c.Response().Writer)
	if err := link.EnableFullDuplex(); err != nil {
		return fmt.Errorf("read while answering: %w", err)
	}
	h := c.Response().Header()
	h.Set(echo.HeaderContentType, "text/csv; charset=utf-8")
	h.Set("Trailer", "Saltlock-Rows-Good, Saltlock-Rows-Bad")
	c.Response().WriteHeader(http.StatusOK)
	defer s.endReading(link)()
	p := &pipeline{server: s, table: t, link: link, out: c.Response(), separator: a.separator, in: in, buffered: buffered, limit: limit}
	if err = p.run(); err == nil && !s.isStopping() {
		drain(c.Request().Body, link)
	}
	h.Set("Saltlock-Rows-Good", strconv.Itoa(p.good))
	h.Set("Saltlock-Rows-Bad", strconv.Itoa(p.bad))
	return err
}

var errStopping = errors.New("the service stops; send the remaining rows again")

// isStopping says whether answers without end shall end.
func (s *Server) isStopping() bool {
	select {
	case <-s.stopping:
		return true
	default:
		return false
	}
}

// drain takes a little of what a table that ended early has left, for as net/http
// reads on after such an answer it would meet the read that it has begun itself.
func drain(body io.Reader, link *http.ResponseController) {
	_ = link.SetReadDeadline(time.Now().Add(time.Second)) // a link that has none ends by itself
	_, _ = io.CopyN(io.Discard, body, maxDrained)         // what cannot be read is not missed
}

// endReading ends a wait for the next row when the service stops, until the
// returned function is called.
func (s *Server) endReading(link *http.ResponseController) (done func()) {
	over := make(chan struct{})
	go func() {
		select {
		case <-s.stopping:
			_ = link.SetReadDeadline(time.Unix(1, 0)) // a link that has none ends by itself
		case <-over:
		}
	}()
	return func() { close(over) }
}

// rowLimit refuses a row without end.
type rowLimit struct {
	from io.Reader
	left int
}

var errLongRow = fmt.Errorf("a row holds more than %d bytes", maxRow)

func (l *rowLimit) Read(p []byte) (int, error) {
	if l.left <= 0 {
		return 0, errLongRow
	}
	n, err := l.from.Read(p)
	l.left -= n
	return n, err
}

// setters read a cell of each known column into a request.
var setters = map[string]func(r *instrument.ConversionRequest, cell string) error{
	"reading":     func(r *instrument.ConversionRequest, cell string) error { return r.Reading.Bind(cell) },
	"temperature": func(r *instrument.ConversionRequest, cell string) error { return bound(&r.Temperature, cell) },
	"instrument": func(r *instrument.ConversionRequest, cell string) error {
		r.Instrument = new(instrument.Kind(cell))
		return nil
	},
	"calibration": func(r *instrument.ConversionRequest, cell string) error { return bound(&r.Calibration, cell) },
	"scale": func(r *instrument.ConversionRequest, cell string) error {
		r.Scale = new(instrument.RefractometerScale(cell))
		return nil
	},
	"temperature_compensated": func(r *instrument.ConversionRequest, cell string) error {
		yes, err := strconv.ParseBool(cell)
		r.TemperatureCompensated = &yes
		return err
	},
	"zero_temperature": func(r *instrument.ConversionRequest, cell string) error { return bound(&r.ZeroTemperature, cell) },
	"compensation":     func(r *instrument.ConversionRequest, cell string) error { return bound(&r.Compensation, cell) },
	"tds_factor": func(r *instrument.ConversionRequest, cell string) error {
		factor, err := strconv.ParseFloat(cell, 64)
		r.TdsFactor = &factor
		return err
	},
	"correction": func(r *instrument.ConversionRequest, cell string) error { return bound(&r.Correction, cell) },
}

// bound reads a cell into a place that may stay empty.
func bound[T any, P interface {
	*T
	Bind(string) error
}](to **T, cell string) error {
	*to = new(T)
	return P(*to).Bind(cell)
}

// tableConversion is a table in the making.
type tableConversion struct {
	voice   render.Voice
	layout  render.Row
	head    []string
	columns []tableColumn // of the table that comes in
	width   int           // of what goes out
}

type tableColumn struct {
	name, unit string
	set        func(*instrument.ConversionRequest, string) error // nil: only kept
}

// newTableConversion reads the head: names, each perhaps with a unit in brackets.
func newTableConversion(v render.Voice, head []string) (*tableConversion, error) {
	t := &tableConversion{voice: v, layout: v.NewRow(reflect.TypeFor[conversionRow]())}
	known := false
	for i, name := range head {
		if i == 0 {
			name = strings.TrimPrefix(name, "\ufeff") // the mark that spreadsheets write first
		}
		c := tableColumn{name: name}
		if bare, unit, ok := strings.Cut(name, "["); ok {
			c.name, c.unit = strings.TrimSpace(bare), strings.TrimSuffix(strings.TrimSpace(unit), "]")
		}
		c.name = strings.ToLower(strings.TrimSpace(c.name))
		c.set = setters[c.name]
		known = known || c.name == "reading"
		t.columns = append(t.columns, c)
		t.head = append(t.head, strings.Clone(name))
	}
	if !known {
		return nil, &contract.Fault{Where: "reading", Reason: fmt.Sprintf("the head %q has no column \"reading\"%s", contract.Clip(strings.Join(head, ",")), contract.Hint("reading", head)), Rule: "required"}
	}
	t.head = append(append(t.head, t.layout.Head()...), "error")
	t.width = len(t.head)
	return t, nil
}

// row appends one row converted: what came in, the measures, and what is wrong.
func (t *tableConversion) row(s *Server, out, record []string) (row []string, good bool) {
	for i := range t.columns {
		cell := ""
		if i < len(record) {
			cell = record[i]
		}
		out = append(out, cell)
	}
	conversion, err := t.convert(record)
	if err != nil {
		return append(t.layout.Cells(out, reflect.Value{}), sentence(s.faultsOf(err, contract.MaxTold))), false
	}
	of := conversionRow{&conversion, gravityAt25(&conversion)}
	return append(t.layout.Cells(out, reflect.ValueOf(of)), ""), true
}

func (t *tableConversion) convert(record []string) (instrument.Conversion, error) {
	if len(record) != len(t.columns) {
		return instrument.Conversion{}, &contract.Fault{Where: "row", Reason: fmt.Sprintf("has %d cells, the head has %d", len(record), len(t.columns)), Rule: "csv"}
	}
	var request instrument.ConversionRequest
	var faults []error
	for i, c := range t.columns {
		cell := strings.TrimSpace(record[i])
		if c.set == nil || cell == "" && c.name != "reading" {
			continue
		}
		err := contract.ErrLong
		if len(cell) <= contract.MaxText {
			err = c.set(&request, t.written(c, cell))
		}
		if err != nil {
			faults = append(faults, &contract.Fault{Where: c.name, Reason: err.Error(), Rule: "quantity"})
		}
	}
	if len(faults) > 0 {
		return instrument.Conversion{}, errors.Join(faults...)
	}
	return instrument.Convert(request)
}

// written puts the unit of the head behind a bare number, and a point for a decimal comma.
func (t *tableConversion) written(c tableColumn, cell string) string {
	if t.voice.Comma {
		if pointed, err := quantity.DecimalComma(cell); err == nil {
			cell = pointed
		}
	}
	if c.unit == "" || cell == "" || !strings.ContainsAny(cell[len(cell)-1:], "0123456789.)") {
		return cell
	}
	return cell + " " + c.unit
}

// broken is the last row where the table cannot be read on.
func (t *tableConversion) broken(err error) []string {
	return append(slices.Repeat([]string{""}, t.width-1), "the table ends here: "+err.Error())
}
