package server

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"github.com/labstack/echo/v4"
	"golang.org/x/text/language"

	"saltlock/chem/quantity"
	"saltlock/server/contract"
	"saltlock/server/encode"
	"saltlock/server/render"
)

// answer is a result of the core that knows the notes inside it.
type answer interface{ Notes() []*quantity.Note }

// speaker is an answer with more to say than its notes.
type speaker interface{ speak(render.Voice) }

// view is how an answer reads as text and as a table and, if its operation offers that, as a
// picture and in a calendar.
type view[T any] struct {
	lines  func(render.Voice, T) []string
	rows   func(T) any // a slice of structs; nil makes the answer itself the only row
	chart  func(render.Voice, T) (render.Chart, error)
	events func(render.Voice, T) ([]render.Event, error)
	// english marks sentences that exist in English alone.
	english bool
}

// picture writes an answer as a picture or calendar.
func (w view[T]) picture(out *bytes.Buffer, a *asked, spoken render.Voice, v T) error {
	if a.Format == "text/calendar" {
		events, err := w.events(spoken, v)
		if err != nil {
			return err
		}
		return render.WriteCalendar(out, spoken.Say("calendar_name"), events[0].Start, events)
	}
	chart, err := w.chart(spoken, v)
	if err != nil {
		return err
	}
	if a.Format == "image/png" {
		return spoken.WritePNG(out, chart)
	}
	return spoken.WriteSVG(out, chart)
}

// envelope is what every answer carries besides the result.
type envelope struct {
	Summary string `json:"summary"`
	Inputs  any    `json:"inputs"` // the request after defaults
	// Understood are the species asked for by a name other than their id.
	Understood []understood `json:"understood,omitempty"`
	Model      model        `json:"model"`
}

type model struct {
	Version     string `json:"version"`
	DataVersion string `json:"data_version"`
}

// reply encodes an answer in the format asked for. It encodes into a buffer first, so that a
// failure can still become a problem.
func reply[T answer](c echo.Context, request any, v T, w view[T]) error {
	return replyAs(c, http.StatusOK, request, v, w)
}

// replyAs is reply with a status other than 200.
func replyAs[T answer](c echo.Context, status int, request any, v T, w view[T]) error {
	a := askedOf(c)
	space := buffers.Get().(*[]byte)
	defer giveBack(space)
	spoken, missed := a.speaks().Attentive()
	if w.english {
		spoken.Language = language.English
	}
	text, err := write((*space)[:0], a, spoken, request, v, w)
	if *missed && err == nil { // never two languages in one answer
		spoken.Language = language.English
		text, err = write(text[:0], a, spoken, request, v, w)
	}
	if err != nil {
		return err
	}
	*space = text
	media := mediaOf(a.Format)
	if a.only != "" && media == echo.MIMEApplicationJSON {
		media = contract.OneField
	}
	written := preparedAnswer{media: media, link: a.link, body: text}
	if a.only == "" {
		written.language = languages[spoken.Language]
	}
	if a.prepared != nil {
		written.body = bytes.Clone(text)
		a.prepared.put(a.tag, written)
	}
	return a.send(c, status, written)
}

// write appends an answer in the format asked for.
func write[T answer](text []byte, a *asked, spoken render.Voice, request any, v T, w view[T]) ([]byte, error) {
	if a.only == "" { // a single field has no sentences
		if more, ok := any(v).(speaker); ok {
			more.speak(spoken)
		}
		spoken.Fill(v.Notes())
	}
	switch a.Format {
	case "image/svg+xml", "image/png", "text/calendar":
		out := bytes.NewBuffer(text)
		err := w.picture(out, a, spoken, v)
		return out.Bytes(), err
	}
	switch {
	case a.only != "":
		return writeOnly(text, a, v)
	case a.Format == "text/csv":
		var rows any = []T{v}
		if w.rows != nil {
			rows = w.rows(v)
		}
		return a.voice.Table(rows).AppendCSV(text, a.separator), nil
	case a.Format == "text/plain":
		lines := append(w.lines(spoken, v), understoodLines(spoken, a.understood)...)
		return append(append(text, strings.Join(lines, "\n")...), '\n'), nil
	}
	return writeJSON(text, a, append(w.lines(spoken, v), understoodLines(spoken, a.understood)...), request, &v)
}

// languages are the values of Content-Language.
var languages = map[language.Tag][]string{language.English: {"en"}, language.German: {"de"}}

// buffers are reused from answer to answer.
var buffers = sync.Pool{New: func() any { return new(make([]byte, 0, 8<<10)) }}

// mostKept is the largest buffer kept for the next answer.
const mostKept = 64 << 10

func giveBack(b *[]byte) {
	if cap(*b) <= mostKept {
		buffers.Put(b)
	}
}

// send answers with bytes that are already written.
func (a *asked) send(c echo.Context, status int, w preparedAnswer) error {
	if c.Request().Method == http.MethodGet && !a.Operation.Class.Stored() {
		cacheable(c)
	}
	if a.anyTag { // there is an answer, and not a problem
		return c.NoContent(http.StatusNotModified)
	}
	to := c.Response()
	h := to.Header()
	if w.link != "" {
		h.Add("Link", w.link)
	}
	if w.language != nil {
		h["Content-Language"] = w.language
	}
	h[echo.HeaderContentLength], h[echo.HeaderContentType] = a.values.length.holds(strconv.Itoa(len(w.body))), a.values.media.holds(w.media)
	to.WriteHeader(status)
	_, err := to.Write(w.body)
	return err
}

// writeJSON writes the envelope and the result as one object.
func writeJSON(b []byte, a *asked, summary []string, request, v any) ([]byte, error) {
	b = append(encode.Lines(append(b, `{"summary":`...), summary), `,"inputs":`...)
	b, err := encode.Inputs(b, request)
	if err != nil {
		return b, err
	}
	if len(a.understood) > 0 {
		if b, err = encode.JSON(append(b, `,"understood":`...), a.understood); err != nil {
			return b, err
		}
	}
	if b, err = encode.JSON(append(b, `,"model":`...), &model{Version, a.edition}); err != nil {
		return b, err
	}
	start := len(b)
	if b, err = encode.JSON(b, v); err != nil {
		return b, err
	}
	if len(b) == start+len("{}") {
		return append(b[:start], "}\n"...), nil
	}
	b[start] = ',' // into the object that is still open
	return append(b, '\n'), nil
}

// writeOnly writes the one field asked for: as text a bare number, in the units of the voice.
func writeOnly(b []byte, a *asked, v any) ([]byte, error) {
	field, ok := encode.Field(v, a.only)
	if !ok {
		return b, &contract.Fault{Where: "only", Note: quantity.Note{Code: "answer_lacks_field", Params: []any{a.only}}, Rule: "absent"}
	}
	if a.Format == echo.MIMEApplicationJSON {
		b, err := encode.JSON(b, field)
		return append(b, '\n'), err
	}
	if practical, ok := encode.Field(field, "practical"); ok { // a salinity on both scales
		field = practical
	}
	m, ok := field.(quantity.Measure)
	if of, is := field.(interface{ Measure() quantity.Measure }); is {
		m, ok = of.Measure(), true
	}
	if !ok {
		return b, fmt.Errorf("only=%s is no quantity", a.only)
	}
	m = a.voice.Family(m)
	if a.Format == "text/csv" {
		out := bytes.NewBuffer(b)
		w := csv.NewWriter(out)
		w.Comma, w.UseCRLF = a.separator, true // a decimal comma between commas is quoted
		err := w.WriteAll([][]string{{fmt.Sprintf("%s [%s]", a.only, m.Unit)}, {a.voice.Number(m)}})
		return out.Bytes(), err
	}
	return append(append(b, a.voice.Number(m)...), '\n'), nil
}

// inputs lists a request with its defaults as strings that can be sent again.
func inputs(request any) (m map[string]any, err error) {
	text, err := encode.Inputs(nil, request)
	if err != nil {
		return nil, err
	}
	return m, json.Unmarshal(text, &m)
}
