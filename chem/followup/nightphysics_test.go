package followup_test

import (
	"math"
	"math/rand"
)

// night is a container during one night, by a physics of its own: nothing here comes
// from the planner or from what follows it. Water is mixed in steps of 20 s; a gram of
// salt per kilogram adds 0.76 g to a litre (common practice, no source; what the
// estimate uses is IAPWS-08).
type night struct {
	rng           *rand.Rand
	clock         float64 // h
	mass, salt    float64 // kg, g
	in, brim      float64 // g/kg, L
	drop          float64 // L, real
	drops         float64 // drops/s that the valve was set to; 0 closed
	fault         float64 // what the valve lets through of that since it slipped or clogged
	drift, target float64 // logarithm of what the drip drifts by
	biasSG        float64 // of the hydrometer

	faultAt, faultBy float64 // h and share; faultAt +Inf where there is none
	pourAt, pourBy   float64 // h and L, of a pour-off that nobody logs
	faulted          bool    // while the valve was open
	spilled          bool
}

const (
	fresh  = 0.9971
	perSal = 0.00076
	tick   = 20. / 3600
)

func (n *night) salinity() float64 { return n.salt / n.mass }
func (n *night) density() float64  { return fresh + perSal*n.salinity() }
func (n *night) volume() float64   { return n.mass / n.density() }

// flow is what the valve lets in now, kg/h.
func (n *night) flow() float64 {
	return n.drops * 3600 * n.drop * (fresh + perSal*n.in) * n.fault * math.Exp(n.drift)
}

// rate is how fast the salinity changes now, g/kg/h.
func (n *night) rate() float64 { return n.flow() * math.Abs(n.in-n.salinity()) / n.mass }

// until lets the night go on to a time. The drip drifts by up to 30 % over hours.
func (n *night) until(clock float64) {
	for n.clock < clock {
		h := min(tick, clock-n.clock)
		if n.rng.Float64() < h/2 { // every two hours or so it tends elsewhere
			n.target = 0.3 * (2*n.rng.Float64() - 1)
		}
		n.drift += (n.target - n.drift) * h
		if n.clock >= n.faultAt {
			n.faulted = n.drops > 0
			n.fault, n.faultAt = n.faultBy, math.Inf(1)
		}
		if n.clock >= n.pourAt {
			n.pour(n.volume() - n.pourBy)
			n.pourAt = math.Inf(1)
		}
		kg := n.flow() * h
		n.mass += kg
		n.salt += kg * n.in
		if v := n.volume(); v > n.brim {
			n.spilled = true
			n.pour(n.brim)
		}
		n.clock += h
	}
}

// pour pours off down to so many litres.
func (n *night) pour(to float64) {
	if share := max(to, 1) / n.volume(); share < 1 {
		n.mass, n.salt = n.mass*share, n.salt*share
	}
}

// set sets the valve by counting drops, which hands do to 3 %. It undoes a slip or clog.
func (n *night) set(drops float64) {
	n.drops, n.fault = drops*(1+0.03*n.rng.NormFloat64()), 1
	n.drift *= 0.3
}

// catch sets the valve by what comes in a minute, mL, whatever the size of the drops.
func (n *night) catch(perMinute float64) { n.set(perMinute / 60000 / n.drop) }

// hydrometer is what the hydrometer shows, in steps of 0.0005, marked for 25 °C.
func (n *night) hydrometer() float64 {
	sg := n.density()/fresh + n.biasSG
	return math.Round(sg/0.0005) * 0.0005
}

// count is how many drops fall in ten seconds, as somebody counts them.
func (n *night) count() int {
	real := n.drops * n.fault * math.Exp(n.drift)
	return int(math.Round(10 * real * (1 + 0.03*n.rng.NormFloat64())))
}

// marks is the volume as it is read, to 0.2 L.
func (n *night) marks() float64 { return math.Round(n.volume()/0.2) * 0.2 }
