package instrument

import (
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// answers are the measures of a water with their uncertainties, by the rule of
// quantity.Propagate. The rule is applied to all measures at once, with one water for each
// input moved up and one for each moved down.
type answers struct {
	value, variance vector
	in              Measures       // what is in range wherever the inputs may be
	faults          map[slot]error // of what is wanted and not in range; nil if there is none
	shares          [5]float64     // of each input in the variance of the absolute salinity
}

// answer measures the water of a measurement that is in range.
func (m *measurement) answer(a *answers, wanted Measures) water {
	b := bench{wanted: wanted | 1<<absoluteSalinity, own: m.ownGravity(), at25: seawater.AtTemperature(standIn)}
	if len(b.own) == 0 {
		b.wanted &^= 1 << ownGravity
	}
	w, _ := m.water(m.values())
	a.in = b.measure(w, &a.value)
	for s := range slots {
		if b.wanted.has(s) && !a.in.has(s) {
			a.fail(s, fault(s, w))
		}
	}
	a.fits(w)
	for i := range m.inputs() {
		if m.places[i].U != 0 {
			a.add(m, &b, i)
		}
	}
	if variance := a.variance[absoluteSalinity]; variance > 0 {
		for i := range a.shares {
			a.shares[i] /= variance
		}
	}
	return w
}

func (a *answers) fail(s slot, err error) {
	if a.faults == nil {
		a.faults = map[slot]error{}
	}
	a.faults[s], a.in = err, a.in&^(1<<s)
}

// add adds the variance from one input, as quantity.Propagate does: half the difference
// between one standard uncertainty up and down. At the edge of a formula's range it uses the
// difference to one side, and beyond that a smaller step. It is long because these are three
// cases of one rule.
func (a *answers) add(m *measurement, b *bench, i int) {
	var up, down vector
	u := m.places[i].U
	left := a.in
	if !(u > 0) {
		a.fail(absoluteSalinity, nil)
		return
	}
	part := 1.0
	for ; part > 1e-3 && left != 0; part /= 2 {
		upIn, downIn := m.moved(b, i, u*part, &up), m.moved(b, i, -u*part, &down)
		for s := range slots {
			if !left.has(s) || !(upIn | downIn).has(s) {
				continue
			}
			change := (up[s] - down[s]) / 2
			if !downIn.has(s) {
				change = up[s] - a.value[s]
			} else if !upIn.has(s) {
				change = a.value[s] - down[s]
			}
			change /= part
			a.variance[s] += change * change
			if s == absoluteSalinity {
				a.shares[i] = change * change
			}
		}
		left &^= upIn | downIn
	}
	for s := range slots {
		if left.has(s) {
			x := m.values()
			x[i] += u * part * 2
			w, err := m.water(x)
			if err == nil {
				err = fault(s, w)
			}
			a.fail(s, err)
		}
	}
}

// moved measures the water of the measurement with one input moved.
func (m *measurement) moved(b *bench, i int, by float64, v *vector) Measures {
	x := m.values()
	x[i] += by
	w, err := m.water(x)
	if err != nil {
		return 0
	}
	return b.measure(w, v)
}

// fits starts the variances with those of the formulas themselves.
func (a *answers) fits(w water) {
	fit := func(s slot, u float64) { a.variance[s] = u * u }
	fit(saltPerLitre, float64(seawater.SaltPerLitreFit))
	fit(density, float64(seawater.DensityFit))
	for s := firstGravity; s <= ownGravity; s++ {
		fit(s, float64(seawater.SpecificGravityFit))
	}
	fit(conductivity, float64(seawater.ConductivityFit))
	fit(conductivity25, float64(seawater.ConductivityFit))
	fit(refractiveIndex, float64(refractiveIndexFit(w.t)))
	fit(osmolality, float64(osmolalityFit(w.sa)))
	fit(freezingPoint, float64(seawater.FreezingPointFit))
	fit(oxygenSaturation, float64(seawater.OxygenSaturationFit))
}

// estimate writes a measure to its place; nil if it is not in range.
func estimate[Q quantity.Quantity](a *answers, s slot, to *quantity.Estimate[Q]) *quantity.Estimate[Q] {
	if !a.in.has(s) {
		return nil
	}
	*to = quantity.Of[Q](a.value[s], math.Sqrt(a.variance[s]))
	return to
}
