package server

import (
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
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

// justNow is how soon after an entry a planned visit still counts as the same visit.
const justNow = time.Minute

// graceOfVisit is how long after its time a visit counts as overdue.
const graceOfVisit = 10 * time.Minute

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

// nowOf says what to do at a time, from the log and the plan in force.
func nowOf(v render.Voice, saved store.Transfer, now time.Time) *transferNow {
	course, missed := courseAt(v, saved, now)
	n := &transferNow{saved: saved, at: now, ID: saved.ID, Verdict: course.Verdict, Act: course.Now, Methods: course.Methods,
		LastEntry: lastEntry(saved), Why: quantity.Note{Code: "why_plan"}, Next: quantity.Note{Code: "next_log"}}
	switch {
	case len(course.Why) > 0:
		n.Why = course.Why[0]
	case course.Verdict == followup.Ended:
		n.Why = quantity.Note{Code: "why_ended", Params: []any{clockOf(saved, *saved.End, now)}}
	case course.Verdict == followup.Paused && len(course.Warnings) > 0: // which say what fits nothing
		n.Why = course.Warnings[0]
	case len(saved.Log) == 0:
		n.Why = quantity.Note{Code: "why_no_reading"}
	case course.DripRatio != nil:
		n.Why = quantity.Note{Code: "why_on_course", Params: []any{*course.DripRatio}}
	}
	switch {
	case len(course.Then) > 0:
		switch n.Next = course.Then[0]; {
		case n.Next.Code == "next_overdue":
			n.NextAt = &missed
		case n.Next.Code == "triage_air" && len(course.Then) > 1: // which is seen at a glance
			n.Next = quantity.Note{Code: "next_and_then", Params: []any{course.Then[0].Text, course.Then[1].Text}}
		}
	case course.WayOn != nil:
		n.Next = course.WayOn.Advice
		if at := saved.Request.Clock(float64(course.WayOn.Earliest.Value)); at.After(now) {
			n.NextAt = &at
			n.Next = quantity.Note{Code: "next_way_on", Params: []any{clockOf(saved, at, now), course.WayOn.Advice.Text}}
		}
	case course.Plan != nil:
		n.byPlan(v, saved, now)
	}
	n.waitsFrom(now)
	return n
}

// leastWait is the shortest wait worth saying.
const leastWait = time.Minute

// waitsFrom counts a wait from now; the log counts it from its latest entry.
func (n *transferNow) waitsFrom(now time.Time) {
	if n.Act.Code != "now_go_on" || n.LastEntry == nil || len(n.Act.Params) < 2 {
		return
	}
	until := n.Act.Params[0]
	wait, ok := n.Act.Params[1].(quantity.Measure)
	if !ok {
		return
	}
	wait.Value = max(leastWait.Hours(), wait.Value-now.Sub(*n.LastEntry).Hours())
	n.Act = quantity.Note{Code: n.Act.Code, Params: []any{until, wait}}
}

// lastEntry is the time of the latest entry of a log; nil if it has none.
func lastEntry(saved store.Transfer) (last *time.Time) {
	for _, l := range saved.Log {
		if last == nil || l.Entry.Time.After(*last) {
			last = l.Entry.Time
		}
	}
	return last
}

// byPlan adds what the plan in force has next, or what is overdue.
func (n *transferNow) byPlan(v render.Voice, saved store.Transfer, now time.Time) {
	leg := saved.Legs[len(saved.Legs)-1]
	for _, visit := range planVisits(v, planStart(saved, leg), saved.Told.Course.Plan) {
		switch {
		case saidThen(n.LastEntry, visit):
		case overdue(n.LastEntry, visit, now, graceOfVisit):
			n.Next = overdueNote(saved, visit, now)
			n.NextAt = &visit.Start
		case !visit.Start.Before(now):
			if n.Next.Code != "next_overdue" {
				n.Next = quantity.Note{Code: "next_at", Params: []any{clockOf(saved, visit.Start, now), visit.Texts[0]}}
				n.NextAt = &visit.Start
			}
			return
		}
	}
}

// saidThen reports whether the answer to the latest entry said what there is to do at a visit.
func saidThen(last *time.Time, v visit) bool { return last != nil && v.Start.Sub(*last) < justNow }

// overdue reports whether a visit is late by more than this, and nobody has logged anything since.
func overdue(last *time.Time, v visit, now time.Time, by time.Duration) bool {
	return v.Start.Add(by).Before(now) && (last == nil || last.Before(v.Start.Add(-graceOfVisit)))
}

func overdueNote(saved store.Transfer, v visit, now time.Time) quantity.Note {
	return quantity.Note{Code: "next_overdue", Params: []any{clockOf(saved, v.Start, now), v.Texts[0]}}
}

// clockOf is a time on the keeper's clock, with the day if it is not today.
func clockOf(saved store.Transfer, at, now time.Time) string {
	at = saved.Request.Clock(at.Sub(*saved.Request.Start).Hours())
	if today := now.In(at.Location()); at.YearDay() != today.YearDay() || at.Year() != today.Year() {
		return at.Format("Mon 15:04")
	}
	return at.Format("15:04")
}
