package server

import (
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/chem/instrument"
	"saltlock/server/encode"
	"saltlock/server/render"
)

// formOf is how readings are answered in the format asked for. head names the cells that a table
// returns unchanged.
func formOf(a *asked, head []string) form {
	switch a.Format {
	case "text/csv":
		return &tableForm{a.separator, head, render.NewRow(a.voice, a.separator, conversionColumns)}
	case echo.MIMETextPlain:
		return countForm{a.voice}
	}
	return objectForm{a}
}

// wantedFor is the set of measures that the format asked for shows.
func wantedFor(a *asked) instrument.Measures {
	if a.Format == "text/csv" {
		return tableMeasures
	}
	return instrument.AllMeasures
}

// mediaOf is the media type of a format.
func mediaOf(format string) string {
	if strings.HasPrefix(format, "text/") {
		return format + "; charset=utf-8"
	}
	return format
}

// objectForm is one JSON object. Fields known only at the end follow the items.
type objectForm struct{ *asked }

func (o objectForm) begin(b []byte) []byte { return append(b, `{"items":[`...) }

func (o objectForm) item(b []byte, i int, of outcome, _ []string) ([]byte, error) {
	if i > 0 {
		b = append(b, ',')
	}
	if of.Conversion != nil {
		o.speaks().Fill(of.Conversion.Notes())
	}
	return encode.JSON(b, of)
}

func (o objectForm) end(b []byte, good, bad int) ([]byte, error) {
	counted := struct {
		Good    int      `json:"good"`
		Bad     int      `json:"bad"`
		Methods []string `json:"methods"` // each conversion names its own
		Summary string   `json:"summary"`
		Inputs  struct{} `json:"inputs"`
		Model   model    `json:"model"`
	}{good, bad, []string{}, o.speaks().Say("conversions_counted", good, bad), struct{}{}, model{Version, o.edition}}
	b = append(b, `],`...)
	at := len(b)
	b, err := encode.JSON(b, counted)
	if err != nil {
		return b, err
	}
	b = slices.Delete(b, at, at+1) // the opening brace of an object that is already open
	return append(b, '\n'), nil
}

// countForm is a sentence that counts the readings.
type countForm struct{ voice render.Voice }

func (countForm) begin(b []byte) []byte { return b }

func (countForm) item(b []byte, _ int, _ outcome, _ []string) ([]byte, error) { return b, nil }

func (f countForm) end(b []byte, good, bad int) ([]byte, error) {
	return append(append(b, f.voice.Say("conversions_counted", good, bad)...), '\n'), nil
}

// tableForm is a table with a row for each reading: what came in, the measures, and what is wrong
// with it.
type tableForm struct {
	separator rune
	head      []string
	layout    *render.Row[*instrument.Conversion]
}

// conversionsError heads the last column of a table of conversions.
const conversionsError = "error"

func (t *tableForm) begin(b []byte) []byte {
	return render.AppendRow(b, t.separator, append(append(slices.Clip(t.head), t.layout.Head()...), conversionsError))
}

func (t *tableForm) item(b []byte, _ int, of outcome, own []string) ([]byte, error) {
	b = render.AppendCells(b, t.separator, own)
	if of.Conversion == nil {
		return render.AppendRow(t.layout.AppendEmpty(b), t.separator, []string{sentence(of.Errors)}), nil
	}
	return append(t.layout.Append(b, of.Conversion), "\r\n"...), nil // and no error
}

func (t *tableForm) end(b []byte, _, _ int) ([]byte, error) { return b, nil }
