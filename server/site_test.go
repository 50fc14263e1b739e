package server_test

import (
	"compress/gzip"
	"html"
	"image/png"
	"io"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"saltlock/server/site"
)

// paths of every page for people.
var pagePaths = []string{"/", "/water", "/guides", "/plan", "/plan?step=waters", "/plan?step=container", "/plan?step=animals&species=scat", youngScats, refusedScats, "/species", "/species?q=scat", "/species/scatophagus-argus", "/docs", "/docs/console", "/docs/instruments", "/docs/making-water", "/docs/dripping", "/docs/ramping",
	"/docs/hosting", "/docs/pitfalls", "/docs/changelog", "/problems/no-plan"}

// A plan by its page, and a move that has no plan as it is.
const (
	scatsQuery   = "from_salinity=2%20ppt&from_temperature=26%20C&to_salinity=10%20ppt&to_temperature=26%20C&species=scatophagus-argus&stage=juvenile&count=4&length=2%20cm&container_capacity=20%20L&container_aerated=true"
	youngScats   = "/plan?" + scatsQuery
	refusedScats = "/plan?from_salinity=0%20ppt&from_temperature=26%20C&to_salinity=30%20ppt&to_temperature=26%20C&sensitivity=delicate&container_capacity=20%20L"
)

var (
	references = regexp.MustCompile(`(?:href|src|action)="([^"]+)"`)
	attributed = regexp.MustCompile(` (?:on[a-z]+|style)="`)
)

// Each page talks only to its own server, runs no inline scripts, and each of its links leads
// somewhere.
func TestPages(t *testing.T) {
	s := newService(t)
	seen := map[string]int{}
	for _, path := range pagePaths {
		a := s.get(t, path)
		policy := a.header.Get("Content-Security-Policy")
		if a.status != http.StatusOK || !strings.Contains(policy, "default-src 'none'") || strings.Contains(policy, "unsafe") {
			t.Errorf("GET %s: %d with policy %q", path, a.status, policy)
		}
		if path != "/docs" && path != "/docs/console" && (strings.Contains(a.body, "<script") || strings.Contains(policy, "script-src")) {
			t.Errorf("%s needs script", path)
		}
		if strings.Contains(a.body, "<style") || attributed.MatchString(a.body) {
			t.Errorf("%s has style or script in its text, which the policy forbids", path)
		}
		if strings.Count(a.body, "<h1") != 1 || !strings.Contains(a.body, `<html lang="en">`) || !strings.Contains(a.body, `<main id="content"`) {
			t.Errorf("%s lacks its heading, language or main part", path)
		}
		if strings.Contains(a.body, "could not answer this") || strings.Contains(a.body, "(?)") {
			t.Errorf("%s asks what is not answered", path)
		}
		for _, m := range references.FindAllStringSubmatch(a.body, -1) {
			link := html.UnescapeString(m[1])
			if fragment, ok := strings.CutPrefix(link, "#"); ok {
				if !strings.Contains(a.body, `id="`+fragment+`"`) {
					t.Errorf("%s points to %s, which it does not have", path, link)
				}
				continue
			}
			if !strings.HasPrefix(link, "/") {
				t.Errorf("%s loads or links %s, elsewhere", path, link)
				continue
			}
			at, _, _ := strings.Cut(link, "#")
			if _, ok := seen[at]; !ok {
				seen[at] = s.get(t, at).status
			}
			if seen[at] != http.StatusOK {
				t.Errorf("%s links %s: %d", path, link, seen[at])
			}
		}
	}
}

// The pages use the words that people search for, next to the exact term.
func TestWords(t *testing.T) {
	s := newService(t)
	for path, words := range map[string][]string{
		"/":                  {"plan a move", "how much marine salt", "SG to ppt", "acclimatise"},
		"/water":             {"how much marine salt", "SG to ppt"},
		"/docs":              {"hose inner diameter", "bore", "height difference", "head", "room below the rim", "freeboard", "total ammonia", "TAN"},
		"/docs/dripping":     {"hose", "inner diameter (bore)", "height difference (head)", "room below the rim (freeboard)", "total ammonia", "acclimatise"},
		"/docs/making-water": {"how much marine salt"},
		"/docs/instruments":  {"SG to ppt", "ppt to SG"},
		"/docs/hosting":      {"CGO_ENABLED=1 go build", "DynamicUser=yes", "what is stored"},
	} {
		page := strings.ToLower(s.get(t, path).body)
		for _, w := range words {
			if !strings.Contains(page, strings.ToLower(w)) {
				t.Errorf("%s does not say %q", path, w)
			}
		}
	}
}

// The start page and the page at the bucket with everything they load, as sent; the second with
// its chart and scripts.
func TestPagesAreLight(t *testing.T) {
	s := newService(t)
	begun := s.call(t, http.MethodPost, "/v1/transfers", savedBody).field(t, "id").(string)
	for at, most := range map[string]int{"/": 60_000, "/t/" + begun: 120_000} {
		sent := s.get(t, at, "Accept-Encoding", "gzip")
		size, page := len(sent.body), s.get(t, at)
		for _, m := range regexp.MustCompile(`<(?:link rel="(?:icon|stylesheet|manifest)"|img|script)[^>]*(?:href|src)="([^"]+)"`).FindAllStringSubmatch(page.body, -1) {
			size += len(s.get(t, html.UnescapeString(m[1]), "Accept-Encoding", "gzip").body)
		}
		for _, script := range []string{"/static/queue.js", "/static/words.js", "/static/clock.js", "/sw.js"} { // that scripts load
			if at != "/" {
				size += len(s.get(t, script, "Accept-Encoding", "gzip").body)
			}
		}
		if t.Logf("%s weighs %d bytes", at, size); size > most || sent.header.Get("Content-Encoding") != "gzip" {
			t.Errorf("%s weighs %d bytes, more than %d", at, size, most)
		}
	}
}

// Long answers are compressed for clients that accept it, and not sent again to those that hold
// them.
func TestLongAnswersArePacked(t *testing.T) {
	s := newService(t)
	for _, at := range []string{"/openapi.yaml", "/openapi.json", "/docs", "/v1/species?limit=200", "/v1/transfers/plan?" + scatsQuery} {
		plain := s.get(t, at, "Accept-Encoding", "gzip;q=0")
		_, packed := s.sends(t, http.MethodGet, at, "", "Accept-Encoding", "br, gzip") // which the contract's reader would not unpack
		z, err := gzip.NewReader(strings.NewReader(packed.body))
		if err != nil {
			t.Errorf("%s is not packed: %v", at, err)
			continue
		}
		if body, err := io.ReadAll(z); err != nil || string(body) != plain.body || len(packed.body) > len(plain.body)/3 {
			t.Errorf("%s: %d bytes packed, %d plain (%v)", at, len(packed.body), len(plain.body), err)
		}
		if packed.header.Get("ETag") == plain.header.Get("ETag") || !strings.Contains(packed.header.Get("Vary"), "Accept-Encoding") || plain.header.Get("Content-Encoding") != "" {
			t.Errorf("%s: a cache cannot tell the two forms apart", at)
		}
		if held := s.get(t, at, "Accept-Encoding", "gzip", "If-None-Match", packed.header.Get("ETag")); held.status != http.StatusNotModified {
			t.Errorf("%s that is still held: %d, want 304", at, held.status)
		}
	}
	if small := s.get(t, "/v1/conversions?reading=1.010%20SG&temperature=25C", "Accept-Encoding", "gzip"); small.header.Get("Content-Encoding") != "" {
		t.Error("a small answer is packed")
	}
}

// A page that a browser still holds is not sent again.
func TestHeldPage(t *testing.T) {
	s := newService(t)
	if held := s.get(t, "/docs", "If-None-Match", s.get(t, "/docs").header.Get("ETag")); held.status != http.StatusNotModified {
		t.Errorf("a page that is still held: %d, want 304", held.status)
	}
}

// The forms of the water page answer a plain GET, with a decimal comma or point, and show faults
// next to the entry. The expected numbers are in TestAnswers with their source.
func TestStartPageAnswers(t *testing.T) {
	s := newService(t)
	for _, c := range []struct{ query, want string }{
		{"target=35&target_unit=ppt&volume=100&volume_unit=L&temperature=25&temperature_unit=C", "Start with 3.6 kg"},
		{"target=35 ppt&volume=100 L", "Start with 3.6 kg"},
		{"target=35,0&target_unit=ppt&volume=100&volume_unit=L", "Start with 3,6 kg"},
		{"target=35&volume=26,417&volume_unit=gal", "can be read in two ways: write 26417 or 26.417."},
		{"target=35&volume=1,000 L", "can be read in two ways"},
		{"target=35&volume=0,500&volume_unit=L", "at 35 ppt"},
		{"target=1,010 SG&volume=100", "at 13,3 ppt"},
		{"target=35&volume=1.000,5&volume_unit=L", "a comma and a point"},
		{"target=&volume=1,000&volume_unit=L", `<a href="#salt-target">How salty it should be:`},
		{"target=500&volume=abc", `aria-describedby="salt-volume-fault" aria-invalid="true"`},
		{"reading=1,010&reading_unit=SG&temperature=25", "The salinity is 13,3 ppt"},
		{"reading=1.010&reading_unit=SG&temperature=77&temperature_unit=F", "The salinity is 13.3 ppt"},
		{"reading=1.010&reading_unit=SG&temperature=25&calibration=60F/60F", "value=\"60F/60F\" selected"},
		{"reading=1.010&reading_unit=SG&instrument=hydrometer&calibration=60F/60F&temperature=25", "15.7 ± "},
		{"reading=<script>&reading_unit=SG", "&lt;script&gt;"},
	} {
		q, err := url.ParseQuery(c.query)
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range []string{"/water?", "/?"} { // the latter in links of the first releases
			a := s.get(t, path+q.Encode())
			if a.status != http.StatusOK || !strings.Contains(a.body, c.want) || strings.Contains(a.body, "<script") {
				t.Errorf("%s%s: %d without %q", path, c.query, a.status, c.want)
			}
		}
	}
	for _, path := range []string{"/", "/water"} {
		if a := s.get(t, path); strings.Contains(a.body, `class="answer"`) {
			t.Errorf("%s answers what nobody asked", path)
		}
	}
}

// A browser that asks for a missing page gets a page; a program gets a problem document.
func TestMissingPages(t *testing.T) {
	s := newService(t)
	for _, path := range []string{"/nothing", "/docs/nothing", "/embed/nothing"} {
		a := s.get(t, path, "Accept", "text/html,application/xhtml+xml,*/*;q=0.8")
		if a.status != http.StatusNotFound || !strings.Contains(a.body, "There is no such page") || a.header.Get("Content-Security-Policy") != site.Policy {
			t.Errorf("GET %s in a browser: %d %s", path, a.status, a.header)
		}
		if a := s.get(t, path); a.status != http.StatusNotFound || a.header.Get("Content-Type") != "application/problem+json" {
			t.Errorf("GET %s by a program: %d %s", path, a.status, a.header)
		}
	}
	if a := s.get(t, "/v1/species/nothing-at-all", "Accept", "text/html"); strings.Contains(a.body, "<html") {
		t.Error("the service answers a page where it has problem documents")
	}
}

// A link to an answer shows the answer, with a picture by URL.
func TestCards(t *testing.T) {
	s := newService(t)
	page := s.get(t, "/?target=10&target_unit=ppt&volume=450&volume_unit=L").body
	m := regexp.MustCompile(`property="og:image" content="http://localhost:8080(/card.png\?[^"]+)"`).FindStringSubmatch(page)
	if m == nil || !strings.Contains(page, `property="og:title" content="Start with `) {
		t.Fatal("a link to an answer does not show it")
	}
	plain, answer := s.get(t, "/card.png"), s.get(t, html.UnescapeString(m[1]))
	if plain.body == answer.body {
		t.Error("the picture of an answer is that of the site")
	}
	for _, a := range []answered{plain, answer} {
		picture, err := png.DecodeConfig(strings.NewReader(a.body))
		if err != nil || picture.Width != 1200 || picture.Height != 630 || a.header.Get("Content-Type") != "image/png" {
			t.Errorf("picture %v of type %s: %v", picture, a.header.Get("Content-Type"), err)
		}
	}
}

// The reference has each operation in every form it can have, and this server's answer to the
// example.
func TestReference(t *testing.T) {
	s := newService(t)
	page := s.get(t, "/docs").body
	for path, item := range s.doc.Paths.Map() {
		for method, op := range item.Operations() {
			_, part, _ := strings.Cut(page, `<article class="operation" id="`+op.OperationID+`"`)
			part, _, _ = strings.Cut(part, "</article>")
			part = html.UnescapeString(part)
			wants := []string{"curl '"}
			if op.Tags[0] != "service" && !kept(path) {
				begins := `"summary":`
				if op.OperationID == "convertReadings" { // which counts at its end
					begins = `"items":`
				}
				wants = append(wants, "This server answers", "import { connect, "+op.OperationID+" } from 'saltlock'", "WithResponse(ctx", "saltlock.Client(", begins)
				if method == http.MethodGet {
					wants = append(wants, "=IMPORTDATA(", "WEBSERVICE(")
				}
			}
			for _, want := range wants {
				if !strings.Contains(part, want) {
					t.Errorf("the reference of %s %s has no %q", method, path, want)
				}
			}
		}
	}
	salt := s.get(t, "/v1/mixes/salt.txt?target=35%20ppt&volume=100%20L").body
	if first, _, _ := strings.Cut(salt, "\n"); !strings.Contains(page, html.EscapeString(first)) {
		t.Errorf("the reference does not show the live answer %q", first)
	}
}
