package ramp

import "math"

// pure is the salinity of dry salt, g/kg.
const pure = 1000

// Grain is the step of a kitchen scale at a mass, in kg: 1 g below 1 kg and 10 g above,
// because scales for larger masses show 5 or 10 g.
func Grain(mass float64) float64 {
	if mass < 1 {
		return 0.001
	}
	return 0.01
}

// tank is the water before a change, after the evaporation since it was last filled up:
// its mass in kg, and its salt in kg·g/kg.
type tank struct {
	p          *Problem
	mass, salt float64
	volume     float64 // L
}

// before returns the tank of a salinity after a day's evaporation.
func (p *Problem) before(salinity float64) tank {
	full := p.Volume * p.Density(salinity)
	k := tank{p: p, mass: full - p.Evaporation*p.Density(0), salt: full * salinity}
	k.volume = k.mass / p.Density(k.salt/k.mass)
	return k
}

// filled returns the salinity of the tank after a share is taken out, dose kg of salt are
// added, and source water fills it to the mark.
func (k tank) filled(out, dose float64) float64 {
	rest, salt, s := k.mass*(1-out), k.salt*(1-out), k.salt/k.mass
	for range 8 { // the density hardly depends on the salinity, so this converges to the last bits
		full := k.p.Volume * k.p.Density(s)
		s = (salt + pure*dose + k.p.Source*(full-rest-dose)) / full
	}
	return s
}

// dose is the salt, in kg, that brings the tank to a salinity when a share is taken out.
func (k tank) dose(out, to float64) float64 {
	full := k.p.Volume * k.p.Density(to)
	fresh := full - k.mass*(1-out)
	return (full*to - k.salt*(1-out) - k.p.Source*fresh) / (pure - k.p.Source)
}

// with is the share to take out to reach a salinity with new water of salinity new. It is
// negative if what evaporated already leaves too much room for such water.
func (k tank) with(new, to float64) float64 {
	full := k.p.Volume * k.p.Density(to)
	return 1 - full*(new-to)/(new*k.mass-k.salt)
}

// furthest is the salinity that the largest share of new water gives.
func (k tank) furthest(new float64) float64 {
	return k.changed(min(1, k.p.Share*k.p.Volume/k.volume), new)
}

// changed is the salinity after a share is replaced with new water.
func (k tank) changed(out, new float64) float64 {
	rest, salt, s := k.mass*(1-out), k.salt*(1-out), k.salt/k.mass
	for range 8 {
		full := k.p.Volume * k.p.Density(s)
		s = (salt + new*(full-rest)) / full
	}
	return s
}

// Change is one water change.
type Change struct {
	Day      int
	Step     int     // of the filter it belongs to, from 0
	Before   float64 // salinity when it was last filled up, g/kg
	After    float64
	TakeOut  float64 // L
	Source   float64 // L, of source water that is put in
	Salt     float64 // kg, dry, dissolved in it
	PutIn    float64 // L, of the new water that this makes
	NewWater float64 // its salinity
}

// change brings the tank from one salinity to another, or a little less far if a scale
// cannot show the dose.
func (p *Problem) change(from, to float64) Change {
	k := p.before(from)
	most := p.Share * p.Volume / k.volume
	if out := k.with(p.Source, to); to < from || out >= 0 && out <= most {
		return k.carried(from, to, out, 0)
	}
	out := max(0, k.with(p.Saltiest, to))
	exact := k.dose(out, to)
	grain := Grain(exact)
	slope := (k.salt - p.Source*k.mass) / (pure - p.Source) // kg of salt for each share
	dose := math.Ceil(exact/grain-1e-9) * grain
	if slope < 0 { // more of a source that is saltier than the tank saves salt
		dose = math.Floor(exact/grain+1e-9) * grain
	}
	more := (dose - exact) / slope
	if out > 0 && slope != 0 && more <= 0.01 && out+more <= most { // a mere top-off takes nothing out to save a gram
		return k.carried(from, to, out+max(0, more), dose)
	}
	dose = math.Floor(exact/grain+1e-9) * grain
	return k.carried(from, k.filled(out, dose), out, dose)
}

// carried writes down a change.
func (k tank) carried(from, to, out, dose float64) Change {
	fresh := k.p.Volume*k.p.Density(to) - k.mass*(1-out)
	c := Change{Before: from, After: to, TakeOut: out * k.volume, Salt: dose, NewWater: k.p.Source}
	c.Source = (fresh - dose) / k.p.Density(k.p.Source)
	if fresh > 0 {
		c.NewWater = (pure*dose + k.p.Source*(fresh-dose)) / fresh
	}
	c.PutIn = fresh / k.p.Density(c.NewWater)
	return c
}
