package server

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"net/http"
	"strconv"
	"strings"
	"unicode/utf8"
	"unsafe"

	"github.com/labstack/echo/v4"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/server/contract"
)

const (
	maxRow     = 64 << 10 // bytes that one row of a table may hold
	maxColumns = 100      // of the table that comes in
	rowsAtOnce = 100      // are converted and sent together at most
)

// convertTable answers a table while it is being sent, in constant memory.
func (s *Server) convertTable(c echo.Context, a *asked) error {
	t := &tableFeed{limit: &rowLimit{from: c.Request().Body, left: maxRow}, comma: a.voice.Comma, wanted: wantedFor(a)}
	t.buffered = bufio.NewReaderSize(t.limit, 32<<10)
	t.in = csv.NewReader(t.buffered)
	t.in.Comma, t.in.FieldsPerRecord, t.in.LazyQuotes = a.separator, -1, true
	t.in.TrimLeadingSpace = true
	head, err := t.readHead()
	if err != nil {
		return err
	}
	// Not before: after a refusal net/http still reads the rest of the body, and does not expect
	// to do so in full duplex.
	link := http.NewResponseController(c.Response().Writer)
	if err := link.EnableFullDuplex(); err != nil {
		return fmt.Errorf("read while answering: %w", err)
	}
	if err := replyEach(s, c, t, head, false); err != nil || s.isStopping() {
		return err
	}
	drain(c.Request().Body, link) // else net/http's own read, already begun, would meet it
	return nil
}

var errStopping = errors.New("the service stops; send the remaining rows again")

// isStopping reports whether answers without an end must now end.
func (s *Server) isStopping() bool {
	select {
	case <-s.stopping:
		return true
	default:
		return false
	}
}

// rowLimit refuses a row that never ends.
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
		yes, err := strconv.ParseBool(strings.ToLower(cell))
		if err != nil {
			return fmt.Errorf("%q is neither true nor false", cell)
		}
		r.TemperatureCompensated = &yes
		return nil
	},
	"zero_temperature": func(r *instrument.ConversionRequest, cell string) error { return bound(&r.ZeroTemperature, cell) },
	"compensation":     func(r *instrument.ConversionRequest, cell string) error { return bound(&r.Compensation, cell) },
	"tds_factor": func(r *instrument.ConversionRequest, cell string) error {
		factor, err := strconv.ParseFloat(cell, 64)
		if err != nil || math.IsNaN(factor) || math.IsInf(factor, 0) {
			return fmt.Errorf("%q is no number; write it like 0.64", cell)
		}
		r.TdsFactor = &factor
		return nil
	},
	"correction": func(r *instrument.ConversionRequest, cell string) error { return bound(&r.Correction, cell) },
}

// bound reads a cell into a field that may stay empty.
func bound[T any, P interface {
	*T
	Bind(string) error
}](to **T, cell string) error {
	*to = new(T)
	return P(*to).Bind(cell)
}

// tableFeed reads the rows of a table.
type tableFeed struct {
	limit    *rowLimit
	buffered *bufio.Reader
	in       *csv.Reader
	comma    bool // decimal
	wanted   instrument.Measures
	columns  []tableColumn
}

func (t *tableFeed) next() (row []string, size int, err error) {
	t.limit.left = maxRow
	row, err = t.in.Read()
	for _, cell := range row {
		size += len(cell) + int(unsafe.Sizeof(cell)) // with many empty cells the second part is most of it
	}
	return row, size, err
}

// place names a column.
func (t *tableFeed) place(dotted string) string { return dotted }

func (t *tableFeed) ready() bool { return t.buffered.Buffered() > 0 }

const notUTF8 = "is not UTF-8; save the table as UTF-8, or declare its charset as text/csv; charset=windows-1252"

// own returns the cells of a row as they came, padded to the head.
func (t *tableFeed) own(row []string) []string {
	cells := make([]string, len(t.columns))
	for i := range min(len(row), len(cells)) {
		cells[i] = strings.ToValidUTF8(row[i], string(utf8.RuneError))
	}
	return cells
}

func (t *tableFeed) convert(row []string, _ bool) (instrument.Conversion, error) {
	if len(row) != len(t.columns) {
		return instrument.Conversion{}, &contract.Fault{Where: "row", Reason: fmt.Sprintf("has %d cells, the head has %d", len(row), len(t.columns)), Rule: "csv"}
	}
	var request instrument.ConversionRequest
	var faults []error
	for i, c := range t.columns {
		if !utf8.ValidString(row[i]) {
			faults = append(faults, &contract.Fault{Where: contract.Clip(c.name), Reason: notUTF8, Rule: "charset"})
			continue
		}
		cell := strings.TrimSpace(row[i])
		if c.set == nil || cell == "" && c.name != "reading" {
			continue
		}
		err := contract.ErrLong
		if len(cell) <= contract.MaxText {
			if cell, err = t.written(c, cell); err == nil {
				err = c.set(&request, cell)
			}
		}
		if err != nil {
			faults = append(faults, &contract.Fault{Where: c.name, Reason: err.Error(), Rule: "quantity"})
		}
	}
	if len(faults) > 0 {
		return instrument.Conversion{}, errors.Join(faults...)
	}
	return instrument.ConvertTo(request, t.wanted)
}

// written adds the unit of the head to a bare number, and turns a decimal comma into a point.
func (t *tableFeed) written(c tableColumn, cell string) (string, error) {
	if t.comma {
		var err error
		if cell, err = quantity.DecimalComma(cell); err != nil {
			return "", err
		}
	}
	if c.unit == "" || cell == "" || !strings.ContainsAny(cell[len(cell)-1:], "0123456789.)") {
		return cell, nil
	}
	return cell + " " + c.unit, nil
}
