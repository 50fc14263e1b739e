package server

import (
	"bytes"
	"encoding"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"reflect"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/chem/quantity"
	"saltlock/server/contract"
	"saltlock/server/render"
)

// answer is a result of the core: it knows the notes inside it.
type answer interface{ Notes() []*quantity.Note }

// view is how an answer reads as text and as a table, and where its operation
// offers that, as a picture and in a calendar.
type view[T any] struct {
	lines  func(render.Voice, T) []string
	rows   func(T) any // a slice of structs; nil is the answer itself as one row
	chart  func(T) (render.Chart, error)
	events func(T) ([]render.Event, error)
}

// picture writes an answer as a picture or calendar; not done for other formats.
func (w view[T]) picture(out *bytes.Buffer, a *asked, v T) (done bool, err error) {
	switch a.Format {
	case "image/svg+xml", "image/png":
		chart, err := w.chart(v)
		if err != nil {
			return true, err
		}
		if a.Format == "image/png" {
			return true, a.voice.WritePNG(out, chart)
		}
		return true, a.voice.WriteSVG(out, chart)
	case "text/calendar":
		events, err := w.events(v)
		if err != nil {
			return true, err
		}
		return true, render.WriteCalendar(out, "Moving animals", events[0].Start, events)
	}
	return false, nil
}

// envelope is what every answer carries beside the result.
type envelope struct {
	Summary string         `json:"summary"`
	Inputs  map[string]any `json:"inputs"`
	// Understood are the species that were named by another name than their id.
	Understood []understood `json:"understood,omitempty"`
	Model      model        `json:"model"`
}

type model struct {
	Version     string `json:"version"`
	DataVersion string `json:"data_version"`
}

// reply encodes an answer in the format asked for. It encodes into a buffer
// first, so that a failure can still become a problem.
func reply[T answer](c echo.Context, request any, v T, w view[T]) error {
	return replyAs(c, http.StatusOK, request, v, w)
}

// replyAs is reply with another status than 200.
func replyAs[T answer](c echo.Context, status int, request any, v T, w view[T]) error {
	a := c.Get("asked").(*asked)
	spoken := a.speaks()
	spoken.Fill(v.Notes())
	var out bytes.Buffer
	done, err := w.picture(&out, a, v)
	switch {
	case done:
	case a.only != "":
		err = writeOnly(&out, a, v)
	case a.Format == "text/csv":
		var rows any = []T{v}
		if w.rows != nil {
			rows = w.rows(v)
		}
		err = a.voice.Table(rows).WriteCSV(&out, a.separator)
	case a.Format == "text/plain":
		fmt.Fprintln(&out, strings.Join(append(w.lines(a.voice, v), understoodLines(a.voice, a.understood)...), "\n"))
	default:
		err = writeJSON(&out, envelope{
			Summary:    strings.Join(append(w.lines(spoken, v), understoodLines(spoken, a.understood)...), "\n"),
			Inputs:     inputs(request),
			Understood: a.understood,
			Model:      model{Version, a.edition},
		}, v)
	}
	if err != nil {
		return err
	}
	media := a.Format
	switch {
	case strings.HasPrefix(media, "text/"):
		media += "; charset=utf-8"
	case a.only != "" && media == echo.MIMEApplicationJSON:
		media = contract.OneField
	}
	written := preparedAnswer{media, out.Bytes()}
	if a.prepared != nil {
		a.prepared.put(a.tag, written)
	}
	return a.send(c, status, written)
}

// send answers with bytes that are written.
func (a *asked) send(c echo.Context, status int, w preparedAnswer) error {
	if c.Request().Method == http.MethodGet && !a.Operation.Stored {
		cacheable(c)
	}
	if a.anyTag { // there is an answer, which a problem would not have been
		return c.NoContent(http.StatusNotModified)
	}
	return c.Blob(status, w.media, w.body)
}

// writeJSON writes the envelope and the result as one object.
func writeJSON(out *bytes.Buffer, e envelope, v any) error {
	head, err := json.Marshal(e)
	if err != nil {
		return err
	}
	body, err := json.Marshal(v)
	if err != nil {
		return err
	}
	out.Write(head[:len(head)-1])
	if len(body) > len("{}") {
		out.WriteByte(',')
	}
	out.Write(body[1:])
	out.WriteByte('\n')
	return nil
}

// writeOnly writes the one field asked for: with text a bare number.
func writeOnly(out *bytes.Buffer, a *asked, v any) error {
	body, err := json.Marshal(v)
	if err != nil {
		return err
	}
	fields := map[string]json.RawMessage{}
	if err := json.Unmarshal(body, &fields); err != nil {
		return err
	}
	field, ok := fields[a.only]
	if !ok {
		return &contract.Fault{Where: "only", Reason: fmt.Sprintf("this answer has no %s; ask without only= to see why", a.only), Rule: "absent"}
	}
	if a.Format == echo.MIMEApplicationJSON {
		out.Write(field)
		out.WriteByte('\n')
		return nil
	}
	var m quantity.Measure
	if json.Unmarshal(field, &m) != nil || m.Unit == "" {
		pair := struct {
			Practical quantity.Measure `json:"practical"`
		}{}
		if err := json.Unmarshal(field, &pair); err != nil {
			return err
		}
		m = pair.Practical
	}
	if a.Format == "text/csv" {
		w := csv.NewWriter(out)
		w.Comma, w.UseCRLF = a.separator, true // which quotes a decimal comma between commas
		return w.WriteAll([][]string{{fmt.Sprintf("%s [%s]", a.only, m.Unit)}, {a.voice.Number(m)}})
	}
	fmt.Fprintln(out, a.voice.Number(m))
	return nil
}

// inputs lists a request after defaults as strings that can be sent again.
func inputs(request any) map[string]any {
	m, _ := texts(reflect.ValueOf(request)).(map[string]any)
	if m == nil {
		m = map[string]any{}
	}
	return m
}

// texts turns quantities into their text and keeps the shape around them.
func texts(v reflect.Value) any {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return nil
		}
		v = v.Elem()
	}
	if !v.IsValid() {
		return nil
	}
	if m, ok := v.Interface().(encoding.TextMarshaler); ok {
		if text, err := m.MarshalText(); err == nil {
			return string(text)
		}
	}
	if s, ok := v.Interface().(fmt.Stringer); ok {
		return s.String()
	}
	switch v.Kind() {
	case reflect.Struct:
		m := map[string]any{}
		for i := range v.NumField() {
			f := v.Type().Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			text := texts(v.Field(i))
			if inner, ok := text.(map[string]any); ok && f.Anonymous {
				maps.Copy(m, inner)
			} else if text != nil && name != "-" && name != "" {
				m[name] = text
			}
		}
		if len(m) == 0 {
			return nil
		}
		return m
	case reflect.Slice:
		list := make([]any, v.Len())
		for i := range list {
			list[i] = texts(v.Index(i))
		}
		if len(list) == 0 {
			return nil
		}
		return list
	}
	return v.Interface()
}
