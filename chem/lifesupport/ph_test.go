package lifesupport

import (
	"errors"
	"testing"

	"saltlock/chem/quantity"
)

func acidity(ph, alkalinity float64, salinity quantity.AbsoluteSalinity) Acidity {
	a := Acidity{Salinity: salinity, Temperature: 25}
	if ph != 0 {
		a.PH = new(quantity.Of[quantity.PH](ph, 0))
	}
	if alkalinity >= 0 {
		a.Alkalinity = new(quantity.Of[quantity.Alkalinity](alkalinity, 0))
	}
	return a
}

func TestHighestPH(t *testing.T) {
	for name, c := range map[string]struct {
		from, to Acidity
		lo, hi   quantity.PH
	}{
		"nothing known":    {acidity(0, -1, 0), acidity(0, -1, 35), UnknownPHInAir, UnknownPHInAir},
		"lower pHs":        {acidity(6.4, -1, 0), acidity(8.2, -1, 35), UnknownPHInAir, UnknownPHInAir},
		"a higher pH":      {acidity(9, -1, 0), acidity(8.2, -1, 35), 9, 9},
		"the other's":      {acidity(7, 2, 0), acidity(9.5, 2, 35), 9.5, 9.5},
		"soft, known":      {acidity(6.4, 0.5, 0), acidity(8.2, 2.3, 35), 8.2, 8.3},
		"only one unknown": {acidity(6.4, 0.5, 0), acidity(8.2, -1, 35), UnknownPHInAir, UnknownPHInAir},
	} {
		if got, err := HighestPH(c.from, c.to); err != nil || got < c.lo || got > c.hi {
			t.Errorf("%s: HighestPH = %g, %v, want %g to %g", name, got, err, c.lo, c.hi)
		}
	}
}

// No mixture comes to a pH in air above that of both waters by more than such a pH is good for.
func TestMixturesStayBelow(t *testing.T) {
	for _, fresh := range []float64{0.1, 0.5, 1, 2, 3, 5, 8} {
		for _, sea := range []float64{1, 2, 2.3, 3, 4} {
			for _, salinity := range []quantity.AbsoluteSalinity{5, 10, 20, 35} {
				from, to := acidity(0, fresh, 0), acidity(0, sea, salinity)
				highest, err := HighestPH(from, to)
				if err != nil {
					t.Fatal(err)
				}
				for part := 0.1; part < 1; part += 0.1 {
					blend := acidity(0, fresh+part*(sea-fresh), quantity.AbsoluteSalinity(part)*salinity)
					got, err := HighestPH(blend, blend)
					if err != nil || got > highest+0.01 {
						t.Errorf("%.1f of a water of %g in one of %g meq/L comes to pH %.3f, %v, highest is %.3f", part, sea, fresh, got, err, highest)
					}
				}
			}
		}
	}
}

func TestHighestPHRefuses(t *testing.T) {
	for want, c := range map[string][2]Acidity{
		"from.ph":          {acidity(15, -1, 0), acidity(8, -1, 35)},
		"to.ph":            {acidity(7, -1, 0), acidity(2, -1, 35)},
		"to.alkalinity":    {acidity(7, -1, 0), acidity(8, 300, 35)},
		"from.salinity":    {acidity(7, -1, -1), acidity(8, -1, 35)},
		"from.temperature": {Acidity{Temperature: 60}, acidity(8, -1, 35)},
	} {
		_, err := HighestPH(c[0], c[1])
		if limit, ok := errors.AsType[*quantity.RangeError](err); !ok || limit.Name != want {
			t.Errorf("HighestPH = %v, want a fault of %s", err, want)
		}
	}
}
