package mixing

import (
	"errors"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// standIn is the temperature of waters whose own is not given.
const standIn quantity.Celsius = 25

// composition is the share by which the mass of salt in a unit of practical
// salinity may differ from the Reference Composition.
const composition = float64(seawater.AbsoluteSalinityFit) / 35.16504

// joint collects the raw inputs of an answer. Each quantity of the answer is
// one function of all of them, so that an input which several share counts once.
type joint struct{ inputs []quantity.Input }

// of adds an input and returns how to read it off the arguments of the joint function.
func (j *joint) of(name string, value, u float64) func(x []float64) float64 {
	i := len(j.inputs)
	j.inputs = append(j.inputs, quantity.Input{Name: name, Value: value, U: u})
	return func(x []float64) float64 { return x[i] }
}

// input adds an estimate.
func input[Q quantity.Quantity](j *joint, name string, e quantity.Estimate[Q]) func(x []float64) float64 {
	return j.of(name, float64(e.Value), float64(e.U))
}

// reading adds a salinity reading and returns the absolute salinity it stands for at t.
func (j *joint) reading(name string, r quantity.Reading, t func(x []float64) float64) func(x []float64) (float64, error) {
	value := j.of(name, r.Value, r.U)
	return func(x []float64) (float64, error) {
		r.Value = value(x)
		at := quantity.Celsius(t(x))
		sa, err := instrument.AbsoluteSalinity(r, &at, instrument.Setup{})
		return float64(sa), instrument.Named(name, err)
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
type estimates[K any] struct {
	joint
	of  func(x []float64) (K, error)
	err error
}

// estimate returns one of the numbers with its uncertainty. A fault is kept
// for the end; the estimate is then not to be used.
func estimate[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64) quantity.Estimate[Q] {
	q, _ := share[Q](e, pick)
	return q
}

// share is estimate that also tells which input brings most of the variance.
func share[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64) (quantity.Estimate[Q], *quantity.Share) {
	q, shares, err := quantity.Propagate[Q](func(x []float64) (float64, error) {
		k, err := e.of(x)
		return pick(k), err
	}, 0, e.inputs...)
	if err != nil {
		e.err = errors.Join(e.err, err)
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

// salinity returns a salinity in g/kg on both scales.
func salinity[K any](e *estimates[K], pick func(K) float64) Salinity {
	return Salinity{Absolute: estimate[quantity.AbsoluteSalinity](e, pick), Practical: practical(e, pick)}
}

// practical returns the practical salinity of a salinity in g/kg.
func practical[K any](e *estimates[K], pick func(K) float64) quantity.Estimate[quantity.Salinity] {
	return estimate[quantity.Salinity](e, func(k K) float64 { return pick(k) / perPractical })
}

// perPractical is the absolute salinity of one unit of practical salinity [Millero2008].
const perPractical = 35.16504 / 35

// density returns kg/L at a salinity in g/kg and a temperature.
func density(sa, t float64) (float64, error) {
	rho, err := seawater.Density(quantity.AbsoluteSalinity(sa), quantity.Celsius(t))
	return float64(rho) / 1000, err
}

// settle finds the value that a slow function of itself returns. Mixing
// volumes at one temperature depend on the mix only by its density, so a few
// rounds leave nothing.
func settle(start float64, next func(float64) (float64, error)) (float64, error) {
	for range 60 {
		y, err := next(start)
		if err != nil {
			return 0, err
		}
		if y-start < 1e-13*y && start-y < 1e-13*y {
			return y, nil
		}
		start = y
	}
	return start, nil
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

// known checks that a reading stands for a water, so that all faults of a
// request can be told at once.
func known(name string, r *quantity.Reading) error {
	if r == nil {
		return nil
	}
	_, err := instrument.SalinityOf(name, *r)
	return err
}

func note(code string, params ...any) quantity.Note {
	return quantity.Note{Code: code, Params: params}
}
