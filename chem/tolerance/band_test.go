package tolerance

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// gkg is a bound of salinity; NaN means an unknown one.
func ppt(v float64) *quantity.Estimate[quantity.Salinity] {
	if v != v {
		return nil
	}
	e := quantity.Of[quantity.Salinity](v, 0)
	return &e
}

func gkg(v float64) *quantity.Estimate[quantity.AbsoluteSalinity] {
	if math.IsNaN(v) {
		return nil
	}
	e := quantity.Of[quantity.AbsoluteSalinity](v, 0)
	return &e
}

// unknown is the bound that no source gives.
var unknown = math.NaN()

func TestNewBand(t *testing.T) {
	notANumber := quantity.Of[quantity.AbsoluteSalinity](math.NaN(), 0)
	for _, c := range []struct {
		name   string
		lo, hi *quantity.Estimate[quantity.AbsoluteSalinity]
		ok     bool
	}{
		{"ordered", gkg(0), gkg(35), true},
		{"a single value", gkg(15), gkg(15), true},
		{"no maximum", gkg(0), nil, true},
		{"no minimum", nil, gkg(35), true},
		{"nothing known", nil, nil, true},
		{"turned round", gkg(35), gkg(0), false},
		{"not a number", &notANumber, gkg(35), false},
		{"not a number above", gkg(0), &notANumber, false},
	} {
		b, err := NewBand(c.lo, c.hi)
		if (err == nil) != c.ok {
			t.Errorf("%s: NewBand gave error %v", c.name, err)
		}
		if err == nil && (b.Min != c.lo || b.Max != c.hi) {
			t.Errorf("%s: NewBand changed its bounds", c.name)
		}
	}
}
