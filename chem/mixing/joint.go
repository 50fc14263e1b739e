package mixing

import (
	"math"
	"slices"

	"saltlock/chem/instrument"
	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// standIn is the temperature of waters whose own is not given.
const standIn quantity.Celsius = 25

// composition is the share by which the mass of salt in a unit of practical
// salinity may differ from the Reference Composition.
const composition = float64(seawater.AbsoluteSalinityFit) / quantity.ReferenceSalt

// joint collects the raw inputs of an answer. Each quantity of the answer is
// one function of all of them, so that an input which several share counts once.
type joint struct {
	inputs  []quantity.Input
	origins []origin // of the inputs, in the same order
}

// origin is where an input came from: its name in the contract, and its unit.
type origin struct{ name, unit string }

// of adds an input and returns how to read it off the arguments of the joint function.
func (j *joint) of(in quantity.Input, from origin) func(x []float64) float64 {
	i := len(j.inputs)
	if j.inputs == nil {
		j.inputs, j.origins = make([]quantity.Input, 0, usualInputs), make([]origin, 0, usualInputs)
	}
	j.inputs, j.origins = append(j.inputs, in), append(j.origins, from)
	return func(x []float64) float64 { return x[i] }
}

// usualInputs is how many there are of most answers.
const usualInputs = 8

// input adds an estimate.
func input[Q quantity.Quantity](j *joint, name string, e quantity.Estimate[Q]) func(x []float64) float64 {
	return labelled(j, name, name, &e)
}

// optional adds an input that may have been left out; it then counts as zero.
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

// reading adds a salinity reading, and what its formula leaves open, and
// returns the absolute salinity it stands for at t. The label tells it from
// others of the same name.
func (j *joint) reading(name, label string, r quantity.Reading, t func(x []float64) float64) func(x []float64) (float64, error) {
	at := quantity.Celsius(t(j.nominal()))
	value := j.of(quantity.Input{Name: label, Value: r.Value, U: r.U}, origin{name, string(r.Scale)})
	fit, err := instrument.FormulaUncertainty(r, at, instrument.Setup{})
	if err != nil {
		fit = 0 // the reading itself is refused, under its name
	}
	off := j.of(quantity.Input{Name: label + " formula", U: float64(fit)}, origin{name, "g/kg"})
	return func(x []float64) (float64, error) {
		r.Value = value(x)
		at := quantity.Celsius(t(x))
		sa, err := instrument.AbsoluteSalinity(r, &at, instrument.Setup{})
		return float64(sa) + off(x), instrument.Named(name, err)
	}
}

// nominal is where the inputs are as given.
func (j *joint) nominal() []float64 {
	x := make([]float64, len(j.inputs))
	for i, in := range j.inputs {
		x[i] = in.Value
	}
	return x
}

// estimates makes estimates of the numbers that a joint function returns in a struct K.
// It is evaluated once for all of them: where the inputs are as given, and with each that
// is uncertain moved up and down.
type estimates[K any] struct {
	joint
	of     func(x []float64) (K, error)
	solved bool
	given  K
	moved  []moved[K]
	fault  error // of the inputs as given, or of one moved
	err    error
}

// moved is the joint function with one input moved by a part of its uncertainty.
type moved[K any] struct {
	input        int
	part         float64
	up, down     K
	noUp, noDown error
}

// at is the joint function where the inputs are as given.
func (e *estimates[K]) at() (K, error) {
	e.solve()
	return e.given, e.fault
}

// solve moves the inputs as quantity.Propagate does.
func (e *estimates[K]) solve() {
	if e.solved {
		return
	}
	e.solved = true
	x := e.nominal()
	if e.given, e.fault = e.of(x); e.fault != nil {
		return
	}
	uncertain := 0
	for _, in := range e.inputs {
		if in.U != 0 {
			uncertain++
		}
	}
	e.moved = make([]moved[K], 0, uncertain)
	for i, in := range e.inputs {
		if in.U == 0 {
			continue
		}
		m := moved[K]{input: i}
		for m.part = 1; m.part > 1e-3; m.part /= 2 {
			x[i] = in.Value + in.U*m.part
			m.up, m.noUp = e.of(x)
			x[i] = in.Value - in.U*m.part
			if m.down, m.noDown = e.of(x); m.noUp == nil || m.noDown == nil {
				break
			}
		}
		x[i] = in.Value
		e.moved = append(e.moved, m)
	}
}

// change is by how much a number changes with an input; false where quantity.Propagate
// must look closer.
func (m *moved[K]) change(pick func(K) float64, y float64) (dy float64, ok bool) {
	up, down := math.NaN(), math.NaN()
	if m.noUp == nil {
		up = pick(m.up)
	}
	if m.noDown == nil {
		down = pick(m.down)
	}
	switch {
	case isFinite(up) && isFinite(down):
		return (up - down) / 2 / m.part, true
	case m.noUp == nil && m.noDown == nil: // a number that is none
		return 0, false
	case isFinite(up):
		return (up - y) / m.part, true
	case isFinite(down):
		return (y - down) / m.part, true
	}
	return 0, false
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// estimate returns one of the numbers with its uncertainty. A fault is kept
// for the end; the estimate is then not to be used.
func estimate[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64) quantity.Estimate[Q] {
	q, _ := share[Q](e, pick)
	return q
}

// share is estimate that also tells which input brings most of the variance.
func share[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64) (quantity.Estimate[Q], *quantity.Share) {
	e.solve()
	y := pick(e.given)
	variance, most, name := 0., 0., ""
	plain := e.fault == nil && isFinite(y)
	for i := range e.moved {
		dy, ok := e.moved[i].change(pick, y)
		plain = plain && ok && e.inputs[e.moved[i].input].U > 0
		if square := dy * dy; square > most {
			most, name = square, e.inputs[e.moved[i].input].Name
		}
		variance += dy * dy
	}
	if !plain {
		return lookCloser[Q](e, pick)
	}
	if most == 0 {
		return quantity.Of[Q](y, 0), nil
	}
	return quantity.Of[Q](y, math.Sqrt(variance)), &quantity.Share{Input: name, Share: quantity.Fraction(most) / quantity.Fraction(variance)}
}

// lookCloser is share by quantity.Propagate itself, where the joint function has edges.
func lookCloser[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64) (quantity.Estimate[Q], *quantity.Share) {
	q, shares, err := propagate[Q](e, pick, e.inputs)
	if err != nil {
		e.err = e.blame(err)
		return q, nil
	}
	var most quantity.Share
	for _, s := range shares {
		if s.Share > most.Share {
			most = s
		}
	}
	if most.Share == 0 {
		return q, nil
	}
	return q, &most
}

func propagate[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64, in []quantity.Input) (quantity.Estimate[Q], []quantity.Share, error) {
	return quantity.Propagate[Q](func(x []float64) (float64, error) {
		k, err := e.of(x)
		if err != nil {
			return 0, err
		}
		return pick(k), nil
	}, 0, in...)
}

// blame tells a failed propagation as a fault of the input whose uncertainty
// reaches past every possible water, for the inputs themselves are in range.
func (e *estimates[K]) blame(err error) error {
	for i, in := range e.inputs {
		only := slices.Clone(e.inputs)
		for other := range only {
			if other != i {
				only[other].U = 0
			}
		}
		_, _, alone := propagate[quantity.Fraction](e, func(K) float64 { return 0 }, only)
		if alone != nil {
			return &quantity.RangeError{Name: e.origins[i].name, Value: in.U, Lo: 0, Hi: math.Abs(in.Value), Unit: e.origins[i].unit}
		}
	}
	return err
}

// salinity returns a salinity in g/kg on both scales.
func salinity[K any](e *estimates[K], pick func(K) float64) Salinity {
	return Salinity{Absolute: estimate[quantity.AbsoluteSalinity](e, pick), Practical: practical(e, pick)}
}

// practical returns the practical salinity of a salinity in g/kg.
func practical[K any](e *estimates[K], pick func(K) float64) quantity.Estimate[quantity.Salinity] {
	return estimate[quantity.Salinity](e, func(k K) float64 { return pick(k) / quantity.GramsPerPractical })
}

// density returns kg/L at a salinity in g/kg and a temperature.
func density(sa, t float64) (float64, error) {
	rho, err := seawater.Density(quantity.AbsoluteSalinity(sa), quantity.Celsius(t))
	return float64(rho) / 1000, err
}

// settle finds the value that a slow function of itself returns. Mixing
// volumes at one temperature depend on the mix only by its density, so a few
// rounds leave nothing but the rounding of numbers as large as scale, of which
// the value may be a small difference.
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

// check checks an input that may have been left out.
func check[Q quantity.Quantity](r quantity.Range[Q], name string, e *quantity.Estimate[Q]) error {
	if e == nil {
		return nil
	}
	return r.Check(name, e.Value)
}

// known checks that a reading stands for a water at t, so that all faults of a
// request can be told at once. A temperature that is itself refused does not
// count against the reading.
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

// usualConvention tells where specific gravities were taken at 25C/25C because
// nothing else was said.
func usualConvention(readings ...*quantity.Reading) []quantity.Note {
	for _, r := range readings {
		if r != nil && r.Scale == quantity.SpecificGravityScale && r.Convention == nil {
			return []quantity.Note{note("convention_assumed", quantity.Convention{Sample: standIn, Water: standIn})}
		}
	}
	return nil
}

// assumed tells what a mix took that its request did not say: 25 °C, and the
// convention of its specific gravities.
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
	var all []*quantity.Note
	for _, list := range lists {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	return all
}
