package server

import (
	"bytes"
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
	"saltlock/server/contract"
)

// broken is a feed of which a late reading fails as a bug would.
type broken struct{ n int }

func (b *broken) next() (int, error) {
	if b.n == 1000 {
		return 0, io.EOF
	}
	b.n++
	return b.n, nil
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

// An answer that fails after it began is never taken for a whole one, in any format.
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
		c.Set("asked", &asked{Request: &contract.Request{Format: c.QueryParam("as")}, separator: ','})
		return replyEach(s, c, &broken{}, nil, true)
	})
	of := httptest.NewServer(e)
	defer of.Close()
	for _, media := range []string{"application/json", "text/csv", "text/plain"} {
		said.Reset()
		r, err := http.Get(of.URL + "?as=" + media)
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		body, err := io.ReadAll(r.Body)
		if err == nil || json.Valid(body) {
			t.Errorf("%s: %d bytes that end well", media, len(body))
		}
		if n := strings.Count(said.String(), "a bug"); n != 1 {
			t.Errorf("%s: logged %d times\n%s", media, n, said.String())
		}
	}
}
