package ramp

import (
	"context"
	"math"
)

// Plan is the water changes of a ramp, with their totals.
type Plan struct {
	Changes []Change
	Days    int     // from the start to the last change
	Water   float64 // L, of new water
	Salt    float64 // kg, dry
	// Cheaper takes up to a tenth longer, but less salt or water or fewer changes. It is
	// nil if nothing worth the wait was found.
	Cheaper *Plan
	// Complete is false if the budget ended the search for fewer changes. The number of
	// days is minimal all the same.
	Complete bool
}

// What a longer plan must save to be offered: a part of the salt or of the water, or a
// number of changes.
const (
	worthwhile        = 0.02
	worthwhileChanges = 2
)

// Solve returns the plan of the fewest days, with as little salt and water as the package
// comment says. It arrives at To if those days allow that, otherwise within the tolerance,
// or within a gram of salt in the tank if that is more. If the tank starts that near to To,
// the plan is empty. The error is an *Obstacle if there is no plan, ErrProblem, or that of
// the context.
//
// Check value: see the test of the least mass balance; the method is conservation
// of mass and salt.
func Solve(ctx context.Context, p Problem) (Plan, error) {
	if err := p.check(); err != nil {
		return Plan{}, err
	}
	s := newSearch(&p)
	gap := math.Abs(p.To - p.From)
	need := gap - max(p.Tolerance, pure*Gram/(p.Volume*p.Density(p.To)))
	if need <= 0 {
		return Plan{Complete: true}, nil
	}
	if err := s.checkWater(need); err != nil {
		return Plan{}, err
	}
	list, ok, err := s.run(ctx, need, Longest, nil, nil)
	if err != nil {
		return Plan{}, err
	}
	if !ok {
		far := list[len(list)-1].way
		return Plan{}, &Obstacle{TooLong, s.at(far), need - far}
	}
	last := len(list) - 1
	plan, err := s.plan(ctx, gap, need, last)
	if err != nil {
		return Plan{}, err
	}
	if longer := last + last/10; longer > last {
		cheaper, err := s.plan(ctx, gap, need, longer)
		if err != nil {
			return Plan{}, err
		}
		if cheaper.spares(plan) {
			plan.Cheaper = &cheaper
		}
	}
	return plan, nil
}

// checkWater refuses a target that even the new water itself does not reach.
func (s *search) checkWater(need float64) error {
	end := s.newWater()
	if far := s.sign * (end - s.From); far <= need+slack {
		return &Obstacle{BeyondWater, end, need - far}
	}
	return nil
}

// plan arrives by the last day: at the end of the gap if possible, otherwise at the part
// of it that is needed.
func (s *search) plan(ctx context.Context, gap, need float64, last int) (Plan, error) {
	aim := gap
	list, ok, err := s.run(ctx, aim, last, nil, nil)
	if err == nil && !ok {
		aim = need
		list, _, err = s.run(ctx, aim, last, nil, nil)
	}
	if err != nil {
		return Plan{}, err
	}
	list, complete, err := s.thin(ctx, list, aim, last)
	if err != nil {
		return Plan{}, err
	}
	if list, err = s.topOff(ctx, list, aim, last); err != nil {
		return Plan{}, err
	}
	plan := s.carryOut(list, need)
	plan.Complete = complete
	return plan, nil
}

// carryOut turns a schedule into changes. If rounding errors leave the tank behind at the end,
// further changes follow.
func (s *search) carryOut(list []evening, need float64) Plan {
	var plan Plan
	l, step, begun := s.first(), -1, -Longest
	for day := 0; day < len(list) || l.way[0] < need-slack && day < Longest; day++ {
		to := min(math.Abs(s.To-s.From), s.most(l, day))
		if day < len(list) {
			to = min(to, list[day].way)
		}
		if to <= l.way[0]+slack || day < len(list) && !list[day].moved {
			l = s.idle(l, 0)
			continue
		}
		c := s.Problem.change(s.at(l.way[0]), s.at(to))
		if day-begun >= s.wait(l.way[0]) {
			step, begun = step+1, day
		}
		c.Day, c.Step = day, step
		plan.add(c)
		l = s.change(l, 0, to)
	}
	return plan
}

func (p *Plan) add(c Change) {
	p.Changes = append(p.Changes, c)
	p.Days = c.Day
	p.Water += c.PutIn
	p.Salt += c.Salt
}

// spares reports whether a longer plan saves enough to be worth its time.
func (p Plan) spares(than Plan) bool {
	if p.Salt > than.Salt || p.Water > than.Water {
		return false
	}
	return p.Salt < than.Salt*(1-worthwhile) || p.Water < than.Water*(1-worthwhile) || len(p.Changes)+worthwhileChanges <= len(than.Changes)
}
