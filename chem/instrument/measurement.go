package instrument

import (
	"errors"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// measurement is a reading with everything that its joint function needs: the instrument,
// the temperature, and the uncertainties.
type measurement struct {
	sensor      sensor
	setup       Setup // after defaults
	stated      bool  // whether the reading came with its uncertainty
	reading     quantity.Reading
	temperature quantity.Estimate[quantity.Celsius]
	places      [5]quantity.Input // of the inputs
	count       int               // of them; a slice would force the measurement onto the heap
	last        found             // the last result, since only some inputs change what a reading means
}

// found is the salinity that a reading means at a temperature.
type found struct {
	reading, temperature, salinity float64
	err                            error
	known                          bool
}

// measure makes the measurement of a reading, or names every fault of it.
func measure(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], set Setup) (*measurement, error) {
	m := new(measurement)
	return m, m.measure(r, t, set)
}

// measure does the same in place, so that the measurement may stay on the stack.
func (m *measurement) measure(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], set Setup) error {
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
		return err
	}
	m.take(r, *t, set, of)
	return nil
}

// sensible refuses a temperature that has no bearing on the water.
func sensible(name string, t quantity.Estimate[quantity.Celsius]) error {
	if t.U >= 0 && t.U <= operating.Hi-operating.Lo {
		return nil
	}
	return uncertainty(name, float64(t.U), float64(operating.Hi-operating.Lo), t.Value.Unit())
}

// uncertainty returns the fault of an input whose uncertainty is too large.
func uncertainty(name string, u, greatest float64, unit string) error {
	return &quantity.RangeError{Name: name, Value: u, Hi: greatest, Unit: unit + " of uncertainty"}
}

// take makes the measurement of a reading that does not have to be in range.
func (m *measurement) take(r quantity.Reading, t quantity.Estimate[quantity.Celsius], set Setup, of sensor) {
	m.sensor, m.setup, m.stated, m.reading, m.temperature = of, set, r.U > 0, r, t
	if !m.stated && of.division != nil {
		m.reading.U = of.division(r.Value) / 2
	}
	m.places, m.count = [5]quantity.Input{
		{Name: "reading", Value: r.Value, U: m.reading.U},
		{Name: "temperature", Value: float64(t.Value), U: float64(t.U)},
		{Name: "formula", U: of.fit(r.Value, t.Value)},
		{Name: "composition", U: compositionFit},
	}, 4
	if set.Correction != nil {
		m.places[4], m.count = quantity.Input{Name: "correction", U: set.Correction.U}, 5
	}
}

// inputs are what is uncertain.
func (m *measurement) inputs() []quantity.Input { return m.places[:m.count] }

// values are the inputs as given: reading, temperature, and the errors of formula,
// composition and correction.
func (m *measurement) values() (x [5]float64) {
	for i := range m.inputs() {
		x[i] = m.places[i].Value
	}
	return x
}

// water is the joint function of the inputs.
func (m *measurement) water(x [5]float64) (water, error) {
	reading := m.corrected(x[0], x[4])
	if f := &m.last; !f.known || f.reading != reading || f.temperature != x[1] {
		*f = found{reading: reading, temperature: x[1], known: true}
		f.salinity, f.err = m.sensor.salinity(reading, quantity.Celsius(x[1]))
	}
	if m.last.err != nil {
		return water{}, m.last.err
	}
	return m.sensor.waterOf(m.last.salinity+x[2], quantity.Celsius(x[1]), x[3])
}

// joint is water for quantity.Propagate.
func (m *measurement) joint(x []float64) (water, error) {
	var all [5]float64
	copy(all[:], x)
	return m.water(all)
}

// corrected returns the reading that compensates for an error in the correction.
func (m *measurement) corrected(x, off float64) float64 {
	if c := m.setup.Correction; c != nil {
		return c.undo(c.apply(x, c.Value+off), c.Value)
	}
	return x
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

// ownGravity is that of the request's own convention, empty where it is in use anyway.
func (m *measurement) ownGravity() seawater.Gravities {
	own := m.setup.Calibration
	if own == nil || slices.Contains(conventions[:], *own) {
		return nil
	}
	return mustGravities(*own) // sensor has checked it
}

// absolute returns the absolute salinity, and the input that contributes most to its variance.
func (m *measurement) absolute() (quantity.Estimate[quantity.AbsoluteSalinity], *quantity.Share, error) {
	sa, shares, err := quantity.Propagate[quantity.AbsoluteSalinity](func(x []float64) (float64, error) {
		w, err := m.joint(x)
		return float64(w.sa), err
	}, 0, m.inputs()...)
	if err != nil {
		err = m.tooUncertain()
	}
	return sa, largest(shares), err
}

// tooUncertain is the fault of a reading that is in range although its uncertainty is not.
func (m *measurement) tooUncertain() error {
	return uncertainty("reading", m.reading.U, m.reading.Value, string(m.reading.Scale))
}

// largest returns the largest share; nil if there is none.
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
