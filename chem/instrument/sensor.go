package instrument

import (
	"errors"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// sensor is what the number on an instrument means. It counts salinity as its
// physics does: as practical salinity where that is conductivity or
// refraction, as Absolute Salinity where it is mass or density.
type sensor struct {
	scale     quantity.Scale
	practical bool
	// salinity and shows are inverse to each other: the salinity of the water
	// that makes the instrument show x, and what it shows there.
	salinity func(x float64, t quantity.Celsius) (float64, error)
	shows    func(salinity float64, t quantity.Celsius) (float64, error)
	greatest float64                        // salinity up to which the formulas hold
	fit      func(quantity.Celsius) float64 // their standard uncertainty as a salinity
	methods  []string

	atTemperature bool    // whether the temperature of the water decides what is shown
	division      float64 // of the scale, 0 where there is no instrument
	// believed is the salinity that a keeper reads off without any correction;
	// nil where nothing is corrected. correction is the code of the note that tells the difference.
	believed   func(x float64) (quantity.AbsoluteSalinity, error)
	correction string
	marks      []any // what the correction's note tells of the instrument
}

var operating = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}

// water is one water: its salinity on both scales, and its temperature.
type water struct {
	sp quantity.Salinity
	sa quantity.AbsoluteSalinity
	t  quantity.Celsius
}

// sensorOf returns what a number on this scale means on this instrument.
func sensorOf(r quantity.Reading, s Setup) (sensor, error) {
	convention, err := s.convention(r)
	if err != nil {
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
	}
	return sensor{}, &ConflictError{Name: "instrument", Other: "reading", Why: string(s.kind()) + " is no instrument that can be resolved"}
}

// water returns the water that makes the sensor show x at t. The salinity found
// is off by formula, and the salt in a unit of practical salinity by the share composition.
func (s sensor) water(x float64, t quantity.Celsius, formula, composition float64) (water, error) {
	found, err := s.salinity(x, t)
	if err != nil {
		return water{}, err
	}
	found += formula
	w := water{t: t}
	if s.practical {
		w.sp = quantity.Salinity(found)
		w.sa, err = seawater.AbsoluteSalinity(w.sp)
		w.sa *= quantity.AbsoluteSalinity(1 + composition)
	} else {
		w.sa = quantity.AbsoluteSalinity(found)
		w.sp, err = seawater.Salinity(w.sa)
		w.sp /= quantity.Salinity(1 + composition)
	}
	return w, err
}

// check returns why x at t cannot be resolved, in the words of the request.
func (s sensor) check(x float64, t quantity.Celsius) error {
	if s.atTemperature {
		if err := operating.Check("temperature", t); err != nil {
			return err
		}
	}
	_, err := s.salinity(x, t)
	if err == nil {
		return nil
	}
	lo, noLo := s.shows(0, t)
	hi, noHi := s.shows(s.greatest, t)
	if errors.Join(noLo, noHi) != nil {
		return err
	}
	return &quantity.RangeError{Name: "reading", Value: x, Lo: lo, Hi: hi, Unit: string(s.scale)}
}

// marked returns the sensor with another scale on it: inner turns a mark of
// the scale into what the sensor takes, outer is its inverse.
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
