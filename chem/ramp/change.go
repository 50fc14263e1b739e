package ramp

// pure is the salinity of dry salt, g/kg.
const pure = 1000

// Gram is the salt that counts for nothing in a tank, kg: a ramp that is nearer has arrived.
const Gram = 0.001

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
	for range 8 { // the density hardly depends on the salinity, so this converges to the last bits
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
	// Stock is the part of the new water, in L, that has the salinity of all salted changes of the
	// ramp, and Plain the rest, source water that replaces what evaporated.
	Stock, Plain float64
}

// change brings the tank from one salinity to another, with source water alone if that does,
// otherwise with new water that is as salty as allowed.
func (p *Problem) change(from, to float64) Change {
	k := p.before(from)
	if out := k.with(p.Source, to); to < from || out >= 0 && out <= p.Share*p.Volume/k.volume {
		return k.carried(from, to, out, 0)
	}
	out := max(0, k.with(p.Saltiest, to)) // a mere top-off takes nothing out, and mixes in source water
	return k.carried(from, to, out, k.dose(out, to))
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
	if dose > 0 {
		stock := dose * (pure - k.p.Source) / (k.p.Saltiest - k.p.Source) // kg
		c.Stock = stock / k.p.Density(k.p.Saltiest)
		c.Plain = max(0, fresh-stock) / k.p.Density(k.p.Source)
	}
	return c
}
