package instrument

import (
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// The salinities up to which the formulas hold: of density, of PSS-78 and of refraction.
const (
	greatestAbsolute     = 120
	greatestPractical    = 42
	greatestRefractive   = 43
	greatestByProportion = 119 // practical salinity beyond its own scale
)

// refractionMeasured is where measurements of refraction end; see seawater.RefractiveIndex.
const refractionMeasured quantity.Celsius = 30

// salinityFromOsmolalityFit is the uncertainty of a salinity at 35 g/kg from OsmolalityFit.
const salinityFromOsmolalityFit quantity.AbsoluteSalinity = 0.07

// plain returns the sensor of a reading that is true on its scale. A specific gravity is a
// property of the water at the temperatures of its convention, whatever the temperature of
// the water is now.
func plain(scale quantity.Scale, convention quantity.Convention) (sensor, error) {
	s, ok := plainSensors[scale]
	switch {
	case scale == quantity.SpecificGravityScale:
		return gravity(convention), nil
	case scale == quantity.PenScale:
		return sensor{}, &ConflictError{Name: "reading", Other: "instrument",
			Why: "ppm on a pen are dissolved solids by a factor of its own, never ppt; name the instrument tds with its tds_factor", Note: quantity.Note{Code: "pen_needs_factor"}}
	case !ok:
		return sensor{}, &ConflictError{Name: "reading", Other: "instrument", Why: "a salinity is not read in " + string(scale), Note: quantity.Note{Code: "no_scale_of_salinity", Params: []any{string(scale)}}}
	}
	s.scale = scale
	return s, nil
}

func gravity(convention quantity.Convention) sensor {
	return sensor{
		scale: quantity.SpecificGravityScale,
		salinity: func(x float64, _ quantity.Celsius) (float64, error) {
			sa, err := seawater.AbsoluteSalinityFromSpecificGravity(quantity.SpecificGravity(x), convention)
			return float64(sa), err
		},
		shows: func(sa float64, _ quantity.Celsius) (float64, error) {
			sg, err := seawater.SpecificGravity(quantity.AbsoluteSalinity(sa), convention)
			return float64(sg), err
		},
		greatest: greatestAbsolute,
		fit:      constant(seawater.SalinityFromDensityFit),
		methods:  methodsOf(seawater.SpecificGravityMethod, seawater.DensityMethod),
	}
}

var plainSensors = map[quantity.Scale]sensor{
	quantity.PracticalScale: {
		practical: true,
		salinity:  checked(seawater.AbsoluteSalinity),
		shows:     checked(seawater.AbsoluteSalinity),
		greatest:  greatestByProportion,
		fit:       constant[quantity.Salinity](0),
		methods:   methodsOf(seawater.ReferenceSalinityMethod),
	},
	quantity.AbsoluteScale: {
		salinity: checked(seawater.Salinity),
		shows:    checked(seawater.Salinity),
		greatest: greatestAbsolute,
		fit:      constant[quantity.AbsoluteSalinity](0),
	},
	quantity.PerLitreScale: {
		salinity:      at(seawater.AbsoluteSalinityFromSaltPerLitre),
		shows:         at(seawater.SaltPerLitre),
		greatest:      greatestAbsolute,
		fit:           constant(seawater.SaltPerLitreFit),
		methods:       methodsOf(seawater.SaltPerLitreMethod, seawater.DensityMethod),
		atTemperature: true,
	},
	quantity.DensityScale: {
		salinity:      at(seawater.AbsoluteSalinityFromDensity),
		shows:         at(seawater.Density),
		greatest:      greatestAbsolute,
		fit:           constant(seawater.SalinityFromDensityFit),
		methods:       methodsOf(seawater.DensityMethod),
		atTemperature: true,
	},
	quantity.ConductivityScale: {
		practical:     true,
		salinity:      at(seawater.SalinityFromConductivity),
		shows:         at(seawater.Conductivity),
		greatest:      greatestPractical,
		fit:           constant(seawater.SalinityFromConductivityFit),
		methods:       methodsOf(seawater.ConductivityMethod),
		atTemperature: true,
	},
	quantity.RefractiveIndexScale: {
		practical:     true,
		salinity:      at(seawater.SalinityFromRefractiveIndex),
		shows:         at(seawater.RefractiveIndex),
		greatest:      greatestRefractive,
		fit:           refractiveFit,
		methods:       methodsOf(seawater.RefractiveIndexMethod),
		atTemperature: true,
	},
	quantity.BrixScale: {
		practical: true,
		salinity:  func(x float64, _ quantity.Celsius) (float64, error) { return salinityFromBrix(x) },
		shows:     func(sp float64, _ quantity.Celsius) (float64, error) { return brix(sp) },
		greatest:  greatestRefractive,
		fit:       refractiveFit,
		methods:   methodsOf(seawater.RefractiveIndexMethod, seawater.SucroseMethod),
	},
	quantity.ChlorinityScale: {
		practical: true,
		salinity:  always(seawater.SalinityFromChlorinity),
		shows:     always(seawater.Chlorinity),
		greatest:  greatestByProportion,
		fit:       constant[quantity.Salinity](0),
		methods:   methodsOf(seawater.ChlorinityMethod, seawater.ReferenceSalinityMethod),
	},
	quantity.OsmolalityScale: {
		salinity: at(seawater.AbsoluteSalinityFromOsmolality),
		shows:    at(seawater.Osmolality),
		greatest: greatestAbsolute,
		fit:      constant(salinityFromOsmolalityFit),
		methods:  methodsOf(seawater.OsmolalityMethod),
	},
}

// at turns a formula of one quantity and a temperature into one of plain numbers.
func at[A, B quantity.Quantity](f func(A, quantity.Celsius) (B, error)) func(float64, quantity.Celsius) (float64, error) {
	return func(x float64, t quantity.Celsius) (float64, error) {
		y, err := f(A(x), t)
		return float64(y), err
	}
}

// always is at for a formula without a temperature.
func always[A, B quantity.Quantity](f func(A) (B, error)) func(float64, quantity.Celsius) (float64, error) {
	return func(x float64, _ quantity.Celsius) (float64, error) {
		y, err := f(A(x))
		return float64(y), err
	}
}

// checked returns its number unchanged if f accepts it.
func checked[A, B quantity.Quantity](f func(A) (B, error)) func(float64, quantity.Celsius) (float64, error) {
	return func(x float64, _ quantity.Celsius) (float64, error) {
		_, err := f(A(x))
		return x, err
	}
}

// brix returns what a Brix scale shows in sea water at 20 °C.
func brix(sp float64) (float64, error) {
	n, err := seawater.RefractiveIndex(quantity.Salinity(sp), 20)
	if err != nil {
		return 0, err
	}
	w, err := seawater.SucroseFromIndex(n)
	return 100 * float64(w), err
}

// salinityFromBrix returns the practical salinity that shows x °Bx at 20 °C.
func salinityFromBrix(x float64) (float64, error) {
	n, err := seawater.SucroseIndex(quantity.Fraction(x / 100))
	if err != nil {
		return 0, err
	}
	sp, err := seawater.SalinityFromRefractiveIndex(n, 20)
	return float64(sp), err
}

func constant[Q quantity.Quantity](q Q) func(float64, quantity.Celsius) float64 {
	return func(float64, quantity.Celsius) float64 { return float64(q) }
}

// refractiveFit is the uncertainty of a practical salinity found by refraction.
func refractiveFit(_ float64, t quantity.Celsius) float64 {
	if t > refractionMeasured {
		return float64(seawater.SalinityFromRefractiveIndexWarmFit)
	}
	return float64(seawater.SalinityFromRefractiveIndexFit)
}
