package site

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/labstack/echo/v4"

	elements "saltlock/clients/embed"
)

// embedded serves the custom elements and the pages that show them.
type embedded struct {
	*elements.Set
	site               *Site
	page, frame, index *template.Template
}

// embedPolicy lets a page run our modules, ask our service, and nothing else.
const embedPolicy = "default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors "

// routeEmbed adds the elements to the routes. They are files and pages, not operations of the
// contract, and are read when first asked for.
func (s *Site) routeEmbed(e *echo.Echo) {
	load := sync.OnceValues(func() (*embedded, error) { return newEmbedded(s) })
	route := func(path string, answer func(*embedded, echo.Context) error) {
		e.GET(path, func(c echo.Context) error {
			m, err := load()
			if err != nil {
				return err
			}
			return answer(m, c)
		})
	}
	route("/embed", (*embedded).getIndex)
	route("/embed/:name", (*embedded).get)
	route("/embed/frame/:name", (*embedded).getFrame)
	route("/embed/:version/:file", (*embedded).getVersion)
}

func newEmbedded(s *Site) (*embedded, error) {
	set, err := elements.Load()
	if err != nil {
		return nil, fmt.Errorf("load the elements: %w", err)
	}
	m := &embedded{Set: set, site: s}
	for text, to := range map[string]**template.Template{set.Page: &m.page, set.Frame: &m.frame, set.Index: &m.index} {
		layout, err := templates(s.ask)
		if err != nil {
			return nil, err
		}
		if *to, err = layout.New("").Parse(text); err != nil {
			return nil, fmt.Errorf("read the pages of the elements: %w", err)
		}
	}
	return m, nil
}

func (m *embedded) getIndex(c echo.Context) error {
	live := map[string]template.HTML{}
	for _, el := range elements.Elements {
		live[el.Name] = template.HTML(html(el, tried(el), el.Answer, "An answer as plain text, without script"))
	}
	return m.show(c, m.index, "'none'", m.sheet("/embed", "Saltlock for your site", "Four elements for the pages of a club or a shop.", map[string]any{"Elements": elements.Elements, "Version": m.Version, "Integrity": m.Files["all.js"].Integrity, "Live": live}))
}

// getVersion sends a module of one version, which never changes.
func (m *embedded) getVersion(c echo.Context) error {
	f, ok := m.Files[c.Param("version")+"/"+c.Param("file")]
	if !ok {
		return echo.NewHTTPError(http.StatusNotFound, fmt.Sprintf("there is no such module; the current version is %s, see /embed", m.Version))
	}
	return send(c, c.Param("file"), f, "public, max-age=31536000, immutable")
}

// get sends a module of the current version, or the page of an element.
func (m *embedded) get(c echo.Context) error {
	name := c.Param("name")
	if f, ok := m.Files[name]; ok {
		return send(c, name, f, "public, max-age=3600")
	}
	el, err := elementNamed(name)
	if err != nil {
		return err
	}
	origin := m.site.Base // never the Host header, which anyone can set
	try := tried(el)
	tag := html(el, try, origin+"/embed/"+el.Name, el.Title)
	script := "<script type=\"module\" src=\"" + origin + "/embed/"
	file := m.Files[el.Name+".js"]
	return m.show(c, m.page, "'none'", m.sheet("/embed/"+el.Name, el.Title+" for your site", el.About, map[string]any{
		"Element": el, "Elements": elements.Elements, "Live": template.HTML(html(el, try, el.Answer, "An answer as plain text, without script")),
		"Version": m.Version, "Integrity": file.Integrity, "AllIntegrity": m.Files["all.js"].Integrity, "Origin": origin,
		"Pinned":     script + m.Version + "/" + el.Name + ".js\" integrity=\"" + file.Integrity + "\" crossorigin=\"anonymous\"></script>\n" + tag,
		"Moving":     script + el.Name + ".js\" crossorigin=\"anonymous\"></script>\n" + tag,
		"Framed":     fmt.Sprintf("<iframe src=\"%s/embed/frame/%s?%s\" title=\"%s\" width=\"100%%\" height=\"%d\" loading=\"lazy\"></iframe>", origin, el.Name, template.HTMLEscapeString(strings.ReplaceAll(try.Encode(), "+", "%20")), el.Title, el.Height),
		"Follow":     script + m.Version + "/height.js\" integrity=\"" + m.Files["height.js"].Integrity + "\" crossorigin=\"anonymous\"></script>",
		"Attributes": slices.Concat(el.Attributes, elements.Common),
	}))
}

// tried are the attributes that an element is shown with.
func tried(el elements.Element) url.Values {
	try := url.Values{}
	for _, a := range el.Attributes {
		if a.Try != "" {
			try.Set(a.Name, a.Try)
		}
	}
	return try
}

// sheet is a page in the layout of the site.
func (m *embedded) sheet(path, title, description string, body any) sheet {
	return sheet{Path: path, Title: title, Description: description, Share: title, Picture: "/card.png", Site: m.site, Body: body}
}

// getFrame sends the page of an element for a frame, the only page that other sites may frame. Its
// query holds the attributes.
func (m *embedded) getFrame(c echo.Context) error {
	el, err := elementNamed(c.Param("name"))
	if err != nil {
		return err
	}
	known := slices.Concat(el.Attributes, elements.Common)
	q := c.QueryParams()
	for name := range q {
		// A frame asks its own service.
		if name == "api" || !slices.ContainsFunc(known, func(a elements.Attribute) bool { return a.Name == name }) {
			return echo.NewHTTPError(http.StatusBadRequest, fmt.Sprintf("a frame of %s has no attribute %q", el.Tag, name))
		}
	}
	return m.show(c, m.frame, "*", map[string]any{
		"Element": el, "Live": template.HTML(html(el, q, el.Answer, el.Title)),
		"Lang": cmp.Or(q.Get("lang"), "en"), "Version": m.Version, "Integrity": m.Files[el.Name+".js"].Integrity,
	})
}

// show writes a page; ancestors says who may frame it.
func (m *embedded) show(c echo.Context, t *template.Template, ancestors string, data any) error {
	var out bytes.Buffer
	if err := t.Execute(&out, data); err != nil {
		return fmt.Errorf("write the page %s: %w", c.Request().URL.Path, err)
	}
	h := c.Response().Header()
	h.Set("Content-Security-Policy", embedPolicy+ancestors)
	h.Set("Cache-Control", "public, max-age=300")
	return c.HTMLBlob(http.StatusOK, out.Bytes())
}

func elementNamed(name string) (elements.Element, error) {
	for _, el := range elements.Elements {
		if el.Name == name {
			return el, nil
		}
	}
	return elements.Element{}, echo.NewHTTPError(http.StatusNotFound, fmt.Sprintf("there is no element %q; see /embed", name))
}

// send sends a module, compressed if the client accepts that. Other sites may run it; that is its
// purpose.
func send(c echo.Context, name string, f elements.File, cache string) error {
	h := c.Response().Header()
	h.Set("Cache-Control", cache)
	h.Add("Vary", "Accept-Encoding")
	h.Set("Cross-Origin-Resource-Policy", "cross-origin")
	h.Set("ETag", `"`+f.Integrity[len("sha384-"):][:16]+`"`)
	body := f.Body
	if takesPacked(c.Request()) {
		h.Set("Content-Encoding", "gzip")
		h.Set("ETag", strings.TrimSuffix(h.Get("ETag"), `"`)+`-gzip"`)
		body = f.Gzip
	}
	http.ServeContent(c.Response(), c.Request(), name, time.Time{}, bytes.NewReader(body))
	return nil
}

// html writes an element with the attributes given; its content shows where scripts do not run.
func html(el elements.Element, given url.Values, href, text string) string {
	out := "<" + el.Tag
	for _, a := range slices.Concat(el.Attributes, elements.Common) {
		if v := given.Get(a.Name); v != "" {
			out += " " + a.Name + `="` + template.HTMLEscapeString(v) + `"`
		}
	}
	return out + `><a href="` + template.HTMLEscapeString(href) + `">` + template.HTMLEscapeString(text) + "</a></" + el.Tag + ">"
}
