package server

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"net/http"
	"sync"

	"github.com/labstack/echo/v4"
)

//go:embed pages
var pageFiles embed.FS

// site is what the service shows to people. All of it is written once, at
// start, but for the start page with a question in its URL.
type site struct {
	Base        string // address that snippets and previews of links name
	Operator    string // who runs this server, in the operator's words
	Version     string
	DataVersion string
	Nav         []link

	templates *template.Template
	pages     map[string]*asset      // by path
	front     func() (*asset, error) // the start page without a question
	ask       asker
}

// link is a place and its name.
type link struct{ Path, Name string }

// sheet is a page as its template sees it.
type sheet struct {
	Path, Title, Description string
	Share                    string // what a preview of the link says
	Picture                  string // path of the preview's picture
	Styles                   []string
	Site                     *site
	Body                     any
}

// guide is a page whose text stands in a template of its own.
type guide struct{ path, file, name, title, description string }

var guides = []guide{
	{"/docs/instruments", "instruments", "Instruments", "What your instrument really says", "SG to ppt and back, temperature, refractometers, conductivity pens: what a reading means and how far to trust it."},
	{"/docs/making-water", "making-water", "Making water", "Making brackish and sea water", "How much marine salt for how much water, what the product holds, water changes and topping off."},
	{"/docs/dripping", "dripping", "Dripping", "Dripping animals over", "How to acclimatise fish and shrimps to other water over hours: drops, pour-offs, hose, air, and when not to."},
	{"/docs/ramping", "ramping", "Ramping", "Ramping a tank over weeks", "From fresh to brackish or sea water in dated water changes that the animals and the filter can follow."},
	{"/docs/hosting", "hosting", "Hosting", "For the webmaster: running a server of your own", "Who runs a Saltlock server, how to host it without Go installed, what it stores and what it does not."},
}

// newSite writes every page. ask puts a question to this same service.
func newSite(c *contract, o Options, ask asker) (*site, error) {
	s := &site{Base: o.PublicURL, Operator: o.Operator, Version: Version, DataVersion: o.Store.DataVersion(), pages: map[string]*asset{}, ask: ask}
	if s.Base == "" {
		s.Base = c.doc.Servers[0].URL
	}
	s.Nav = []link{{"/", "Start"}, {"/docs", "Reference"}}
	for _, g := range guides {
		s.Nav = append(s.Nav, link{g.path, g.name})
		if g.file == "ramping" {
			s.Nav = append(s.Nav, link{"/docs/pitfalls", "Pitfalls"})
		}
	}
	s.Nav = append(s.Nav, link{"/embed", "On your site"}, link{"/docs/console", "Console"}, link{"/docs/changelog", "Changes"})
	var err error
	s.templates, err = template.New("").Funcs(template.FuncMap{
		"static": staticURL, "prose": prose, "answer": s.answer, "value": s.value, "unit": systemdUnit,
	}).ParseFS(pageFiles, "pages/*.html", "pages/guides/*.html")
	if err != nil {
		return nil, err
	}
	s.front = sync.OnceValues(func() (*asset, error) { return s.startPage(nil) })
	return s, s.writeAll(c)
}

// writeAll writes the pages of the contract, the guides and the problems.
func (s *site) writeAll(c *contract) error {
	mistakes, err := pitfalls()
	if err != nil {
		return fmt.Errorf("compute the pitfalls: %w", err)
	}
	changes, err := readChangelog()
	if err != nil {
		return err
	}
	s.write("docs.html", sheet{Path: "/docs", Title: "Reference", Description: "Every operation with its URL, curl, spreadsheet formula, Go, TypeScript and Python, and what this server answers.", Body: reference(c, s)}, &err)
	s.write("console.html", sheet{Path: "/docs/console", Title: "Console", Description: "Fill in the parameters of an operation and send it to this server.", Styles: []string{"swagger-ui.css", "console.css"}}, &err)
	s.write("pitfalls.html", sheet{Path: "/docs/pitfalls", Title: "What common mistakes cost", Description: "Wrong by how much: uncorrected hydrometers, scales taken for one another, rules of thumb.", Body: mistakes}, &err)
	s.write("changelog.html", sheet{Path: "/docs/changelog", Title: "Changes of numbers and of fields", Description: "What answers differently since when, and what the contract gained.", Body: changes}, &err)
	for _, g := range guides {
		s.write(g.file+".html", sheet{Path: g.path, Title: g.title, Description: g.description, Body: guideFacts(c)}, &err)
	}
	for _, p := range problemPages {
		s.write("problem.html", sheet{Path: "/problems/" + p.Name, Title: p.Title, Description: p.Meaning, Body: p}, &err)
	}
	return err
}

// write adds one page; after a first error it does nothing.
func (s *site) write(file string, p sheet, err *error) {
	if *err != nil {
		return
	}
	var body []byte
	if body, *err = s.render(file, p); *err == nil {
		s.pages[p.Path] = newAsset("text/html; charset=utf-8", body)
	}
}

func (s *site) render(file string, p sheet) ([]byte, error) {
	p.Site = s
	if p.Share == "" {
		p.Share = p.Title
	}
	if p.Picture == "" {
		p.Picture = "/card.png"
	}
	var out bytes.Buffer
	if err := s.templates.ExecuteTemplate(&out, file, p); err != nil {
		return nil, fmt.Errorf("write the page %s: %w", p.Path, err)
	}
	return out.Bytes(), nil
}

// routes adds what the contract leaves out: it is for programs, pages are for people.
func (s *site) routes(e *echo.Echo) {
	e.GET("/", s.start)
	e.GET("/card.png", s.card)
	e.GET("/docs/:page", func(c echo.Context) error { return s.page(c, c.Request().URL.Path) })
	e.GET("/static/:name", func(c echo.Context) error {
		a, ok := static()[c.Param("name")]
		if !ok {
			return echo.NewHTTPError(http.StatusNotFound, "there is no such file")
		}
		if c.QueryParam("v") == a.version() {
			c.Response().Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		}
		return a.send(c)
	})
	e.GET("/favicon.ico", func(c echo.Context) error { return static()["mark.svg"].send(c) })
	e.GET("/robots.txt", func(c echo.Context) error { return c.String(http.StatusOK, "User-agent: *\nAllow: /\n") })
}

const (
	pagePolicy    = "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
	consolePolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'"
)

// page sends a page, which may run nothing and load nothing from elsewhere; the
// console runs the scripts of this server.
func (s *site) page(c echo.Context, at string) error {
	a, ok := s.pages[at]
	if !ok {
		return echo.NewHTTPError(http.StatusNotFound, fmt.Sprintf("there is no page %s", at))
	}
	c.Response().Header().Set("Content-Security-Policy", pagePolicy)
	if at == "/docs/console" {
		c.Response().Header().Set("Content-Security-Policy", consolePolicy)
	}
	return a.send(c)
}

// systemdUnit is the example of the page on hosting.
func systemdUnit() (string, error) {
	text, err := pageFiles.ReadFile("pages/saltlock.service")
	return string(text), err
}
