package followup

import "math"

// The places in a state.
const (
	mass     = iota // kg of water in the container
	salt            // g/kg in it
	inflow          // kg/h that the valve lets in while it is open
	dropSize        // of a real drop, as a ratio to the one assumed
	bias            // g/kg that the instrument shows too much
	leak            // kg/h that is lost
	states
)

type (
	vector [states]float64
	matrix [states][states]float64
)

// vesselModel is the physics of a container that water drips into, on plain numbers.
type vesselModel struct {
	in           float64 // g/kg, of the water that drips in
	fresh, swell float64 // density of the water, kg/L: fresh + swell · g/kg
	perDrop      float64 // kg/h for each drop/s of the size assumed
	brim         float64 // L at which it runs over; +Inf where it does not
}

func (m *vesselModel) density(sa float64) float64 { return m.fresh + m.swell*sa }

// How a drip wanders: its standard deviation after an hour, as a share of the flow, how
// well drops are counted when the valve is set, and how well water is poured off to a mark.
const (
	wander  = 0.1
	setting = 0.05
	pouring = 0.02
)

// after returns the state after the valve was open for so many hours. Only the water
// that drips in changes the salinity: what leaks or runs over is of the container's own.
func (m *vesselModel) after(x vector, h float64) vector {
	q, l := max(0, x[inflow]), x[leak]
	before := x[mass]
	x[mass] = max(0.05, before+(q-l)*h)
	keep := math.Exp(-q * h / before) // where as much leaves as comes
	if net := q - l; math.Abs(net*h) > 1e-9*before {
		keep = math.Pow(before/x[mass], q/net)
	}
	if full := m.brim * m.density(x[salt]); x[mass] > full {
		until := max(0, (full-before)/max(q-l, 1e-12))
		keep = before / max(before, full) * math.Exp(-q*(h-until)/full)
		x[mass] = full
	}
	x[salt] = m.in + (x[salt]-m.in)*keep
	return x
}

// gauss is a state and its covariance.
type gauss struct {
	x vector
	p matrix
}

// drip lets the valve be open for so many hours. The covariance follows by central
// differences, and grows by how a drip wanders.
func (g *gauss) drip(m *vesselModel, h float64) {
	if h <= 0 {
		return
	}
	var f matrix
	for j := range states {
		step := 1e-4 * max(1, math.Abs(g.x[j]))
		up, down := g.x, g.x
		up[j] += step
		down[j] -= step
		a, b := m.after(up, h), m.after(down, h)
		for i := range states {
			f[i][j] = (a[i] - b[i]) / (2 * step)
		}
	}
	// The flow wanders within the time too: half of it before, half after.
	w := wander * wander * g.x[inflow] * g.x[inflow] * h / 2
	g.p[inflow][inflow] += w
	g.x = m.after(g.x, h)
	g.p = f.times(g.p).times(f.transposed())
	g.p[inflow][inflow] += w
}

func (a matrix) times(b matrix) (c matrix) {
	for i := range states {
		for k := range states {
			if a[i][k] == 0 {
				continue
			}
			for j := range states {
				c[i][j] += a[i][k] * b[k][j]
			}
		}
	}
	return c
}

func (a matrix) transposed() (t matrix) {
	for i := range states {
		for j := range states {
			t[j][i] = a[i][j]
		}
	}
	return t
}

// pour pours off down to so many litres, where there are more.
func (g *gauss) pour(m *vesselModel, to float64) {
	kg := to * m.density(g.x[salt])
	if kg >= g.x[mass] {
		return
	}
	g.x[mass] = kg
	for j := range states {
		g.p[mass][j], g.p[j][mass] = 0, 0
	}
	g.p[mass][mass] = pouring * pouring * kg * kg
}

// set sets the valve to so many drops a second, of whatever size they really are.
func (g *gauss) set(m *vesselModel, drops float64) {
	k := drops * m.perDrop
	g.x[inflow] = k * g.x[dropSize]
	for j := range states {
		g.p[inflow][j] = k * g.p[dropSize][j]
		g.p[j][inflow] = g.p[inflow][j]
	}
	g.p[inflow][inflow] = k*k*g.p[dropSize][dropSize] + setting*setting*g.x[inflow]*g.x[inflow]
}

// widen adds to the variance along a direction.
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
func salinityOf(x vector) number {
	return number{x[salt] + x[bias], vector{salt: 1, bias: 1}}
}

// volumeOf is how many litres there are.
func (m *vesselModel) volumeOf(x vector) number {
	rho := m.density(x[salt])
	return number{x[mass] / rho, vector{mass: 1 / rho, salt: -x[mass] * m.swell / rho / rho}}
}

// dropsOf is how many drops fall in a second.
func (m *vesselModel) dropsOf(x vector) number {
	d := max(0.05, x[dropSize])
	n := x[inflow] / m.perDrop / d
	return number{n, vector{inflow: 1 / m.perDrop / d, dropSize: -n / d}}
}

// variance is that of a number by the state alone.
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

// read takes a number that was read into account, and returns the logarithm of its
// likelihood. What is not linear is linearised again where the reading leads.
func (g *gauss) read(shows func(vector) number, read, u float64) float64 {
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
		g.bound()
	}
	for i := range states {
		for j := range states {
			g.p[i][j] -= gain[i] * gain[j] / spread
		}
	}
	return likelihood
}

// bound keeps a state to what can be: a linear filter may overshoot.
func (g *gauss) bound() {
	g.x[mass] = max(0.05, g.x[mass])
	g.x[inflow] = max(0, g.x[inflow])
	g.x[dropSize] = max(0.05, g.x[dropSize])
	g.x[leak] = max(0, g.x[leak])
	g.x[salt] = max(0, g.x[salt])
}
