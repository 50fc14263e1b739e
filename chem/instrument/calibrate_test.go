package instrument

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

func calibration(t testing.TB, standard, reading, temperature string, set Setup) CalibrationRequest {
	t.Helper()
	r := CalibrationRequest{Reading: ask(t, reading, "").Reading, Standard: ask(t, standard, "").Reading,
		Temperature: ask(t, reading, temperature).Temperature, Instrument: set.Kind, Calibration: set.Calibration,
		Scale: set.Scale, TemperatureCompensated: set.TemperatureCompensated, Compensation: set.Compensation, TdsFactor: set.TdsFactor}
	return r
}

// What an instrument should show is computed with a TEOS-10 library (python3-gsw
// 3.6.16): sea water of 35 ppt conducts 53.071 mS/cm at 25 °C and has 1.02637 SG
// 25C/25C there; pure water has 0.99970 times its density at 60 °F when at
// 64.4 °F (18 °C), to which the glass adds 0.00006 on the mark.
func TestCalibrate(t *testing.T) {
	for _, c := range []struct {
		standard, reading, temperature string
		set                            Setup
		want                           Correction
		tolerance                      float64
	}{
		{"35 ppt", "52.0 mS/cm", "25 C", Setup{Kind: new(ConductivityMeter)}, Correction{Value: 53.071 / 52}, 1e-5},
		{"35 ppt", "1.025 SG", "25 C", Setup{Kind: new(Hydrometer)}, Correction{Scale: quantity.SpecificGravityScale, Value: 0.00137}, 1e-5},
		{"0 ppt", "0.999 SG", "18 C", glass("60F/60F"), Correction{Scale: quantity.SpecificGravityScale, Value: 0.00063}, 1.5e-5},
		{"0 ppt", "1 ppt", "22 C", Setup{Kind: new(Refractometer)}, Correction{Scale: quantity.PracticalScale, Value: -1}, 1e-9},
		{"53.071 mS/cm", "34 ppt", "20 C", Setup{Kind: new(Refractometer)}, Correction{Scale: quantity.PracticalScale, Value: 1}, 1e-4},
	} {
		got, err := Calibrate(calibration(t, c.standard, c.reading, c.temperature, c.set))
		if err != nil || got.Correction.Scale != c.want.Scale || math.Abs(got.Correction.Value-c.want.Value) > c.tolerance {
			t.Errorf("Calibrate(%s in %s) = %v, %v, want %v", c.reading, c.standard, got.Correction, err, c.want)
		}
		if !(got.Correction.U > 0) || got.Dominant == nil || len(got.Methods) == 0 {
			t.Errorf("Calibrate(%s in %s) states no uncertainty: %+v", c.reading, c.standard, got)
		}
	}
}

// An instrument may be so far off that no water shows what it shows: that is
// said, and corrected all the same.
func TestCalibrateOffScale(t *testing.T) {
	c, err := Calibrate(calibration(t, "0 ppt", "0.990 SG", "25 C", Setup{Kind: new(Hydrometer)}))
	if err != nil || c.Error != nil || codes(c.Warnings) != "correction_near_its_standard no_water_shows_this" {
		t.Errorf("Calibrate(0.990 SG in pure water) = %+v, %v", c, err)
	}
	if n := len(c.Notes()); n != len(c.Warnings)+len(c.Assumptions) {
		t.Errorf("Calibrate(0.990 SG in pure water).Notes has %d notes", n)
	}
}

func TestCalibrateRefuses(t *testing.T) {
	for _, c := range []struct {
		name, standard, reading, temperature string
		set                                  Setup
		where                                string
	}{
		{"no instrument", "35 ppt", "34 ppt", "25 C", Setup{}, "instrument"},
		{"no such standard", "500 ppt", "1.025 SG", "25 C", Setup{Kind: new(Hydrometer)}, "standard"},
		{"another scale", "35 ppt", "34 ppt", "25 C", Setup{Kind: new(TDSMeter)}, "tds_factor"},
		{"no temperature", "35 ppt", "1.025 SG", "", Setup{Kind: new(Hydrometer)}, "temperature"},
		{"hot", "35 ppt", "1.025 SG", "50 C", Setup{Kind: new(Hydrometer)}, "temperature"},
		{"off by a factor of ten", "35 ppt", "5.3 mS/cm", "25 C", Setup{Kind: new(ConductivityMeter)}, "reading"},
		{"pure water on a meter", "0 ppt", "1 mS/cm", "25 C", Setup{Kind: new(ConductivityMeter)}, "reading"},
		{"a standard that shows nothing", "0 ppt", "0 ppt", "25 C", Setup{Kind: new(ConductivityMeter)}, "standard"},
		{"nothing shown", "35 ppt", "0 mS/cm", "25 C", Setup{Kind: new(ConductivityMeter)}, "reading"},
	} {
		_, err := Calibrate(calibration(t, c.standard, c.reading, c.temperature, c.set))
		if where := faultOf(err); where != c.where {
			t.Errorf("%s: %v at %q, want a fault at %q", c.name, err, where, c.where)
		}
	}
}

// The uncertainty of a correction is carried into the readings it corrects.
func TestCorrectionIsCarried(t *testing.T) {
	set := Setup{Kind: new(Hydrometer), Correction: &Correction{Scale: quantity.SpecificGravityScale, Value: 0.001, U: 0.0005}}
	at := quantity.Exactly[quantity.Celsius](25)
	r := quantity.Reading{Value: 1.010, U: 0.0005, Scale: quantity.SpecificGravityScale}
	corrected, noCorrected := convert(r, &at, set)
	right := quantity.Reading{Value: 1.011, U: 0.0005 * math.Sqrt2, Scale: quantity.SpecificGravityScale}
	direct, noDirect := convert(right, &at, Setup{Kind: new(Hydrometer)})
	if noCorrected != nil || noDirect != nil {
		t.Fatal(noCorrected, noDirect)
	}
	if a, b := corrected.AbsoluteSalinity, direct.AbsoluteSalinity; math.Abs(float64(a.Value-b.Value)) > 1e-9 || math.Abs(float64(a.U/b.U)-1) > 1e-5 {
		t.Errorf("1.010 SG corrected by 0.001 is %v, 1.011 SG is %v", a, b)
	}
}
