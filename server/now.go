package server

import (
	"slices"
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/render"
	"saltlock/server/store"
)

// transferNow is what to do now, in three sentences.
type transferNow struct {
	ID        string           `json:"id"`
	Verdict   followup.Verdict `json:"verdict"`
	Act       quantity.Note    `json:"act"`
	Why       quantity.Note    `json:"why"`
	Next      quantity.Note    `json:"next"`
	NextAt    *time.Time       `json:"next_at,omitempty"`
	LastEntry *time.Time       `json:"last_entry_at,omitempty"`
	Methods   []string         `json:"methods"`

	saved store.Transfer
	at    time.Time
}

// speak says it.
func (n *transferNow) speak(v render.Voice) { *n = *nowOf(v, n.saved, n.at) }

// Notes returns the notes of the answer, for the renderer to fill.
func (n *transferNow) Notes() []*quantity.Note { return []*quantity.Note{&n.Act, &n.Why, &n.Next} }

// justNow is how long after an entry a visit of the plan is that visit still.
const justNow = time.Minute

// graceOfVisit is how long after its time a visit is overdue.
const graceOfVisit = 10 * time.Minute

// unseen is how long after a visit of a drip, or its start, that nobody logged anything for its
// plan no longer says what to do.
const unseen = time.Hour

// GetTransferNow answers GET /v1/transfers/{id}/now.
func (s *Server) GetTransferNow(c echo.Context, id string) error {
	saved, err := s.store.Transfer(c.Request().Context(), id)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Cache-Control", "private, no-cache")
	n := &transferNow{saved: saved, at: s.now()}
	return reply(c, saved.Told.Inputs, n, view[*transferNow]{lines: func(_ render.Voice, n *transferNow) []string {
		return []string{n.Act.Text, n.Why.Text, n.Next.Text}
	}})
}

// nowOf says what to do at a time by what the log told and by the plan in force.
func nowOf(v render.Voice, saved store.Transfer, now time.Time) *transferNow {
	course := saved.Told.Course
	v.Fill(course.Notes())
	n := &transferNow{saved: saved, at: now, ID: saved.ID, Verdict: course.Verdict, Act: course.Now, Methods: course.Methods,
		Why: quantity.Note{Code: "why_plan"}, Next: quantity.Note{Code: "next_log"}}
	for _, l := range saved.Log {
		if n.LastEntry == nil || l.Entry.Time.After(*n.LastEntry) {
			n.LastEntry = l.Entry.Time
		}
	}
	switch {
	case len(saved.Log) == 0:
		n.Why = quantity.Note{Code: "why_no_reading"}
	case course.DripRatio != nil:
		n.Why = quantity.Note{Code: "why_on_course", Params: []any{*course.DripRatio}}
	}
	if len(course.Why) > 0 {
		n.Why = course.Why[0]
	}
	switch {
	case saved.End != nil && (saved.Called || !now.Before(*saved.End)) && !wrongSince(saved):
		n.Verdict, n.Act = followup.Ended, quantity.Note{Code: "now_ended"}
		n.Next = quantity.Note{Code: "next_aftercare"}
		if course.Verdict != followup.Ended || len(course.Why) == 0 {
			n.Why = quantity.Note{Code: "why_ended", Params: []any{clockOf(saved, *saved.End, now)}}
		}
	case len(course.Then) > 0:
		n.Next = course.Then[0]
	case course.WayOn != nil:
		n.Next = course.WayOn.Advice
		if at := saved.Request.Clock(float64(course.WayOn.Earliest.Value)); at.After(now) {
			n.NextAt = &at
			n.Next = quantity.Note{Code: "next_way_on", Params: []any{clockOf(saved, at, now), course.WayOn.Advice.Text}}
		}
	case len(saved.Log) == 0 && now.Sub(*saved.Request.Start) > unseen:
		n.Act, n.Next = quantity.Note{Code: "now_look_first"}, quantity.Note{Code: "next_if_not_started"}
	case course.Plan != nil:
		n.byPlan(v, saved, now)
	}
	return n
}

// wrongSince reports whether something was wrong with the animals after the end, of which the
// answer speaks.
func wrongSince(saved store.Transfer) bool {
	return saved.Told.Course.Verdict == followup.Stopped && slices.ContainsFunc(saved.Log, func(l store.Logged) bool {
		return !l.Entry.Time.Before(*saved.End) && l.Entry.Stops()
	})
}

// byPlan adds what the plan in force has next, or what is overdue.
func (n *transferNow) byPlan(v render.Voice, saved store.Transfer, now time.Time) {
	leg := saved.Legs[len(saved.Legs)-1]
	for _, visit := range planVisits(v, planStart(saved, leg), saved.Told.Course.Plan) {
		seen := n.LastEntry != nil && !n.LastEntry.Before(visit.Start.Add(-graceOfVisit))
		if n.LastEntry != nil && visit.Start.Sub(*n.LastEntry) < justNow { // what to do now says that
			continue
		}
		text := visit.Texts[0]
		switch {
		case n.LastEntry != nil && len(leg.Steps) > 0 && visit.Start.Add(unseen).Before(now) && !seen:
			n.Act, n.Next = quantity.Note{Code: "now_look_first"}, quantity.Note{Code: "next_if_over"}
			n.Why = quantity.Note{Code: "why_nothing_logged", Params: []any{clockOf(saved, *n.LastEntry, now)}}
			return
		case n.LastEntry == nil && inContainer(leg) && visit.Start.Add(graceOfVisit).Before(now):
			n.Act, n.Next = quantity.Note{Code: "now_look_first"}, quantity.Note{Code: "next_if_not_started"}
			return
		case visit.Start.Add(graceOfVisit).Before(now) && !seen:
			n.Next = quantity.Note{Code: "next_overdue", Params: []any{clockOf(saved, visit.Start, now), text}}
			n.NextAt = &visit.Start
		case !visit.Start.Before(now):
			if n.Next.Code != "next_overdue" {
				n.Next = quantity.Note{Code: "next_at", Params: []any{clockOf(saved, visit.Start, now), text}}
				n.NextAt = &visit.Start
			}
			return
		}
	}
}

// inContainer reports whether a leg drips or goes by cups.
func inContainer(leg followup.Leg) bool {
	return len(leg.Steps) > 0 || leg.Plan.Route == transfer.ByCups
}

// clockOf is a time on the keeper's clock, with its day where that is not today.
func clockOf(saved store.Transfer, at, now time.Time) string {
	at = saved.Request.Clock(at.Sub(*saved.Request.Start).Hours())
	if today := now.In(at.Location()); at.YearDay() != today.YearDay() || at.Year() != today.Year() {
		return at.Format("Mon 15:04")
	}
	return at.Format("15:04")
}
