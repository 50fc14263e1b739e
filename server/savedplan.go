package server

import (
	"context"
	"errors"
	"math"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
	"saltlock/server/render"
	"saltlock/server/store"
)

// begin plans a transfer that is to be saved. It calls said with how each name of an animal was
// understood.
func (s *Server) begin(ctx context.Context, request transfer.Request, said func(string, tolerance.Taxon)) (store.Kept, error) {
	if err := errors.Join(s.near("start", *request.Start, startedSince), s.knowAll(ctx, &request, said)); err != nil {
		return store.Kept{}, err
	}
	kept := store.Kept{Request: request, Log: []store.Logged{}}
	err := s.planned(ctx, s.newBudget(), func(ctx context.Context) error {
		plan, err := s.newPlan(ctx, request)
		if err != nil {
			return err
		}
		if first, waits := s.afterWarmth(&plan, *request.Start); waits { // as the night may be another
			request.Start = &first
			if plan, err = s.newPlan(ctx, request); err != nil {
				return err
			}
			plan.Warnings = append(plan.Warnings, quantity.Note{Code: "starts_after_warmth", Params: []any{stamp(request, first)}})
			kept.Request = request
		}
		kept.Legs = []followup.Leg{followup.NewLeg(0, request, plan)}
		return s.follow(ctx, &kept)
	})
	return kept, err
}

// afterWarmth is when the first water may come if the animals' own is first warmed or cooled from
// now on, where a start that is not long past would be earlier.
func (s *Server) afterWarmth(p *transfer.Plan, start time.Time) (first time.Time, waits bool) {
	_, wait, waits := p.WarmsFirst()
	first = s.now().Add(time.Duration(float64(wait) * float64(time.Hour))).Truncate(time.Second)
	return first, waits && start.Before(first) && !start.Before(s.now().Add(-clockAhead))
}

// near refuses a time too far ahead or too far back for a transfer to start.
func (s *Server) near(name string, at time.Time, past time.Duration) error {
	from := at.Sub(s.now())
	if from < -past || from > startsWithin {
		return &quantity.RangeError{Name: name, Value: from.Hours(), Lo: -past.Hours(), Hi: startsWithin.Hours(), Unit: fromNow}
	}
	return nil
}

// reschedule moves the start or the end of a transfer, and plans again if the start moves. Both
// are checked together, whichever is given.
func (s *Server) reschedule(ctx context.Context, k *store.Kept, start, end *time.Time) error {
	var faults []error
	if start != nil {
		if len(k.Log) > 0 {
			faults = append(faults, conflictOf("start", "start_is_fixed"))
		} else {
			faults = append(faults, s.near("start", *start, startedSince))
			k.Request.Start = start
		}
	}
	if end != nil {
		faults = append(faults, s.ends(*end, k.Called))
		k.End = end
	}
	if k.End != nil && !k.Called && k.End.Before(*k.Request.Start) {
		if end != nil {
			faults = append(faults, conflictOf("end", "end_before_start"))
		} else {
			faults = append(faults, conflictOf("start", "start_after_end", stamp(k.Request, *k.End)))
		}
	}
	if err := errors.Join(faults...); err != nil || start == nil {
		return err
	}
	planned, err := s.begin(ctx, k.Request, byID)
	if err != nil {
		return err
	}
	k.Legs, k.Told = planned.Legs, planned.Told
	return nil
}

// ends refuses an end too far ahead. A move is not called off ahead: until then it would go on.
func (s *Server) ends(at time.Time, called bool) error {
	if ahead := at.Sub(s.now()); called && ahead > clockAhead {
		return &quantity.RangeError{Name: "end", Value: ahead.Hours(), Lo: -startsWithin.Hours(), Hi: 0, Unit: fromNow}
	}
	return s.near("end", at, math.MaxInt64) // the start says how far back it may be
}

// expiry is 30 days after the last look of the latest plan, the end or now, whichever is latest.
func (s *Server) expiry(k store.Kept) time.Time {
	last, leg := s.now(), k.Legs[len(k.Legs)-1]
	hours := leg.At + float64(leg.Plan.Checkpoints[len(leg.Plan.Checkpoints)-1].Time.Value)
	if end := k.Request.Start.Add(time.Duration(hours * float64(time.Hour))); end.After(last) {
		last = end
	}
	if k.End != nil && k.End.After(last) {
		last = *k.End
	}
	return last.Add(keptAfter)
}

// logOf are the entries of a log without how they were sent.
func logOf(logged []store.Logged) []followup.LogEntry {
	log := make([]followup.LogEntry, len(logged))
	for i, l := range logged {
		log[i] = l.Entry
	}
	return log
}

// follow weighs the log of a transfer, and keeps what that shows for its keeper.
func (s *Server) follow(ctx context.Context, k *store.Kept) error {
	if err := s.knowAll(ctx, &k.Request, byID); err != nil {
		return err
	}
	for i := range k.Legs {
		if err := s.knowAll(ctx, &k.Legs[i].Request, byID); err != nil {
			return err
		}
	}
	log := logOf(k.Log)
	if k.End != nil && !k.Called && !k.End.After(s.now()) {
		log = append(log, followup.Release(*k.End))
	}
	course, err := followup.Follow(ctx, k.Request, k.Legs, log)
	if err != nil {
		return err
	}
	for _, n := range course.Notes() {
		if n.Told != "" { // the plan was given to the keeper before
			continue
		}
		n.Told = render.Voice{}.Say(n.Code, n.Params...)
	}
	told := store.Told{Version: Version, DataVersion: s.store.DataVersion()}
	if told.Inputs, err = inputs(k.Request.WithDefaults()); err != nil {
		return err
	}
	if course.Plan != nil {
		if told.PlanInputs, err = inputs(course.Legs[len(course.Legs)-1].Request.WithDefaults()); err != nil {
			return err
		}
	}
	k.Tell(course, told)
	return nil
}

// knowAll looks up all animals of a request, and calls said with how each name was understood.
func (s *Server) knowAll(ctx context.Context, r *transfer.Request, said func(string, tolerance.Taxon)) error {
	return errors.Join(s.know(ctx, "animals", r.Animals, said), s.know(ctx, "home_mates", r.HomeMates, said))
}

// byID is for requests that are stored, which name animals by their ids.
func byID(string, tolerance.Taxon) {}
