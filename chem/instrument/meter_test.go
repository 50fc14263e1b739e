package instrument

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// A coefficient that is not known well makes the salinity as doubtful as it
// moves it, in the saltiest and warmest water that a meter can tell too.
func TestCoefficientDoubt(t *testing.T) {
	meter := func(coefficient, u float64) Setup {
		return Setup{Kind: new(ConductivityMeter), Compensation: &Compensation{Curve: Linear, Coefficient: coefficient, U: u, Reference: 25}}
	}
	const a, u = 0.0191, 0.001
	for _, c := range []struct {
		sa quantity.AbsoluteSalinity
		at quantity.Celsius
	}{{1, 5}, {13, 5}, {35, 5}, {35, 15}, {35, 25}, {13, 40}, {42.1, 40}, {42.1, 0}} {
		shown, err := Show(c.sa, c.at, meter(a, u))
		if err != nil {
			t.Fatal(err)
		}
		shown.U = 1e-9 // as good as exact, so that no half division is taken
		at := quantity.Exactly(c.at)
		sure, noSure := convert(shown, &at, meter(a, 0))
		doubtful, noDoubtful := convert(shown, &at, meter(a, u))
		other, noOther := AbsoluteSalinity(shown, &at.Value, meter(a-math.Copysign(u, float64(c.at-25)), 0)) // to less salt
		if noSure != nil || noDoubtful != nil || noOther != nil {
			t.Fatal(noSure, noDoubtful, noOther)
		}
		want := math.Abs(float64(other - c.sa))
		p, q := float64(doubtful.AbsoluteSalinity.U), float64(sure.AbsoluteSalinity.U)
		if got := math.Sqrt(p*p - q*q); math.Abs(got-want) > 0.03*want+1e-9 {
			t.Errorf("%g ± %g per K leave %.4f g/kg in %g g/kg at %g °C, want %.4f", a, u, got, c.sa, c.at, want)
		}
	}
}
