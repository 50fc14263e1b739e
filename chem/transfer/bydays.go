package transfer

import (
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// mostReplaced is the largest part of the water that one change replaces, by days.
const mostReplaced = 0.5

// byDays reports whether they come back by a change each day.
func (t *task) byDays() bool { return t.rescuedByDays() || t.settlesIn() }

// rescuedByDays reports whether they come back that way out of water that they do not tolerate:
// more than one move, or a drip within the day, can do, whatever the tank.
func (t *task) rescuedByDays() bool {
	if t.returning != comesUp || !t.outside || len(t.request.HomeMates) > 0 || t.gap <= t.rules.atOnce*(1+inside) {
		return false
	}
	drips := t.request.Container != Container{} && *t.request.Route != Ramped
	return !drips || t.gap > t.rules.perDay*(1+inside)
}

// settlesIn reports whether they come up from the water of a shop: at 2 ppt a day without the
// class's hold, in a tub or a quarantine tank, where they go on arrival.
func (t *task) settlesIn() bool {
	r := t.request
	alone := r.From.HoursInBag != nil || r.HomeTank == nil
	return alone && t.returning == comesUp && !t.outside && *r.Route == Auto && !t.withinDay() && t.gap > t.rules.atOnce*(1+inside)
}

// byTimeThere is how the time in a water that is none of theirs decides: animals without a backbone
// have hours where fish have a day. Each kind shows in its own way that it cannot wait.
func (t *task) byTimeThere() quantity.Code {
	all := func(kind func(*tolerance.Taxon) bool) bool {
		return !t.is(func(x *tolerance.Taxon) bool { return !kind(x) })
	}
	switch {
	case !t.surely(invertebrate):
		return "rescue_by_time"
	case all(medusa):
		return "rescue_by_hours_bell"
	case all(ofGroup(tolerance.GroupCnidarian)):
		return "rescue_by_hours_coral"
	}
	return "rescue_by_hours"
}

// changesByDays brings them up by two water changes a day, morning and evening, in shares of the
// water they are in: the whole of a day's change on each day or, where half the water no longer
// brings that much, half the water. A rescue ends where the water begins that they tolerate, the
// way up from a shop's water where one step is left.
func (t *task) changesByDays() (Plan, error) {
	p := Plan{Curve: []CurvePoint{}, Checkpoints: []Checkpoint{}, Limits: []Limit{}, Methods: []string{LimitMethod}}
	end, first := t.tolerance*quantity.GramsPerPractical, 0
	if t.settlesIn() {
		p.Phases, first, end = append(p.Phases, t.intoTub()), 1, max(end, t.rules.atOnce*quantity.GramsPerPractical)
	} else {
		t.warn(noteOf(t.byTimeThere(), celsius(t.from.t), practical(t.half()), hours(restHalfWay)))
		end = max(end, math.Abs(t.to.sa-t.bandEdge()))
	}
	left, day, renewed := t.gap, first, 0.0
	for ; left > end*(1+inside); day++ {
		after := max(left-comingHome, left*(1-mostReplaced)*(1-mostReplaced), 0)
		h, look := t.changeOfDay(day, left, after)
		p.Phases, p.Checkpoints = append(p.Phases, h), append(p.Checkpoints, look)
		renewed += 2 * shareOfDay(left, after)
		left = after
	}
	lasting := hours(24 * float64(day-1))
	p.Duration, p.ExactDuration, p.LeastDuration = lasting, lasting, lasting
	p.Release = Release{Time: lasting, Gap: salinity(left), Rest: hours(0)}
	if left > t.tolerance*quantity.GramsPerPractical {
		t.warn(noteOf("rescue_goes_on", practical(t.salinityAt(left)), practical(t.to.sa)))
	}
	return p, t.sumUp(&p, day, day-first, renewed)
}

// intoTub is the move on arrival, into a tub or quarantine tank with water like that they come in.
func (t *task) intoTub() Phase {
	in, near := practical(t.from.sa), t.nearEdge()
	h := Phase{Kind: Move, Start: hours(0), Duration: hours(0), FromSalinity: in, ToSalinity: in, Instruction: noteOf("move_to_quarantine", in, celsius(near))}
	if t.request.From.HoursInBag == nil {
		return h
	}
	h.Instruction = noteOf("move_from_bag", in, celsius(near))
	if math.Abs(t.warmth-near) >= countedDifference {
		t.warn(t.thenWarmth(near))
	}
	if t.request.HomeTank != nil {
		t.warn(noteOf("bag_no_tank"))
	}
	return h
}

// tank is the water that is changed by days; not ok if nobody says how much it is.
func (t *task) tank() (h HoldingTanks, ok bool) {
	if home := t.request.HomeTank; home != nil && t.request.From.HoursInBag == nil {
		return HoldingTanks{Volume: &home.Volume, Source: home.Source}, true
	}
	h = t.holding()
	return h, h.Volume != nil
}

// shareOfDay is the part of the water that each of two equal changes replaces.
func shareOfDay(before, after float64) float64 { return 1 - math.Sqrt(after/before) }

// changeOfDay is what is changed on a day.
func (t *task) changeOfDay(day int, before, after float64) (Phase, Checkpoint) {
	share := shareOfDay(before, after)
	from, to := practical(t.salinityAt(before)), practical(t.salinityAt(after))
	h := Phase{Kind: WaterChange, Start: hours(24 * float64(day)), Duration: hours(0), FromSalinity: from, ToSalinity: to, NewWater: new(practical(t.to.sa)),
		Instruction: noteOf("rescue_change", day+1, fraction(share), practical(t.to.sa), to)}
	if tank, ok := t.tank(); ok {
		each := litres(share * tank.volume())
		h.TakeOut, h.PutIn = new(litres(2*float64(each.Value))), new(litres(2*float64(each.Value)))
		h.Instruction = noteOf("rescue_change_of_tank", day+1, each, practical(t.to.sa), to)
	}
	return h, Checkpoint{Time: hours(24*float64(day) + restHalfWay), Why: noteOf("look_after_change", to), PracticalSalinity: to, Temperature: celsius(t.from.t)}
}

// sumUp totals the changes, if the water in the tank is known.
func (t *task) sumUp(p *Plan, last, changed int, renewed float64) error {
	tank, ok := t.tank()
	if !ok {
		return nil
	}
	water := renewed * tank.volume()
	salt, _, err := tank.made(water, t.to)
	if err != nil {
		return err
	}
	p.Ramp = &RampTotals{Days: last, Changes: 2 * changed, Water: litres(water), Salt: *salt, Search: SearchComplete}
	p.TotalSalt = salt
	return nil
}
