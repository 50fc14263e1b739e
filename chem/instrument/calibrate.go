package instrument

import (
	"errors"
	"slices"

	"saltlock/chem/quantity"
)

// CalibrationRequest is what an instrument showed in a known water.
type CalibrationRequest struct {
	Standard            quantity.Reading                     `json:"standard"`                       // what the water is known to be
	StandardTemperature *quantity.Estimate[quantity.Celsius] `json:"standard_temperature,omitempty"` // at which it is known to be that
	Reading             quantity.Reading                     `json:"reading"`                        // what the instrument showed
	Temperature         *quantity.Estimate[quantity.Celsius] `json:"temperature,omitempty"`          // of the water then

	Instrument             *Kind                                `json:"instrument,omitempty"`
	Calibration            *quantity.Convention                 `json:"calibration,omitempty"`
	Scale                  *RefractometerScale                  `json:"scale,omitempty"`
	TemperatureCompensated *bool                                `json:"temperature_compensated,omitempty"`
	ZeroTemperature        *quantity.Estimate[quantity.Celsius] `json:"zero_temperature,omitempty"`
	Compensation           *Compensation                        `json:"compensation,omitempty"`
	TdsFactor              *float64                             `json:"tds_factor,omitempty"`
}

// Calibration is the correction of an instrument.
type Calibration struct {
	Correction Correction       `json:"correction"` // to be sent with later readings
	Expected   quantity.Reading `json:"expected"`   // what it should have shown
	// Error is the salinity shown minus that of the water; nil if no water shows this.
	Error            *quantity.Estimate[quantity.AbsoluteSalinity] `json:"error,omitempty"`
	AbsoluteSalinity quantity.Estimate[quantity.AbsoluteSalinity]  `json:"absolute_salinity"`  // of the water
	Dominant         *quantity.Share                               `json:"dominant,omitempty"` // of the correction
	Warnings         []quantity.Note                               `json:"warnings"`
	Assumptions      []quantity.Note                               `json:"assumptions"`
	Methods          []string                                      `json:"methods"`
}

// Notes returns every note of the calibration, for the renderer to fill.
func (c *Calibration) Notes() []*quantity.Note { return notes(c.Warnings, c.Assumptions) }

// Setup returns the instrument of the request.
func (r CalibrationRequest) Setup() Setup {
	return Setup{Kind: r.Instrument, Calibration: r.Calibration, Scale: r.Scale,
		TemperatureCompensated: r.TemperatureCompensated, ZeroTemperature: r.ZeroTemperature,
		Compensation: r.Compensation, TdsFactor: r.TdsFactor}
}

// WithDefaults returns the request with its defaults filled in: a standard holds at 25 °C,
// and the instrument has the defaults of a conversion.
func (r CalibrationRequest) WithDefaults() CalibrationRequest {
	set := r.Setup().withDefaults(r.Reading)
	r.Instrument, r.Calibration, r.Scale = set.Kind, set.Calibration, set.Scale
	r.TemperatureCompensated, r.ZeroTemperature, r.Compensation = set.TemperatureCompensated, set.ZeroTemperature, set.Compensation
	r.Temperature = temperature(r.Reading, r.Temperature, set)
	if r.StandardTemperature == nil {
		r.StandardTemperature = new(quantity.Exactly(standIn))
	}
	return r
}

// Calibrate returns how to correct the readings of an instrument, given what it showed in a
// known water: a bottled standard, pure water, or a weighed mix.
//
//	Standard  the water, on any scale, up to 120 g/kg
//	Reading   what was shown in it, at Temperature, 0 to 40 °C
//
// Conductivity meters are off by a factor, all other instruments by a difference. One
// standard corrects readings close to it; further away the correction is a guess.
//
// Standard uncertainty: of standard, reading and temperature, propagated once.
// Check value: a 35 ppt standard at 25 °C read as 52.0 mS/cm gives the factor
// 53.071/52 = 1.0206 (53.071 mS/cm computed with a TEOS-10 library).
//
// Source: definition: what the instrument should show, compared with what it shows.
func Calibrate(given CalibrationRequest) (Calibration, error) {
	r := given.WithDefaults()
	k, err := comparisonOf(r)
	if err != nil {
		return Calibration{}, err
	}
	c := Calibration{Expected: quantity.Reading{Scale: r.Reading.Scale, Convention: r.Reading.Convention}}
	if c.AbsoluteSalinity, _, err = k.standard.absolute(); err != nil {
		return Calibration{}, Named("standard", err)
	}
	if c.Correction, c.Dominant, err = k.correction(); err != nil {
		return Calibration{}, err
	}
	c.Expected.Value = c.Correction.apply(r.Reading.Value, c.Correction.Value)
	c.Error = k.off()
	c.Warnings = k.warnings(c.AbsoluteSalinity.Value, c.Error)
	c.Assumptions = k.shown.assumptions(given.Temperature == nil, given.Setup())
	if given.StandardTemperature == nil && k.standard.sensor.atTemperature {
		c.Assumptions = append(c.Assumptions, note("standard_temperature_assumed", k.standard.temperature))
	}
	c.Methods = k.keys()
	return c, nil
}

// comparison is a standard together with what an instrument showed in it.
type comparison struct {
	standard *measurement
	shown    *measurement // not resolved, because an instrument that is off may show impossible values
	factor   bool         // whether the instrument is off by a factor
}

// comparisonOf makes the comparison of a request, or names every fault of it.
func comparisonOf(r CalibrationRequest) (comparison, error) {
	set := r.Setup()
	set.Correction = &Correction{Scale: r.Reading.Scale} // of zero: the correction replaces the doubt about the instrument
	standard, noStandard := measure(r.Standard, r.StandardTemperature, Setup{})
	faults := []error{Named("standard", noStandard)}
	if set.kind() == None {
		faults = append(faults, &MissingError{Name: "instrument", Why: "say what was calibrated: hydrometer, refractometer, conductivity or another", Note: quantity.Note{Code: "instrument_missing"}})
	}
	of, err := set.sensor(r.Reading)
	faults = append(faults, err)
	if r.Temperature == nil {
		faults = append(faults, missingTemperature(r.Reading))
	} else {
		faults = append(faults, operating.Check("temperature", r.Temperature.Value), sensible("temperature", *r.Temperature))
	}
	if err := errors.Join(faults...); err != nil {
		return comparison{}, err
	}
	k := comparison{standard: standard, shown: new(measurement)}
	k.shown.take(r.Reading, *r.Temperature, set, of)
	k.factor = set.kind() == ConductivityMeter || set.kind() == TDSMeter
	return k, nil
}

// inputs are those of the standard, and the instrument's number and temperature.
func (k comparison) inputs() []quantity.Input {
	all := slices.Concat(k.standard.inputs(), k.shown.inputs())
	for i := range k.standard.inputs() {
		all[i].Name = "standard " + all[i].Name
	}
	return all
}

// split undoes inputs.
func (k comparison) split(x []float64) (standard, shown []float64) {
	n := len(k.standard.inputs())
	return x[:n], slices.Clone(x[n:])
}

// expected returns what the instrument should show.
func (k comparison) expected(x []float64) (float64, error) {
	standard, shown := k.split(x)
	w, err := k.standard.joint(standard)
	if err != nil {
		return 0, err
	}
	return k.shown.sensor.shown(w.sa+quantity.AbsoluteSalinity(shown[2]), quantity.Celsius(shown[1]))
}

// correction returns the correction, and the input that contributes most to its variance.
func (k comparison) correction() (Correction, *quantity.Share, error) {
	c := Correction{Scale: k.shown.reading.Scale}
	if k.factor {
		c.Scale = ""
		if err := k.plausible(); err != nil {
			return c, nil, err
		}
	}
	e, shares, err := quantity.Propagate[quantity.Fraction](func(x []float64) (float64, error) {
		expected, err := k.expected(x)
		_, shown := k.split(x)
		if k.factor {
			return expected / shown[0], err
		}
		return expected - shown[0], err
	}, 0, k.inputs()...)
	c.Value, c.U = float64(e.Value), float64(e.U)
	return c, largest(shares), err
}

// plausible refuses a reading that no factor of a working meter explains.
func (k comparison) plausible() error {
	x := make([]float64, len(k.inputs()))
	for i, in := range k.inputs() {
		x[i] = in.Value
	}
	expected, err := k.expected(x)
	if err != nil {
		return err
	}
	r := k.shown.reading
	if expected <= 0 {
		return &ConflictError{Name: "standard", Other: "reading", Why: "the meter should show nothing in such a water, from which no factor follows; take a salt standard", Note: quantity.Note{Code: "standard_shows_nothing"}}
	}
	if r.Value >= expected/float64(factors.Hi) && r.Value <= expected/float64(factors.Lo) {
		return nil
	}
	return &quantity.RangeError{Name: "reading", Value: r.Value, Lo: expected / float64(factors.Hi), Hi: expected / float64(factors.Lo), Unit: string(r.Scale)}
}

// off returns the salinity shown minus that of the standard; nil if no water shows that.
func (k comparison) off() *quantity.Estimate[quantity.AbsoluteSalinity] {
	e, _, err := quantity.Propagate[quantity.AbsoluteSalinity](func(x []float64) (float64, error) {
		standard, shown := k.split(x)
		is, noStandard := k.standard.joint(standard)
		shown[3] = standard[3] // the salt is the same
		seems, noShown := k.shown.joint(shown)
		return float64(seems.sa - is.sa), errors.Join(noStandard, noShown)
	}, 0, k.inputs()...)
	if err != nil {
		return nil
	}
	return &e
}

// farOff is the error above which an instrument is too far off to be corrected.
const farOff quantity.AbsoluteSalinity = 5

func (k comparison) warnings(sa quantity.AbsoluteSalinity, off *quantity.Estimate[quantity.AbsoluteSalinity]) []quantity.Note {
	notes := []quantity.Note{note("correction_near_its_standard", quantity.Exactly(sa))}
	if off == nil {
		notes = append(notes, note("no_water_shows_this"))
	} else if max(off.Value, -off.Value) > farOff {
		notes = append(notes, note("instrument_far_off", *off))
	}
	if k.factor && sa < quantity.AbsoluteSalinity(dilute) {
		notes = append(notes, note("factor_from_dilute_standard", quantity.Exactly(dilute)))
	}
	return notes
}

func (k comparison) keys() []string {
	return (k.standard.sensor.methods | k.shown.sensor.methods | k.shown.halfDivision()).keys()
}
