package bucket

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// model integrates the container on plain numbers: h, L, L/h, mg/L, °C, g/kg.
//
// Use and output are proportional to the load, and the balances are linear. So
// one pass follows the water without animals and, apart, what one kilogram of
// them changes; every load is then their sum.
type model struct {
	care   Care
	step   float64
	air    float64 // exchange with it
	course Course

	time, temperature float64
	free, used        float64 // oxygen without animals, and what a kilogram has taken
	tan, added        float64 // ammonia nitrogen without animals, and what a kilogram has added
}

// trace is what a point needs for the answer of any load.
type trace struct {
	free, used, tan, added float64
	saturation, floor      float64 // of oxygen; the floor is what an air stone holds
	share                  float64 // of ammonia that is un-ionized
	use                    float64 // of one kilogram, mg/h
	air                    float64
}

func newModel(start State, stretches []Stretch, care Care, step float64) *model {
	greatest, points := 0.0, 0
	for _, s := range stretches {
		greatest = max(greatest, float64(s.Volume), float64(s.end()))
		points += steps(s, step) + 1
	}
	m := &model{care: care, step: step, air: care.airExchange(greatest),
		temperature: float64(start.Temperature), free: float64(start.Oxygen), tan: float64(start.Ammonia)}
	if care.Held != nil {
		m.temperature = float64(*care.Held)
	}
	m.course.Points = make([]Point, 0, points)
	return m
}

func steps(s Stretch, step float64) int { return max(1, int(math.Ceil(float64(s.Time)/step))) }

// stretch carries the model through one stretch.
func (m *model) stretch(s Stretch) error {
	n, start := steps(s, m.step), m.time
	fill := filling{volume: float64(s.Volume), inflow: litresPerHour(s.Inflow), growth: litresPerHour(s.Inflow - s.Overflow), time: float64(s.Time),
		from: float64(s.SalinityAtStart), to: float64(s.SalinityEnd)}
	before, err := m.point(s, fill.volume, fill.from)
	if err != nil {
		return err
	}
	for i := range n {
		at, next := float64(i)/float64(n)*fill.time, float64(i+1)/float64(n)*fill.time
		h := flush{fill.turnover(next) - fill.turnover(at)}
		m.warm(s, h, (fill.at(at)+fill.at(next))/2)
		inflow, water := fill.inflow, s.Water
		free, used, tan, added := m.free, m.used, m.tan, m.added
		m.time = start + next
		// The new temperature comes first: what depends on it enters the balances by its mean.
		p, err := m.point(s, fill.at(next), fill.salinity(next))
		if err != nil {
			return err
		}
		use := (restingUse(before) + restingUse(m.temperature)) / 2 * excitement(start+at, start+next)
		_ = p
		_, _, _, _, _ = inflow, water, free, used, tan
		_ = added
		_ = use
		_ = h
		_ = errors.New
		_ = seawater.AmmoniaMethod
		_ = quantity.PH(0)
	}
	return nil
}
