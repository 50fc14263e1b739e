package site

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/api"
)

// bucketPolicy lets the page at the bucket run our scripts, be installed and work offline. No
// other page but the console runs scripts.
const bucketPolicy = "default-src 'none'; script-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// saved is a saved transfer, as far as its page shows it.
type saved struct {
	ID, Note  string
	CreatedAt time.Time `json:"created_at"`
	Start     time.Time
	End       *time.Time
	ExpiresAt time.Time  `json:"expires_at"`
	PlanStart *time.Time `json:"plan_start"`
	Inputs    struct {
		TimeZone string    `json:"time_zone"`
		Start    time.Time // with the offset that it was given in
	}
	Plan   json.RawMessage
	Course struct {
		Verdict  string
		Now      note
		Why      []note
		Then     []note
		Warnings []note
		Readings []struct {
			Entry   int
			Suspect bool
			Why     *note
		}
		WayOn *struct{ Advice note } `json:"way_on"`
	}
	Log []logged
}

// logged is an entry of the log, as it was sent.
type logged struct {
	Time                                        time.Time
	Event, Salinity, Temperature, Volume, Level string
	Drops                                       int
	DropsIn                                     string `json:"drops_in"`
	Behaviour, Note                             string
	Doubt                                       string `json:"-"` // why it was left out
}

// now is what to do now.
type now struct {
	Verdict        string
	Act, Why, Next note
	NextAt         *time.Time `json:"next_at"`
	LastEntry      *time.Time `json:"last_entry_at"`
}

// routeBucket adds the page of a saved transfer, and what makes it an app.
func (s *Site) routeBucket(e *echo.Echo) {
	e.GET("/t/:id", s.bucket)
	e.GET("/t/:id/card", s.bucketCard)
	e.GET("/t/:id/manifest.webmanifest", s.manifest)
	e.GET("/sw.js", func(c echo.Context) error {
		c.Response().Header().Set("Cache-Control", "no-cache")
		return static()["sw.js"].Send(c)
	})
}

// private keeps a page out of caches and its address out of what it links to.
func private(c echo.Context) {
	h := c.Response().Header()
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cache-Control", "private, no-cache")
	h.Set("X-Robots-Tag", "noindex")
}

// bucket answers GET /t/{id}: what to do now, for whoever has the link. The key that
// logs is behind the # of the address and never comes here.
func (s *Site) bucket(c echo.Context) error {
	private(c)
	view, err := s.transfer(c)
	if err != nil {
		return err
	}
	at := "/t/" + view.ID
	body, err := s.spoken("bucket.html", sheet{Path: at, Tongue: view.tongue, Other: switched(c.Request().URL), Title: view.Act(), Description: view.Now.Why.Text, Share: view.tongue.says("A move under way"), Unlisted: true, Manifest: view.tongue.here(at + "/manifest.webmanifest"), Body: view})
	if err != nil {
		return err
	}
	c.Response().Header().Set("Content-Language", view.tongue.code())
	c.Response().Header().Set("Content-Security-Policy", bucketPolicy)
	return NewAsset("text/html; charset=utf-8", body).Send(c)
}

// transfer reads a saved transfer for its page.
func (s *Site) transfer(c echo.Context) (*bucketView, error) {
	ask, at, l := s.asks(c), "/v1/transfers/"+c.Param("id"), tongueOf(c.QueryParams())
	status, body := ask(http.MethodGet, l.here(at), nil)
	if status != http.StatusOK {
		return nil, refusedBy(status, body)
	}
	view := &bucketView{saved: new(saved), tongue: l, Asked: time.Now()}
	if err := json.Unmarshal(body, view.saved); err != nil {
		return nil, fmt.Errorf("read a saved transfer: %w", err)
	}
	view.zone = view.Inputs.Start.Location()
	if name := view.Inputs.TimeZone; name != "" {
		if zone, err := time.LoadLocation(name); err == nil {
			view.zone = zone
		}
	}
	if status, body = ask(http.MethodGet, l.here(at+"/now"), nil); status != http.StatusOK {
		return nil, refusedBy(status, body)
	}
	if err := json.Unmarshal(body, &view.Now); err != nil {
		return nil, fmt.Errorf("read what to do now: %w", err)
	}
	view.Overdue = view.Now.Next.Code == "next_overdue" && view.Now.Verdict != "not_begun"
	for _, r := range view.Course.Readings {
		if r.Suspect && r.Why != nil && r.Entry <= len(view.Log) {
			view.Log[r.Entry-1].Doubt = r.Why.Text
		}
	}
	for _, l := range view.Log {
		switch l.Event {
		case "power_off":
			view.PowerIsOff = true
		case "power_back":
			view.PowerIsOff = false
		}
	}
	view.Bells = slices.ContainsFunc(view.Course.Warnings, func(n note) bool { return n.Code == "no_bubbles" })
	slices.Reverse(view.Log) // the latest first
	if len(view.Plan) > 0 {
		r, err := s.inForce(view)
		if err != nil {
			return nil, err
		}
		view.Result, view.Running, view.Bells = r, true, view.Bells || r.Bells
	}
	return view, nil
}

// refusedBy turns a refusal of the service into that of a page.
func refusedBy(status int, body []byte) error {
	var p api.Problem
	if json.Unmarshal(body, &p) == nil && p.Detail != nil {
		return echo.NewHTTPError(status, *p.Detail)
	}
	return echo.NewHTTPError(status, http.StatusText(status))
}

// inForce is the plan in force in the order in which it is used, on the clock.
func (s *Site) inForce(view *bucketView) (*result, error) {
	var a planned
	if err := json.Unmarshal(view.Plan, &a); err != nil {
		return nil, fmt.Errorf("read the plan in force: %w", err)
	}
	start := view.Start
	if view.PlanStart != nil {
		start = *view.PlanStart
	}
	r := &result{QR: "/qr.svg?of=" + escape("/t/"+view.ID)}
	v := view.tongue.voice()
	k := clock{start.In(view.zone)}
	if hours := a.end(); hours > 0 && view.End == nil {
		done := start.Add(time.Duration(hours * float64(time.Hour)))
		view.Done = &done
	}
	r.facts(v, &a, k)
	r.steps(v, &a, k)
	r.prepare(v, &a)
	r.notes(&a)
	r.Story, view.Chart = a.story(v), len(a.Curve) > 1
	return r, nil
}

// bucketCard answers GET /t/{id}/card: the plan in force on one page for the wall.
func (s *Site) bucketCard(c echo.Context) error {
	private(c)
	view, err := s.transfer(c)
	if err != nil {
		return err
	}
	at := "/t/" + view.ID
	if view.Result == nil { // a plan that is over is on no wall
		return c.Redirect(http.StatusSeeOther, view.tongue.here(at))
	}
	return s.write(c, "card.html", sheet{Path: at, Tongue: view.tongue, Other: switched(c.Request().URL), Title: "The plan in force", Description: view.Now.Act.Text, Unlisted: true, Body: planView{Title: "The plan in force", Back: view.tongue.here(at), Result: view.Result}})
}

// manifest answers GET /t/{id}/manifest.webmanifest, which lets a phone keep the page.
// It names no key: the page keeps that on the phone where it was opened with it.
func (s *Site) manifest(c echo.Context) error {
	l, at := tongueOf(c.QueryParams()), "/t/"+c.Param("id")
	mark, err := staticURL("mark.svg")
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderContentType, "application/manifest+json")
	return json.NewEncoder(c.Response()).Encode(map[string]any{
		"name": "Saltlock: " + l.says("a move under way"), "short_name": "Saltlock", "id": at, "start_url": l.here(at), "scope": "/t/", "display": "standalone",
		"background_color": "#f7f9f8", "theme_color": "#0b5568", "icons": []map[string]string{{"src": mark, "sizes": "any", "type": "image/svg+xml"}},
	})
}
