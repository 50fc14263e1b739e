package site

import (
	"bytes"
	"fmt"
	"html/template"
	"net/http"
	"strings"
	"sync"
)

// page is written when first asked for, and kept once all its examples were answered.
type page struct {
	write func(ask asker) ([]byte, error)
	mu    sync.Mutex
	kept  *Asset
}

// add adds one page; body, if it has one, makes what its template shows.
func (s *Site) add(file string, p sheet, body func(asker) (any, error)) {
	s.pages[p.Path] = &page{write: func(ask asker) ([]byte, error) {
		p := p
		if body != nil {
			var err error
			if p.Body, err = body(ask); err != nil {
				return nil, fmt.Errorf("write the page %s: %w", p.Path, err)
			}
		}
		t, err := templates(ask)
		if err != nil {
			return nil, err
		}
		return s.render(t, file, p)
	}}
}

// asset is the page as it is sent.
func (s *Site) asset(p *page) (*Asset, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.kept != nil {
		return p.kept, nil
	}
	answered := true
	body, err := p.write(func(method, target string, body []byte) (int, []byte) {
		status, answer := s.ask(method, target, body)
		if status != http.StatusOK {
			answered = false
			s.log.Warn("an example is not answered", "method", method, "target", target, "status", status)
		}
		return status, answer
	})
	if err != nil {
		return nil, err
	}
	a := NewAsset("text/html; charset=utf-8", body)
	if answered {
		p.kept = a
	}
	return a, nil
}

// templates are the templates of all pages, which ask through ask.
func templates(ask asker) (*template.Template, error) {
	t, err := parsed()
	if err == nil {
		t, err = t.Clone()
	}
	if err != nil {
		return nil, fmt.Errorf("read the pages: %w", err)
	}
	return t.Funcs(template.FuncMap{"answer": ask.answer, "value": ask.value}), nil
}

// parsed is read once and cloned for each page.
var parsed = sync.OnceValues(func() (*template.Template, error) {
	var nobody asker
	return template.New("").Funcs(template.FuncMap{
		"static": staticURL, "breakable": breakable, "prose": prose, "coded": coded, "unit": systemdUnit, "answer": nobody.answer, "value": nobody.value,
	}).Funcs(tongue("").words()).ParseFS(pageFiles, "pages/*.html", "pages/guides/*.html")
})

// spoken writes a page for one request, in its language.
func (s *Site) spoken(file string, p sheet) ([]byte, error) {
	asked := s.asked
	if p.Tongue == inGerman {
		asked = s.askedInGerman
	}
	t, err := asked()
	if err != nil {
		return nil, err
	}
	return s.render(t, file, p)
}

// render writes a page by its template.
func (s *Site) render(templates *template.Template, file string, p sheet) ([]byte, error) {
	p.Site = s
	if p.Share == "" {
		p.Share = p.Title
	}
	if p.Picture == "" {
		p.Picture = "/card.png"
	}
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, file, p); err != nil {
		return nil, fmt.Errorf("write the page %s: %w", p.Path, err)
	}
	return out.Bytes(), nil
}

// betweenParts is where a long address may break.
var betweenParts = strings.NewReplacer("&amp;", "<wbr>&amp;", "?", "?<wbr>", "/v1", "<wbr>/v1")

// breakable is code that breaks only between its parts, never within a word.
func breakable(code any) template.HTML {
	return template.HTML(betweenParts.Replace(template.HTMLEscapeString(fmt.Sprint(code))))
}

// systemdUnit is the example of the page on hosting.
func systemdUnit() (string, error) {
	text, err := pageFiles.ReadFile("pages/saltlock.service")
	return string(text), err
}
