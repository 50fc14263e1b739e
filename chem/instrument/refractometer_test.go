package instrument

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// zeroed is a refractometer without compensation that was set to zero in pure
// water of t, good to u.
func zeroed(t, u quantity.Celsius) Setup {
	return Setup{Kind: new(Refractometer), TemperatureCompensated: new(false), ZeroTemperature: &quantity.Estimate[quantity.Celsius]{Value: t, U: u}}
}

// What is shown without compensation, computed apart from this code with the
// formula of [MillardSeaver1990]: it is the zero that decides, not the 20 °C of the marks.
func TestZeroTemperature(t *testing.T) {
	for _, c := range []struct {
		practical float64
		at, zero  quantity.Celsius
		want      float64
	}{
		{35, 25, 20, 31.9997},
		{35, 25, 25, 34.6527},
		{35, 30, 30, 34.4782},
		{35, 15, 15, 35.5026},
		{35, 25, 18, 31.0663},
		{10, 25, 24, 9.3351},
	} {
		sa := quantity.AbsoluteSalinity(c.practical * 35.16504 / 35)
		got, err := Show(sa, c.at, zeroed(c.zero, 0))
		if err != nil || math.Abs(got.Value-c.want) > 5e-5 {
			t.Errorf("%g ppt at %g °C, zero set at %g °C, shows %v, %v, want %.4f", c.practical, c.at, c.zero, got, err, c.want)
		}
	}
}

// An ideal compensation is a zero that follows the temperature of the sample.
func TestZeroThatFollows(t *testing.T) {
	for _, at := range []quantity.Celsius{10, 17, 20, 24, 30} {
		follows, noFollows := Show(20, at, Setup{Kind: new(Refractometer)})
		own, noOwn := Show(20, at, zeroed(at, 0))
		if noFollows != nil || noOwn != nil || follows != own {
			t.Errorf("at %g °C compensation shows %v, %v, a zero set there %v, %v", at, follows, noFollows, own, noOwn)
		}
	}
}

// A zero that is not known well makes the salinity as doubtful as it moves it.
func TestZeroDoubt(t *testing.T) {
	r := on(quantity.PracticalScale, 20)
	for _, zero := range []quantity.Celsius{0, 10, 24, 40} {
		const u = 0.5
		at := quantity.Exactly[quantity.Celsius](25)
		sure, noSure := convert(r, &at, zeroed(zero, 0))
		doubtful, noDoubtful := convert(r, &at, zeroed(zero, u))
		lo, noLo := AbsoluteSalinity(r, &at.Value, zeroed(max(zero-u, 0), 0))
		hi, noHi := AbsoluteSalinity(r, &at.Value, zeroed(min(zero+u, 40), 0))
		if noSure != nil || noDoubtful != nil || noLo != nil || noHi != nil {
			t.Fatal(noSure, noDoubtful, noLo, noHi)
		}
		steps := float64(min(zero+u, 40)-max(zero-u, 0)) / u
		want := math.Abs(float64(hi-lo)) / steps
		a, b := float64(doubtful.AbsoluteSalinity.U), float64(sure.AbsoluteSalinity.U)
		if got := math.Sqrt(a*a - b*b); math.Abs(got/want-1) > 0.03 {
			t.Errorf("a zero set at %g ± %g °C adds %.4f g/kg of doubt, want %.4f", zero, u, got, want)
		}
	}
}
