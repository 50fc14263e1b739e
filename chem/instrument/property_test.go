package instrument

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// shownScales are all scales of each instrument that Show does not choose by itself.
var shownScales = map[Kind][]quantity.Scale{
	None: {quantity.PracticalScale, quantity.AbsoluteScale, quantity.PerLitreScale, quantity.SpecificGravityScale, quantity.DensityScale,
		quantity.ConductivityScale, quantity.RefractiveIndexScale, quantity.BrixScale, quantity.ChlorinityScale, quantity.OsmolalityScale},
	Hydrometer:        {quantity.SpecificGravityScale, quantity.DensityScale, quantity.PracticalScale},
	PointerHydrometer: {quantity.SpecificGravityScale},
	Refractometer: {quantity.PracticalScale, quantity.AbsoluteScale, quantity.PerLitreScale, quantity.SpecificGravityScale,
		quantity.RefractiveIndexScale, quantity.BrixScale},
	ConductivityMeter: {quantity.ConductivityScale, quantity.PracticalScale},
	TDSMeter:          {quantity.PerLitreScale, quantity.PracticalScale},
}

// What an instrument shows leads back to the water to 1e-9, on every scale, for
// every instrument, over the whole of its range; and more salt shows more.
func TestInverseAndMonotone(t *testing.T) {
	for name, set := range instruments() {
		for _, scale := range shownScales[set.kind()] {
			of, err := set.sensor(quantity.Reading{Scale: scale})
			if err != nil {
				continue // not a scale of this make
			}
			shown := 0
			for _, temperature := range []quantity.Celsius{0, 4, 11, 20, 25, 31, 35, 40} {
				last := math.Inf(-1)
				for part := 0.0; part <= 1; part += 1.0 / 64 {
					s := part * of.greatest
					x, err := of.shows(s, temperature)
					if err != nil {
						continue // off this scale
					}
					back, err := of.salinity(x, temperature)
					if err != nil && s > 0 && part < 1 || err == nil && math.Abs(back-s) > 1e-9*max(1, s) {
						t.Errorf("%s in %s at %g °C: %g shows %.12g, which means %.12g, %v", name, scale, temperature, s, x, back, err)
					}
					if !(x > last) {
						t.Errorf("%s in %s at %g °C: %g shows %g, less salt %g", name, scale, temperature, s, x, last)
					}
					last = x
					shown++
				}
			}
			if shown < 100 {
				t.Errorf("%s in %s shows only %d of the waters", name, scale, shown)
			}
		}
	}
}

// A reading taken apart into every measure and each of those read again gives the same water.
func TestEveryMeasureLeadsBack(t *testing.T) {
	for _, sa := range []float64{0.2, 5, 13.35, 35, 40} {
		for _, temperature := range []float64{1, 18, 25, 34} {
			at := quantity.Exactly(quantity.Celsius(temperature))
			c, err := convert(on(quantity.AbsoluteScale, sa), &at, Setup{})
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range []quantity.Reading{
				on(quantity.PracticalScale, float64(c.PracticalSalinity.Value)),
				on(quantity.PerLitreScale, float64(c.SaltPerLitre.Value)),
				on(quantity.DensityScale, float64(c.Density.Value)),
				on(quantity.SpecificGravityScale, float64(c.SpecificGravity[5].Value.Value)), // 25C/25C
				on(quantity.ConductivityScale, float64(c.Conductivity.Value)),
				on(quantity.RefractiveIndexScale, float64(c.RefractiveIndex.Value)),
				on(quantity.ChlorinityScale, float64(c.Chlorinity.Value)),
				on(quantity.OsmolalityScale, float64(c.Osmolality.Value)),
			} {
				got, err := AbsoluteSalinity(r, &at.Value, Setup{})
				if err != nil || math.Abs(float64(got)-sa) > 1e-9*max(1, sa) {
					t.Errorf("%v of %g g/kg at %g °C means %.12g, %v", r, sa, temperature, got, err)
				}
			}
		}
	}
}

// Compensations and corrections print as they are parsed.
func TestTextForms(t *testing.T) {
	for _, text := range []string{"none", "nlf", "nlf at 20C", "1.91 %/C", "2 %/C at 20C", "1.91 ± 0.1 %/C", "0 %/C"} {
		var c Compensation
		if err := c.Bind(text); err != nil || c.String() != text {
			t.Errorf("Compensation %q prints as %q, %v", text, c, err)
		}
	}
	for text, want := range map[string]string{"1.9%/°C": "1.9 %/C", "2.1 %/K": "2.1 %/C", "1.91(10) %/C": "1.91 ± 0.1 %/C", "nlf at 77F": "nlf"} {
		var c Compensation
		if err := c.Bind(text); err != nil || c.String() != want {
			t.Errorf("Compensation %q prints as %q, %v, want %q", text, c, err, want)
		}
	}
	for _, text := range []string{"", "1.91", "linear", "5 %/C", "-1 %/C", "2 %/C at 18C", "none at 20C", "NaN %/C", "2 ± 50 %/C", "nlf at", "2 % at 20C"} {
		var c Compensation
		if err := c.Bind(text); err == nil {
			t.Errorf("Compensation %q is taken as %q", text, c)
		}
	}
	for _, text := range []string{"1.02 ± 0.01", "-0.0012 ± 0.0005 SG", "0.5 ppt", "1.02"} {
		var c Correction
		if err := c.Bind(text); err != nil || c.String() != text {
			t.Errorf("Correction %q prints as %q, %v", text, c, err)
		}
	}
	for _, text := range []string{"", "7", "0", "-1", "3 L", "SG", "NaN"} {
		var c Correction
		if err := c.Bind(text); err == nil {
			t.Errorf("Correction %q is taken as %q", text, c)
		}
	}
}

// What an instrument shows in a water it can read, pure water too: rounding on
// the way there and back takes nothing out of range.
func TestShownIsReadable(t *testing.T) {
	for _, kind := range []Kind{Hydrometer, PointerHydrometer, Refractometer, ConductivityMeter} {
		for _, sa := range []quantity.AbsoluteSalinity{0, 1e-9, 0.1, 35, 40} {
			for c := quantity.Celsius(0.5); c < 40; c += 0.37 {
				if kind == Refractometer && (c < 10 || c > 30) { // not compensated there: the mark lies off the scale
					continue
				}
				if _, err := DefaultUncertainty(Setup{Kind: &kind}, sa, c); err != nil {
					t.Errorf("%s in %v g/kg at %.2f °C: %v", kind, sa, c, err)
				}
			}
		}
	}
}
