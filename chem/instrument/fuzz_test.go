package instrument

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// Whatever is written, an answer is finite and possible, or there is a fault that names an
// input. It is long because each measure has a check of its own.
func FuzzConvert(f *testing.F) {
	for _, seed := range [][5]string{
		{"1.010 SG", "25 C", "hydrometer", "1.91 %/C", "-0.001 SG"},
		{"22.105 mS/cm", "77 F", "conductivity", "nlf at 20C", "1.02(1)"},
		{"6500 mg/L", "30 C", "tds", "none", ""},
		{"36 g/kg", "10 C", "refractometer", "", "0.5 g/kg"},
		{"4.4 Bx", "0 C", "none", "", ""},
		{"0 ppt", "40 C", "none", "", ""},
		{"1.02 ± 0.001 SG 60F/60F", "15(1) C", "pointer_hydrometer", "", ""},
		{"-1e99 mOsm/kg", "1e-99 K", "", "4 %/C", "2"},
	} {
		f.Add(seed[0], seed[1], seed[2], seed[3], seed[4], 0.5)
	}
	f.Fuzz(func(t *testing.T, reading, temperature, kind, compensation, correction string, factor float64) {
		var r quantity.Reading
		if r.Bind(reading) != nil {
			return
		}
		set := Setup{Kind: new(Kind(kind)), TdsFactor: &factor}
		if c := new(Compensation); c.Bind(compensation) == nil {
			set.Compensation = c
		}
		if c := new(Correction); c.Bind(correction) == nil {
			set.Correction = c
		}
		at := new(quantity.Estimate[quantity.Celsius])
		if at.Bind(temperature) != nil {
			at = nil
		}
		c, err := convert(r, at, set)
		if err != nil {
			if faultOf(err) == "" {
				t.Errorf("convert(%v, %v, %+v): %v blames no input", r, at, set, err)
			}
			return
		}
		sa := float64(c.AbsoluteSalinity.Value)
		if !(sa >= 0 && sa <= 121) || !(c.AbsoluteSalinity.U >= 0) || math.IsInf(float64(c.AbsoluteSalinity.U), 0) {
			t.Errorf("convert(%v, %v) = %v", r, at, c.AbsoluteSalinity)
		}
		for _, g := range c.SpecificGravity {
			if !(g.Value.Value > 0.98 && g.Value.Value < 1.11) {
				t.Errorf("convert(%v, %v) has the specific gravity %v", r, at, g)
			}
		}
	})
}

// A standard and a reading give a correction that makes the reading right, or a fault.
func FuzzCalibrate(f *testing.F) {
	f.Add("35 ppt", "52 mS/cm", "25 C", "conductivity")
	f.Add("0 ppt", "0.998 SG", "24 C", "hydrometer")
	f.Add("53.0 mS/cm", "34 ppt", "20 C", "refractometer")
	f.Fuzz(func(t *testing.T, standard, reading, temperature, kind string) {
		r := CalibrationRequest{Instrument: new(Kind(kind)), Temperature: new(quantity.Estimate[quantity.Celsius]), TdsFactor: new(0.5)}
		if r.Standard.Bind(standard) != nil || r.Reading.Bind(reading) != nil || r.Temperature.Bind(temperature) != nil {
			return
		}
		c, err := Calibrate(r)
		if err != nil {
			if faultOf(err) == "" {
				t.Errorf("Calibrate(%+v): %v blames no input", r, err)
			}
			return
		}
		set := r.Setup()
		set.Correction = &c.Correction
		sa, err := AbsoluteSalinity(r.Reading, &r.Temperature.Value, set)
		if want := float64(c.AbsoluteSalinity.Value); err == nil && math.Abs(float64(sa)-want) > 1e-6*max(1, want) {
			t.Errorf("Calibrate(%+v): corrected, the standard of %g reads %g g/kg", r, want, sa)
		}
	})
}
