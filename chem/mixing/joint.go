package mixing

import (
	"math"

	"saltlock/chem/instrument"
	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// standIn is the temperature of waters for which none is given.
const standIn quantity.Celsius = 25

// composition is the share by which the mass of salt in a unit of practical
// salinity may differ from the Reference Composition.
const composition = float64(seawater.AbsoluteSalinityFit) / quantity.ReferenceSalt

// joint collects the raw inputs of an answer. Each quantity of the answer is one function of
// all of them, so that an input used several times counts once.
type joint struct {
	inputs  []quantity.Input
	origins []origin  // of the inputs, in the same order
	nominal []float64 // their values as given, likewise; nobody writes to it
	usual   struct {  // place for them, so that most answers need no other memory
		inputs  [usualInputs]quantity.Input
		origins [usualInputs]origin
		nominal [usualInputs]float64
	}
}

// origin is where an input came from: its name in the contract, and its unit.
type origin struct{ name, unit string }

// of adds an input and returns how to read it off the arguments of the joint function.
func (j *joint) of(in quantity.Input, from origin) func(x []float64) float64 {
	i := len(j.inputs)
	if j.inputs == nil {
		j.inputs, j.origins, j.nominal = j.usual.inputs[:0], j.usual.origins[:0], j.usual.nominal[:0]
	}
	j.inputs, j.origins, j.nominal = append(j.inputs, in), append(j.origins, from), append(j.nominal, in.Value)
	if i < usualInputs {
		return places[i]
	}
	return func(x []float64) float64 { return x[i] }
}

// places read the usual inputs.
var places = func() (of [usualInputs]func(x []float64) float64) {
	for i := range of {
		of[i] = func(x []float64) float64 { return x[i] }
	}
	return of
}()

// usualInputs is the number of inputs of most answers.
const usualInputs = 8

// input adds an estimate.
func input[Q quantity.Quantity](j *joint, name string, e quantity.Estimate[Q]) func(x []float64) float64 {
	return labelled(j, name, name, &e)
}

// optional adds an input that may have been omitted; it then counts as zero.
func optional[Q quantity.Quantity](j *joint, name string, e *quantity.Estimate[Q]) func([]float64) float64 {
	return labelled(j, name, name, e)
}

// labelled is optional for one of several inputs of the same name.
func labelled[Q quantity.Quantity](j *joint, name, label string, e *quantity.Estimate[Q]) func([]float64) float64 {
	if e == nil {
		return func([]float64) float64 { return 0 }
	}
	return j.of(quantity.Input{Name: label, Value: float64(e.Value), U: float64(e.U)}, origin{name, e.Value.Unit()})
}

// reading adds a salinity reading and the uncertainty of its formula, and returns its
// absolute salinity at t. The label distinguishes it from others of the same name.
func (j *joint) reading(name, label string, r quantity.Reading, t func(x []float64) float64) func(x []float64) (float64, error) {
	at := quantity.Celsius(t(j.nominal))
	value := j.of(quantity.Input{Name: label, Value: r.Value, U: r.U}, origin{name, string(r.Scale)})
	fit, err := instrument.FormulaUncertainty(r, at, instrument.Setup{})
	if err != nil {
		fit = 0 // the reading itself is refused, under its name
	}
	off := noOffset
	if fit != 0 { // an exact formula is no input
		off = j.of(quantity.Input{Name: label + " formula", U: float64(fit)}, origin{name, "g/kg"})
	}
	last := meant{}
	return func(x []float64) (float64, error) {
		r.Value, at = value(x), quantity.Celsius(t(x))
		if !last.known || last.value != r.Value || last.at != at {
			sa, err := instrument.AbsoluteSalinity(r, &at, instrument.Setup{})
			last = meant{value: r.Value, at: at, sa: float64(sa), err: instrument.Named(name, err), known: true}
		}
		return last.sa + off(x), last.err
	}
}

// meant is the salinity that a reading means at a temperature. It is kept, since most inputs that
// are moved change neither.
type meant struct {
	value float64
	at    quantity.Celsius
	sa    float64
	err   error
	known bool
}

// noOffset is the error of a formula that is exact.
func noOffset([]float64) float64 { return 0 }

// density returns kg/L at a salinity in g/kg and a temperature.
func density(sa, t float64) (float64, error) {
	rho, err := seawater.Density(quantity.AbsoluteSalinity(sa), quantity.Celsius(t))
	return float64(rho) / 1000, err
}

// settle finds the fixed point of a function that changes slowly. Volumes in mixing depend
// on the mix only through its density, so a few rounds leave nothing but the rounding error
// of numbers as large as scale, of which the value may be a small difference.
func settle(start, scale float64, next func(float64) (float64, error)) (float64, error) {
	for range 60 {
		y, err := next(start)
		if err != nil {
			return 0, err
		}
		if math.Abs(y-start) <= 1e-14*scale {
			return y, nil
		}
		start = y
	}
	return start, numeric.ErrNoConvergence
}

var (
	volumes      = quantity.Range[quantity.Volume]{Lo: 1e-3, Hi: 1e9}
	temperatures = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
	contents     = quantity.Range[quantity.Fraction]{Lo: 0, Hi: 0.6}
)

// check checks an input that may have been omitted.
func check[Q quantity.Quantity](r quantity.Range[Q], name string, e *quantity.Estimate[Q]) error {
	if e == nil {
		return nil
	}
	return r.Check(name, e.Value)
}

// known checks that a reading has a meaning at t, so that all faults of a request can be
// named at once. A temperature that is itself refused does not count against the reading.
func known(name string, r *quantity.Reading, t *quantity.Estimate[quantity.Celsius]) error {
	if r == nil {
		return nil
	}
	at := standIn
	if t != nil && temperatures.Check("temperature", t.Value) == nil {
		at = t.Value
	}
	_, err := instrument.AbsoluteSalinity(*r, &at, instrument.Setup{})
	return instrument.Named(name, err)
}

// usualConvention adds a note if specific gravities were assumed to be 25C/25C because
// nothing else was stated.
func usualConvention(readings ...*quantity.Reading) []quantity.Note {
	for _, r := range readings {
		if r != nil && r.Scale == quantity.SpecificGravityScale && r.Convention == nil {
			return []quantity.Note{note("convention_assumed", quantity.Convention{Sample: standIn, Water: standIn})}
		}
	}
	return nil
}

// assumed adds notes on what a mix assumed because its request did not state it: 25 °C, and
// the convention of its specific gravities.
func assumed(t *quantity.Estimate[quantity.Celsius], readings ...*quantity.Reading) []quantity.Note {
	notes := []quantity.Note{}
	if t == nil {
		notes = append(notes, note("temperature_assumed", quantity.Exactly(standIn)))
	}
	return append(notes, usualConvention(readings...)...)
}

func note(code quantity.Code, params ...any) quantity.Note {
	return quantity.Note{Code: code, Params: params}
}

// notes returns pointers to the notes of several lists.
func notes(lists ...[]quantity.Note) []*quantity.Note {
	count := 0
	for _, list := range lists {
		count += len(list)
	}
	all := make([]*quantity.Note, 0, count)
	for _, list := range lists {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	return all
}
