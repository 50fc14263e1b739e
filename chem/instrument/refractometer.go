package instrument

import (
	"errors"
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// RefractometerScale is the solution for which a refractometer's marks were drawn.
type RefractometerScale string

// The scales of refractometers.
const (
	SeawaterScale       RefractometerScale = "seawater" // marked in ppt, g/kg, g/L, SG 20C/20C or nD of sea water
	SodiumChlorideScale RefractometerScale = "nacl"     // marked in ppt or g/kg, g/L or SG 20C/20C of a solution of sodium chloride
	SucroseScale        RefractometerScale = "brix"     // marked in °Bx
)

// drawnAt is the temperature for which refractometer scales are drawn.
const drawnAt quantity.Celsius = 20

// The range of temperatures in which a bimetal compensates (from memory).
var compensates = quantity.Range[quantity.Celsius]{Lo: 10, Hi: 30}

// One division of a hobby refractometer on each of its scales (common practice, no source).
var refractometerDivisions = map[quantity.Scale]float64{
	quantity.PracticalScale:       1,
	quantity.AbsoluteScale:        1,
	quantity.PerLitreScale:        1,
	quantity.SpecificGravityScale: 0.001,
	quantity.RefractiveIndexScale: 0.0005,
	quantity.BrixScale:            0.2,
}

// refractometer returns the sensor of a refractometer. The instrument treats the index it
// sees as that at 20 °C of the solution for which its scale was drawn, shifted by the error
// of pure water at zero. With compensation that shift follows the temperature, which is not
// quite enough for sea water. It is long because the formula and its inverse are next to
// each other.
//
// Standing: a compensation that is assumed to be perfect for pure water; only the maker
// knows the real one.
func refractometer(scale quantity.Scale, on quantity.Convention, set Setup) (sensor, error) {
	drawn := SeawaterScale
	if set.Scale != nil {
		drawn = *set.Scale
	}
	marks, noMarks := marksOf(drawn, scale, on)
	zero, noZero := set.zero()
	if err := errors.Join(noMarks, noZero); err != nil {
		return sensor{}, err
	}
	s := sensor{
		scale: scale, practical: true,
		salinity: func(n20 float64, t quantity.Celsius) (float64, error) {
			shift, err := zero.shift(t)
			if err != nil {
				return 0, err
			}
			sp, err := seawater.SalinityFromRefractiveIndex(quantity.RefractiveIndex(n20)-shift, t)
			return float64(sp), err
		},
		shows: func(sp float64, t quantity.Celsius) (float64, error) {
			shift, err := zero.shift(t)
			if err != nil {
				return 0, err
			}
			n, err := seawater.RefractiveIndex(quantity.Salinity(sp), t)
			return float64(n + shift), err
		},
		greatest:      greatestRefractive,
		fit:           func(x float64, t quantity.Celsius) float64 { return math.Hypot(refractiveFit(x, t), zero.doubt(t)) },
		methods:       methodsOf(RefractometerMethod, seawater.RefractiveIndexMethod) | marks.methods,
		atTemperature: true,
		division:      division(refractometerDivisions[scale]),
		remark: func(read quantity.Estimate[quantity.Celsius], by *quantity.Estimate[quantity.AbsoluteSalinity]) quantity.Note {
			if by == nil {
				return note("refractometer_corrected_only", read, string(drawn))
			}
			return note("refractometer_corrected", read, *by, string(drawn))
		},
	}.marked(marks.index, marks.mark)
	s.believed = marks.believed
	return s, nil
}

// zero is where a refractometer shows zero in pure water: at one temperature or, with
// compensation, at every temperature in the range of its bimetal.
type zero struct {
	compensated bool
	set         quantity.Estimate[quantity.Celsius]
}

// zero returns where the refractometer shows zero.
func (s Setup) zero() (zero, error) {
	z := zero{s.TemperatureCompensated == nil || *s.TemperatureCompensated, quantity.Exactly(drawnAt)}
	if s.ZeroTemperature == nil {
		return z, nil
	}
	z.set = *s.ZeroTemperature
	if z.compensated {
		return z, &ConflictError{Name: "zero_temperature", Other: "temperature_compensated",
			Why: "with compensation it does not count at what temperature zero was set; leave it out, or say that there is no compensation", Note: quantity.Note{Code: "zero_with_compensation"}}
	}
	return z, errors.Join(operating.Check("zero_temperature", z.set.Value), sensible("zero_temperature", z.set))
}

// at returns the temperature of pure water that shows zero on an instrument at t.
func (z zero) at(t quantity.Celsius) quantity.Celsius {
	if z.compensated {
		return min(max(t, compensates.Lo), compensates.Hi)
	}
	return z.set.Value
}

// shift is what is added to the index that the prism sees at t: the difference between pure
// water at 20 °C and pure water that shows zero.
func (z zero) shift(t quantity.Celsius) (quantity.RefractiveIndex, error) {
	cold, noCold := seawater.RefractiveIndex(0, drawnAt)
	zeroed, noZeroed := seawater.RefractiveIndex(0, z.at(t))
	return cold - zeroed, errors.Join(noCold, noZeroed)
}

// doubt is the standard uncertainty of the salinity from what is not known about the zero:
// its temperature; or whether a bimetal stops at the end of its range, as shift assumes, or
// goes on, or anything in between.
func (z zero) doubt(t quantity.Celsius) float64 {
	if z.compensated {
		return waterBetween(z.at(t), t) / math.Sqrt(3)
	}
	lo, hi := max(z.set.Value-0.5, operating.Lo), min(z.set.Value+0.5, operating.Hi)
	return waterBetween(lo, hi) / float64(hi-lo) * float64(z.set.U)
}

// waterBetween is the practical salinity that pure water seems to have at one temperature if
// zero was set at another.
func waterBetween(a, b quantity.Celsius) float64 {
	at, noA := seawater.RefractiveIndex(0, a)
	past, noB := seawater.RefractiveIndex(0, b)
	if noA != nil || noB != nil {
		return 0 // out of range anyway; the salinity itself is refused
	}
	return math.Abs(float64(at-past)) / indexPerPractical
}

// indexPerPractical is how much one unit of practical salinity adds to the
// index, to the per cent that a doubt needs.
const indexPerPractical = 1.83e-4

// marks convert a mark on a refractometer's scale to the index at 20 °C and back, and to the
// salinity that a keeper takes it for.
type marks struct {
	index, mark func(float64) (float64, error)
	believed    func(float64) (quantity.AbsoluteSalinity, error)
	methods     methodSet
}

// marksOf returns the marks of a scale drawn for a solution.
func marksOf(drawn RefractometerScale, scale quantity.Scale, on quantity.Convention) (marks, error) {
	switch {
	case drawn == SeawaterScale && scale == quantity.RefractiveIndexScale:
		return marks{index: times(1), mark: times(1)}, nil
	case drawn == SeawaterScale && scale != quantity.BrixScale && refractometerDivisions[scale] > 0:
		return seawaterMarks(scale, on)
	case drawn == SodiumChlorideScale:
		return sodiumChlorideMarks(scale, on)
	case drawn == SucroseScale && scale == quantity.BrixScale:
		return marks{methods: methodsOf(seawater.SucroseMethod),
			index: func(x float64) (float64, error) {
				n, err := seawater.SucroseIndex(quantity.Fraction(x / 100))
				return float64(n), err
			},
			mark: func(n float64) (float64, error) {
				w, err := seawater.SucroseFromIndex(quantity.RefractiveIndex(n))
				return 100 * float64(w), err
			}}, nil
	case drawn == SucroseScale:
		return marks{}, &ConflictError{Name: "reading", Other: "scale", Why: "a Brix scale shows Bx, not " + string(scale), Note: quantity.Note{Code: "brix_shows_brix", Params: []any{string(scale)}}}
	}
	return marks{}, &ConflictError{Name: "reading", Other: "scale",
		Why: "a refractometer for " + string(drawn) + " does not show " + string(scale), Note: quantity.Note{Code: "refractometer_shows_other", Params: []any{string(drawn), string(scale)}}}
}

// seawaterMarks are marks of a salinity of sea water at 20 °C.
func seawaterMarks(scale quantity.Scale, on quantity.Convention) (marks, error) {
	meant, err := plain(scale, on)
	return marks{
		methods: meant.methods,
		index: func(x float64) (float64, error) {
			w, err := meant.water(x, drawnAt, 0, 0)
			if err != nil {
				return 0, err
			}
			n, err := seawater.RefractiveIndex(w.sp, drawnAt)
			return float64(n), err
		},
		mark: func(n float64) (float64, error) {
			sp, err := seawater.SalinityFromRefractiveIndex(quantity.RefractiveIndex(n), drawnAt)
			if err != nil {
				return 0, err
			}
			sa, err := seawater.AbsoluteSalinity(sp)
			if err != nil {
				return 0, err
			}
			return meant.shown(sa, drawnAt)
		},
		believed: func(x float64) (quantity.AbsoluteSalinity, error) {
			w, err := meant.water(x, drawnAt, 0, 0)
			return w.sa, err
		},
	}, err
}

// sodiumChlorideMarks are marks of a solution of sodium chloride at 20 °C. A keeper reads
// its grams as grams of sea salt, and its SG as that of sea water.
func sodiumChlorideMarks(scale quantity.Scale, on quantity.Convention) (marks, error) {
	if at20 := (quantity.Convention{Sample: drawnAt, Water: drawnAt}); scale == quantity.SpecificGravityScale && on != at20 {
		return marks{}, &ConflictError{Name: "reading", Other: "scale", Why: "a scale for sodium chloride stands on 20C/20C, not on " + on.String(), Note: quantity.Note{Code: "salt_scale_convention", Params: []any{on.String()}}}
	}
	unit, ok := sodiumChlorideUnits[scale]
	if !ok {
		return marks{}, &ConflictError{Name: "reading", Other: "scale",
			Why: "a scale for sodium chloride shows ppt, g/kg, g/L or SG, not " + string(scale), Note: quantity.Note{Code: "salt_scale_shows_other", Params: []any{string(scale)}}}
	}
	sea, err := plain(scale, on)
	return marks{
		methods: methodsOf(seawater.SodiumChlorideMethod, SodiumChlorideDensityMethod),
		index: func(x float64) (float64, error) {
			w := unit.fraction(x)
			if !(w >= 0 && w <= 0.10) {
				return 0, &quantity.RangeError{Name: "reading", Value: x, Lo: unit.shown(0), Hi: unit.shown(0.10), Unit: string(scale)}
			}
			n, err := seawater.SodiumChlorideIndex(quantity.Fraction(w))
			return float64(n), err
		},
		mark: func(n float64) (float64, error) {
			w, err := seawater.SodiumChlorideFromIndex(quantity.RefractiveIndex(n))
			return unit.shown(float64(w)), err
		},
		believed: func(x float64) (quantity.AbsoluteSalinity, error) {
			w, err := sea.water(x, drawnAt, 0, 0)
			return w.sa, err
		},
	}, err
}

// sodiumChlorideUnit is what a scale shows for a solution of sodium chloride at 20 °C, as a
// cubic in its mass per cent.
type sodiumChlorideUnit [4]float64

var sodiumChlorideUnits = map[quantity.Scale]sodiumChlorideUnit{
	quantity.PracticalScale:       {0, 10},
	quantity.AbsoluteScale:        {0, 10},
	quantity.PerLitreScale:        {0, saltWater0 / 100, saltWater1 / 100, saltWater2 / 100},
	quantity.SpecificGravityScale: {1, saltWater1 / saltWater0, saltWater2 / saltWater0},
}

func (u *sodiumChlorideUnit) shown(w float64) float64 {
	return numeric.Cubic(100*w, u[0], u[1], u[2], u[3])
}

// fraction is the inverse of shown. The cubics are nearly straight, so four Newton steps
// from the straight line reach the last bit. A value at an end of the scale counts as the
// end even if rounding has moved it outside.
func (u *sodiumChlorideUnit) fraction(x float64) float64 {
	percent := (x - u[0]) / u[1]
	for range 4 {
		percent -= (numeric.Cubic(percent, u[0], u[1], u[2], u[3]) - x) / numeric.Quadratic(percent, u[1], 2*u[2], 3*u[3])
	}
	if past := percent - 10; past > 0 && past < 1e-12 {
		return 0.10
	}
	return percent / 100
}

// saltWater are the coefficients of the density at 20 °C of a solution of sodium
// chloride, kg/m³, in powers of its mass percent up to 10, to 0.08 kg/m³ of the table.
//
// Source: table in [CRC102], after Wolf 1966. The quadratic, which starts from pure water, is
// fitted to it here and is not a standard.
const saltWater0, saltWater1, saltWater2 = 998.207, 7.08362, 1.64054e-2
