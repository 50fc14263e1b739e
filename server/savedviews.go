package server

import (
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/render"
	"saltlock/server/store"
)

// savedTransfer is a saved transfer with what the service knows about it beyond the core's answer.
type savedTransfer struct {
	ID        string           `json:"id"`
	Key       string           `json:"key,omitempty"`
	CreatedAt time.Time        `json:"created_at"`
	Start     time.Time        `json:"start"`
	End       *time.Time       `json:"end,omitempty"`
	State     string           `json:"state"`
	ExpiresAt time.Time        `json:"expires_at"`
	Note      string           `json:"note,omitempty"`
	Log       []any            `json:"log"`
	Course    *followup.Course `json:"course"`
	PlanStart *time.Time       `json:"plan_start,omitempty"`
	Plan      *toldPlan        `json:"plan,omitempty"`
	Methods   []string         `json:"methods"`

	clock func(hours float64) time.Time // of the plan
	saved store.Transfer
	at    time.Time
}

// toldPlan is a plan as its own operation answers it.
type toldPlan struct {
	envelope
	*transfer.Plan
}

// Notes returns every note of the answer, for the renderer to fill.
func (t *savedTransfer) Notes() []*quantity.Note { return t.Course.Notes() }

// tell answers with a saved transfer; key is given if it was just saved.
func (s *Server) tell(c echo.Context, status int, saved store.Transfer, key string, startAssumed bool) error {
	now := s.now()
	more := stateOf(saved, now) + "-" // which change with the time
	if _, missed := courseAt(render.Voice{}, saved, now); !missed.IsZero() {
		more += strconv.FormatInt(missed.Unix(), 36) + "-"
	}
	if held := s.tagged(c, saved, more); held {
		return c.NoContent(http.StatusNotModified)
	}
	t, err := s.told(c, saved, key, startAssumed)
	if err != nil {
		return err
	}
	if key != "" {
		c.Response().Header().Set("Cache-Control", "no-store")
	}
	return replyAs(c, status, saved.Told.Inputs, t, view[*savedTransfer]{lines: savedLines, rows: savedRows})
}

// told makes the answer for a saved transfer.
func (s *Server) told(c echo.Context, saved store.Transfer, key string, startAssumed bool) (*savedTransfer, error) {
	told, now := *saved.Told, s.now()
	course, _ := courseAt(render.Voice{}, saved, now)
	if startAssumed && (course.Plan == nil || !slices.ContainsFunc(course.Plan.Warnings, startsLater)) {
		course.Assumptions = append(course.Assumptions, quantity.Note{Code: "saved_start", Params: []any{stamp(saved.Request, *saved.Request.Start)}})
	}
	t := &savedTransfer{ID: saved.ID, Key: key, CreatedAt: saved.Created, Start: saved.Request.Start.UTC(), End: saved.End, ExpiresAt: saved.Expires,
		State: stateOf(saved, now), Note: saved.Note, Log: []any{}, Course: &course, Methods: course.Methods, saved: saved, at: now}
	for _, l := range saved.Log {
		entry, err := inputs(l.Entry)
		if err != nil {
			return nil, err
		}
		t.Log = append(t.Log, entry)
	}
	if course.Plan != nil {
		leg := course.Legs[len(course.Legs)-1]
		t.PlanStart, t.clock = new(planStart(saved, leg)), onClock(leg.Request)
		asked := askedOf(c)
		if asked.withoutCurve() {
			short := *course.Plan
			short.Curve = []transfer.CurvePoint{}
			course.Plan = &short
		}
		t.Plan = &toldPlan{envelope{Inputs: told.PlanInputs, Model: model{told.Version, told.DataVersion}}, course.Plan}
	}
	return t, nil
}

// startsLater reports whether a note says that the first water waits for the temperature.
func startsLater(n quantity.Note) bool { return n.Code == "starts_after_warmth" }

// speak writes what to do in a language, and the sentences of the plan in force.
func (t *savedTransfer) speak(v render.Voice) {
	course, _ := courseAt(v, t.saved, t.at)
	t.Course.Now, t.Course.Why, t.Course.Then = course.Now, course.Why, course.Then
	if t.Plan != nil {
		v.Fill(t.Plan.Plan.Notes())
		t.Plan.Summary = strings.Join(planLines(v, t.Plan.Plan, t.clock), "\n")
	}
}

// stateOf is how far a transfer has come.
func stateOf(saved store.Transfer, now time.Time) string {
	switch {
	case saved.Called:
		return "cancelled"
	case over(saved, now):
		return "finished"
	case saved.Told.Course.Verdict == followup.Stopped:
		return "stopped"
	case len(saved.Log) == 0 && now.Before(*saved.Request.Start):
		return "planned"
	}
	return "under_way"
}

// planStart is the time from which the times of a leg's plan count.
func planStart(saved store.Transfer, leg followup.Leg) time.Time {
	return saved.Request.Start.UTC().Add(time.Duration(leg.At * float64(time.Hour))).Round(time.Second)
}

// tagged writes the ETag of a transfer's state and of whatever else the answer depends on, and
// reports whether the client has that version already.
func (s *Server) tagged(c echo.Context, saved store.Transfer, more string) bool {
	a := askedOf(c)
	tag := `"` + strconv.Itoa(saved.Version) + "-" + more + strings.TrimPrefix(a.etag(c.Request().URL.Path), `"`)
	h := c.Response().Header()
	h.Set("ETag", tag)
	h.Set("Cache-Control", "private, no-cache")
	h.Set("Vary", "Accept, Accept-Encoding")
	holds := c.Request().Header.Get("If-None-Match")
	return c.Request().Method == http.MethodGet && (strings.TrimSpace(holds) == "*" || held(holds, tag))
}

// savedLines describes a saved transfer, beginning with what to do now.
func savedLines(v render.Voice, t *savedTransfer) []string {
	var l lines
	course := t.Course
	if t.Key != "" {
		l.add(v, "saved", t.ID, dayOf(t.saved.Request, t.ExpiresAt))
		l.add(v, "saved_key", t.Key)
		for _, n := range course.Assumptions {
			l = append(l, n.Text)
		}
	}
	switch {
	case t.End == nil:
	case !over(t.saved, t.at):
		l.add(v, "saved_ends", stamp(t.saved.Request, *t.End))
	default:
		l.add(v, "saved_ended", stamp(t.saved.Request, *t.End))
	}
	l = append(l, course.Now.Text)
	for _, n := range course.Why {
		if n.Code != "why_on_course" { // it follows below, with the flow
			l = append(l, n.Text)
		}
	}
	l.notes(course.Then)
	if course.WayOn != nil {
		l = append(l, course.WayOn.Advice.Text)
	}
	if course.Volume != nil {
		l.add(v, "course_now", course.Time, course.Volume, course.PracticalSalinity)
		switch ratio := course.DripRatio; {
		case ratio == nil:
		case math.Abs(float64(ratio.Value)-1) < asPlanned:
			l.add(v, "course_drip_as_planned", course.Flow)
		default:
			l.add(v, "course_drip", ratio, course.Flow, course.PlannedFlow)
		}
	}
	l.notes(course.Warnings)
	if t.Plan != nil && course.Verdict != followup.OnCourse {
		if t.Key != "" { // its start was just said or given
			l.add(v, "plan_begins")
		} else {
			l.add(v, "plan_restarts", stamp(t.saved.Request, *t.PlanStart))
		}
		l = append(l, planLines(v, t.Plan.Plan, t.clock)...)
	}
	return l
}

// asPlanned is how far a drip may be off and still be said to run as planned: less than counting
// drops can show.
const asPlanned = 0.05

// savedRows is the plan in force as a table or, without one, the readings.
func savedRows(t *savedTransfer) any {
	if t.Plan != nil {
		return t.Plan.Phases
	}
	return t.Course.Readings
}
