package instrument

import (
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// conductivityMeter returns the sensor of a meter that shows mS/cm, or a practical salinity
// that it computes from the conductivity.
func conductivityMeter(scale quantity.Scale, set Setup) (sensor, error) {
	switch scale {
	case quantity.PracticalScale:
		s := plainSensors[scale]
		s.scale, s.fit, s.division = scale, constant(seawater.SalinityFromConductivityFit), division(0.1)
		s.methods |= methodsOf(seawater.ConductivityMethod)
		return s, nil
	case quantity.ConductivityScale:
		if set.compensation() == usualCompensation {
			return usualMeter, nil
		}
		return meter(scale, set.compensation()), nil
	}
	return sensor{}, wrongScale("a conductivity meter", "mS/cm or ppt", scale)
}

// usualMeter is made once, as every conductivity whose meter is not named needs it.
var usualMeter = meter(quantity.ConductivityScale, usualCompensation)

// tdsMeter returns the sensor of a meter that shows mg/L or g/L, which some call ppm or ppt:
// the conductivity at its reference temperature times a factor. The factor is right for at
// most one water, so it is only used to get back to the conductivity.
func tdsMeter(scale quantity.Scale, set Setup) (sensor, error) {
	if scale != quantity.PerLitreScale && scale != quantity.PracticalScale && scale != quantity.PenScale {
		return sensor{}, wrongScale("a TDS meter", "ppm, mg/L, g/L or ppt", scale)
	}
	if set.TdsFactor == nil {
		return sensor{}, &MissingError{Name: "tds_factor",
			Why: "what a TDS meter shows means nothing without the factor it multiplies conductivity by: 0.5, 0.64 or 0.7, see its manual", Note: quantity.Note{Code: "factor_missing"}}
	}
	factor := *set.TdsFactor
	if !(factor >= tdsFactors.Lo && factor <= tdsFactors.Hi) {
		return sensor{}, &quantity.RangeError{Name: "tds_factor", Value: factor, Lo: tdsFactors.Lo, Hi: tdsFactors.Hi, Unit: "1"}
	}
	shown := factor // in the display's unit, for each mS/cm
	if scale == quantity.PenScale {
		shown *= 1000
	}
	s := meter(scale, set.compensation())
	bare := s
	s = s.marked(times(1/shown), times(shown))
	s.fit = func(x float64, t quantity.Celsius) float64 { return bare.fit(x/shown, t) }
	s.division = func(x float64) float64 { return shown * bare.division(x/shown) }
	s.believed = func(x float64) (quantity.AbsoluteSalinity, error) {
		return seawater.AbsoluteSalinityFromSaltPerLitre(quantity.SaltPerLitre(x/shown*factor), standIn)
	}
	s.methods |= methodsOf(TDSMethod)
	s.remark = func(read quantity.Estimate[quantity.Celsius], by *quantity.Estimate[quantity.AbsoluteSalinity]) quantity.Note {
		if by == nil {
			return note("tds_factor_undone_only", read, factor)
		}
		return note("tds_factor_undone", read, *by, factor)
	}
	return s, nil
}

var tdsFactors = struct{ Lo, Hi float64 }{0.3, 1.2}

// compensation returns how the meter compensates, usualCompensation if it is not stated.
func (s Setup) compensation() Compensation {
	if s.Compensation == nil {
		return usualCompensation
	}
	return *s.Compensation
}

// meter returns the sensor of a conductivity meter. It undoes the meter's compensation,
// because only what the meter measured is a conductivity of sea water. It is long because
// the formula and its inverse are next to each other.
func meter(scale quantity.Scale, c Compensation) sensor {
	s := sensor{
		scale: scale, practical: true,
		salinity: func(x float64, t quantity.Celsius) (float64, error) {
			factor, err := c.factor(t)
			if err != nil {
				return 0, err
			}
			sp, err := seawater.SalinityFromConductivity(quantity.Conductivity(x/factor), t)
			return float64(sp), err
		},
		shows: func(sp float64, t quantity.Celsius) (float64, error) {
			factor, err := c.factor(t)
			if err != nil {
				return 0, err
			}
			measured, err := seawater.Conductivity(quantity.Salinity(sp), t)
			return float64(measured) * factor, err
		},
		greatest:      greatestPractical,
		methods:       methodsOf(MeterMethod, seawater.ConductivityMethod),
		atTemperature: true,
		division:      meterDivision,
	}
	s.fit = func(x float64, t quantity.Celsius) float64 {
		return math.Hypot(float64(seawater.SalinityFromConductivityFit), c.doubt(s, x, t))
	}
	if c.Curve != Uncompensated {
		s.remark = func(read quantity.Estimate[quantity.Celsius], by *quantity.Estimate[quantity.AbsoluteSalinity]) quantity.Note {
			if by == nil {
				return note("compensation_undone_only", read, c)
			}
			return note("compensation_undone", read, *by, c)
		}
		s.believed = func(x float64) (quantity.AbsoluteSalinity, error) {
			sp, err := seawater.SalinityFromConductivity(quantity.Conductivity(x), c.Reference)
			if err != nil {
				return 0, err
			}
			return seawater.AbsoluteSalinity(sp)
		}
	}
	if c.Curve == NonLinear {
		s.methods |= methodsOf(NonLinearMethod)
	}
	return s
}

// meterDivision is the last digit of a hobby meter: 0.01 mS/cm below 2 mS/cm, 0.1 above
// (common practice, no source).
func meterDivision(x float64) float64 {
	if x < 2 {
		return 0.01
	}
	return 0.1
}

// factor is by what the meter multiplies a conductivity measured at t.
func (c Compensation) factor(t quantity.Celsius) (float64, error) {
	switch c.Curve {
	case Linear:
		return c.linearFactor(t)
	case NonLinear:
		if err := nonLinearTemperature.Check("temperature", t); err != nil {
			return 0, err
		}
		return nonLinear(float64(t)) / nonLinear(float64(c.Reference)), nil
	}
	return 1, nil
}

// linearFactor is factor for a linear compensation. In cold water a steep coefficient loses
// its meaning before it loses its value.
func (c Compensation) linearFactor(t quantity.Celsius) (float64, error) {
	growth := 1 + c.Coefficient*float64(t-c.Reference)
	if growth < 0.2 {
		coldest := float64(c.Reference) - 0.8/c.Coefficient
		return 0, &quantity.RangeError{Name: "temperature", Value: float64(t), Lo: coldest, Hi: float64(operating.Hi), Unit: t.Unit()}
	}
	return 1 / growth, nil
}

// doubt is the uncertainty of the salinity from that of the coefficient, which changes the
// conductivity by the share U (t − reference) / (1 + a (t − reference)).
func (c Compensation) doubt(s sensor, x float64, t quantity.Celsius) float64 {
	factor, err := c.factor(t)
	if err != nil || c.U == 0 {
		return 0 // the salinity itself is refused
	}
	const step = 1e-3
	at, errAt := s.salinity(x, t)
	moved, errMoved := s.salinity(x*(1-step), t) // less salt is always in range
	if errAt != nil || errMoved != nil {
		return 0
	}
	return (at - moved) / step * math.Abs(c.U*float64(t-c.Reference)*factor)
}

var nonLinearTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 35}

// f25 is the table for natural waters, in whole degrees from 0 °C on.
//
// Source: [ISO7888].
var f25 = []float64{
	1.918, 1.857, 1.800, 1.745, 1.693, 1.643, 1.596, 1.551, 1.508, 1.467,
	1.428, 1.390, 1.354, 1.320, 1.287, 1.256, 1.225, 1.196, 1.168, 1.141,
	1.116, 1.091, 1.067, 1.044, 1.021, 1.000, 0.979, 0.959, 0.940, 0.921,
	0.903, 0.886, 0.869, 0.853, 0.837, 0.822,
}

// nonLinear returns f25, interpolated linearly between the whole degrees of the table.
func nonLinear(t float64) float64 {
	i := min(int(t), len(f25)-2)
	return f25[i] + (t-float64(i))*(f25[i+1]-f25[i])
}
