package site

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// asker puts a question to this service, through the handlers that answer the world, and returns
// the status and the body.
type asker func(method, target string, body []byte) (int, []byte)

// kept is an answer to be read here instead of sent.
type kept struct {
	header http.Header
	status int
	bytes.Buffer
}

func (k *kept) Header() http.Header { return k.header }

func (k *kept) WriteHeader(status int) { k.status = status }

// asking makes an asker of a handler.
func asking(h http.Handler) asker {
	return func(method, target string, body []byte) (int, []byte) {
		r, err := http.NewRequest(method, target, bytes.NewReader(body))
		if err != nil {
			return http.StatusBadRequest, []byte(err.Error())
		}
		if len(body) > 0 {
			r.Header.Set("Content-Type", "application/json")
		}
		k := &kept{header: http.Header{}, status: http.StatusOK}
		h.ServeHTTP(k, r)
		return k.status, k.Bytes()
	}
}

// target joins a path and its query; an argument is name=value, not yet escaped.
func target(path string, arguments []string) string {
	for i, a := range arguments {
		name, value, _ := strings.Cut(a, "=")
		arguments[i] = name + "=" + escape(value)
	}
	if len(arguments) == 0 {
		return path
	}
	return path + "?" + strings.Join(arguments, "&")
}

// escape writes a value for a query so that people can read it: blanks as %20, and everything a
// query may hold as it is.
func escape(v any) string {
	return strings.NewReplacer("+", "%20", "%2F", "/", "%3A", ":", "%2C", ",").Replace(url.QueryEscape(fmt.Sprint(v)))
}

// noAnswer replaces an example that cannot be had.
const noAnswer = "This server could not answer this just now. Ask the URL to see why."

// liveAnswer is a question and what this server answers to it.
type liveAnswer struct {
	URL   template.URL
	Shown string
	Lines []string
}

// answer is {{template "live" (answer "/v1/…" "name=value" …)}} in guides: the text that this
// server answers, or a note that it gives none.
func (ask asker) answer(path string, arguments ...string) liveAnswer {
	at := target(path, arguments)
	joint := "?"
	if strings.Contains(at, "?") {
		joint = "&"
	}
	at += joint + "format=text"
	status, body := ask(http.MethodGet, at, nil)
	if status != http.StatusOK {
		body = []byte(noAnswer)
	}
	shown := at
	if len(shown) > 100 { // a plan's inputs would fill the page
		shown = path + "?…"
	}
	return liveAnswer{URL: template.URL(at), Shown: shown, Lines: strings.Split(strings.TrimSpace(string(body)), "\n")}
}

// value is {{value "field" "/v1/…" "name=value" …}} in guides: one number in words, in both unit
// families, or a sign that there is none now.
func (ask asker) value(field, path string, arguments ...string) (string, error) {
	at := target(path, arguments)
	status, body := ask(http.MethodGet, at, nil)
	if status != http.StatusOK {
		return "(?)", nil
	}
	var v any
	if err := json.Unmarshal(body, &v); err != nil {
		return "", err
	}
	for part := range strings.SplitSeq(field, ".") {
		m, _ := v.(map[string]any)
		v = m[part]
	}
	m, _ := v.(map[string]any)
	value, ok := m["value"].(float64)
	unit, _ := m["unit"].(string)
	if !ok {
		return "", fmt.Errorf("GET %s has no number %s", at, field)
	}
	uncertainty, _ := m["uncertainty"].(float64)
	return render.Voice{}.Quantity(quantity.Measure{Value: value, Unit: unit, Uncertainty: uncertainty}), nil
}
