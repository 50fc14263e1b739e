// Package site shows the service to people: start page, guides, reference, console, and the files
// they load. It asks the service as any client does.
package site

import (
	"embed"
	"fmt"
	"html/template"
	"log/slog"
	"net/http"
	"slices"
	"strings"
	"sync"

	"github.com/labstack/echo/v4"

	"saltlock/server/contract"
)

//go:embed pages
var pageFiles embed.FS

// Options is what a site needs.
type Options struct {
	Contract    *contract.Contract
	Service     http.Handler // answers the questions on pages, as it answers the world
	Public      http.Handler // the service as clients meet it, with its limits
	Problems    []Problem
	Log         *slog.Logger
	PublicURL   string // the address in snippets and link previews; if empty, the contract's own
	Operator    string // who runs this server, in the operator's words
	Version     string
	DataVersion string
}

// Site is what the service shows to people. A page is written when first asked for, so that none
// can keep the service from starting; a page with a question in its URL is written each time.
type Site struct {
	Base        string // the address in snippets and link previews
	Operator    string
	Version     string
	DataVersion string
	Groups      []group // of the menu

	pages         map[string]*page // by path
	ask           asker
	public        http.Handler
	planner       *planner
	log           *slog.Logger
	asked         func() (*template.Template, error) // of the start page, which asks each time
	askedInGerman func() (*template.Template, error)
}

// link is a place and its name.
type link struct{ Path, Name string }

// group is an entry of the menu: its own page and those that belong to it.
type group struct {
	link
	Links []link
}

// GroupOf is the group of the menu that a path belongs to; empty if none.
func (s *Site) GroupOf(path string) group {
	for _, g := range s.Groups {
		if path == g.Path || slices.ContainsFunc(g.Links, func(l link) bool { return l.Path == path }) {
			return g
		}
	}
	for _, g := range s.Groups { // a page under one of them
		for _, l := range append(g.Links, g.link) {
			if l.Path != "/docs" && strings.HasPrefix(path, l.Path+"/") {
				return g
			}
		}
	}
	return group{}
}

// sheet is a page as its template sees it.
type sheet struct {
	Path, Title, Description string
	Share                    string // what a preview of the link says
	Picture                  string // path of the preview's picture
	Styles                   []string
	Manifest                 string // path of that of an installable page
	Unlisted                 bool   // no page for search engines, and its address goes nowhere
	Site                     *Site
	Tongue                   tongue // its language
	Other                    string // address of the page in another language
	Body                     any
}

// guide is a page whose text is in its own template.
type guide struct{ path, file, name, title, description string }

var guides = []guide{
	{"/docs/instruments", "instruments", "Instruments", "What your instrument really says", "SG to ppt and back, temperature, refractometers, conductivity pens: what a reading means and how far to trust it."},
	{"/docs/making-water", "making-water", "Making water", "Making brackish and sea water", "How much marine salt for how much water, what the product holds, water changes and topping off."},
	{"/docs/dripping", "dripping", "Dripping", "Dripping animals over", "How to acclimatise fish and shrimps to other water over hours: drops, pour-offs, hose, air, and when not to."},
	{"/docs/ramping", "ramping", "Ramping", "Ramping a tank over weeks", "From fresh to brackish or sea water in dated water changes that the animals and the filter can follow."},
	{"/docs/hosting", "hosting", "Hosting", "For the webmaster: running a server of your own", "Who runs a Saltlock server, how to host it without Go installed, what it stores and what it does not."},
}

// New makes the site.
func New(o Options) *Site {
	s := &Site{Base: o.PublicURL, Operator: o.Operator, Version: o.Version, DataVersion: o.DataVersion, pages: map[string]*page{}, ask: asking(o.Service), public: o.Public, log: o.Log}
	s.asked = sync.OnceValues(func() (*template.Template, error) { return templates(s.ask) })
	s.askedInGerman = sync.OnceValues(func() (*template.Template, error) {
		t, err := templates(s.ask)
		if err != nil {
			return nil, err
		}
		return t.Funcs(inGerman.words()), nil
	})
	if s.Base == "" {
		s.Base = o.Contract.Doc.Servers[0].URL
	}
	s.Groups = menu()
	s.planner = &planner{site: s, pages: planForm(o.Contract), Contract: o.Contract}
	s.addAll(o)
	return s
}

// menu is the menu of every page.
func menu() []group {
	made := []group{
		{link{"/plan", "Plan"}, nil},
		{link{"/water", "Water"}, []link{{"/water", "Salt and readings"}, {"/docs/pitfalls", "What mistakes cost"}}},
		{link{"/species", "Species"}, nil},
		{link{"/guides", "Guides"}, []link{{"/guides", "All guides"}}},
		{link{"/docs", "Developers"}, []link{{"/docs", "Reference"}, {"/docs/console", "Console"}, {"/embed", "On your site"}, {"/docs/hosting", "Hosting"}, {"/docs/changelog", "Changes"}}},
	}
	for _, g := range guides {
		if g.file != "hosting" {
			made[3].Links = append(made[3].Links, link{g.path, g.name})
		}
	}
	return made
}

// addAll adds the pages of the contract, the guides and the problems.
func (s *Site) addAll(o Options) {
	s.add("docs.html", sheet{Path: "/docs", Title: "Reference", Description: "Every operation with its URL, curl, spreadsheet formula, Go, TypeScript and Python, and what this server answers."},
		func(ask asker) (any, error) { return reference(o.Contract, s.Base, ask), nil })
	s.add("console.html", sheet{Path: "/docs/console", Title: "Console", Description: "Fill in the parameters of an operation and send it to this server.", Styles: []string{"swagger-ui.css", "console.css"}}, nil)
	s.add("pitfalls.html", sheet{Path: "/docs/pitfalls", Title: "What common mistakes cost", Description: "Wrong by how much: uncorrected hydrometers, scales taken for one another, rules of thumb."},
		func(asker) (any, error) { return pitfalls() })
	s.add("changelog.html", sheet{Path: "/docs/changelog", Title: "Changes of numbers and of fields", Description: "What answers differently since when, and what the contract gained."},
		func(asker) (any, error) { return readChangelog() })
	s.add("guides.html", sheet{Path: "/guides", Title: "Guides", Description: "Instruments, making water, dripping and ramping: what the answers rest on."}, func(asker) (any, error) { return guideCards(), nil })
	s.pages["/"] = &page{write: s.startPage}
	s.pages["/water"] = &page{write: func(ask asker) ([]byte, error) { return s.waterPage(nil, ask) }}
	for _, g := range guides {
		s.add(g.file+".html", sheet{Path: g.path, Title: g.title, Description: g.description}, func(asker) (any, error) { return guideFacts(o.Contract), nil })
	}
	for _, p := range o.Problems {
		s.add("problem.html", sheet{Path: "/problems/" + p.Name, Title: p.Title, Description: p.Meaning}, func(asker) (any, error) { return p, nil })
	}
}

// Routes adds what is not in the contract: the contract is for programs, pages are for people.
func (s *Site) Routes(e *echo.Echo) {
	e.GET("/", s.water)
	e.GET("/water", s.water)
	e.GET("/card.png", s.card)
	for _, at := range []string{"/guides", "/docs/:page"} {
		e.GET(at, func(c echo.Context) error { return s.Page(c, c.Request().URL.Path) })
	}
	e.GET("/static/:name", func(c echo.Context) error {
		a, ok := static()[c.Param("name")]
		if !ok {
			return echo.NewHTTPError(http.StatusNotFound, "there is no such file")
		}
		if c.QueryParam("v") == a.version() {
			c.Response().Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		}
		return a.Send(c)
	})
	e.GET("/favicon.ico", func(c echo.Context) error { return static()["mark.svg"].Send(c) })
	s.routeEmbed(e)
	s.planner.routes(e)
	s.routeBucket(e)
	e.GET("/qr.svg", s.qrCode)
	e.GET("/species", s.listSpecies)
	e.GET("/species/:id", s.speciesPage)
	e.GET("/robots.txt", s.robots)
	e.GET("/sitemap.xml", s.sitemap)
}

// Policy for pages: they run nothing and load nothing from elsewhere. Only the reference and the
// console run our own scripts.
const (
	Policy        = "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
	docsPolicy    = Policy + "; script-src 'self'"
	consolePolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'"
)

// Page sends a page under the policy that it needs.
func (s *Site) Page(c echo.Context, at string) error {
	p, ok := s.pages[at]
	if !ok {
		return echo.NewHTTPError(http.StatusNotFound, fmt.Sprintf("there is no page %s", at))
	}
	a, err := s.asset(p)
	if err != nil {
		return err
	}
	policy := Policy
	switch at {
	case "/docs":
		policy = docsPolicy
	case "/docs/console":
		policy = consolePolicy
	}
	c.Response().Header().Set("Content-Security-Policy", policy)
	return a.Send(c)
}
