package server

import (
	"slices"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/render"
	"saltlock/server/store"
)

// unseen is how long a plan for a container still says what to do after a visit for which nobody
// logged anything.
const unseen = time.Hour

// watched is how long the answer to a sign of distress holds, even if the transfer has ended. Fish
// are watched for three days, because deaths come late. Common practice, no source.
const watched = 72 * time.Hour

// courseAt is what a saved transfer says at a time: the answer to its log, unless the transfer is
// over or an act of the plan has passed without an entry. missed is then the time of that act.
func courseAt(v render.Voice, saved store.Transfer, now time.Time) (course followup.Course, missed time.Time) {
	course = saved.Told.Course
	v.Fill(course.Notes())
	if course.Now.Code == "now_until_change" && len(course.Then) > 0 { // nobody does now what comes then
		course.Then = slices.Clone(course.Then)
		course.Then[0] = quantity.Note{Code: "next_at", Params: []any{course.Now.Params[0], course.Then[0].Text}}
	}
	if over(saved, now) && !inDistress(saved, now) {
		if saved.Called && course.Alarmed() { // which being called off does not put right
			course.Verdict, course.Plan, course.WayOn = followup.Ended, nil, nil
		} else if course.Verdict != followup.Ended {
			ends(&course, saved, now)
		}
		return course, missed
	}
	if course.Plan == nil || course.Plan.Route == transfer.OutOfBag { // which nothing comes before
		return course, missed
	}
	var why, next quantity.Note
	if missed, why, next = unattended(v, saved, now); missed.IsZero() {
		return course, missed
	}
	course.Now = quantity.Note{Code: "now_look_at_tank"}
	before := course.Why
	course.Why, course.Then = []quantity.Note{why}, []quantity.Note{next}
	if leg := saved.Legs[len(saved.Legs)-1]; leg.InContainer() {
		course.Now = quantity.Note{Code: "now_look_first"}
		if course.Verdict == followup.Corrected && len(leg.Steps) > 0 { // and nobody knows whether it was corrected
			course.Now, course.Why = quantity.Note{Code: "act_close_and_read"}, append(course.Why, before...)
		}
	}
	return course, missed
}

// ends turns a course into that of an ended transfer. If it was called off under way, the animals
// stay where they are.
func ends(course *followup.Course, saved store.Transfer, now time.Time) {
	leg, under := saved.Legs[len(saved.Legs)-1], saved.End.After(*saved.Request.Start)
	course.Verdict, course.Plan, course.WayOn, course.Why = followup.Ended, nil, nil, nil
	course.Now, course.Then = quantity.Note{Code: "now_ended"}, []quantity.Note{{Code: "next_aftercare"}}
	if !saved.Called {
		return
	}
	course.Why = []quantity.Note{{Code: "why_called_off", Params: []any{clockOf(saved, *saved.End, now)}}}
	switch {
	case !under:
		course.Now, course.Then = quantity.Note{Code: "now_not_begun"}, nil
	case leg.Plan != nil && leg.Plan.Route == transfer.OutOfBag && !leg.LeftBag(saved.Request, logOf(saved.Log)):
		course.Now, course.Then = quantity.Note{Code: "bag_open"}, nil
	case len(leg.Steps) > 0:
		course.Now, course.Then = quantity.Note{Code: "act_close_clamp"}, []quantity.Note{{Code: "then_stay"}, {Code: "then_plan_from_there"}}
	default:
		course.Now, course.Then = quantity.Note{Code: "act_change_nothing"}, []quantity.Note{{Code: "then_stay"}, {Code: "then_plan_from_there"}}
	}
}

// over reports whether a transfer has ended.
func over(saved store.Transfer, now time.Time) bool {
	return saved.End != nil && (saved.Called || !now.Before(*saved.End))
}

// inDistress reports whether animals that showed distress are not known to be well since.
func inDistress(saved store.Transfer, now time.Time) bool {
	if !saved.Told.Course.InDistress() {
		return false
	}
	for _, l := range saved.Log {
		if l.Entry.Stops() && now.Sub(*l.Entry.Time) < watched {
			return true
		}
	}
	return false
}

// unattended is the time of the latest act that passed without an entry, with the reason, and what
// to do once somebody has looked at the animals. The time is zero if no act did.
func unattended(v render.Voice, saved store.Transfer, now time.Time) (missed time.Time, why, next quantity.Note) {
	leg, plan, last := saved.Legs[len(saved.Legs)-1], saved.Told.Course.Plan, lastEntry(saved)
	if last == nil {
		missed, act := actMissed(leg, plan, planStart(saved, leg), now)
		return missed, quantity.Note{Code: "why_overdue", Params: []any{clockOf(saved, missed, now), act}}, quantity.Note{Code: "next_if_not_started"}
	}
	by := graceOfVisit
	if leg.InContainer() {
		by = unseen
	}
	for _, visit := range planVisits(v, planStart(saved, leg), plan) {
		if saidThen(last, visit) || !overdue(last, visit, now, by) {
			continue
		}
		missed, next = visit.Start, quantity.Note{Code: "next_if_over"}
		if !leg.InContainer() {
			next = overdueNote(saved, visit, now)
		}
	}
	return missed, quantity.Note{Code: "why_nothing_logged", Params: []any{clockOf(saved, *last, now)}}, next
}

// actMissed is the latest act of a plan whose time has passed. The release is never one for animals
// in a container: whoever has not begun yet would move them too far.
func actMissed(leg followup.Leg, p *transfer.Plan, start, now time.Time) (missed time.Time, act string) {
	for _, phase := range p.Phases {
		at := start.Add(time.Duration(float64(phase.Start.Value) * float64(time.Hour)))
		switch {
		case !at.Add(graceOfVisit).Before(now):
			return missed, act
		case phase.Kind == transfer.Fill && !phase.SetValve, leg.InContainer() && phase.Kind == transfer.Free:
			// nothing to do, or not yet
		case !missed.IsZero() && at.Sub(missed) < time.Minute:
			act += " " + phase.Instruction.Text
		default:
			missed, act = at, phase.Instruction.Text
		}
	}
	return missed, act
}
