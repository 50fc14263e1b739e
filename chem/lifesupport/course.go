package lifesupport

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// MassBalanceMethod is the key in Methods of the container's oxygen, ammonia and heat over time.
const MassBalanceMethod = "container-mass-balance"

// State is what is in a water.
type State struct {
	Oxygen      quantity.DissolvedOxygen
	Ammonia     quantity.AmmoniaNitrogen // total
	Temperature quantity.Celsius
}

// Stretch is a time in which nobody touches the container. If it starts with less volume
// than the one before ended with, water was poured off, which changes no concentration.
type Stretch struct {
	Time             quantity.Duration
	Volume           quantity.Volume // at its start
	Inflow, Overflow quantity.Flow   // 0 if nothing drips
	Water            State           // of the inflow
	SalinityAtStart  quantity.AbsoluteSalinity
	SalinityAtEnd    quantity.AbsoluteSalinity
}

// Point is the container at one time, at the likely use of the animals.
type Point struct {
	Time        quantity.Duration
	Volume      quantity.Volume
	Temperature quantity.Celsius
	Oxygen      quantity.DissolvedOxygen // 0 once used up
	Ammonia     quantity.AmmoniaNitrogen // total
	Unionized   quantity.AmmoniaNitrogen // NH3 as nitrogen, at the highest pH
	trace       trace
}

// Course is the container from the start of the first stretch to the end of the last.
// Each stretch has a point at its start and one at its end, so two points share a time.
// The same is true of the time when the animals calm down.
type Course struct {
	Points           []Point
	LeastOxygen      Spread[quantity.DissolvedOxygen]
	GreatestAmmonia  Spread[quantity.AmmoniaNitrogen] // NH3 as nitrogen
	Warming, Cooling quantity.TemperatureRate         // the fastest of each, 0 or more
	// WithoutAir is how soon oxygen falls to GaspingOxygen if air stone and drip stop at the
	// worst moment; 24 h means that long or longer.
	WithoutAir Spread[quantity.Duration]
	Methods    []string
	load       load
}

// LowOxygen is where oxygen becomes short for most animals; customary, from memory.
const LowOxygen quantity.DissolvedOxygen = 5

// GaspingOxygen is where fish of warm water gasp: the least for a day that EPA's criteria of 1986
// allow grown ones, from memory.
const GaspingOxygen quantity.DissolvedOxygen = 3

// longestWatch caps WithoutAir, h.
const longestWatch = 24

// Ranges of the inputs; as wide as the formulas, or wider than any container needs.
var (
	waterOxygen   = quantity.Range[quantity.DissolvedOxygen]{Lo: 0, Hi: 60} // above 40 under pure oxygen
	waterAmmonia  = quantity.Range[quantity.AmmoniaNitrogen]{Lo: 0, Hi: 500}
	waterSalinity = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 40}
	stretchTime   = quantity.Range[quantity.Duration]{Lo: 0, Hi: 1000}
	waterVolume   = quantity.Range[quantity.Volume]{Lo: 0.01, Hi: 1e5}
	waterFlow     = quantity.Range[quantity.Flow]{Lo: 0, Hi: 1e5}
)

// ErrNoStretch says that a course has no stretch.
var ErrNoStretch = errors.New("a course needs a stretch of time")

// Support returns what happens to the water that animals are held in.
//
//	animals    in the container; there may be none
//	start      the water in it; if the temperature is held at another value, it
//	           changes at once, which this function does not judge
//	stretches  what happens, in order
//	care       how it is kept
//
// Uncertainty: that of the animals, as the Spreads show; the exchange with air and room is
// an estimate from memory, good to a factor of two.
// Check value: 5 g at 25 °C in 1 L for 1 h once calm use 1.6 mg/L of oxygen and
// add 0.08 mg/L N, from [ClarkeJohnston1999] and [BrettZala1975].
//
// Source: conservation of oxygen, ammonia nitrogen and heat in stirred water, solved
// exactly over steps in which use, exchange and temperature have their mean values.
// Temperatures mix by volume, within 0.1 °C of mixing by enthalpy.
// Not implemented: bacteria and the loss of ammonia to the air, because within hours they
// only lower the ammonia; carbon dioxide, because it only lowers the pH below the one
// given; evaporation, which cools a container without a lid faster. The air is at one
// standard atmosphere.
func Support(animals []Animals, start State, stretches []Stretch, care Care) (Course, error) {
	return support(animals, start, stretches, care, usualStep)
}

// usualStep is the longest step of the integration, h. Halving it changes no answer by
// as much as a thousandth.
const usualStep = 0.25

func support(animals []Animals, start State, stretches []Stretch, care Care, step float64) (Course, error) {
	l, noLoad := newLoad(animals)
	if err := errors.Join(noLoad, start.check("from"), check(stretches), care.check()); err != nil {
		return Course{}, err
	}
	stretches = calmed(stretches)
	m := newModel(start, stretches, care, step)
	for _, s := range stretches {
		if err := m.run(s); err != nil {
			return Course{}, err
		}
	}
	m.course.load = l
	m.course.summarize()
	m.course.Methods = []string{OxygenUseMethod, AmmoniaOutputMethod, MassBalanceMethod, AirExchangeMethod, seawater.AmmoniaMethod, seawater.OxygenSaturationMethod}
	if care.Held == nil {
		m.course.Methods = append(m.course.Methods, HeatExchangeMethod)
	}
	return m.course, nil
}

// summarize fills in what depends on the load.
func (c *Course) summarize() {
	c.LeastOxygen = spread[quantity.DissolvedOxygen](c.load, func(load float64) float64 {
		return c.extreme(math.Min, func(p *Point) float64 { return p.oxygen(load) })
	})
	c.GreatestAmmonia = spread[quantity.AmmoniaNitrogen](c.load, func(load float64) float64 {
		return c.extreme(math.Max, func(p *Point) float64 { return p.unionized(load) })
	})
	c.WithoutAir = spread[quantity.Duration](c.load, func(load float64) float64 {
		return c.extreme(math.Min, func(p *Point) float64 { return p.withoutAir(load) })
	})
	for i := range c.Points {
		p := &c.Points[i]
		p.Oxygen = quantity.DissolvedOxygen(p.oxygen(c.load.likely))
		p.Ammonia = quantity.AmmoniaNitrogen(p.ammonia(c.load.likely))
		p.Unionized = quantity.AmmoniaNitrogen(p.unionized(c.load.likely))
	}
}

// extreme is the least or the greatest of a value along the course.
func (c *Course) extreme(worse func(a, b float64) float64, of func(*Point) float64) float64 {
	x := of(&c.Points[0])
	for i := range c.Points {
		x = worse(x, of(&c.Points[i]))
	}
	return x
}

func (s State) check(where string) error {
	return errors.Join(
		waterOxygen.Check(where+".oxygen", s.Oxygen),
		waterAmmonia.Check(where+".tan", s.Ammonia),
		waterTemperature.Check(where+".temperature", s.Temperature),
	)
}

// pouredIn is the part by which a volume may seem to grow between two stretches, because
// the volumes of fresh and sea water do not quite add up.
const pouredIn = 0.01

func check(stretches []Stretch) error {
	if len(stretches) == 0 {
		return ErrNoStretch
	}
	var faults []error
	before := waterVolume.Hi
	for _, s := range stretches {
		faults = append(faults,
			stretchTime.Check("time", s.Time), waterVolume.Check("volume", s.Volume), waterVolume.Check("volume", s.End()),
			waterFlow.Check("inflow", s.Inflow), waterFlow.Check("overflow", s.Overflow),
			waterSalinity.Check("salinity", s.SalinityAtStart), waterSalinity.Check("salinity", s.SalinityAtEnd), s.Water.check("to"))
		if most := before * (1 + pouredIn); s.Volume > most {
			faults = append(faults, &quantity.RangeError{Name: "volume", Value: float64(s.Volume), Lo: 0, Hi: float64(most), Unit: "L"})
		}
		before = s.End()
	}
	return errors.Join(faults...)
}

// litresPerHour turns a flow into L/h.
func litresPerHour(q quantity.Flow) float64 { return float64(q) * 60 / 1000 }

// End returns the volume when the stretch ends.
func (s Stretch) End() quantity.Volume {
	return s.Volume + quantity.Volume(litresPerHour(s.Inflow-s.Overflow)*float64(s.Time))
}
