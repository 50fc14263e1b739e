package server_test

import (
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/emersion/go-ical"
	"github.com/getkin/kin-openapi/openapi3"
)

// hostile are texts put into fields: markup, SQL, line ends, a formula, templates, a path.
var hostile = []string{
	`<script>alert(1)</script>`, `"><svg onload=alert(1)>`, `'; DROP TABLE transfers; --`, "x\r\nX-Evil: 1", "=1+1", `{{.}}${jndi:ldap://x}`, "../../etc/passwd", "\x00", "\u202e",
}

// mustBeSafe checks that hostile text had no effect on an answer.
func mustBeSafe(t *testing.T, what string, a answered) {
	t.Helper()
	media := a.header.Get("Content-Type")
	if a.status >= 500 || a.header.Get("X-Evil") != "" {
		t.Errorf("%s: %d, %v", what, a.status, a.header)
	}
	if strings.HasPrefix(media, "text/html") && (strings.Contains(a.body, "<script>alert") || strings.Contains(a.body, "<svg onload")) {
		t.Errorf("%s: markup is repeated as it came", what)
	}
	for _, leak := range []string{"SQL", "sqlite", "syntax error", "root:x", "goroutine "} {
		if strings.Contains(a.body, leak) {
			t.Errorf("%s: the answer speaks of %q\n%.300s", what, leak, a.body)
		}
	}
}

// Hostile text in every parameter of every operation, and in every text of every body, is refused
// or treated as text, never more.
func TestHostileTextInEveryField(t *testing.T) {
	s := newService(t)
	saved := s.call(t, http.MethodPost, "/v1/transfers", savedBody)
	id, key := saved.field(t, "id").(string), saved.field(t, "key").(string)
	fields := 0
	for at, item := range s.doc.Paths.Map() {
		for method, op := range item.Operations() {
			if op.OperationID == "deleteTransfer" {
				continue // takes no more than an id
			}
			path, q := trial(op)
			for name, v := range path {
				if name == "id" && kept(at) {
					v = id
				}
				at = strings.ReplaceAll(at, "{"+name+"}", url.PathEscape(v))
			}
			ask := func(what, query, body, media string) {
				fields++
				mustBeSafe(t, op.OperationID+" "+what, s.unheld(t, method, at+"?"+query, body, "Content-Type", media, "Authorization", "Bearer "+key))
			}
			if method == http.MethodGet {
				for _, p := range op.Parameters {
					text := hostile[fields%len(hostile)]
					worse := url.Values{}
					for name, v := range q {
						worse[name] = v
					}
					worse.Set(p.Value.Name, text)
					ask(p.Value.Name, worse.Encode(), "", "")
				}
			}
			if op.RequestBody != nil {
				for _, body := range poisoned(t, op.RequestBody.Value.Content.Get("application/json")) {
					ask("with "+body, "", body, "application/json")
				}
			}
		}
	}
	if fields < 300 {
		t.Errorf("only %d fields were tried", fields)
	}
	if a := s.get(t, "/v1/transfers/"+id); a.status != http.StatusOK {
		t.Errorf("the transfer afterwards: %d", a.status)
	}
}

// unheld is call without the contract, which says nothing about requests that break it.
func (s *service) unheld(t *testing.T, method, target, body string, header ...string) answered {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, s.URL+target, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	answer, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answered{answer.StatusCode, answer.Header, string(text)}
}

// poisoned are the example of a body with hostile text in place of each of its values.
func poisoned(t *testing.T, content *openapi3.MediaType) (bodies []string) {
	t.Helper()
	if content == nil {
		return nil
	}
	var walk func(v any, put func(any))
	whole := content.Example
	write := func() {
		text, err := json.Marshal(whole)
		if err != nil {
			t.Fatal(err)
		}
		bodies = append(bodies, string(text))
	}
	walk = func(v any, put func(any)) {
		switch v := v.(type) {
		case map[string]any:
			for name, inner := range v {
				walk(inner, func(to any) { v[name] = to })
			}
		case []any:
			for i, inner := range v {
				walk(inner, func(to any) { v[i] = to })
			}
		default:
			for i := range 3 {
				put(hostile[(len(bodies)+i)%len(hostile)])
				write()
			}
			put(v)
		}
	}
	walk(whole, func(to any) { whole = to })
	return bodies
}

// A note with markup is text in every format that a saved transfer has: no page, picture or
// calendar interprets it.
func TestMarkupInANote(t *testing.T) {
	s := newService(t)
	const note = `<script>alert(1)</script>]]>&x;` + "\nEND:VCALENDAR\nBEGIN:VEVENT"
	saved := s.call(t, http.MethodPost, "/v1/transfers", savedBody)
	at, key := saved.header.Get("Location"), saved.field(t, "key").(string)
	text, err := json.Marshal(map[string]string{"note": note})
	if err != nil {
		t.Fatal(err)
	}
	if a := s.call(t, http.MethodPatch, at, string(text), "Authorization", "Bearer "+key); a.status != http.StatusOK {
		t.Fatalf("a note of markup: %d %s", a.status, a.body)
	}
	for _, form := range []string{at, at + "?format=text", at + "?format=csv", at + "/export?format=csv", "/t/" + strings.TrimPrefix(at, "/v1/transfers/")} {
		a := s.unheld(t, http.MethodGet, form, "")
		mustBeSafe(t, form, a)
		if a.status != http.StatusOK || a.header.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: %d, %v", form, a.status, a.header)
		}
	}
	picture := s.unheld(t, http.MethodGet, at+"/chart.svg", "")
	for d := xml.NewDecoder(strings.NewReader(picture.body)); ; {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("the picture: %v", err)
		}
		if e, ok := token.(xml.StartElement); ok && (e.Name.Local == "script" || slices.ContainsFunc(e.Attr, func(a xml.Attr) bool { return strings.HasPrefix(a.Name.Local, "on") })) {
			t.Errorf("the picture has %v", e)
		}
	}
	calendar := s.unheld(t, http.MethodGet, at+"/calendar.ics", "")
	parsed, err := ical.NewDecoder(strings.NewReader(calendar.body)).Decode()
	if err != nil {
		t.Fatalf("the calendar: %v\n%s", err, calendar.body)
	}
	if events := len(parsed.Events()); events != strings.Count(calendar.body, "\nBEGIN:VEVENT") || events == 0 {
		t.Errorf("%d events\n%s", events, calendar.body)
	}
	if fmt.Sprint(picture.status, calendar.status) != "200 200" {
		t.Errorf("picture %d, calendar %d", picture.status, calendar.status)
	}
}
