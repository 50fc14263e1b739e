package hydraulics

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// Whatever is asked of a line, the answer is finite and plausible, or an input is blamed.
func FuzzLine(f *testing.F) {
	f.Add(0.4, 100., 30., 0., 20., 25., 0.3, 20., 6.)
	f.Add(0.02, 10000., 0.1, 1000., 0., 0., 0.1, 0.05, 0.)
	f.Add(2., 1., 300., 0., 120., 40., 0.5, 10000., 10000.)
	f.Add(math.NaN(), math.Inf(1), -1., 1e300, -0., 1e-320, math.NaN(), 0., 1.)
	f.Fuzz(func(t *testing.T, bore, length, head, fittings, salinity, temperature, radius, rim, volume float64) {
		line := Line{quantity.Length(bore), quantity.Length(length), quantity.Length(head), quantity.Fraction(fittings)}
		sa, at := quantity.AbsoluteSalinity(salinity), quantity.Celsius(temperature)
		s, err := OpenFlow(line, sa, at)
		plausible(t, "OpenFlow", err, float64(s.Flow), 1e-9, 2e5)
		plausible(t, "Reynolds", err, s.Reynolds, 1e-9, 2e5)
		fill, err := FillTime(line, sa, at, quantity.Volume(rim), quantity.Volume(volume))
		plausible(t, "FillTime", err, float64(fill), 0, 1e15)
		v, err := DropVolume(quantity.Length(radius), sa, at)
		plausible(t, "DropVolume", err, float64(v), 0.02e-3, 0.2e-3)
		drift, err := Drift(quantity.Length(head), quantity.Length(length))
		plausible(t, "Drift, least", err, float64(drift.Lo), 0, 3000)
		plausible(t, "Drift, greatest", err, float64(drift.Hi), float64(drift.Lo), 3000)
	})
}

// Whatever plan is asked about, the window is finite and holds together, or an input is blamed.
func FuzzIntakeWindow(f *testing.F) {
	f.Add(7500., 20., 0., 6., 12., 18., 12., 6., 13.)
	f.Add(1., 1e4, 0., 0., 1e6, 0., 1e6, 1e4, 1.)
	f.Add(1e8, 0.05, 0., 0.05, 0., 0., 1e-320, 0.05, math.NaN())
	f.Fuzz(func(t *testing.T, surface, rim, drawn1, volume1, drawn2, volume2, drawn3, volume3, depth float64) {
		moments := []Moment{
			{quantity.Volume(drawn1), quantity.Volume(volume1)},
			{quantity.Volume(drawn2), quantity.Volume(volume2)},
			{quantity.Volume(drawn3), quantity.Volume(volume3)},
		}
		w, err := IntakeWindow(quantity.Area(surface), quantity.Volume(rim), moments)
		plausible(t, "least depth", err, float64(w.Least), float64(IntakeMargin), 1e9+1)
		plausible(t, "greatest depth", err, float64(w.Greatest), 0, 2e9)
		plausible(t, "spill", err, float64(w.Spill), 0, 2e6)
		if err != nil {
			return
		}
		if w.OK() != (w.Spill == 0) {
			t.Errorf("%+v: OK is %v", w, w.OK())
		}
		if err := w.Check(quantity.Length(depth)); (err == nil) != (w.OK() && depth >= float64(w.Least) && depth <= float64(w.Greatest)) {
			t.Errorf("%+v: Check(%g) = %v", w, depth, err)
		}
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
