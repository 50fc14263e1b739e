package instrument

import (
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// AbsoluteSalinity returns the salinity of the water in which an instrument
// shows r, for use inside joint functions.
//
//	r  the reading; its uncertainty is ignored
//	t  temperature of the water, 0 to 40 °C; nil if the reading does not need it
//	s  the instrument
//
// Standard uncertainty: not given here; see Convert.
// Check value: 1.010 SG on a hydrometer for 60F/60F at 25 °C gives 15.70 g/kg
// (computed with TEOS-10 density).
//
// Source: the inverse of Show.
func AbsoluteSalinity(r quantity.Reading, t *quantity.Celsius, s Setup) (quantity.AbsoluteSalinity, error) {
	of, err := s.sensor(r)
	if err != nil {
		return 0, err
	}
	at := standIn
	if t != nil {
		at = *t
	} else if of.atTemperature {
		return 0, missingTemperature(r)
	}
	w, err := of.water(r.Value, at, 0, 0)
	if err != nil {
		return 0, of.fault(r.Value, at, err)
	}
	return w.sa, nil
}

// standIn is the temperature that is used if none is given and it hardly matters.
const standIn quantity.Celsius = 25

func missingTemperature(r quantity.Reading) error {
	return &MissingError{Name: "temperature",
		Why:  "a reading in " + string(r.Scale) + " depends on the temperature of the water; give it, for example 25 C",
		Note: quantity.Note{Code: "temperature_missing", Params: []any{string(r.Scale)}}}
}

// Show returns what an instrument will show in a water. A hydrometer shows the specific
// gravity; without an instrument, it is the practical salinity.
//
//	sa  Absolute Salinity, 0 to 120 g/kg
//	t   temperature of the water, 0 to 40 °C
//	s   the instrument
//
// Standard uncertainty: that of the instrument; see DefaultUncertainty.
// Check value: 15.7 g/kg at 25 °C shows 1.010 SG on a hydrometer for 60F/60F
// (computed with TEOS-10 density).
//
// Source: the definition of the marks on the instrument, over chem/seawater.
func Show(sa quantity.AbsoluteSalinity, t quantity.Celsius, s Setup) (quantity.Reading, error) {
	r := quantity.Reading{Scale: s.scale()}
	of, err := s.sensor(r)
	if err != nil {
		return r, err
	}
	if r.Scale == quantity.SpecificGravityScale {
		c, err := s.convention(r)
		if err != nil {
			return r, err
		}
		r.Convention = &c
	}
	r.Value, err = of.shown(sa, t)
	return r, err
}

// DefaultUncertainty returns the standard uncertainty, as a salinity, of a reading of the
// instrument in a water: half a division, and what is not known about the instrument
// itself. Without an instrument it is 0, which means not known.
//
//	s   the instrument
//	sa  Absolute Salinity, 0 to 120 g/kg
//	t   temperature of the water, 0 to 40 °C
//
// Standing: half a division is common practice, no source.
// Check value: 1.32 to 1.33 of practical salinity for 0.001 of specific gravity,
// so 0.67 g/kg for half a division of a hydrometer (computed with TEOS-10 density).
func DefaultUncertainty(s Setup, sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.AbsoluteSalinity, error) {
	r, err := Show(sa, t, s)
	if err != nil {
		return 0, err
	}
	m, err := measure(r, new(quantity.Exactly(t)), s)
	if err != nil || m.sensor.division == nil {
		return 0, err
	}
	e, _, err := m.absolute()
	return e.U, err
}

// FormulaUncertainty returns the standard uncertainty, as a salinity, of a reading whose
// number is exact: that of the formulas, and of what is not known about the instrument.
//
//	r  the reading, which AbsoluteSalinity can resolve
//	t  temperature of the water, 0 to 40 °C
//	s  the instrument
//
// Standard uncertainty: the result is one.
// Check value: 0.0055 g/kg for a specific gravity (seawater.SalinityFromDensityFit).
//
// Source: the Fit constants of chem/seawater.
func FormulaUncertainty(r quantity.Reading, t quantity.Celsius, s Setup) (quantity.AbsoluteSalinity, error) {
	of, err := s.sensor(r)
	if err != nil {
		return 0, err
	}
	if err := of.check(r.Value, t); err != nil {
		return 0, err
	}
	fit := of.fit(r.Value, t)
	if of.practical {
		return seawater.AbsoluteSalinity(quantity.Salinity(fit))
	}
	return quantity.AbsoluteSalinity(fit), nil
}

// shown returns what the sensor shows in a water.
func (s sensor) shown(sa quantity.AbsoluteSalinity, t quantity.Celsius) (float64, error) {
	if !s.practical {
		return s.shows(float64(sa), t)
	}
	sp, err := seawater.Salinity(sa)
	if err != nil {
		return 0, err
	}
	return s.shows(float64(sp), t)
}
