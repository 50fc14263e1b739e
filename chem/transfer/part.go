package transfer

import (
	"context"
	"slices"

	"saltlock/chem/quantity"
)

// part is a stretch of the move as a task of its own, between two waters, from an hour of the plan
// on, after some change in the 24 hours before it.
func (t *task) part(from, to Water, at, recent float64) (*task, error) {
	r := t.request
	r.From, r.To, r.RecentChange = from, to, new(salinity(recent))
	if r.HomeTank, r.HomeMates, r.HoldingTanks = nil, nil, nil; *r.Route != ByCups {
		r.Route = new(Auto)
	}
	r.Visits = nil
	leg, err := newTask(r)
	if err != nil {
		return nil, err
	}
	leg.partial, leg.budget, leg.trying = true, t.budget, t.trying
	if t.visits != nil {
		leg.visits = t.visits.shifted(at)
	}
	return leg, nil
}

// walk plans a leg: in one step or by a drip. Its faults and notes become those of the whole.
func (t *task) walk(ctx context.Context, leg *task) (Plan, error) {
	route, reason := leg.route()
	if route == Drip && leg.unmeasured() {
		route = ByMarks
	}
	p, err := leg.carry(ctx, route)
	p.Route, p.Reason = route, reason
	t.last = leg.gap
	t.adopt(leg)
	return p, err
}

// adopt takes over what a leg found. One warning or assumption of a kind is enough: legs differ
// only in numbers, and their phases give those.
func (t *task) adopt(leg *task) {
	t.faults = append(t.faults, leg.faults...)
	for _, n := range leg.cautions {
		t.worst(n)
	}
	t.warnings, t.assumptions = oneOfAKind(t.warnings, leg.warnings), oneOfAKind(t.assumptions, leg.assumptions)
}

// worse is which number makes a caution worse, and whether by growing or by falling, for cautions
// that differ from leg to leg only in numbers.
var worse = map[quantity.Code]struct {
	param int
	sign  float64
}{"stuck_valve_empties_jug": {1, 1}, "stuck_valve_passes_a_step": {2, 1}, "stuck_valve_stays_within_a_step": {1, 1}, "stuck_valve_floods": {0, 1},
	"stuck_valve_floods_after": {0, -1}, "without_air": {0, -1}}

// worst keeps a caution, and of two that differ only in numbers the worse one.
func (t *task) worst(n quantity.Note) {
	which, ok := worse[n.Code]
	i := slices.IndexFunc(t.cautions, func(o quantity.Note) bool { return o.Code == n.Code })
	if !ok || i < 0 {
		t.caution(n)
		return
	}
	number := func(n quantity.Note) float64 {
		return which.sign * n.Params[which.param].(interface{ Measure() quantity.Measure }).Measure().Value
	}
	if number(n) > number(t.cautions[i]) {
		t.cautions[i] = n
	}
}

func oneOfAKind(told, more []quantity.Note) []quantity.Note {
	before := len(told)
	for _, n := range more {
		if !slices.ContainsFunc(told[:before], func(other quantity.Note) bool { return other.Code == n.Code }) {
			told = quantity.AppendNote(told, n)
		}
	}
	return told
}

// between is a water made on the way, at this part of the way from one water to the other, in
// salinity and temperature alike.
func (t *task) between(part float64) Water {
	return Water{Salinity: quantity.Reading{Value: t.from.sa + part*(t.to.sa-t.from.sa), Scale: quantity.AbsoluteScale},
		Temperature: celsius(t.from.t + part*(t.to.t-t.from.t))}
}

// later moves a plan to a later start, in h.
func (p *Plan) later(h float64) {
	by := quantity.Duration(h)
	for i := range p.Phases {
		p.Phases[i].Start.Value += by
	}
	for i := range p.Checkpoints {
		p.Checkpoints[i].Time.Value += by
	}
	for i := range p.Curve {
		p.Curve[i].Time.Value += by
	}
	if p.Draw != nil {
		for i := range p.Draw.Intakes {
			p.Draw.Intakes[i].Time.Value += by
		}
		for i := range p.Draw.Drifts {
			p.Draw.Drifts[i].Time.Value += by
		}
		for i := range p.Draw.Charges {
			p.Draw.Charges[i].Time.Value += by
		}
	}
	if p.SetAside != nil {
		p.SetAside.Until.Value += by
	}
	p.Release.Time.Value += by
}

// join appends what a leg adds.
func (p *Plan) join(leg Plan) {
	p.Phases, p.Checkpoints, p.Curve = append(p.Phases, leg.Phases...), append(p.Checkpoints, leg.Checkpoints...), append(p.Curve, leg.Curve...)
	p.Settings, p.PourOffs = p.Settings+leg.Settings, p.PourOffs+leg.PourOffs
	if p.Draw != nil && leg.Draw != nil { // each stage needs its own charges
		leg.Draw.Charges = append(p.Draw.Charges, leg.Draw.Charges...)
	}
	p.Release, p.SetAside = leg.Release, leg.SetAside
	if leg.Draw != nil {
		p.Draw = leg.Draw
	}
	if p.LifeSupport == nil || leg.LifeSupport != nil && leg.LifeSupport.MostAnimals.Value < p.LifeSupport.MostAnimals.Value {
		p.LifeSupport = leg.LifeSupport
	}
	p.limit(leg.Limits...)
	if leg.Search == Bounded {
		p.Search = Bounded
	}
	p.cite(leg.Methods...)
}

// limit adds limits. If one is there already, the one kept more narrowly stays.
func (p *Plan) limit(limits ...Limit) {
	for _, l := range limits {
		i := slices.IndexFunc(p.Limits, func(o Limit) bool { return o.Name == l.Name })
		switch {
		case i < 0:
			p.Limits = append(p.Limits, l)
		case l.Margin.Value*p.Limits[i].Limit.Value < p.Limits[i].Margin.Value*l.Limit.Value:
			p.Limits[i] = l
		}
	}
}

// cite adds the keys of methods.
func (p *Plan) cite(methods ...string) {
	for _, m := range methods {
		if !slices.Contains(p.Methods, m) {
			p.Methods = append(p.Methods, m)
		}
	}
}

// hold appends a phase in which the animals stay where they are.
func (p *Plan) hold(from, lasting float64, in quantity.Estimate[quantity.Salinity], instruction quantity.Note) {
	p.Phases = append(p.Phases, Phase{Kind: Hold, Start: hours(from), Duration: hours(lasting), FromSalinity: in, ToSalinity: in, Instruction: instruction})
}
