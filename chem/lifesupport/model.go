package lifesupport

import (
	"errors"
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// model integrates the container in plain numbers: h, L, L/h, mg/L, °C, g/kg.
//
// Use and output are proportional to the load, and the balances are linear. So a single
// pass follows the water without animals and, separately, what one kilogram of load
// changes. Together they give the answer for any load.
type model struct {
	care   Care
	step   float64
	air    float64 // airExchange
	course Course

	time, temperature float64
	excited           float64 // factor on the use at rest
	dissolved
}

// dissolved is the oxygen without animals and what a kilogram of load has used of it,
// then the ammonia nitrogen without animals and what a kilogram has added.
type dissolved struct{ free, used, tan, added float64 }

// conditions are what follows from temperature and salinity.
type conditions struct {
	saturation float64 // of oxygen
	share      float64 // of ammonia that is un-ionized
	resting    float64 // use of a kilogram of load, mg/h
}

// trace is what a point keeps in order to answer for any load.
type trace struct {
	dissolved
	conditions
	use, air, floor float64 // use of a kilogram, mg/h; airExchange; oxygen that an air stone keeps
}

func newModel(start State, stretches []Stretch, care Care, step float64) *model {
	greatest, points := 0.0, 0
	for _, s := range stretches {
		greatest = max(greatest, float64(s.Volume), float64(s.End()))
		points += steps(s, step) + 1
	}
	m := &model{care: care, step: step, air: airExchange(greatest), temperature: float64(start.Temperature),
		dissolved: dissolved{free: float64(start.Oxygen), tan: float64(start.Ammonia)}}
	if care.Held != nil {
		m.temperature = float64(*care.Held)
	}
	m.course.Points = make([]Point, 0, points)
	return m
}

func steps(s Stretch, longest float64) int { return max(1, int(math.Ceil(float64(s.Time)/longest))) }

// calmed splits the stretch in which the animals calm down, so that the use is constant
// in each.
func calmed(stretches []Stretch) []Stretch {
	start := quantity.Duration(0)
	for i, s := range stretches {
		before := Excitement - start
		if before > 0 && before < s.Time {
			f := newFilling(s)
			rest := s
			s.Time, rest.Time = before, s.Time-before
			rest.Volume = quantity.Volume(f.volumeAt(float64(before)))
			rest.SalinityAtStart = quantity.AbsoluteSalinity(f.salinityAt(float64(before)))
			s.SalinityAtEnd = rest.SalinityAtStart
			return slices.Concat(stretches[:i], []Stretch{s, rest}, stretches[i+1:])
		}
		start += s.Time
	}
	return stretches
}

// run carries the model through a stretch.
func (m *model) run(s Stretch) error {
	f, n, start := newFilling(s), steps(s, m.step), m.time
	if m.excited = 1; start+float64(s.Time)/2 < float64(Excitement) {
		m.excited = Excited
	}
	before, err := m.conditionsAt(f.from)
	if err != nil {
		return err
	}
	m.record(s, f.volume, before)
	for i := range n {
		from, to := float64(i)/float64(n)*f.time, float64(i+1)/float64(n)*f.time
		mix, volume := mixing{f.inflow, f.turnover(from, to)}, f.volumeAt(to)
		m.time = start + to
		m.warm(mix, s, (f.volumeAt(from)+volume)/2)
		after, err := m.conditionsAt(f.salinityAt(to))
		if err != nil {
			return err
		}
		m.mix(mix, s.Water, (before.saturation+after.saturation)/2, m.excited*(before.resting+after.resting)/2)
		m.record(s, volume, after)
		before = after
	}
	return nil
}

// warm carries the temperature through a step.
func (m *model) warm(mix mixing, s Stretch, volume float64) {
	if m.care.Held != nil {
		return
	}
	t := mix.after(m.temperature, float64(s.Water.Temperature), heatExchange(volume), float64(m.care.Room), 0)
	// A mean of temperatures within the range can round to a value outside it.
	m.temperature = min(max(t, float64(waterTemperature.Lo)), float64(waterTemperature.Hi))
}

// mix carries what is dissolved through a step.
func (m *model) mix(mix mixing, water State, saturation, use float64) {
	m.dissolved = m.dissolved.after(mix, dissolved{free: float64(water.Oxygen), tan: float64(water.Ammonia)}, m.air, saturation, use)
}

func (m *model) conditionsAt(salinity float64) (conditions, error) {
	t := quantity.Celsius(m.temperature)
	sp, outside := seawater.Salinity(quantity.AbsoluteSalinity(salinity))
	saturation, noOxygen := seawater.OxygenSaturation(sp, t, 1)
	share, noShare := seawater.UnionizedAmmonia(m.care.PH, sp, t, seawater.NBSScale)
	return conditions{float64(saturation), float64(share), restingUse(m.temperature)}, errors.Join(outside, noOxygen, noShare)
}

// record adds a point for the model's present state.
func (m *model) record(s Stretch, volume float64, c conditions) {
	at := trace{dissolved: m.dissolved, conditions: c, use: m.excited * c.resting, air: m.air}
	if m.care.Aerated {
		at.floor = HeldOxygen * c.saturation
	}
	m.course.Points = append(m.course.Points, Point{Time: quantity.Duration(m.time), Volume: quantity.Volume(volume), Temperature: quantity.Celsius(m.temperature), trace: at})
	if m.care.Held != nil {
		return
	}
	rate := litresPerHour(s.Inflow)*(float64(s.Water.Temperature)-m.temperature) + heatExchange(volume)*(float64(m.care.Room)-m.temperature)
	m.course.Warming = max(m.course.Warming, quantity.TemperatureRate(rate/volume))
	m.course.Cooling = max(m.course.Cooling, quantity.TemperatureRate(-rate/volume))
}

// oxygen is the oxygen under a load. It is never below 0.
func (p *Point) oxygen(load float64) float64 {
	return max(p.trace.floor, p.trace.free-load*p.trace.used)
}

func (p *Point) ammonia(load float64) float64 { return p.trace.tan + load*p.trace.added }

func (p *Point) unionized(load float64) float64 { return p.trace.share * p.ammonia(load) }

// withoutAir is how soon a load, breathing as it does at the point, lowers oxygen to
// GaspingOxygen without drip and air stone. Oxygen then tends towards a balance with what
// enters through the surface.
func (p *Point) withoutAir(load float64) float64 {
	low, now := float64(GaspingOxygen), p.oxygen(load)
	balance := p.trace.saturation - load*p.trace.use/p.trace.air
	switch {
	case now <= low:
		return 0
	case balance >= low:
		return longestWatch
	}
	return min(longestWatch, float64(p.Volume)/p.trace.air*math.Log((now-balance)/(low-balance)))
}
