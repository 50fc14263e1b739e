package instrument

import (
	"errors"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// measurement is a reading with all that its joint function needs: what it
// was taken with, its temperature, and what is uncertain about it.
type measurement struct {
	sensor      sensor
	setup       Setup // after defaults
	stated      bool  // whether the reading came with its uncertainty
	reading     quantity.Reading
	temperature quantity.Estimate[quantity.Celsius]
	inputs      []quantity.Input
	waters      map[[5]float64]found // of the inputs seen, as every measure asks for the same

	given    map[string]bool // the measures that are in range
	warnings []quantity.Note
	methods  []string
}

type found struct {
	water water
	err   error
}

// measure makes the measurement of a reading, or names every fault of it.
func measure(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], set Setup) (*measurement, error) {
	set = set.withDefaults(r)
	of, err := set.sensor(r)
	switch {
	case t == nil:
		err = errors.Join(err, missingTemperature(r))
	case err != nil:
		err = errors.Join(err, operating.Check("temperature", t.Value), sensible("temperature", *t))
	default:
		err = errors.Join(of.check(r.Value, t.Value), sensible("temperature", *t))
	}
	if err != nil {
		return nil, err
	}
	return take(r, *t, set, of), nil
}

// sensible refuses a temperature that tells nothing of the water.
func sensible(name string, t quantity.Estimate[quantity.Celsius]) error {
	if t.U >= 0 && t.U <= operating.Hi-operating.Lo {
		return nil
	}
	return uncertainty(name, float64(t.U), float64(operating.Hi-operating.Lo), t.Value.Unit())
}

// uncertainty is the fault of an input whose uncertainty is past its greatest.
func uncertainty(name string, u, greatest float64, unit string) error {
	return &quantity.RangeError{Name: name, Value: u, Hi: greatest, Unit: unit + " of uncertainty"}
}

// take makes the measurement of a reading that need not be in range.
func take(r quantity.Reading, t quantity.Estimate[quantity.Celsius], set Setup, of sensor) *measurement {
	m := &measurement{
		sensor: of, setup: set, stated: r.U > 0, reading: r, temperature: t, methods: of.methods,
		waters: map[[5]float64]found{}, given: map[string]bool{},
	}
	if !m.stated && of.division != nil {
		m.reading.U = of.division(r.Value) / 2
	}
	m.inputs = []quantity.Input{
		{Name: "reading", Value: r.Value, U: m.reading.U},
		{Name: "temperature", Value: float64(t.Value), U: float64(t.U)},
		{Name: "formula", U: of.fit(r.Value, t.Value)},
		{Name: "composition", U: compositionFit},
	}
	if set.Correction != nil {
		m.inputs = append(m.inputs, quantity.Input{Name: "correction", U: set.Correction.U})
	}
	return m
}

// water is the joint function of the inputs.
func (m *measurement) water(x []float64) (water, error) {
	var key [5]float64
	copy(key[:], x)
	f, ok := m.waters[key]
	if !ok {
		f.water, f.err = m.sensor.water(m.moved(x[0], key[4]), quantity.Celsius(x[1]), x[2], x[3])
		m.waters[key] = f
	}
	return f.water, f.err
}

// moved returns the reading that, corrected as it is, makes up for a correction that is off by this.
func (m *measurement) moved(x, off float64) float64 {
	if c := m.setup.Correction; c != nil {
		return c.undo(c.apply(x, c.Value+off), c.Value)
	}
	return x
}

// inWater returns a measure of the water, nil with a warning where the water is
// out of the formula's range.
func inWater[Q quantity.Quantity](m *measurement, name, method string, fit Q, f func(water) (Q, error)) *quantity.Estimate[Q] {
	e, _, err := quantity.Propagate[Q](func(x []float64) (float64, error) {
		w, err := m.water(x)
		if err != nil {
			return 0, err
		}
		q, err := f(w)
		return float64(q), err
	}, float64(fit), m.inputs...)
	if err != nil {
		m.warnings = append(m.warnings, outOfRange(name, err))
		return nil
	}
	m.given[name] = true
	if method != "" {
		m.methods = append(m.methods, method)
	}
	return &e
}

// outOfRange says which measure is missing, and why.
func outOfRange(measure string, err error) quantity.Note {
	limit, ok := errors.AsType[*quantity.RangeError](err)
	if !ok {
		return note("measure_unresolved", measure)
	}
	of := func(v float64) quantity.Measure { return quantity.Measure{Value: v, Unit: limit.Unit} }
	return note("measure_out_of_range", measure, limit.Name, of(limit.Value), of(limit.Lo), of(limit.Hi))
}

// gravities returns the specific gravity on every convention in use and on the request's own.
func (m *measurement) gravities() []ConventionGravity {
	all := []ConventionGravity{}
	own := m.setup.Calibration
	for _, c := range conventions {
		if own != nil && c == *own {
			own = nil
		}
		all = m.gravity(all, c)
	}
	if own != nil {
		all = m.gravity(all, *own)
	}
	return all
}

func (m *measurement) gravity(to []ConventionGravity, c quantity.Convention) []ConventionGravity {
	sg := inWater(m, "specific_gravity", seawater.SpecificGravityMethod, seawater.SpecificGravityFit,
		func(w water) (quantity.SpecificGravity, error) { return seawater.SpecificGravity(w.sa, c) })
	if sg == nil {
		return to
	}
	return append(to, ConventionGravity{c, *sg})
}

// absolute returns the absolute salinity, and the input that brings most of its variance.
func (m *measurement) absolute() (quantity.Estimate[quantity.AbsoluteSalinity], *quantity.Share, error) {
	sa, shares, err := quantity.Propagate[quantity.AbsoluteSalinity](func(x []float64) (float64, error) {
		w, err := m.water(x)
		return float64(w.sa), err
	}, 0, m.inputs...)
	if err != nil { // the water itself is in range: its uncertainty is not
		err = uncertainty("reading", m.reading.U, m.reading.Value, string(m.reading.Scale))
	}
	return sa, largest(shares), err
}

// largest returns the largest share, nil where there is none.
func largest(shares []quantity.Share) *quantity.Share {
	var most quantity.Share
	for _, s := range shares {
		if s.Share > most.Share {
			most = s
		}
	}
	if most.Share == 0 {
		return nil
	}
	return &most
}
