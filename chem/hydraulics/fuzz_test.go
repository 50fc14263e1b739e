package hydraulics

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// Whatever is asked of a line, the answer is finite and plausible, or an input is blamed.
func FuzzLine(f *testing.F) {
	f.Add(0.4, 100., 30., 20., 25., 0.6)
	f.Add(0.02, 10000., 0.1, 0., 0., 0.2)
	f.Add(2., 1., 300., 120., 40., 1.)
	f.Add(math.NaN(), math.Inf(1), -1., -0., 1e-320, math.NaN())
	f.Fuzz(func(t *testing.T, bore, length, head, salinity, temperature, tip float64) {
		line := Line{quantity.Length(bore), quantity.Length(length), quantity.Length(head)}
		sa, at := quantity.AbsoluteSalinity(salinity), quantity.Celsius(temperature)
		s, err := OpenFlow(line, sa, at)
		plausible(t, "OpenFlow", err, float64(s.Flow), 1e-9, 2e5)
		plausible(t, "Reynolds", err, s.Reynolds, 1e-9, 2e5)
		v, err := DropVolume(quantity.Length(tip), sa, at)
		plausible(t, "DropVolume", err, float64(v), 0.02e-3, 0.2e-3)
		drift, err := Drift(quantity.Length(head), quantity.Length(length))
		plausible(t, "Drift, least", err, float64(drift.Lo), 0, 3000)
		plausible(t, "Drift, greatest", err, float64(drift.Hi), float64(drift.Lo), 3000)
		w, err := Intake(quantity.Volume(bore), quantity.Volume(length), quantity.Volume(head), quantity.Area(salinity))
		plausible(t, "Intake, least", err, float64(w.Least), 0, 1e9)
		plausible(t, "Intake, greatest", err, float64(w.Greatest), 0, 1e9)
		narrowest, err := BoreFor(quantity.Flow(bore*1000), line.Length, line.Head, sa, at)
		plausible(t, "BoreFor", err, float64(narrowest), float64(Bore.Lo), float64(Bore.Hi))
	})
}

// plausible wants an answer between lo and hi, or an error that blames an input.
func plausible(t *testing.T, name string, err error, got, lo, hi float64) {
	t.Helper()
	if err != nil {
		if _, ok := errors.AsType[*quantity.RangeError](err); !ok {
			t.Errorf("%s: %v blames no input", name, err)
		}
		return
	}
	if !(got >= lo && got <= hi) {
		t.Errorf("%s = %g, not from %g to %g", name, got, lo, hi)
	}
}
