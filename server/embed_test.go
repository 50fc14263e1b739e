package server_test

import (
	"bytes"
	"compress/gzip"
	"crypto/sha512"
	"encoding/base64"
	"html"
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"saltlock/server"
)

// moduleOf finds the versioned address of a module and its digest on its page.
var moduleOf = regexp.MustCompile(`src="(/embed/[^"]+/converter\.js)" integrity="(sha384-[^"]+)"`)

func TestElementModules(t *testing.T) {
	s := newService(t)
	page := s.get(t, "/embed/converter")
	found := moduleOf.FindStringSubmatch(html.UnescapeString(page.body))
	if page.status != 200 || found == nil {
		t.Fatalf("GET /embed/converter: %d without the address of its module\n%s", page.status, page.body)
	}
	pinned := s.get(t, found[1], "Origin", "https://club.example", "Accept-Encoding", "identity")
	sum := sha512.Sum384([]byte(pinned.body))
	if got := "sha384-" + base64.StdEncoding.EncodeToString(sum[:]); got != found[2] {
		t.Errorf("the page says %s, the module has %s", found[2], got)
	}
	for name, want := range map[string]string{"Cache-Control": "public, max-age=31536000, immutable", "Access-Control-Allow-Origin": "*", "Cross-Origin-Resource-Policy": "cross-origin"} {
		if got := pinned.header.Get(name); got != want {
			t.Errorf("GET %s: %s %q, want %q", found[1], name, got, want)
		}
	}
	if got := pinned.header.Get("Content-Type"); !strings.HasPrefix(got, "text/javascript") {
		t.Errorf("Content-Type %q", got)
	}
	moving := s.get(t, "/embed/converter.js", "Accept-Encoding", "br, gzip")
	z, err := gzip.NewReader(strings.NewReader(moving.body))
	if err != nil {
		t.Fatal(err)
	}
	if text, err := io.ReadAll(z); err != nil || !bytes.Equal(text, []byte(pinned.body)) {
		t.Errorf("the moving module is another: %v", err)
	}
	if got := moving.header.Get("Cache-Control"); strings.Contains(got, "immutable") {
		t.Errorf("the moving module has Cache-Control %q", got)
	}
	if held := s.get(t, "/embed/converter.js", "Accept-Encoding", "identity", "If-None-Match", pinned.header.Get("ETag")); held.status != http.StatusNotModified || pinned.header.Get("ETag") == moving.header.Get("ETag") {
		t.Errorf("If-None-Match: %d, tags %q and %q", held.status, pinned.header.Get("ETag"), moving.header.Get("ETag"))
	}
}

func TestElementPages(t *testing.T) {
	s := newService(t)
	for path, want := range map[string]struct {
		status          int
		says, ancestors string
	}{
		"/embed":              {200, "/embed/transfer", "frame-ancestors 'none'"},
		"/embed/species":      {200, "saltlock-species", "frame-ancestors 'none'"},
		"/embed/frame/salt":   {200, "<saltlock-salt>", "frame-ancestors *"},
		"/embed/nothing":      {404, "see /embed", ""},
		"/embed/frame/none":   {404, "see /embed", ""},
		"/embed/0.0.0/all.js": {404, "current version", ""},
		"/embed/frame/salt?api=https://elsewhere.example": {400, "no attribute", ""},
		"/embed/frame/salt?onclick=alert(1)":              {400, "no attribute", ""},
		"/embed/frame/salt?target=%22%3E%3Cscript%3E":     {200, `target="&#34;&gt;&lt;script&gt;"`, "frame-ancestors *"},
		"/embed/frame/salt?lang=%22%3E%3Cscript%3E":       {200, `<html lang="&#34;&gt;&lt;script&gt;">`, "frame-ancestors *"},
	} {
		a := s.get(t, path)
		policy := a.header.Get("Content-Security-Policy")
		if a.status != want.status || !strings.Contains(a.body, want.says) || !strings.HasSuffix(policy, want.ancestors) {
			t.Errorf("GET %s: %d, policy %q; want %d, %q, %q\n%s", path, a.status, policy, want.status, want.says, want.ancestors, a.body)
		}
		if strings.Contains(policy, "unsafe") || a.status == 200 && !strings.HasPrefix(policy, "default-src 'none'") {
			t.Errorf("GET %s: policy %q is not strict", path, policy)
		}
	}
}

// The code to paste names the address the operator set and the digest of what is served; the Host
// header, which anyone can send, appears nowhere.
func TestSnippetsFollowThePublicURL(t *testing.T) {
	s := newServiceWith(t, server.Options{PublicURL: "https://salt.example"})
	for _, name := range []string{"converter", "salt", "species", "transfer"} {
		a := s.get(t, "/embed/"+name, "Host", "evil.example", "X-Forwarded-Host", "evil.example", "X-Forwarded-Proto", "https")
		page := html.UnescapeString(a.body)
		if strings.Contains(page, "evil.example") || strings.Contains(page, "127.0.0.1") {
			t.Errorf("/embed/%s names the host of the request\n%s", name, page)
		}
		pinned := regexp.MustCompile(`src="https://salt\.example(/embed/[^"]+/` + name + `\.js)" integrity="(sha384-[^"]+)"`).FindStringSubmatch(page)
		if pinned == nil {
			t.Fatalf("/embed/%s has no snippet of https://salt.example with integrity\n%s", name, page)
		}
		sum := sha512.Sum384([]byte(s.get(t, pinned[1], "Accept-Encoding", "identity").body))
		if got := "sha384-" + base64.StdEncoding.EncodeToString(sum[:]); got != pinned[2] {
			t.Errorf("/embed/%s says %s, the module has %s", name, pinned[2], got)
		}
	}
}
