package server_test

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"saltlock/server"
)

// What an attack on the first release over HTTP found, and what clients ran into.

const twoWaters = `"from":{"salinity":"2 ppt","temperature":"25 C"},"to":{"salinity":"4 ppt","temperature":"25 C"}`

// zeros is an endless body that costs the sender nothing.
type zeros struct{ left int }

func (z *zeros) Read(p []byte) (int, error) {
	if z.left <= 0 {
		return 0, io.EOF
	}
	n := min(len(p), z.left)
	for i := range p[:n] {
		p[i] = '0'
	}
	z.left -= n
	return n, nil
}

// send posts a body of any length and returns how the answer looks.
func (s *service) send(t *testing.T, target, media string, body io.Reader) (int, http.Header, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+target, body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", media)
	answer, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	read, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, answer.Header, string(read)
}

func TestMediaTypeInAnyLetters(t *testing.T) {
	s := newService(t)
	for _, media := range []string{"text/csv", "Text/CSV", "TEXT/CSV; Charset=UTF-8"} {
		status, header, body := s.send(t, "/v1/conversions", media, strings.NewReader("reading\n1.010 SG,25\nreading\n"))
		if status != http.StatusOK || !strings.HasPrefix(header.Get("Content-Type"), "text/csv") || !strings.HasPrefix(body, "reading,") {
			t.Errorf("%s: %d %s, want a table\n%s", media, status, header.Get("Content-Type"), body)
		}
	}
	if a := s.call(t, http.MethodPost, "/v1/transfers/plan", `{"animals":[{"sensitivity":"hardy"}],`+twoWaters+"}", "Content-Type", "Application/JSON; charset=UTF-8"); a.status != http.StatusOK {
		t.Errorf("Application/JSON: %d\n%s", a.status, a.body)
	}
	// Decoded as JSON, this ended a process of the first release.
	if status, _, body := s.send(t, "/v1/conversions", "Text/CSV", &zeros{64 << 20}); status != http.StatusBadRequest {
		t.Errorf("64 MB of one cell: %d, want 400\n%.300s", status, body)
	}
}

func TestPackedBodiesAreRefused(t *testing.T) {
	s := newService(t)
	for target, media := range map[string]string{"/v1/conversions": "text/csv", "/v1/transfers/plan": "application/json"} {
		a := s.call(t, http.MethodPost, target, "reading\n35 ppt\n", "Content-Type", media, "Content-Encoding", "gzip")
		if a.status != http.StatusUnsupportedMediaType || a.header.Get("Accept-Encoding") != "identity" {
			t.Errorf("%s: %d, want 415 and what is accepted", target, a.status)
		}
	}
}

// Each of these used to take seconds, or hundreds of megabytes.
func TestFaultsAreBounded(t *testing.T) {
	s := newService(t)
	unknown := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, `,"f%d":0`, i)
		}
		return b.String()
	}
	long := strings.Repeat("n", 400<<10)
	for _, c := range []struct {
		name, method, target, body string
		status                     int
	}{
		{"4 MB of items that are none", "POST", "/v1/conversions", "[" + strings.Repeat("0,", 2<<20-4) + "0]", 400},
		{"10,000 bad items", "POST", "/v1/conversions", "[" + strings.TrimSuffix(strings.Repeat(`{"reading":"x","temperature":"y"},`, 10000), ",") + "]", 200},
		{"200,000 unknown fields in an item", "POST", "/v1/conversions", `[{"reading":"35 ppt"` + unknown(200000) + "}]", 200},
		{"200,000 unknown fields", "POST", "/v1/transfers/plan", "{" + twoWaters + unknown(200000) + "}", 413},
		{"as many unknown fields as fit", "POST", "/v1/transfers/plan", "{" + twoWaters + unknown(190) + "}", 400},
		{"a name of 400 kB in a body", "POST", "/v1/conversions", `[{"` + long + `":0}]`, 200},
		{"a name of 400 kB in a query", "GET", "/v1/mixes/salt?target=35ppt&volume=1L&" + long + "=1", "", 400},
		{"a quantity of 400 kB", "GET", "/v1/mixes/salt?target=35ppt&volume=" + long, "", 400},
		{"9,900 unknown query names", "GET", "/v1/mixes/salt?target=35ppt&volume=1L" + strings.NewReplacer(`,"`, "&", `":0`, "=0").Replace(unknown(9900)), "", 400},
		{"a field that is deep", "POST", "/v1/transfers/plan", `{"from":` + strings.Repeat("[", 9000) + strings.Repeat("]", 9000) + "}", 400},
		{"animals without number", "POST", "/v1/transfers/plan", "{" + twoWaters + `,"animals":[` + strings.Repeat("{},", 9000) + "{}]}", 400},
	} {
		t.Run(c.name, func(t *testing.T) {
			spent := processed(t)
			a := s.call(t, c.method, c.target, c.body)
			if took := processed(t) - spent; took > slower*5*time.Second { // what is shared by many needs time to spare
				t.Errorf("it took %v of the processor", took)
			}
			if a.status != c.status || len(a.body) > 3<<19 {
				t.Errorf("%d in %d bytes, want %d in at most 1.5 MB\n%.300s", a.status, len(a.body), c.status, a.body)
			}
			if again := s.call(t, c.method, c.target, c.body); withoutID(a.body) != withoutID(again.body) {
				t.Errorf("asked again it is answered in another order\n%.600s\n%.600s", a.body, again.body)
			}
		})
	}
}

func withoutID(body string) string {
	before, after, ok := strings.Cut(body, `"request_id":"`)
	if !ok {
		return body
	}
	_, after, _ = strings.Cut(after, `"`)
	return before + after
}

func TestMoreFaultsAreCounted(t *testing.T) {
	s := newService(t)
	var q strings.Builder
	for i := range 240 {
		fmt.Fprintf(&q, "&unknown_%03d=1", i)
	}
	a := s.get(t, saltURL+q.String())
	if p := a.problem(t); len(p.Errors) != 100 || a.number(t, "more_errors") != 140 || p.Errors[0].Where != "unknown_000" {
		t.Errorf("%d faults listed from %s on, want 100 and 140 more\n%.500s", len(p.Errors), p.Errors[0].Where, a.body)
	}
}

// A list's answer describes a hundred faults in all, wherever they are.
func TestFaultsOfAListAreBoundedTogether(t *testing.T) {
	s := newService(t)
	item := `{"reading":"35 ppt"`
	for i := range 70 {
		item += fmt.Sprintf(`,"unknown_%02d":0`, i)
	}
	a := s.call(t, http.MethodPost, "/v1/conversions", "["+item+"},"+item+"},"+item+`},{"reading":"35 ppt"}]`)
	var told struct {
		Bad   int
		Items []struct {
			Errors []struct{ Reason, Rule string }
		}
	}
	if err := json.Unmarshal([]byte(a.body), &told); err != nil {
		t.Fatal(err)
	}
	if told.Bad != 3 || len(told.Items) != 4 || len(told.Items[0].Errors) != 70 || len(told.Items[1].Errors) != 30 || len(told.Items[2].Errors) != 1 || len(told.Items[3].Errors) != 0 {
		t.Fatalf("%d bad, want three with 70, 30 and one\n%.900s", told.Bad, a.body)
	}
	if last := told.Items[1].Errors[29]; last.Reason != "and 41 more faults" || told.Items[2].Errors[0].Rule != "untold" {
		t.Errorf("the second ends with %v, the third with %v", last, told.Items[2].Errors[0])
	}
}

// Clients that store every number as a float send whole numbers this way.
func TestWholeNumbersInEverySpelling(t *testing.T) {
	s := newService(t)
	plan := func(count string) answered {
		return s.call(t, http.MethodPost, "/v1/transfers/plan", `{"animals":[{"sensitivity":"hardy","count":`+count+`}],`+twoWaters+`}`)
	}
	want := plan("4")
	for _, count := range []string{"4.0", "4e0", "0.4e1"} {
		if a := plan(count); a.status != http.StatusOK || a.body != want.body {
			t.Errorf("count %s: %d\n%.500s", count, a.status, a.body)
		}
	}
	if a := s.get(t, "/v1/species?limit=5.0"); a.status != http.StatusOK || a.body != s.get(t, "/v1/species?limit=5").body {
		t.Errorf("limit=5.0: %d\n%.300s", a.status, a.body)
	}
}

func TestDecodeErrorsAreTheClients(t *testing.T) {
	s := newService(t)
	for name, c := range map[string]struct{ body, where string }{
		"half an animal":   {`{"animals":[{"count":1.5}],` + twoWaters + `}`, "/animals/0/count"},
		"a leap second":    {`{` + twoWaters + `,"start":"2026-12-31T23:59:60Z"}`, "/start"},
		"a key twice":      {`{` + twoWaters + `,"line":{"settings":2,"settings":3}}`, "/line/settings"},
		"beyond a float64": {`{` + twoWaters + `,"line":{"settings":1e999}}`, "/line/settings"},
		"no UTF-8":         {"{" + twoWaters + ",\"time_zone\":\"\xff\"}", "/"},
	} {
		a := s.call(t, http.MethodPost, "/v1/transfers/plan", c.body)
		if p := a.problem(t); a.status != http.StatusBadRequest || len(p.Errors) != 1 || p.Errors[0].Where != c.where {
			t.Errorf("%s: %d %v, want 400 at %s", name, a.status, p.Errors, c.where)
		}
	}
	a := s.call(t, http.MethodPost, "/v1/conversions", `[{"reading":"35 ppt","reading":"3 ppt"},{"reading":"9 g/L","tds_factor":1e999},{"reading":"35 ppt"}]`)
	if a.status != http.StatusOK || a.number(t, "bad") != 2 || a.number(t, "good") != 1 {
		t.Errorf("inside a list: %d, want two bad and one good\n%.600s", a.status, a.body)
	}
}

func TestTablesLoseNothing(t *testing.T) {
	s := newService(t)
	list := s.call(t, http.MethodPost, "/v1/conversions?format=csv", `[{"reading":"35 ppt"},{"reading":"nothing"}]`)
	species := s.get(t, "/v1/conversions?reading=2%20ppt&temperature=26C&species=scatophagus-argus&format=csv")
	for _, a := range []answered{list, species} {
		rows, err := csv.NewReader(strings.NewReader(a.body)).ReadAll()
		if err != nil || !strings.HasPrefix(a.body, "practical_salinity [1") && !strings.Contains(rows[0][0]+rows[0][1]+rows[0][2]+rows[0][3], "salinity") || len(rows[0]) < 15 {
			t.Errorf("no measures in the table (%v):\n%s", err, a.body)
		}
	}
	// A refused reading has empty cells, which are not measurements of zero.
	if lines := strings.Split(strings.TrimSpace(list.body), "\r\n"); len(lines) != 3 || strings.Contains(lines[2], ",0,") {
		t.Errorf("the refused reading shows values:\n%s", list.body)
	}
}

func TestStreamedTableIsHarmlessAndNarrow(t *testing.T) {
	s := newService(t)
	_, _, body := s.send(t, "/v1/conversions", "text/csv", strings.NewReader("reading,=note\n35 ppt,=1+1\n34 ppt,-5\n"))
	if strings.Contains(body, ",=") || !strings.Contains(body, ",'=1+1,") || !strings.Contains(body, ",-5,") {
		t.Errorf("formulas are kept, or numbers changed:\n%s", body)
	}
	status, _, body := s.send(t, "/v1/conversions", "text/csv", strings.NewReader("reading"+strings.Repeat(",", 60000)+"\n"+strings.Repeat("35 ppt"+strings.Repeat(",", 60000)+"\n", 20)))
	if status != http.StatusBadRequest || !strings.Contains(body, "60001 columns") {
		t.Errorf("60,001 columns: %d\n%.300s", status, body)
	}
}

func TestAnyTagOfNothing(t *testing.T) {
	s := newService(t)
	if a := s.get(t, "/v1/species/nothing-like-it", "If-None-Match", "*"); a.status != http.StatusNotFound {
		t.Errorf("If-None-Match: * for what is not there: %d, want 404", a.status)
	}
	if a := s.get(t, "/v1/species/scatophagus-argus", "If-None-Match", "*"); a.status != http.StatusNotModified || a.body != "" {
		t.Errorf("If-None-Match: * for what is there: %d, want 304", a.status)
	}
}

func TestRequestIDIsBounded(t *testing.T) {
	s := newService(t)
	for id, kept := range map[string]bool{"club-7.a_b": true, strings.Repeat("x", 5000): false, "a b<script>": false} {
		if got := s.get(t, saltURL, "X-Request-Id", id).header.Get("X-Request-Id"); got == "" || (got == id) != kept || len(got) > 64 {
			t.Errorf("X-Request-Id %.20q gives %.80q", id, got)
		}
	}
}

// A client that never stops sending does not delay a stop.
func TestEndlessTableEndsWithTheService(t *testing.T) {
	for name, pause := range map[string]time.Duration{"sends": time.Millisecond, "waits": time.Hour} {
		stopping := make(chan struct{})
		s := newServiceWith(t, server.Options{Stopping: stopping})
		in, out := io.Pipe()
		ended := make(chan struct{})
		go func() {
			defer out.Close()
			_, err := io.WriteString(out, "reading\n35 ppt\n")
			for err == nil {
				select {
				case <-ended:
					return
				case <-time.After(pause):
					_, err = io.WriteString(out, "35 ppt\n")
				}
			}
		}()
		go func() { // not before the table is being read, or it would be refused
			for metric(t, s, `saltlock_admission_in_flight{class="stream"}`) == 0 {
				time.Sleep(time.Millisecond)
			}
			close(stopping)
		}()
		start := time.Now()
		status, _, body := s.send(t, "/v1/conversions", "text/csv", in)
		close(ended)
		if took := time.Since(start); status != http.StatusOK || took > 5*time.Second || !strings.Contains(body, "the service stops") {
			t.Errorf("a client that %s: %d after %v\n%.300s", name, status, took, body)
		}
	}
}
