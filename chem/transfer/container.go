package transfer

import (
	"math"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// vat is the holding container and its line on plain numbers: L, drops/s.
type vat struct {
	capacity, brim, start, least float64
	drop                         float64 // L
	leastDrip, mostDrip          float64
	settings                     int
	kilogramsPerDrop             float64 // of the new water
}

// newVat resolves container and line for a drip, and keeps as faults what
// stands in the way of one.
func (t *task) newVat() (vat, error) {
	c, line := t.request.Container, t.request.Line.withDefaults()
	v := vat{drop: float64(line.DropVolume.Value), leastDrip: float64(line.LeastDrip.Value), mostDrip: float64(line.GreatestDrip.Value), settings: *line.Settings}
	var err error
	if v.capacity, err = capacity(c); err != nil {
		return v, err
	}
	if v.capacity == 0 {
		return v, &instrument.MissingError{Name: "container.capacity", Why: "a drip needs a container; give its capacity or its shape and size"}
	}
	v.brim = v.capacity * (1 - usualFreeboard)
	if c.Freeboard != nil {
		v.brim = v.capacity - float64(c.Freeboard.Value)
	} else {
		t.assumptions = append(t.assumptions, noteOf("freeboard_assumed", litres(v.capacity-v.brim)))
	}
	t.fillVat(&v)
	if c.Aerated == nil || !*c.Aerated {
		t.fault("container.aerated", "no_air_stone")
	}
	if line := t.request.Line; line == nil || line.DropVolume == nil {
		t.assumptions = append(t.assumptions, noteOf("drop_volume_assumed", litres(v.drop)))
	}
	if v.leastDrip > v.mostDrip {
		t.fault("line.least_drip", "least_drip_above_greatest", drops(v.leastDrip), drops(v.mostDrip))
	}
	rho, err := density(t.to.sa, t.to.t)
	v.kilogramsPerDrop = v.drop * rho
	return v, err
}

// fillVat decides from where to where the container is filled.
func (t *task) fillVat(v *vat) {
	c := t.request.Container
	v.start = v.brim * usualStart
	switch {
	case c.StartVolume != nil:
		v.start = float64(c.StartVolume.Value)
	case c.LeastVolume != nil:
		v.start = max(v.start, float64(c.LeastVolume.Value))
		fallthrough
	default:
		t.assumptions = append(t.assumptions, noteOf("start_volume_assumed", litres(v.start)))
	}
	v.least = v.start
	if c.LeastVolume != nil {
		v.least = float64(c.LeastVolume.Value)
	} else {
		t.assumptions = append(t.assumptions, noteOf("least_volume_assumed", litres(v.least)))
	}
	switch {
	case v.brim <= 0:
		t.fault("container.freeboard", "freeboard_takes_all", litres(v.capacity))
	case v.start > v.brim*(1+inside):
		t.fault("container.start_volume", "start_above_brim", litres(v.start), litres(v.brim))
	case v.start < v.least*(1-inside):
		t.fault("container.start_volume", "start_below_least", litres(v.start), litres(v.least))
	}
}

func drops(perSecond float64) quantity.Estimate[quantity.DripRate] {
	return quantity.Exactly(quantity.DripRate(perSecond))
}

// flow is kg/h at a drip, and drip the inverse.
func (v vat) flow(drip float64) float64 { return drip * 3600 * v.kilogramsPerDrop }
func (v vat) drip(flow float64) float64 { return flow / 3600 / v.kilogramsPerDrop }

// countable is the fastest drip up to this one that a person can count: whole
// drops in ten seconds, or under one a second whole drops in a minute.
func (v vat) countable(drip float64) float64 {
	if drip >= 1 {
		return math.Floor(drip*10*(1+inside)) / 10
	}
	return math.Floor(drip*60*(1+inside)) / 60
}

// problem is the drip to be solved.
func (t *task) problem(v vat) (*drip, error) {
	mass, err := density(t.from.sa, t.from.t)
	if err != nil {
		return nil, err
	}
	rho, err := t.densities()
	if err != nil {
		return nil, err
	}
	filled := func(volume float64) func(gap float64) float64 {
		return func(gap float64) float64 { return volume * rho(gap/t.gap) }
	}
	return &drip{gap: t.gap, tolerance: t.tolerance, mass: v.start * mass, speed: t.rules.speed(*t),
		leastMass: filled(v.least * (1 + tabled)), mostMass: filled(v.brim * (1 - tabled)),
		leastFlow: v.flow(max(v.leastDrip, 1./60)), mostFlow: v.flow(v.mostDrip), settings: v.settings}, nil
}

// tabled keeps the volumes on the safe side of what the table of densities is off by.
const tabled = 1e-8

// densities returns the density of the mixed water, kg/L, by the share of the
// gap that is left. The search asks for it very often, so it is read off a
// table that is off by less than 1e-8.
func (t *task) densities() (func(left float64) float64, error) {
	const steps = 128
	rho := make([]float64, steps+2)
	for i := range steps + 1 {
		s, err := t.at(t.gap * float64(i) / steps)
		if err != nil {
			return nil, err
		}
		if rho[i], err = density(s.sa, s.t); err != nil {
			return nil, err
		}
	}
	rho[steps+1] = rho[steps]
	return func(left float64) float64 {
		i, part := math.Modf(left * steps)
		k := min(max(int(i), 0), steps)
		return rho[k] + part*(rho[k+1]-rho[k])
	}, nil
}

// mostPours is the most pour-offs that a plan asks for.
const mostPours = 12

// solve returns the stages as the keeper can set them, and how long the
// optimum takes before rates are rounded to drops that can be counted.
func (t *task) solve(v vat) (stages []stage, exact float64, err error) {
	d, err := t.problem(v)
	if err != nil {
		return nil, 0, err
	}
	ends := d.fewestPours(mostPours)
	acts, exact := []act(nil), math.Inf(1)
	if len(ends) <= mostPours+1 && ends[len(ends)-1] >= math.Log(d.gap/d.tolerance)*(1-inside) {
		acts, exact = d.optimum(ends)
	}
	if math.IsInf(exact, 1) || math.IsNaN(exact) {
		t.explain(v)
		return nil, exact, nil
	}
	if len(ends) > 1 {
		t.warnings = append(t.warnings, noteOf("one_filling_leaves", quantity.Exactly(quantity.Fraction(math.Exp(-ends[0]))), len(ends)-1))
	}
	rounded := *d
	rounded.countable = func(flow float64) float64 { return v.flow(v.countable(v.drip(flow))) }
	better, took := rounded.settle(acts)
	if math.IsInf(took, 1) {
		t.fault("line.least_drip", "drip_not_countable")
		return nil, exact, nil
	}
	rounded.hours(better, func(s stage) { stages = append(stages, s) })
	return joined(stages), exact, nil
}

// joined drops stages that take no time, and hands what the keeper does at
// their start on to the next.
func joined(stages []stage) []stage {
	var kept []stage
	var set, pour bool
	for _, s := range stages {
		s.set, s.pour = s.set || set, s.pour || pour
		set, pour = s.set, s.pour
		if s.from <= s.to*(1+1e-6) {
			continue
		}
		if last := len(kept) - 1; s.set && !s.pour && last >= 0 && math.Abs(kept[last].flow/s.flow-1) < inside {
			kept[last].to = s.to // the same drip again is no setting
		} else {
			kept = append(kept, s)
		}
		set, pour = false, false
	}
	return kept
}

// explain finds the smallest single change that lets a drip reach the tolerance.
func (t *task) explain(v vat) {
	works := func(v vat) bool {
		d, err := t.problem(v)
		if err != nil {
			return false
		}
		ends := d.fewestPours(mostPours)
		if ends[len(ends)-1] < math.Log(d.gap/d.tolerance)*(1-inside) {
			return false
		}
		_, took := d.optimum(ends)
		return !math.IsInf(took, 1) && !math.IsNaN(took)
	}
	found := false
	try := func(where, code string, from, to float64, with func(x float64) vat, tell func(x float64) any) {
		if !works(with(to)) {
			return
		}
		for range 40 { // halve the way between what fails and what works
			if mid := (from + to) / 2; works(with(mid)) {
				to = mid
			} else {
				from = mid
			}
		}
		found = true
		t.fault(where, code, tell(to))
	}
	try("line.least_drip", "needs_slower_drip", v.leastDrip, 1./60,
		func(x float64) vat { w := v; w.leastDrip = x; return w }, func(x float64) any { return drops(x) })
	try("line.drop_volume", "needs_smaller_drop", v.kilogramsPerDrop, v.kilogramsPerDrop/10,
		func(x float64) vat { w := v; w.kilogramsPerDrop = x; return w },
		func(x float64) any { return litres(v.drop * x / v.kilogramsPerDrop) })
	try("container.start_volume", "needs_more_water", v.start, v.brim,
		func(x float64) vat { w := v; w.start = x; return w }, func(x float64) any { return litres(x) })
	try("container.capacity", "needs_larger_container", v.brim, v.brim*100,
		func(x float64) vat { w := v; w.brim = x; return w }, func(x float64) any { return litres(x + v.capacity - v.brim) })
	if !found {
		t.fault("tolerance", "tolerance_out_of_reach")
	}
}
