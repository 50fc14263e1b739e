package server_test

import (
	"encoding/json"
	"encoding/xml"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"

	"saltlock/server"
)

// The live contract names this service, not the machine of whoever wrote it.
func TestContractNamesThePublicAddress(t *testing.T) {
	const base = "https://club.example/saltlock"
	s := newServiceWith(t, server.Options{PublicURL: base})
	var doc struct{ Servers []struct{ URL string } }
	answer := s.get(t, "/openapi.json")
	if err := json.Unmarshal([]byte(answer.body), &doc); err != nil || len(doc.Servers) != 1 || doc.Servers[0].URL != base {
		t.Errorf("servers are %v (%v), want %s", doc.Servers, err, base)
	}
	if text := s.get(t, "/openapi.yaml").body; !strings.Contains(text, "url: '"+base+"'") || strings.Contains(text, "http://localhost:8080'") {
		t.Error("the YAML does not name the public address alone")
	}
	for _, at := range []string{"/v1", "/.well-known/api-catalog", "/llms.txt"} {
		answer := s.get(t, at)
		if answer.status != http.StatusOK || !strings.Contains(answer.body, base+"/openapi.json") {
			t.Errorf("%s does not lead to the contract: %d\n%.300s", at, answer.status, answer.body)
		}
		// RFC 9727, section 2: HEAD of the catalog answers with this link.
		if head := s.call(t, http.MethodHead, at, ""); !strings.Contains(head.header.Get("Link"), `</.well-known/api-catalog>; rel="api-catalog"`) {
			t.Errorf("HEAD %s: Link %s", at, head.header.Get("Link"))
		}
		if again := s.get(t, at, "If-None-Match", answer.header.Get("ETag")); again.status != http.StatusNotModified {
			t.Errorf("%s asked again with its ETag: %d, want 304", at, again.status)
		}
	}
}

// The index names every operation under /v1 once.
func TestIndexIsWhole(t *testing.T) {
	s := newService(t)
	var index struct {
		Operations []struct{ Operation, Path string }
	}
	if err := json.Unmarshal([]byte(s.get(t, "/v1").body), &index); err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, o := range index.Operations {
		if listed[o.Operation] {
			t.Errorf("%s is listed twice", o.Operation)
		}
		listed[o.Operation] = true
	}
	for path, item := range s.doc.Paths.Map() {
		for _, o := range item.Operations() {
			if strings.HasPrefix(path, "/v1/") != listed[o.OperationID] {
				t.Errorf("%s of %s: listed %v", o.OperationID, path, listed[o.OperationID])
			}
		}
	}
}

// Following rel=next reads every species once.
func TestPagesLinked(t *testing.T) {
	s := newService(t)
	next := regexp.MustCompile(`<([^>]+)>; rel="next"`)
	met, pages := map[string]bool{}, 0
	for at := "/v1/species?limit=100&format=json"; at != ""; pages++ {
		answer := s.get(t, at)
		kept := s.get(t, at)
		if got, want := kept.header.Values("Link"), answer.header.Values("Link"); !slices.Equal(got, want) {
			t.Errorf("%s: kept with %v, written with %v", at, got, want)
		}
		var page struct{ Species []struct{ ID string } }
		if err := json.Unmarshal([]byte(answer.body), &page); err != nil {
			t.Fatal(err)
		}
		for _, one := range page.Species {
			met[one.ID] = true
		}
		at = ""
		for _, link := range answer.header.Values("Link") {
			if found := next.FindStringSubmatch(link); found != nil {
				at = found[1]
			}
		}
	}
	if len(met) < 430 || pages != (len(met)+99)/100 {
		t.Errorf("%d species on %d pages", len(met), pages)
	}
}

// Sheets of the first release change _ to ask again.
func TestFirstRefresh(t *testing.T) {
	s := newService(t)
	first, second := s.get(t, "/v1/species/scatophagus-argus?_=1"), s.get(t, "/v1/species/scatophagus-argus?again=2")
	if first.status != http.StatusOK || first.body != second.body || first.header.Get("ETag") != second.header.Get("ETag") {
		t.Errorf("_ and again: %d and %d, %s and %s", first.status, second.status, first.header.Get("ETag"), second.header.Get("ETag"))
	}
}

// The sitemap names pages that exist, including those of species, at the public address.
func TestSitemap(t *testing.T) {
	const base = "https://club.example/saltlock"
	s := newServiceWith(t, server.Options{PublicURL: base})
	if robots := s.get(t, "/robots.txt").body; !strings.Contains(robots, "Sitemap: "+base+"/sitemap.xml") {
		t.Errorf("robots.txt leads to no sitemap: %s", robots)
	}
	answer := s.get(t, "/sitemap.xml")
	var all struct {
		Places []string `xml:"url>loc"`
	}
	if err := xml.Unmarshal([]byte(answer.body), &all); err != nil || answer.status != http.StatusOK || strings.Count(answer.body, "<?xml") != 1 {
		t.Fatalf("%d %v, beginning %.100s", answer.status, err, answer.body)
	}
	species := 0
	for i, place := range all.Places {
		path, ours := strings.CutPrefix(place, base)
		if !ours {
			t.Fatalf("%s is not at %s", place, base)
		}
		if strings.HasPrefix(path, "/species/") {
			species++
			if i%50 != 0 { // they are alike
				continue
			}
		}
		if a := s.get(t, path, "Accept", "text/html"); a.status != http.StatusOK {
			t.Errorf("%s: %d", path, a.status)
		}
	}
	if species < 430 || len(all.Places)-species < 15 {
		t.Errorf("%d pages of species and %d others", species, len(all.Places)-species)
	}
}
