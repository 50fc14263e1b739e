package transfer

import (
	"errors"
	"math"

	"saltlock/chem/lifesupport"
)

// mostPours is the most pour-offs that a plan asks for; more are no work for two hands.
const mostPours = 12

// solved is a drip as the keeper can set it, and the optimum it was rounded from.
type solved struct {
	drip           *drip
	stages, ideal  []stage
	exact, rounded float64            // hours
	life           lifesupport.Course // zero where nobody counts the animals
}

// solve finds the schedule; nil, with faults, if there is none.
func (t *task) solve(v vat) (*solved, error) {
	if t.runsOver() {
		return t.solveOverflow(v)
	}
	d, err := t.problem(v)
	if err != nil {
		return nil, err
	}
	fills := d.fewestPours(mostPours)
	if !d.drips() || !d.reaches(fills) {
		return nil, t.explain(v, d, fills)
	}
	if len(fills) > 1 {
		t.warn(noteOf("one_filling_leaves", fraction(math.Exp(-fills[0])), len(fills)-1))
	}
	ideal, exact := d.optimum(fills)
	if err := t.ended(); err != nil {
		return nil, err
	}
	if math.IsInf(exact, 1) {
		return nil, t.explainVisits(v)
	}
	byDrops := *d
	byDrops.countable = v.settable
	counted, rounded := byDrops.settle(ideal, coarse, d.finest())
	if err := t.ended(); err != nil {
		return nil, err
	}
	if math.IsInf(rounded, 1) {
		return nil, t.explainVisits(v)
	}
	s := &solved{drip: d, exact: min(exact, rounded), rounded: rounded} // any schedule in drops is one without, too
	d.hours(ideal, func(stage stage) { s.ideal = append(s.ideal, stage) })
	byDrops.hours(counted, func(stage stage) { s.stages = append(s.stages, stage) })
	s.stages = joined(s.stages)
	return s, nil
}

// settable is the fastest flow up to this one that can be counted; the slowest
// that the valve holds can be had without counting.
func (v vat) settable(flow float64) float64 {
	if counted := v.flow(Countable(v.drip(flow)).perSecond()); counted >= v.flow(v.leastDrip) {
		return counted
	}
	return min(flow, v.flow(v.leastDrip))
}

// problem is the drip to be solved.
func (t *task) problem(v vat) (*drip, error) {
	rho, noDensities := t.densities()
	speed, noSpeed := t.speed()
	if err := errors.Join(t.ended(), noDensities, noSpeed); err != nil {
		return nil, err
	}
	filled := func(volume float64) func(gap float64) float64 {
		return func(gap float64) float64 { return volume * rho(gap/t.gap) }
	}
	return &drip{gap: t.gap, tolerance: t.tolerance, mass: v.start * rho(1), speed: speed,
		leastMass: filled(v.least * (1 + tabled)), mostMass: filled(v.brim * (1 - tabled)),
		leastFlow: v.flow(v.leastDrip), mostFlow: v.flow(v.mostDrip), settings: v.settings, visits: v.visits, quick: v.quick, ended: t.ended}, nil
}

// tabled is more than the table of densities is off by, and keeps volumes on the safe side.
const tabled = 1e-6

// densities returns the density of the mixture, kg/L, by the share of the gap
// that is left. The search asks for it very often, so it is read off a table;
// volumes nearly add up, so a short table will do.
func (t *task) densities() (func(left float64) float64, error) {
	const steps = 32
	var volume [steps + 1]float64 // of a kilogram
	for i := range steps + 1 {
		s, err := t.at(t.gap * float64(i) / steps)
		if err != nil {
			return nil, err
		}
		rho, err := density(s)
		if err != nil {
			return nil, err
		}
		volume[i] = 1 / rho
	}
	return func(left float64) float64 { // by the parabola through the three points around it
		i := min(max(int(left*steps+0.5), 1), steps-1)
		x, a, b, c := left*steps-float64(i), volume[i-1], volume[i], volume[i+1]
		return 1 / (b + x*((c-a)+x*(a-2*b+c))/2)
	}, nil
}

// joined drops stages that take no time, handing what the keeper does at their
// start on to the next, and settings that leave the valve as it is.
func joined(stages []stage) []stage {
	var kept []stage
	var set, pour bool
	var wait float64
	for _, s := range stages {
		set, pour = set || s.set, pour || s.pour
		wait += s.wait
		if s.from <= s.to*(1+1e-6) {
			continue
		}
		s.set, s.pour, s.wait = set, pour, wait
		set, pour, wait = false, false, 0
		if last := len(kept) - 1; last >= 0 && s.wait == 0 && math.Abs(kept[last].flow/s.flow-1) < inside {
			if !s.pour {
				kept[last].to = s.to
				continue
			}
			s.set = false
		}
		kept = append(kept, s)
	}
	return kept
}

// drips tells whether the slowest drip is slow enough at the start.
func (d *drip) drips() bool { return d.excess() <= 1+inside }

// excess is how many times too fast the slowest drip is.
func (d *drip) excess() float64 {
	return d.leastFlow * d.speed.need(d.gap, d.tolerance) / (d.gap * d.mass)
}

// reaches tells whether the last of the fills ends at the tolerance.
func (d *drip) reaches(fills []float64) bool {
	return d.gap*math.Exp(-fills[len(fills)-1]) <= d.tolerance*(1+inside)
}

// smallestDrop is that of the finest infusion sets, 60 drops in 1 mL, in L.
const smallestDrop = 1e-3 / 60

// explain says what stands in the way of a drip, and each smallest change that
// alone would free it.
func (t *task) explain(v vat, d *drip, fills []float64) error {
	if excess := d.excess(); excess > 1 {
		t.tooFast(v, excess)
		return nil
	}
	reach := salinity(t.gap * math.Exp(-max(0, fills[len(fills)-1])))
	if t.tolerance == 0 {
		t.refuse("tolerance", noteOf("tolerance_of_zero", reach))
		return nil
	}
	t.refuse("tolerance", noteOf("tolerance_out_of_reach", reach, mostPours))
	brim, err := t.smallest(v.brim, func(brim float64) vat { w := v; w.brim = brim; return w })
	if err == nil {
		t.refuse("container.capacity", noteOf("needs_larger_container", litres(brim+v.capacity-v.brim)))
	}
	return err
}

// tooFast refuses a line whose slowest drip is so many times too fast.
func (t *task) tooFast(v vat, excess float64) {
	t.refuse("line.least_drip", noteOf("needs_slower_drip", drops(v.leastDrip/excess)))
	if drop := v.drop / excess; drop >= smallestDrop {
		t.refuse("line.drop_volume", noteOf("needs_smaller_drop", litres(drop)))
	}
	t.refuse("container.start_volume", noteOf("needs_more_water", litres(v.start*excess))) // in a larger container if need be
}

// smallest finds how large something must at least be for the drip to reach
// the tolerance.
func (t *task) smallest(from float64, with func(float64) vat) (float64, error) {
	works := func(x float64) (bool, error) {
		d, err := t.problem(with(x))
		return err == nil && d.reaches(d.fewestPours(mostPours)), err
	}
	to := from
	for ok := false; !ok; { // one filling of a container large enough does
		var err error
		to *= 2
		if ok, err = works(to); err != nil {
			return 0, err
		}
	}
	for to-from > 1e-6*to {
		mid := (from + to) / 2
		if ok, err := works(mid); err != nil {
			return 0, err
		} else if ok {
			to = mid
		} else {
			from = mid
		}
	}
	return to, nil
}
