package server

import (
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/render"
	"saltlock/server/store"
)

// unseen is how long after a visit to a container that nobody logged anything for its plan no
// longer says what to do.
const unseen = time.Hour

// watched is how long after a sign of distress its answer stands, even if the transfer has ended:
// fish are watched for three days, for deaths come late. Common practice, no source.
const watched = 72 * time.Hour

// courseAt is what a saved transfer says at a time: the answer to its log, unless it is over, or
// nobody logged what the plan had since. Then the act that was missed had its time at missed.
func courseAt(v render.Voice, saved store.Transfer, now time.Time) (course followup.Course, missed time.Time) {
	course = saved.Told.Course
	v.Fill(course.Notes())
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
	if saved.Legs[len(saved.Legs)-1].InContainer() {
		course.Now = quantity.Note{Code: "now_look_first"}
	}
	course.Why, course.Then = []quantity.Note{why}, []quantity.Note{next}
	return course, missed
}

// ends makes a course that of a transfer that has ended. One that was called off under way leaves
// the animals where they are.
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
	case leg.Plan != nil && leg.Plan.Route == transfer.OutOfBag:
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

// unattended is when the latest act had its time that the plan had and nobody logged anything
// for, with the reason and what to do after a look at the animals; zero if there is none.
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
