package followup

import "math"

// The places in a state.
const (
	mass     = iota // kg of water in the container
	missing         // g of salt that it lacks compared with the new water; dripping does not change it
	inflow          // kg/h through the open valve
	dropSize        // of a real drop, as a ratio to the assumed one
	bias            // g/kg by which the instrument shows too much
	leak            // kg/h that is lost
	states
)

// vesselModel is the physics of a container into which water drips, in plain numbers.
type vesselModel struct {
	in           float64 // g/kg, of the water that drips in
	begins       float64 // g/kg, of the container at the start
	rate         float64 // g/kg/h, at which it may change then
	fresh, swell float64 // density of the water, kg/L: fresh + swell · g/kg
	perDrop      float64 // kg/h for each drop/s of the size assumed
	brim         float64 // L at which it runs over; +Inf if it does not
}

func (m *vesselModel) density(sa float64) float64 { return m.fresh + m.swell*sa }

// salt is the salinity of a state, g/kg.
func (m *vesselModel) salt(x vector) float64 { return m.in - x[missing]/x[mass] }

// saltSlope is the slope of the salinity by the state.
func (m *vesselModel) saltSlope(x vector) vector {
	return vector{mass: x[missing] / x[mass] / x[mass], missing: -1 / x[mass]}
}

// lacking is how much salt an amount of water of a salinity lacks.
func (m *vesselModel) lacking(kg, sa float64) float64 { return (m.in - sa) * kg }

// Relative standard deviations: how a drip wanders in an hour, how well drops are counted when
// the valve is set, and how well water is poured off to a mark.
const (
	wander  = 0.1
	setting = 0.05
	pouring = 0.02
	seep    = 0.003 // of water and salt in an hour, by what no model has: evaporation, what splashes
)

// after returns the state after the valve was open for a number of hours.
func (m *vesselModel) after(x vector, h float64) vector {
	kg, keep := kept(x[mass], x[inflow], x[leak], h, m.full(x))
	x[mass] = kg
	x[missing] *= keep
	return x
}

// full is the mass at which the water in the container runs over.
func (m *vesselModel) full(x vector) float64 { return m.brim * m.density(m.salt(x)) }

// kept is how much water there is after q kg/h came in and l leaked away for h hours, and which
// share of the missing salt is still missing. What leaks or runs over is the container's own
// water, and nothing else changes it.
func kept(mass, q, l, h, full float64) (after, keep float64) {
	dry := func(to, h float64) float64 { // the share that does not leak away
		if net := q - l; math.Abs(net*h) > 1e-9*mass {
			return math.Pow(to/mass, -l/net)
		}
		return math.Exp(-l * h / mass)
	}
	after = max(leastMass, mass+(q-l)*h)
	if after <= full {
		return after, dry(after, h)
	}
	until := max(0, (full-mass)/max(q-l, 1e-12))
	if mass < full {
		keep = dry(full, until)
	} else {
		keep = full / mass
	}
	return full, keep * math.Exp(-q*(h-until)/full)
}

// leastMass keeps a container from becoming empty, kg.
const leastMass = 0.05

// gauss is a state and its covariance.
type gauss struct {
	x vector
	p matrix
}

// drip leaves the valve open for a number of hours. The covariance follows, and grows because
// a drip wanders.
func (g *gauss) drip(m *vesselModel, h float64) {
	if h <= 0 {
		return
	}
	byMass, byMissing := m.slopes(g.x, h)
	// The flow also wanders during this time: half of it is added before, half after.
	w := wander * wander * g.x[inflow] * g.x[inflow] * h / 2
	g.p[inflow][inflow] += w
	g.x = m.after(g.x, h)
	g.p.follow(byMass, byMissing)
	g.p[inflow][inflow] += w
	g.widen(vector{mass: seep * g.x[mass] * math.Sqrt(h)})
	g.widen(vector{missing: seep * g.x[missing] * math.Sqrt(h)})
}

// slopes are the slopes of mass and missing salt after a drip, by the state before.
func (m *vesselModel) slopes(x vector, h float64) (byMass, byMissing vector) {
	full := m.full(x)
	after, keep := kept(x[mass], x[inflow], x[leak], h, full)
	byMissing = vector{missing: keep}
	if after < full {
		byMass = vector{mass: 1, inflow: h, leak: -h}
	}
	if x[leak] == 0 && after < full {
		mean := x[mass]
		if x[inflow]*h > 1e-6*mean { // the logarithmic mean of the mass
			mean = (after - mean) / math.Log(after/mean)
		}
		byMissing[leak] = -x[missing] * h / mean
		return byMass, byMissing
	}
	for _, i := range []int{mass, inflow, leak} {
		step := 1e-4 * max(1, x[i])
		up, down := x, x
		up[i] += step
		down[i] = max(0, down[i]-step)
		_, a := kept(up[mass], up[inflow], up[leak], h, full)
		_, b := kept(down[mass], down[inflow], down[leak], h, full)
		byMissing[i] = x[missing] * (a - b) / (up[i] - down[i])
	}
	return byMass, byMissing
}

// pour pours off down to a volume, if there is more.
func (g *gauss) pour(m *vesselModel, to float64) {
	kg := to * m.density(m.salt(g.x))
	if kg >= g.x[mass] {
		return
	}
	share := kg / g.x[mass]
	byMissing := vector{mass: -share * g.x[missing] / g.x[mass], missing: share}
	g.x[mass] = kg
	g.x[missing] *= share
	g.p.follow(vector{}, byMissing)
	g.widen(vector{mass: pouring * kg, missing: pouring * g.x[missing]})
}

// set sets the valve to a number of drops per second, whatever their real size is.
func (g *gauss) set(m *vesselModel, drops float64) {
	k := drops * m.perDrop
	g.x[inflow] = k * g.x[dropSize]
	for j := range states {
		g.p[inflow][j] = k * g.p[dropSize][j]
		g.p[j][inflow] = g.p[inflow][j]
	}
	g.p[inflow][inflow] = k*k*g.p[dropSize][dropSize] + setting*setting*g.x[inflow]*g.x[inflow]
}

// widen increases the variance along a direction.
func (g *gauss) widen(along vector) {
	for i := range states {
		for j := range states {
			g.p[i][j] += along[i] * along[j]
		}
	}
}

// number is one thing read: what the state shows there, its slope, and the noise.
type number struct {
	shown float64
	slope vector
}

// salinityOf is what the instrument shows.
func (m *vesselModel) salinityOf(x vector) number {
	slope := m.saltSlope(x)
	slope[bias] = 1
	return number{m.salt(x) + x[bias], slope}
}

// volumeOf is the volume.
func (m *vesselModel) volumeOf(x vector) number {
	rho, slope := m.density(m.salt(x)), m.saltSlope(x)
	v := x[mass] / rho
	by := -v * m.swell / rho
	return number{v, vector{mass: 1/rho + by*slope[mass], missing: by * slope[missing]}}
}

// dropsOf is the number of drops per second.
func (m *vesselModel) dropsOf(x vector) number {
	d := max(0.05, x[dropSize])
	n := x[inflow] / m.perDrop / d
	return number{n, vector{inflow: 1 / m.perDrop / d, dropSize: -n / d}}
}

// variance is the variance of a number from the state alone.
func (g *gauss) variance(slope vector) float64 {
	sum := 0.0
	for i := range states {
		if slope[i] == 0 {
			continue
		}
		for j := range states {
			sum += slope[i] * g.p[i][j] * slope[j]
		}
	}
	return max(0, sum)
}

// read updates the state with a number that was read, and returns the logarithm of its
// likelihood. A nonlinear number is linearised again at the point to which the reading leads.
func (g *gauss) read(m *vesselModel, shows func(vector) number, read, u float64) float64 {
	prior := g.x
	var gain vector
	var spread, likelihood float64
	for try := range 3 {
		n := shows(g.x)
		gain, spread = vector{}, u*u
		expected := n.shown
		for i := range states {
			for j := range states {
				gain[i] += g.p[i][j] * n.slope[j]
			}
			expected += n.slope[i] * (prior[i] - g.x[i])
		}
		for i := range states {
			spread += n.slope[i] * gain[i]
		}
		if off := read - expected; try == 0 {
			likelihood = -off*off/spread/2 - math.Log(math.Sqrt(2*math.Pi*spread))
		}
		for i := range states {
			g.x[i] = prior[i] + gain[i]/spread*(read-expected)
		}
		g.bound(m)
	}
	for i := range states {
		for j := range states {
			g.p[i][j] -= gain[i] * gain[j] / spread
		}
	}
	return likelihood
}

// bound limits a state to what is possible, because a linear filter may overshoot.
func (g *gauss) bound(m *vesselModel) {
	g.x[mass] = max(leastMass, g.x[mass])
	g.x[inflow] = max(0, g.x[inflow])
	g.x[dropSize] = max(0.05, g.x[dropSize])
	g.x[leak] = max(0, g.x[leak])
	g.x[missing] = min(m.lacking(g.x[mass], 0), g.x[missing]) // no water is fresher than fresh water
}

// saltU is the standard uncertainty of the salinity, g/kg.
func (g *gauss) saltU(m *vesselModel) float64 { return math.Sqrt(g.variance(m.saltSlope(g.x))) }
