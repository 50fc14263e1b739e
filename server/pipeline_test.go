package server

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/server/contract"
	"saltlock/server/render"
)

// broken is a feed in which a late reading fails as a bug would.
type broken struct{ n int }

func (b *broken) next() (n, size int, err error) {
	if b.n == 1000 {
		return 0, 0, io.EOF
	}
	b.n++
	return b.n, 8, nil
}
func (*broken) ready() bool            { return true }
func (*broken) own(int) []string       { return nil }
func (*broken) place(at string) string { return at }
func (*broken) convert(n int, _ bool) (c instrument.Conversion, _ error) {
	if n == 700 {
		panic("a bug")
	}
	return c, nil
}

// An answer that fails after it began is never mistaken for a complete one, in any format.
func TestAnswerThatBreaksOff(t *testing.T) {
	gates, err := newGates(prometheus.NewRegistry())
	if err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	s := &Server{gates: gates, log: slog.New(slog.NewTextHandler(&said, nil))}
	e := echo.New()
	e.HTTPErrorHandler = s.problem
	e.GET("/", func(c echo.Context) error {
		c = &exchange{Context: c, valid: true, request: asked{Request: contract.Request{Format: c.QueryParam("as")}, separator: ','}}
		return replyEach(s, c, &broken{}, nil, true)
	})
	for _, media := range []string{"application/json", "text/csv", "text/plain"} {
		said.Reset()
		of := httptest.NewServer(e)
		r, err := http.Get(of.URL + "?as=" + media)
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		body, err := io.ReadAll(r.Body)
		if err == nil || json.Valid(body) {
			t.Errorf("%s: %d bytes that end well", media, len(body))
		}
		of.Close() // which waits until all is said
		if n := strings.Count(said.String(), "a bug"); n != 1 {
			t.Errorf("%s: logged %d times\n%s", media, n, said.String())
		}
	}
}

// The columns of a streamed table are those that reflection finds, cell by cell.
func TestColumnsOfConversions(t *testing.T) {
	for _, voice := range []render.Voice{{}, {Units: render.US}, {Comma: true}} {
		for _, separator := range ",;" {
			for _, given := range []string{"35 ppt", "1.0075(5) SG", "22.105(20) mS/cm", "80 g/kg", "0.2 mS/cm", "5(40) ppt"} {
				var r instrument.ConversionRequest
				r.Temperature = new(quantity.Of[quantity.Celsius](24.5, 0.5))
				if err := r.Reading.Bind(given); err != nil {
					t.Fatal(err)
				}
				c, err := instrument.Convert(r)
				if err != nil {
					t.Fatal(err)
				}
				form := tableForm{separator, nil, render.NewRow(voice, separator, conversionColumns)}
				text, err := form.item(form.begin(nil), 0, outcome{Conversion: &c}, nil)
				if err != nil {
					t.Fatal(err)
				}
				got := headAndRow(t, separator, text)
				want := headAndRow(t, separator, voice.Table([]conversionRow{{&c, gravityAt25(&c)}}).AppendCSV(nil, separator))
				i := 0
				for j, head := range got[0] {
					switch {
					case i < len(want[0]) && want[0][i] == head:
						if got[1][j] != want[1][i] {
							t.Errorf("%s in %+v: %s is %q, want %q", given, voice, head, got[1][j], want[1][i])
						}
						i++
					case got[1][j] != "": // only an uncertainty that is not known, and the error, stand there alone
						t.Errorf("%s: nothing else has %s %q", given, head, got[1][j])
					}
				}
				if i != len(want[0]) {
					t.Errorf("%s: no column %s", given, want[0][i])
				}
			}
		}
	}
}

func headAndRow(t *testing.T, separator rune, text []byte) [][]string {
	t.Helper()
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma = separator
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 2 {
		t.Fatalf("%v in\n%s", err, text)
	}
	return rows
}

// A chunk of long rows, or of rows with many cells, ends before it takes much memory.
func TestChunkOfWideRows(t *testing.T) {
	for name, row := range map[string]string{"long": strings.Repeat("x", 60<<10), "many cells": strings.Repeat(",", 60<<10)} {
		limit := &rowLimit{from: strings.NewReader(strings.Repeat(row+"\n", 250)), left: maxRow}
		buffered := bufio.NewReaderSize(limit, 32<<10)
		p := &pipeline[[]string]{server: &Server{}, most: rowsAtOnce, feed: &tableFeed{limit: limit, buffered: buffered, in: csv.NewReader(buffered)}}
		c := &chunk[[]string]{}
		if last := p.fill(c); last || len(c.given) < 1 || len(c.given) > 5 {
			t.Errorf("%s: a chunk takes %d rows, last: %v", name, len(c.given), last)
		}
	}
}
