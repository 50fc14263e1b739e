package instrument

import (
	"errors"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// sensor is the meaning of the number on an instrument. It uses the salinity of its physics:
// practical salinity for conductivity and refraction, Absolute Salinity for mass and density.
type sensor struct {
	scale     quantity.Scale
	practical bool
	// salinity is the salinity of the water in which the instrument shows x; shows is its
	// inverse.
	salinity func(x float64, t quantity.Celsius) (float64, error)
	shows    func(salinity float64, t quantity.Celsius) (float64, error)
	greatest float64 // salinity up to which the formulas hold
	// fit is the standard uncertainty, as a salinity, from formulas and instrument if the
	// number itself is exact.
	fit     func(x float64, t quantity.Celsius) float64
	methods methodSet

	atTemperature bool                    // whether the temperature of the water decides what is shown
	division      func(x float64) float64 // of the scale; nil without an instrument
	// believed is the salinity that a keeper would read without any correction; nil if
	// nothing is corrected. remark is the note on the difference, which is nil if such a
	// reading would mean nothing.
	believed func(x float64) (quantity.AbsoluteSalinity, error)
	remark   func(read quantity.Estimate[quantity.Celsius], by *quantity.Estimate[quantity.AbsoluteSalinity]) quantity.Note
}

var operating = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}

// asWater is the range of temperatures of water in which animals are moved. Proposed here;
// anything outside is a typing error.
var asWater = quantity.Range[quantity.Celsius]{Lo: -5, Hi: 45}

// water is one water: its salinity on both scales, and its temperature.
type water struct {
	sp quantity.Salinity
	sa quantity.AbsoluteSalinity
	t  quantity.Celsius
}

// sensor returns what a number on this scale means on this instrument.
func (s Setup) sensor(r quantity.Reading) (sensor, error) {
	if r.Convention == nil && s.bare() { // as most readings are, and nothing can contradict
		return plain(r.Scale, s.usual())
	}
	bare, err := s.uncorrected(r)
	if err != nil {
		return sensor{}, err
	}
	return bare.corrected(s.Correction)
}

// uncorrected is sensor without the correction.
func (s Setup) uncorrected(r quantity.Reading) (sensor, error) {
	convention, err := s.convention(r)
	if err := errors.Join(err, s.unused(r)); err != nil {
		return sensor{}, err
	}
	if err := errors.Join(
		operating.Check("calibration", convention.Sample),
		operating.Check("calibration", convention.Water),
	); err != nil {
		return sensor{}, err
	}
	switch s.kind() {
	case None:
		return plain(r.Scale, convention)
	case Hydrometer:
		return hydrometer(r.Scale, convention)
	case PointerHydrometer:
		return pointer(r.Scale, convention, s.Correction != nil)
	case Refractometer:
		return refractometer(r.Scale, convention, s)
	case ConductivityMeter:
		return conductivityMeter(r.Scale, s)
	case TDSMeter:
		return tdsMeter(r.Scale, s)
	}
	return sensor{}, &ConflictError{Name: "instrument", Other: "reading", Why: string(s.kind()) + " is no instrument that can be resolved", Note: quantity.Note{Code: "instrument_unknown", Params: []any{string(s.kind())}}}
}

// wrongScale refuses a reading that the instrument cannot show.
func wrongScale(instrument, shows string, scale quantity.Scale) error {
	return &ConflictError{Name: "reading", Other: "instrument",
		Why: instrument + " shows " + shows + ", not " + string(scale), Note: quantity.Note{Code: "instrument_shows_other", Params: []any{instrument, shows, string(scale)}}}
}

// water returns the water in which the sensor shows x at t. The salinity found is off by
// formula, and the salt in a unit of practical salinity by the share composition.
func (s *sensor) water(x float64, t quantity.Celsius, formula, composition float64) (water, error) {
	found, err := s.salinity(x, t)
	if err != nil {
		return water{}, err
	}
	return s.waterOf(found+formula, t, composition)
}

// waterOf returns the water of a salinity on the sensor's scale.
func (s *sensor) waterOf(salinity float64, t quantity.Celsius, composition float64) (w water, err error) {
	w.t = t
	if s.practical {
		w.sp = quantity.Salinity(salinity)
		w.sa, err = seawater.AbsoluteSalinity(w.sp)
		w.sa *= quantity.AbsoluteSalinity(1 + composition)
	} else {
		w.sa = quantity.AbsoluteSalinity(salinity)
		w.sp, err = seawater.Salinity(w.sa)
		w.sp /= quantity.Salinity(1 + composition)
	}
	return w, err
}

// check returns why x at t cannot be resolved, in the words of the request.
func (s *sensor) check(x float64, t quantity.Celsius) error {
	_, err := s.water(x, t, 0, 0)
	return s.fault(x, t, err)
}

// fault returns an error of water in the words of the request.
func (s *sensor) fault(x float64, t quantity.Celsius, err error) error {
	if s.atTemperature && operating.Check("temperature", t) != nil {
		return operating.Check("temperature", t)
	}
	limit, ok := errors.AsType[*quantity.RangeError](err)
	if !ok || limit.Name == "temperature" {
		return err
	}
	told := *limit
	told.Name = "reading"
	lo, noLo := s.shows(0, t)
	hi, noHi := s.shows(s.greatest, t)
	if noLo == nil && noHi == nil { // otherwise the kernel's own numbers remain
		told.Value, told.Lo, told.Hi, told.Unit = x, lo, hi, string(s.scale)
	}
	return &told
}

// marked returns the sensor with another scale: inner turns a mark of the scale into the
// sensor's number, outer is its inverse.
func (s sensor) marked(inner, outer func(float64) (float64, error)) sensor {
	bare := s
	s.salinity = func(x float64, t quantity.Celsius) (float64, error) {
		y, err := inner(x)
		if err != nil {
			return 0, err
		}
		return bare.salinity(y, t)
	}
	s.shows = func(salinity float64, t quantity.Celsius) (float64, error) {
		y, err := bare.shows(salinity, t)
		if err != nil {
			return 0, err
		}
		return outer(y)
	}
	if bare.believed != nil {
		s.believed = func(x float64) (quantity.AbsoluteSalinity, error) {
			y, err := inner(x)
			if err != nil {
				return 0, err
			}
			return bare.believed(y)
		}
	}
	return s
}
