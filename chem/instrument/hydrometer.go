package instrument

import (
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// GlassExpansion is the relative growth in volume of a hydrometer's glass, per K.
//
// Source: the conventional value of [ISO1768]; borosilicate glass has less than half of it (from memory).
const GlassExpansion = 25e-6

// One division of a hobby hydrometer on each of its scales (common practice, no source).
var hydrometerDivisions = map[quantity.Scale]float64{
	quantity.SpecificGravityScale: 0.001,
	quantity.DensityScale:         1,
	quantity.PracticalScale:       1,
}

// hydrometer returns the sensor of a glass hydrometer that is marked, for a convention, in
// specific gravity, density or practical salinity. It displaces its own mass of water, and
// its volume grows with the glass. So a water in which it shows the density d has
//
//	ρ(t) = d / (1 + γ (t − sample))
//
// Source: [ISO1768] for γ; the rest is the definition of the mark.
func hydrometer(scale quantity.Scale, on quantity.Convention) (sensor, error) {
	expanded := func(t quantity.Celsius) float64 { return 1 + GlassExpansion*float64(t-on.Sample) }
	inner, outer, err := hydrometerMarks(scale, on)
	return sensor{
		scale: scale,
		salinity: func(d float64, t quantity.Celsius) (float64, error) {
			sa, err := seawater.AbsoluteSalinityFromDensity(quantity.Density(d/expanded(t)), t)
			return float64(sa), err
		},
		shows: func(sa float64, t quantity.Celsius) (float64, error) {
			rho, err := seawater.Density(quantity.AbsoluteSalinity(sa), t)
			return float64(rho) * expanded(t), err
		},
		greatest:      greatestAbsolute,
		fit:           constant(seawater.SalinityFromDensityFit),
		methods:       methodsOf(HydrometerMethod, seawater.DensityMethod),
		atTemperature: true,
		division:      division(hydrometerDivisions[scale]),
		believed: func(d float64) (quantity.AbsoluteSalinity, error) {
			return seawater.AbsoluteSalinityFromDensity(quantity.Density(d), on.Sample)
		},
		remark: func(read quantity.Estimate[quantity.Celsius], by *quantity.Estimate[quantity.AbsoluteSalinity]) quantity.Note {
			if by == nil {
				return note("hydrometer_temperature_only", read, on)
			}
			return note("hydrometer_temperature", read, *by, on)
		},
	}.marked(inner, outer), err
}

// hydrometerMarks returns the density of a mark on a hydrometer's scale, and the inverse.
func hydrometerMarks(scale quantity.Scale, on quantity.Convention) (inner, outer func(float64) (float64, error), err error) {
	water, err := seawater.Density(0, on.Water)
	if err != nil {
		return nil, nil, err
	}
	switch scale {
	case quantity.SpecificGravityScale:
		return times(float64(water)), times(1 / float64(water)), nil
	case quantity.DensityScale:
		return times(1), times(1), nil
	case quantity.PracticalScale:
		return func(sp float64) (float64, error) {
				sa, err := seawater.AbsoluteSalinity(quantity.Salinity(sp))
				if err != nil {
					return 0, err
				}
				d, err := seawater.Density(sa, on.Sample)
				return float64(d), err
			}, func(d float64) (float64, error) {
				sa, err := seawater.AbsoluteSalinityFromDensity(quantity.Density(d), on.Sample)
				if err != nil {
					return 0, err
				}
				sp, err := seawater.Salinity(sa)
				return float64(sp), err
			}, nil
	}
	return nil, nil, wrongScale("a hydrometer", "SG, kg/m3 or ppt", scale)
}

func times(factor float64) func(float64) (float64, error) {
	return func(x float64) (float64, error) { return x * factor, nil }
}

// division is constant along the scale.
func division(d float64) func(float64) float64 { return func(float64) float64 { return d } }

// PointerUncertainty is the standard uncertainty of an uncalibrated plastic hydrometer with
// a pointer: 1 to 2 g/kg (from memory).
const PointerUncertainty quantity.AbsoluteSalinity = 1.5

// pointer returns the sensor of a plastic hydrometer with a pointer. Plastic expands ten
// times as much as glass, and only the maker knows how the lever turns that into marks. So
// the temperature is not corrected for. The uncertainty covers that instead, unless the
// hydrometer was calibrated.
func pointer(scale quantity.Scale, on quantity.Convention, calibrated bool) (sensor, error) {
	if scale != quantity.SpecificGravityScale {
		return sensor{}, wrongScale("a hydrometer with a pointer", "SG", scale)
	}
	s := gravity(on)
	if !calibrated {
		s.fit = constant(PointerUncertainty)
	}
	s.division = division(hydrometerDivisions[scale])
	s.methods |= methodsOf(PointerMethod)
	return s, nil
}
