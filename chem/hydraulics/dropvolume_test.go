package hydraulics

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

func drop(t testing.TB, tip quantity.Length, sa quantity.AbsoluteSalinity, at quantity.Celsius) float64 {
	t.Helper()
	v, err := DropVolume(tip, sa, at)
	if err != nil {
		t.Fatalf("DropVolume(%g, %g, %g): %v", float64(tip), float64(sa), float64(at), err)
	}
	return float64(v) * 1000 // mL
}

// The dropper of the pharmacopoeia has an outside diameter of 3 mm and 20 of its
// drops weigh 0.9 to 1.1 g in water of 25 °C [USP1101]. Infusion sets have 10, 15,
// 20 or 60 drops a millilitre (20 and 60 within a tenth by ISO 8536-4, from memory;
// 10 and 15 are common practice): the first three are drops of tips like ours, 20
// from about the tip of the dropper, and 60 comes from a needle for which there is
// no number here.
func TestUSPAndIVDropSizes(t *testing.T) {
	rho, err := seawater.Density(0, 25)
	if err != nil {
		t.Fatal(err)
	}
	if twenty := 20 * drop(t, 0.3, 0, 25) * float64(rho) / 1000; twenty < 0.9 || twenty > 1.1 {
		t.Errorf("20 drops of the USP dropper weigh %.3f g, want 0.9 to 1.1", twenty)
	}
	tips := map[float64]float64{} // diameter in cm by drops per mL
	for _, perMillilitre := range []float64{20, 15, 10} {
		tips[perMillilitre], err = numeric.Root(func(d float64) float64 {
			return drop(t, quantity.Length(d), 0, 25) - 1/perMillilitre
		}, float64(TipDiameter.Lo), float64(TipDiameter.Hi))
		if err != nil {
			t.Errorf("no tip gives %g drops/mL: %v", perMillilitre, err)
		}
	}
	if off(tips[20], 0.3) > 0.1 {
		t.Errorf("20 drops/mL come from a tip of %.3f cm, want that of the USP dropper, 0.3, within 10 %%", tips[20])
	}
	if !(tips[20] < tips[15] && tips[15] < tips[10]) {
		t.Errorf("tips of %v cm do not widen with the drop", tips)
	}
	if thinnest := drop(t, TipDiameter.Lo, 0, 25); thinnest <= 1.0/60 {
		t.Errorf("the thinnest tip drops %.4f mL, no more than a micro drop", thinnest)
	}
}

// Drops of sea water at 25 °C, worked elsewhere by the same table to the digits here.
func TestDropVolumeTable(t *testing.T) {
	for _, c := range []struct {
		tip           quantity.Length
		volume, digit float64 // mL
	}{{0.2, 0.033, 1e-3}, {0.3, 0.0465, 1e-4}, {0.4, 0.059, 1e-3}, {0.5, 0.071, 1e-3}, {0.6, 0.084, 1e-3}} {
		if got := drop(t, c.tip, 35.165, 25); math.Abs(got-c.volume) > c.digit/2 {
			t.Errorf("tip %g cm: %.5f mL, want %g", float64(c.tip), got, c.volume)
		}
	}
}

// The polynomial that Lando and Oakley fitted to the same drops in 1967, 1/(2πF)
// from 0.3 to 1.2, from memory as the table is: a slip in either would show.
func TestSharesAgainstPolynomial(t *testing.T) {
	for i, share := range shares {
		x := firstShare + shareStep*float64(i)
		if want := 1 / (2 * math.Pi * numeric.Quadratic(x, 0.14782, 0.27896, -0.166)); off(share, want) > 0.015 {
			t.Errorf("at %.2f the table has %.4f, the polynomial %.4f", x, share, want)
		}
	}
	if last := firstShare + shareStep*float64(len(shares)-1); math.Abs(last-lastShare) > 1e-12 {
		t.Errorf("the table ends at %g, want %g", last, lastShare)
	}
}

// The same formula evaluated by the library of the header.
func TestPublished(t *testing.T) {
	published.Verify(t, []published.Check{{
		File: "oracle/iapws_surface_tension.csv", What: "surface tension, relative", Tolerance: 1e-10,
		Deviation: func(r published.Row) float64 {
			return published.Relative(1000*surfaceTension(r.Float("SA_g_per_kg"), r.Float("t_C")), r.Float("sigma_mN_per_m"))
		},
	}})
}

// Wider tips drop more in every water of the range, warmer water less, and the
// weight of a drop is that of Tate's law times a share from 0.59 to 0.73.
func TestDropVolumeMonotone(t *testing.T) {
	for _, sa := range []quantity.AbsoluteSalinity{0, 10, 35, 120} {
		coldest := 0.0
		for at := quantity.Celsius(40); at >= 0; at -= 4 {
			last := 0.0
			for mm := 2.0; mm <= 10; mm += 0.04 {
				v := drop(t, quantity.Length(mm/10), sa, at)
				if v <= last {
					t.Fatalf("tip %g mm, %g g/kg, %g °C: %g mL after %g", mm, float64(sa), float64(at), v, last)
				}
				last = v
				rho, err := seawater.Density(sa, at)
				if err != nil {
					t.Fatal(err)
				}
				weight := v * 1e-6 * float64(rho) * 9.80665
				if share := weight / (math.Pi * mm / 1000 * surfaceTension(float64(sa), float64(at))); share < 0.59 || share > 0.73 {
					t.Errorf("tip %g mm: %g of the drop falls", mm, share)
				}
			}
			if last <= coldest {
				t.Errorf("%g g/kg, %g °C: a drop of %g mL is no larger than %g of warmer water", float64(sa), float64(at), last, coldest)
			}
			coldest = last
		}
	}
}

func TestDropVolumeRefuses(t *testing.T) {
	_, err := DropVolume(0.19, 121, 41)
	if got := names(err); len(got) != 3 || got[0] != "line.tip_diameter" || got[1] != "salinity" || got[2] != "temperature" {
		t.Errorf("DropVolume(0.19, 121, 41) blames %q", got)
	}
	if _, err := DropVolume(quantity.Length(math.NaN()), 0, 25); err == nil || errors.Is(err, numeric.ErrNoConvergence) {
		t.Errorf("a tip of NaN gives %v", err)
	}
}
