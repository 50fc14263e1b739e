package lifesupport

import (
	"errors"
	"testing"

	"saltlock/chem/quantity"
)

func TestBagVerdict(t *testing.T) {
	tan, time := func(x quantity.AmmoniaNitrogen) *quantity.AmmoniaNitrogen { return &x }, func(x quantity.Duration) *quantity.Duration { return &x }
	for name, c := range map[string]struct {
		tan  *quantity.AmmoniaNitrogen
		bag  *quantity.Duration
		ph   quantity.PH
		want BagDrip
	}{
		// The shares of Emerson et al. 1975 at 25 °C: 0.0057 at pH 7, 0.0537 at pH 8.
		"clean":                 {tan(0.3), nil, 8, DripAllowed},
		"middling":              {tan(0.6), nil, 8, DripRefused},
		"foul":                  {tan(1.2), nil, 8, DripRefused},
		"foul, pH stays low":    {tan(1.2), time(40), 7, DripAllowed},
		"unknown, long":         {nil, time(24), 8, DripRefused},
		"unknown, short":        {nil, time(1), 8, DripAllowed},
		"unknown, time as well": {nil, nil, 8, DripRefused},
	} {
		got, err := BagVerdict(c.tan, c.bag, c.ph, 0, 25)
		if err != nil || got != c.want {
			t.Errorf("%s: BagVerdict = %s, %v, want %s", name, got, err, c.want)
		}
	}
}

// A value at the threshold gets the gentler verdict.
func TestBagThresholds(t *testing.T) {
	for nh3, want := range map[quantity.AmmoniaNitrogen]BagDrip{0: DripAllowed, 0.02: DripAllowed, 0.0201: DripRefused, 0.05: DripRefused} {
		if got := dripWith(nh3); got != want {
			t.Errorf("dripWith(%g) = %s, want %s", nh3, got, want)
		}
	}
}

func TestBagVerdictRefuses(t *testing.T) {
	tan, long := quantity.AmmoniaNitrogen(-1), quantity.Duration(-1)
	for want, f := range map[string]func() (BagDrip, error){
		"from.tan":          func() (BagDrip, error) { return BagVerdict(&tan, nil, 8, 0, 25) },
		"from.hours_in_bag": func() (BagDrip, error) { return BagVerdict(nil, &long, 8, 0, 25) },
		"from.ph":           func() (BagDrip, error) { return BagVerdict(nil, nil, 1, 0, 25) },
		"from.salinity":     func() (BagDrip, error) { return BagVerdict(nil, nil, 8, 50, 25) },
		"from.temperature":  func() (BagDrip, error) { return BagVerdict(nil, nil, 8, 0, 45) },
	} {
		b, err := f()
		if limit, ok := errors.AsType[*quantity.RangeError](err); !ok || limit.Name != want {
			t.Errorf("BagVerdict = %v, %v, want a fault of %s", b, err, want)
		}
	}
}
