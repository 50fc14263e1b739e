package transfer

import (
	"cmp"
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// A keeper who does not know how much water the animals start in can still drip: only the ratio of
// the levels decides how far the salinity comes. The plan is then in parts of the starting volume,
// as marks on the wall with the least time from each to the next. Marks are made with a jug, so
// they are right in a container of any shape. Proposed here.

// The marks of a filling, in tenths of the starting volume, which jugs can measure. At twice the
// start you pour off, since nobody knows what the container holds.
const (
	halfway, full = 1.5, 2.0
	tenth         = 0.1
	jugs          = 10        // poured up to the mark of the start
	markTime      = 5.0 / 60. // h, to which the times between marks are rounded up
)

// unmeasured reports whether nobody said, in any way, how much water there is.
func (t *task) unmeasured() bool {
	c := t.request.Container
	return c.Capacity == nil && c.StartVolume == nil && c.Shape == nil
}

// markLeg is one stretch from mark to mark.
type markLeg struct {
	from, to     float64 // parts of the starting volume
	gap, left    float64 // g/kg, before and after
	start, hours float64
	pour         bool // down to the mark of the start first
}

// byMarks plans a drip without its volume.
func (t *task) byMarks() (Plan, error) {
	t.checkAir()
	t.checkTemperature()
	switch {
	case t.runsOver():
		t.refuse("container.start_volume", noteOf("overflow_needs_volume"))
	case t.surely(needsLand) && !t.plants(): // marks are for a container that fills up
		t.refuse("container.overflow", noteOf("land_no_filling"))
	case t.tolerance == 0:
		t.refuseWith("tolerance", noteOf("overflow_never_ends", salinity(t.rules.atOnce/2)), noteOf("drip_never_ends"), toleranceTo(roundedUp(t.rules.atOnce/2)))
	}
	if len(t.faults) > 0 {
		return Plan{}, nil
	}
	rate, err := t.rateLimit()
	if err != nil {
		return Plan{}, err
	}
	legs, err := t.markLegs(rate)
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	return t.markPlan(legs, rate)
}

// markLegs goes from mark to mark until the tolerance is reached.
func (t *task) markLegs(rate rateLimit) ([]markLeg, error) {
	rho, err := t.densities()
	if err != nil {
		return nil, err
	}
	after := func(gap, from, to float64) float64 { // by mass, which hardly differs from the level
		left := gap
		for range 4 {
			left = gap * from * rho(gap/t.gap) / (to * rho(left/t.gap))
		}
		return left
	}
	var legs []markLeg
	at, level, gap := 0.0, 1.0, t.gap
	for pours := 0; gap > t.tolerance*(1+inside); {
		l := markLeg{from: level, to: halfway, gap: gap, start: at}
		switch level {
		case full:
			if pours++; pours > mostPours {
				t.refuseWith("tolerance", noteOf("marks_out_of_reach", salinity(gap*(1+edge)), mostPours), noteOf("marks_never_reach", salinity(gap*(1+edge)), mostPours), toleranceTo(roundedUp(gap*(1+edge))))
				return nil, nil
			}
			l.from, l.pour = 1, true
		case halfway:
			l.to = full
		}
		for to := l.from + tenth; to < l.to; to += tenth { // the first mark that will do ends the drip
			if after(gap, l.from, to) <= t.tolerance {
				l.to = math.Round(to/tenth) * tenth
			}
		}
		l.left = after(gap, l.from, l.to)
		l.hours = t.markHours(rate, l)
		legs = append(legs, l)
		at, level, gap = at+l.hours, l.to, l.left
	}
	return legs, nil
}

// markHours is the least time of a leg: the flow is constant, so the salinity changes
// with the square of the gap, fastest at the start or just past a break of the limit.
func (t *task) markHours(rate rateLimit, l markLeg) float64 {
	least := 0.0
	for _, c := range rate.checks(l.gap, l.left) {
		least = max(least, (l.to-l.from)/l.from/l.gap*c.gap*c.gap/rate.at(c.just))
	}
	least = math.Ceil(least*(1+spare)/markTime) * markTime
	if t.visits != nil {
		least = t.visits.due(l.start, l.start+least) - l.start
	}
	return least
}

// markPlan writes a drip by marks as a plan. It is long because it fills in every field of the plan.
func (t *task) markPlan(legs []markLeg, rate rateLimit) (Plan, error) {
	last := legs[len(legs)-1]
	end, rest := last.start+last.hours, t.rest(last.left)
	held := rest
	if t.visits != nil {
		held = t.visits.due(end, end+rest) - end
	}
	least := rate.hours(t.gap, t.tolerance)
	p := Plan{
		Duration: hours(end), ExactDuration: hours(end), LeastDuration: hours(least), BoundRatio: new(end / least),
		Settings: len(legs), Checkpoints: []Checkpoint{}, Curve: []CurvePoint{}, Limits: t.markLimits(legs, rate),
		Release: Release{Time: hours(end + held), Gap: salinity(last.left), Rest: hours(rest)},
		Methods: []string{FillMethod, LimitMethod},
	}
	poured := 0.0
	for i, l := range legs {
		if l.pour {
			p.PourOffs++
			p.Phases = append(p.Phases, Phase{Kind: PourOff, Start: hours(l.start), Duration: hours(0), FromPart: part(full), ToPart: part(1),
				FromSalinity: t.practicalAt(l.gap), ToSalinity: t.practicalAt(l.gap), Instruction: noteOf("marks_pour_off")})
		}
		code := quantity.Code("marks_fill")
		if i == 0 {
			code = "marks_fill_first"
		}
		p.Phases = append(p.Phases, Phase{Kind: Fill, Start: hours(l.start), Duration: hours(l.hours), SetValve: true, FromPart: part(l.from), ToPart: part(l.to),
			FromSalinity: t.practicalAt(l.gap), ToSalinity: t.practicalAt(l.left), Instruction: noteOf(code, l.to, hours(l.hours))})
		poured += l.to - l.from
		if err := t.lookAtMark(&p, l); err != nil {
			return p, err
		}
	}
	left := t.practicalAt(last.left)
	p.Phases = append(p.Phases,
		Phase{Kind: Rest, Start: hours(end), Duration: hours(held), FromSalinity: left, ToSalinity: left, Instruction: noteOf("rest_before_release", hours(held))},
		Phase{Kind: Free, Start: hours(end + held), Duration: hours(0), FromSalinity: left, ToSalinity: practical(t.to.sa), Instruction: noteOf("release", salinity(last.left), practical(t.to.sa))})
	looks, err := t.checkpoints(nil, t.visits, end+held)
	p.Checkpoints = append(p.Checkpoints, looks...)
	p.NewWaterParts = part(math.Ceil(poured/tenth) * tenth)
	t.warn(noteOf("marks_by_jug", jugs))
	t.warn(noteOf("marks_new_water", float64(p.NewWaterParts.Value)))
	t.caution(noteOf("marks_pace"))
	worst := slices.MaxFunc(legs, func(a, b markLeg) int { return cmp.Compare(a.gap-a.left, b.gap-b.left) })
	if step := worst.gap - worst.left; step <= t.rules.atOnce {
		t.caution(noteOf("marks_jug", salinity(step)))
	}
	t.assume(noteOf("volume_not_known"))
	return p, err
}

// markLimits says how close a drip by marks comes to the limits on salinity.
func (t *task) markLimits(legs []markLeg, rate rateLimit) []Limit {
	var c closest
	for _, l := range legs {
		for _, at := range rate.checks(l.gap, l.left) {
			c.see(rate.at(at.just), (l.to-l.from)/l.from/l.gap*at.gap*at.gap/l.hours)
		}
	}
	return append(t.stepLimits(legs[len(legs)-1].left),
		atMost("per_hour", quantity.SalinityRate(c.limit), quantity.SalinityRate(c.extreme), true, standing(t.request.Limits.PerHour, quantity.Proposed)))
}

// lookAtMark adds what the keeper's instrument should read at the end of a leg.
func (t *task) lookAtMark(p *Plan, l markLeg) error {
	water, err := t.at(l.left)
	if err != nil {
		return err
	}
	own, err := t.shown(water)
	c := Checkpoint{Time: hours(l.start + l.hours), PracticalSalinity: practical(water.sa), Temperature: celsius(water.t), Reading: own}
	c.Why = noteOf("look_at_mark", c.shows())
	p.Checkpoints = append(p.Checkpoints, c)
	return err
}

func (t *task) practicalAt(gap float64) quantity.Estimate[quantity.Salinity] {
	return practical(t.salinityAt(gap))
}

func part(of float64) *quantity.Estimate[quantity.Fraction] {
	return new(quantity.Exactly(quantity.Fraction(math.Round(of*10) / 10)))
}
