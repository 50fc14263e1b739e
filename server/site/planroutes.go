package site

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"
)

// routes adds the pages of the planner.
func (p *planner) routes(e *echo.Echo) {
	e.GET("/plan", p.get)
	e.POST("/plan", p.save)
	e.GET("/plan/:format", p.as)
	e.GET("/card", p.card)
}

// asks is how this request puts questions to the service: as its client, so that their cost counts
// as the client's and they stop when the client leaves.
func (s *Site) asks(c echo.Context) asker {
	from := c.Request()
	return func(method, target string, body []byte) (int, []byte) {
		status, _, answer := s.put(from, method, target, body)
		return status, answer
	}
}

// noting is asks, and notes the language of each answer.
func (s *Site) noting(c echo.Context, answered *string) asker {
	from := c.Request()
	return func(method, target string, body []byte) (int, []byte) {
		status, header, answer := s.put(from, method, target, body)
		*answered = header.Get("Content-Language")
		return status, answer
	}
}

// put is one question of a client.
func (s *Site) put(from *http.Request, method, target string, body []byte) (int, http.Header, []byte) {
	r, err := http.NewRequestWithContext(from.Context(), method, target, strings.NewReader(string(body)))
	if err != nil {
		return http.StatusBadRequest, nil, []byte(err.Error())
	}
	r.RemoteAddr, r.Host, r.RequestURI = from.RemoteAddr, from.Host, target
	r.Header["X-Forwarded-For"] = from.Header["X-Forwarded-For"]
	if len(body) > 0 {
		r.Header.Set("Content-Type", "application/json")
	}
	k := &kept{header: http.Header{}, status: http.StatusOK}
	s.public.ServeHTTP(k, r)
	return k.status, k.header, k.Bytes()
}

// mostForm is how large a posted form may be.
const mostForm = 64 << 10

// save answers POST /plan: it saves the plan and leads to its page. The key goes after the # of
// the address, which no browser sends anywhere.
func (p *planner) save(c echo.Context) error {
	c.Request().Body = http.MaxBytesReader(c.Response(), c.Request().Body, mostForm)
	sent, err := c.FormParams()
	if err != nil {
		return echo.NewHTTPError(http.StatusBadRequest, "the form cannot be read")
	}
	q := planOf(p.Contract, sent)
	body, err := q.body()
	if err != nil {
		return c.Redirect(http.StatusSeeOther, q.with())
	}
	status, _, answer := p.site.put(c.Request(), http.MethodPost, q.here("/v1/transfers"), body)
	if status != http.StatusCreated {
		return p.refuse(c, q, p.site.asks(c), status, answer)
	}
	var saved struct{ ID, Key string }
	if err := json.Unmarshal(answer, &saved); err != nil {
		return fmt.Errorf("read the answer of a saved transfer: %w", err)
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	c.Response().Header().Set("Referrer-Policy", "no-referrer")
	return c.Redirect(http.StatusSeeOther, q.here("/t/"+saved.ID+"#"+url.PathEscape(saved.Key)))
}

// media of the forms that a plan has beside its page.
var planMedia = map[string]string{
	"svg": "image/svg+xml", "png": "image/png", "ics": "text/calendar; charset=utf-8", "csv": "text/csv; charset=utf-8",
	"text": "text/plain; charset=utf-8", "json": "application/json",
}

// as answers GET /plan/{format}, for plans that no URL of the contract can hold.
func (p *planner) as(c echo.Context) error {
	format := c.Param("format")
	media, ok := planMedia[format]
	if !ok {
		return echo.NewHTTPError(http.StatusNotFound, "a plan has no such form")
	}
	status, answer := planOf(p.Contract, c.QueryParams()).ask(p.site.asks(c), format)
	if status != http.StatusOK {
		media = "application/problem+json"
	}
	return c.Blob(status, media, answer)
}

// card answers GET /card: a plan on one page for the wall.
func (p *planner) card(c echo.Context) error {
	q := planOf(p.Contract, c.QueryParams())
	status, body := q.ask(p.site.asks(c), "")
	if status != http.StatusOK {
		return c.Redirect(http.StatusSeeOther, q.with())
	}
	r, title, err := p.result(q, body)
	if err != nil {
		return err
	}
	return p.site.write(c, "card.html", sheet{Path: "/card", Tongue: q.tongue, Other: switched(c.Request().URL), Title: title, Description: r.Reason, Unlisted: true, Body: planView{Title: title, Result: r, Back: q.with()}})
}
