package server_test

import (
	"html"
	"math/rand/v2"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// The page of a plan says what its operation says, in the order in which it is used.
func TestPlanPage(t *testing.T) {
	s := newService(t)
	page := html.UnescapeString(s.get(t, youngScats).body)
	text := s.get(t, "/v1/transfers/plan?"+scatsQuery+"&format=text").body
	first, _, _ := strings.Cut(text, "\n")
	for _, want := range []string{"<h1>" + first + "</h1>", "Do this first", "of new water at 10 ppt, with", "done at", "What to buy or have at hand", "When to stop", "Power off?", "Check before you start", "What to do", "If something fails", "Save it and follow it", "/card?", "/qr.svg?of=", "format=svg"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page of a plan has no %q", want)
		}
	}
}

// stay shows where an answer leads instead of going there.
func (s *service) stay() {
	s.Client().CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
}

// Each page of questions leads to the next, and back, with everything said in its address; a fault
// keeps the page, and appears next to its entry and at the top.
func TestPlanQuestions(t *testing.T) {
	s := newService(t)
	s.stay()
	for _, c := range []struct{ from, to string }{
		{"/plan?after=animals&species=scatophagus-argus&stage=juvenile&count=4&length=2&length_unit=cm", "/plan?count=4&length=2%20cm&species=scatophagus-argus&stage=juvenile&step=waters"},
		{"/plan?after=animals&species=spotted%20scat&add=1", "/plan?kind=1&species=scatophagus-argus&step=animals"},
		{"/plan?after=waters&from_salinity=2&from_salinity_unit=ppt&from_temperature=26&from_temperature_unit=C&to_salinity=10&to_salinity_unit=ppt", "/plan?from_salinity=2%20ppt&from_temperature=26%20C&step=container&to_salinity=10%20ppt&to_temperature=26%20C"},
		{"/plan?after=container&from_salinity=2%20ppt&from_temperature=26%20C&to_salinity=10%20ppt&to_temperature=26%20C&container_capacity=20%20L&container_aerated=true", "/plan?container_aerated=true&container_capacity=20%20L&from_salinity=2%20ppt&from_temperature=26%20C&to_salinity=10%20ppt&to_temperature=26%20C"},
	} {
		if a := s.get(t, c.from); a.status != http.StatusSeeOther || a.header.Get("Location") != c.to {
			t.Errorf("%s\nleads to %d %s, want %s", c.from, a.status, a.header.Get("Location"), c.to)
		}
	}
	for at, want := range map[string][]string{
		"/plan?after=animals&species=scatophagus-argus&count=many":                               {`<a href="#count">`, `id="count-fault"`, `value="many"`},
		"/plan?after=animals&species=scat":                                                       {"may mean", "Spotted scat", "Spotbanded scat"},
		"/plan?after=animals&species=scat&add=1":                                                 {"may mean"},
		"/plan?after=waters&from_salinity=&to_salinity=10&to_salinity_unit=ppt":                  {`<a href="#from_salinity">`},
		"/plan?after=waters&from_salinity=2%20ppt&from_temperature=200%20C&to_salinity=10%20ppt": {`<a href="#from_temperature">`},
	} {
		a := s.get(t, at)
		for _, w := range want {
			if a.status != http.StatusOK || !strings.Contains(html.UnescapeString(a.body), w) {
				t.Errorf("%s: %d without %q", at, a.status, w)
			}
		}
	}
}

// A refusal offers what would lead to a plan as links, with the field open.
func TestPlanRefusal(t *testing.T) {
	s := newService(t)
	page := html.UnescapeString(s.get(t, refusedScats).body)
	for _, want := range []string{"There is no safe plan for this move as it stands", "route=ramp", "route=combined", "#home_tank_volume", `id="home_tank_volume"`} {
		if !strings.Contains(page, want) {
			t.Errorf("the refusal has no %q", want)
		}
	}
	ambiguous := html.UnescapeString(s.get(t, "/plan?species=scat&from_salinity=2%20ppt&from_temperature=26%20C&to_salinity=10%20ppt&to_temperature=26%20C").body)
	if !strings.Contains(ambiguous, "species=selenotoca-multifasciata") {
		t.Error("an ambiguous name is not asked back by choices")
	}
}

var offered = regexp.MustCompile(`What you can do</h2><ul class="choices"><li><a href="([^"]+)">`)

// What a refusal offers is a link that plans, in words.
func TestOfferedLinks(t *testing.T) {
	s, random := newService(t), rand.New(rand.NewPCG(20261128, 16))
	for _, code := range []string{"no_air_stone", "start_leaves_no_room", "temperature_over_24_hours", "ramp_not_needed", "land_no_filling", "gap_over_at_once"} {
		q := questionOf(t, random, provoked[code])
		page := html.UnescapeString(s.get(t, "/plan?"+q.Encode()).body)
		link := offered.FindStringSubmatch(page)
		if link == nil {
			t.Errorf("%s: nothing is offered on the page of %s", code, q.Encode())
			continue
		}
		if after := s.get(t, strings.ReplaceAll(link[1], " ", "%20")); !strings.Contains(after.body, "When to stop") {
			t.Errorf("%s: the offer %s has no plan", code, link[1])
		}
	}
}

// Two kinds of animals are planned together, by the same operation.
func TestPlanOfTwoKinds(t *testing.T) {
	s := newService(t)
	a := s.get(t, youngScats+"&animals_1_species=monodactylus-argenteus&animals_1_count=2&animals_1_length=3%20cm")
	if a.status != http.StatusOK || !strings.Contains(a.body, "What to do") || !strings.Contains(a.body, "/plan/svg?") {
		t.Errorf("%d\n%s", a.status, a.body)
	}
	chart := regexp.MustCompile(`src="(/plan/svg[^"]+)"`).FindStringSubmatch(a.body)
	if chart == nil {
		t.Fatal("a plan of two kinds has no chart")
	}
	if c := s.get(t, html.UnescapeString(chart[1])); c.status != http.StatusOK || c.header.Get("Content-Type") != "image/svg+xml" {
		t.Errorf("its chart: %d %s", c.status, c.header)
	}
}

// Saving leads to the transfer's page; the key is after the #, and is not stored.
func TestPlanIsSaved(t *testing.T) {
	s := newService(t)
	s.stay()
	form, err := url.ParseQuery(scatsQuery)
	if err != nil {
		t.Fatal(err)
	}
	a := s.call(t, http.MethodPost, "/plan", form.Encode(), "Content-Type", "application/x-www-form-urlencoded")
	at := regexp.MustCompile(`^/t/([^/#]+)#(.+)$`).FindStringSubmatch(a.header.Get("Location"))
	if a.status != http.StatusSeeOther || at == nil || a.header.Get("Cache-Control") != "no-store" {
		t.Fatalf("%d %s", a.status, a.header)
	}
	if saved := s.get(t, "/v1/transfers/"+at[1]); saved.status != http.StatusOK {
		t.Errorf("what was saved: %d", saved.status)
	}
}

// QR codes lead to pages of this site, and to nothing else.
func TestQRCode(t *testing.T) {
	s := newService(t)
	for path, want := range map[string]int{"/qr.svg?of=/plan": 200, "/qr.svg?of=https://elsewhere.example/": 400, "/qr.svg?of=//elsewhere.example": 400, "/qr.svg?of=/t/x%23key": 400, "/qr.svg?of=/" + strings.Repeat("x", 1200): 400} {
		if a := s.get(t, path); a.status != want {
			t.Errorf("%s: %d, want %d", path, a.status, want)
		}
	}
}

// The page at the bucket says what to do now, runs only our own scripts, tells nobody its address,
// and can be installed; the key is nowhere on it.
func TestBucket(t *testing.T) {
	s := newService(t)
	made := s.call(t, http.MethodPost, "/v1/transfers", `{"animals": [{"species": "scatophagus-argus", "stage": "juvenile"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "26 C"}, "container": {"capacity": "20 L", "aerated": true}}`)
	id, key := made.field(t, "id").(string), made.field(t, "key").(string)
	page := s.get(t, "/t/"+id)
	h := page.header
	if page.status != http.StatusOK || !strings.Contains(h.Get("Content-Security-Policy"), "script-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'") || strings.Contains(h.Get("Content-Security-Policy"), "unsafe") ||
		h.Get("Referrer-Policy") != "no-referrer" || !strings.Contains(h.Get("Cache-Control"), "private") || h.Get("X-Robots-Tag") != "noindex" {
		t.Errorf("%d %s", page.status, h)
	}
	for _, want := range []string{"<h1>Make 8.1 L (2.1 gal) of new water at 10 ppt, with ", "Put the animals into the container, in ", "Fill the jug with ", "Set the drip to ", `data-flow="stop"`, `data-flow="animals_look_wrong"`, `data-flow="power_off"`, `data-flow="late"`, `rel="manifest"`, "own alarm clock", "Power is back", `data-clock="next"`, "All done", `id="begin-now"`, "Power off?", `href="#fails"`} {
		if !strings.Contains(page.body, want) {
			t.Errorf("the page at the bucket has no %q", want)
		}
	}
	for _, path := range []string{"/t/" + id, "/t/" + id + "/card", "/t/" + id + "/manifest.webmanifest", "/sw.js"} {
		if a := s.get(t, path); a.status != http.StatusOK || strings.Contains(a.body, key) {
			t.Errorf("GET %s: %d, or the key is in it", path, a.status)
		}
	}
	if manifest := s.get(t, "/t/"+id+"/manifest.webmanifest"); manifest.field(t, "start_url") != "/t/"+id || manifest.header.Get("Content-Type") != "application/manifest+json" {
		t.Errorf("manifest %s %s", manifest.header, manifest.body)
	}
	if a := s.get(t, "/t/nothing", "Accept", "text/html"); a.status != http.StatusNotFound || !strings.Contains(a.body, "30 days after") {
		t.Errorf("a transfer that is gone: %d %s", a.status, a.body)
	}
	s.call(t, http.MethodPost, "/v1/transfers/"+id+"/events", `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "Authorization", "Bearer "+key)
	if after := s.get(t, "/t/"+id); !strings.Contains(after.body, "<h1>Close the clamp.</h1>") || !strings.Contains(after.body, "Animals look wrong, they gasp") || !strings.Contains(after.body, `data-verdict="stopped"`) {
		t.Errorf("after distress\n%s", after.body)
	}
}

// The page of a species that there is not searches for what was asked, escaped once.
func TestUnknownSpeciesIsSearchedFor(t *testing.T) {
	t.Parallel()
	s := newService(t)
	s.stay()
	for name, want := range map[string]string{"a%2Fb": "/species?q=a/b", "%3Cb%3E": "/species?q=%3Cb%3E", "no%20such": "/species?q=no%20such"} {
		if a := s.get(t, "/species/"+name); a.status != http.StatusSeeOther || a.header.Get("Location") != want {
			t.Errorf("%s leads to %d %s, want %s", name, a.status, a.header.Get("Location"), want)
		}
	}
}
