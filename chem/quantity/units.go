package quantity

import (
	"math"
	"slices"
)

// Molar masses, g/mol, from the abridged standard atomic weights of 2021
// [CIAAW2021]: H 1.008, C 12.011, N 14.007, O 15.999, Ca 40.078.
const (
	molarN     = 14.007
	molarNO2   = 14.007 + 2*15.999
	molarNH3   = 14.007 + 3*1.008
	molarNH4   = 14.007 + 4*1.008
	molarCaO   = 40.078 + 15.999
	molarCaCO3 = 40.078 + 12.011 + 3*15.999
)

// Customary units, exact by definition [NISTSP811, appendix B.8].
const (
	usGallon       = 3.785411784 // L
	imperialGallon = 4.54609     // L
	pound          = 0.45359237  // kg
	inch           = 2.54        // cm
	foot           = 30.48       // cm
)

// ReferenceSalt is the mass of sea salt, g, in a kilogram of Reference-Composition sea water
// of practical salinity 35, and GramsPerPractical that for one unit of practical salinity.
// The two scales are proportional by definition [Millero2008].
const (
	ReferenceSalt     = 35.16504
	GramsPerPractical = ReferenceSalt / 35
)

// The dimensions in which people write readings of salinity.
var (
	practicalSalinity = dimension{name: "practical salinity", units: []unit{
		in(1, 1, "ppt", "psu", "PSU", "‰", "parts per thousand"),
	}}
	absoluteSalinity = dimension{name: "salinity difference", units: []unit{
		in(1, 1, "g/kg"),
		in(ReferenceSalt, 35, "ppt", "psu", "PSU", "‰"),
	}}
	saltPerLitre = dimension{name: "salt per litre", units: []unit{
		in(1, 1, "g/L", "g/l"),
		in(1, 1000, "mg/L", "mg/l"),
	}}
	chlorinity = dimension{name: "chlorinity", units: []unit{
		in(1, 1, "g/kg Cl"),
	}}
	specificGravity = dimension{name: "specific gravity", units: []unit{
		in(1, 1, "SG"),
	}}
	density = dimension{name: "density", units: []unit{
		in(1, 1, "kg/m³", "kg/m3"),
		in(1000, 1, "g/mL", "g/ml"),
		in(1000, 1, "g/cm³", "g/cm3"),
	}}
	conductivity = dimension{name: "conductivity", units: []unit{
		in(1, 1, "mS/cm", "mS"), // pens leave out the centimetre
		in(1, 1000, "µS/cm", "uS/cm", "μS/cm", "µS", "uS", "μS"), // micro sign, letter u and Greek mu
		in(10, 1, "S/m"),
	}}
	refractiveIndex = dimension{name: "refractive index", units: []unit{
		in(1, 1, "nD"),
	}}
	// A pen's ppm are dissolved solids by a factor of its own, never ppt (common practice, no source).
	dissolvedSolids = dimension{name: "dissolved solids", units: []unit{
		in(1, 1, "ppm", "PPM"),
	}}
	brix = dimension{name: "degrees Brix", units: []unit{
		in(1, 1, "°Bx", "Bx", "Brix"),
	}}
	osmolality = dimension{name: "osmolality", units: []unit{
		in(1, 1, "mOsm/kg", "mosm/kg"),
	}}
)

var (
	temperature = dimension{name: "temperature", units: []unit{
		in(1, 1, "°C", "Cel", "C", "deg C", "degC", "degrees C", "° C", "celsius"),
		{names: []string{"°F", "[degF]", "F", "deg F", "degF", "degrees F", "° F", "fahrenheit"}, num: 5, den: 9, zero: 32},
		{names: []string{"K"}, num: 1, den: 1, zero: 273.15},
	}}
	temperatureDifference = dimension{name: "temperature difference", units: []unit{
		in(1, 1, "K", "Cel", "°C", "C"),
		in(5, 9, "°F", "[degF]", "F"),
	}}
	temperatureRate = dimension{name: "temperature rate", units: []unit{
		in(1, 1, "K/h", "Cel/h", "°C/h", "C/h"),
		in(1, 24, "K/d", "Cel/d", "°C/d", "C/d", "K/day", "°C/day", "C/day"),
		in(5, 9, "°F/h", "[degF]/h", "F/h"),
		in(5, 9*24, "°F/d", "[degF]/d", "F/d", "°F/day", "F/day"),
	}}
	salinityRate = dimension{name: "salinity rate", units: []unit{
		in(1, 1, "g/kg/h"),
		in(1, 24, "g/kg/d", "g/kg/day"),
		in(ReferenceSalt, 35, "ppt/h", "psu/h", "PSU/h", "‰/h"),
		in(ReferenceSalt, 35*24, "ppt/d", "psu/d", "PSU/d", "‰/d", "ppt/day", "psu/day", "PSU/day", "‰/day"),
	}}
	volume = dimension{name: "volume", units: []unit{
		in(1, 1, "L", "l", "litre", "litres", "liter", "liters"),
		{names: []string{"mL", "ml", "millilitres", "milliliters"}, num: 1, den: 1000, below: 0.01},
		in(1000, 1, "m³", "m3"),
		in(usGallon, 1, "gal", "[gal_us]", "gallon", "gallons"),
		in(imperialGallon, 1, "gal_imp", "[gal_br]"),
		in(usGallon, 4, "qt", "[qt_us]"),
		in(usGallon, 128, "fl_oz", "[foz_us]"),
		in(usGallon, 16, "cup", "[cup_us]", "cups"),
	}}
	mass = dimension{name: "mass", units: []unit{
		in(1, 1, "kg", "kilograms"),
		{names: []string{"g", "gram", "grams"}, num: 1, den: 1000, below: 0.1},
		in(1, 1e6, "mg"),
		in(pound, 1, "lb", "[lb_av]", "lbs", "pounds"),
		in(pound, 16, "oz", "[oz_av]", "ounces"),
	}}
	length = dimension{name: "length", units: []unit{
		in(1, 1, "cm"),
		in(1, 10, "mm"),
		in(100, 1, "m"),
		in(inch, 1, "in", "[in_i]", `"`, "inch", "inches"),
		in(foot, 1, "ft", "[ft_i]", "foot", "feet"),
	}}
	area = dimension{name: "area", units: []unit{
		in(1, 1, "cm²", "cm2"),
		in(1, 100, "mm²", "mm2"),
		in(1e4, 1, "m²", "m2"),
		in(inch*inch, 1, "in²", "[sin_i]", "in2"),
		in(foot*foot, 1, "ft²", "[sft_i]", "ft2"),
	}}
	volumePerLength = dimension{name: "volume per length", units: []unit{
		in(1, 1, "L/cm", "l/cm"),
		in(1, 100, "mL/mm", "ml/mm"),
		in(1, inch, "L/in", "L/[in_i]"),
		in(usGallon, inch, "gal/in", "[gal_us]/[in_i]"),
	}}
	duration = dimension{name: "duration", units: []unit{
		in(1, 1, "h", "hour", "hours"),
		{names: []string{"min", "minute", "minutes"}, num: 1, den: 60, below: 1},
		in(1, 3600, "s"),
		in(24, 1, "d", "day", "days"),
		in(24*7, 1, "week", "wk", "weeks"),
	}}
	flow = dimension{name: "flow", units: []unit{
		in(1, 1, "mL/min", "ml/min"),
		in(1, 60, "mL/h", "ml/h"),
		in(60, 1, "mL/s", "ml/s"),
		in(1000, 60, "L/h", "l/h"),
		in(1000, 1, "L/min", "l/min"),
		in(1000*usGallon, 60, "gal/h", "[gal_us]/h"),
		in(1000*usGallon, 1, "gal/min", "[gal_us]/min"),
	}}
	dripRate = dimension{name: "drip rate", units: []unit{
		in(1, 1, "drops/s", "drop/s", "drip/s", "drips/s"),
		in(1, 60, "drops/min", "drop/min", "drip/min", "drips/min"),
	}}
	alkalinity = dimension{name: "alkalinity", units: []unit{
		in(1, 1, "meq/L", "meq/l"),
		in(1, 1, "mmol/L", "mmol/l"),
		in(10*2, molarCaO, "dKH", "°dKH"), // one degree is 10 mg CaO a litre, at two equivalents a mole
		in(2, molarCaCO3, "mg/L CaCO3", "mg/l CaCO3", "ppm CaCO3"),
	}}
	ph = dimension{name: "pH", bare: true, units: []unit{
		in(1, 1, "pH", "[pH]"),
	}}
	ammonia = dimension{name: "ammonia", units: []unit{
		in(1, 1, "mg/L N", "mg/l N", "mg/L NH3-N", "mg/L NH4-N"),
		in(molarN, molarNH3, "mg/L NH3", "mg/l NH3"),
		in(molarN, molarNH4, "mg/L NH4", "mg/l NH4"),
	}, refused: map[string]string{"mg/L": noBasis, "mg/l": noBasis, "ppm": noBasis}}
	nitrite = dimension{name: "nitrite", units: []unit{
		in(1, 1, "mg/L N", "mg/l N", "mg/L NO2-N"),
		in(molarN, molarNO2, "mg/L NO2", "mg/l NO2"),
	}, refused: map[string]string{"mg/L": noNitriteBasis, "mg/l": noNitriteBasis, "ppm": noNitriteBasis}}
	dissolvedOxygen = dimension{name: "dissolved oxygen", units: []unit{
		in(1, 1, "mg/L", "mg/l", "mg/L O2", "mg/l O2"),
	}}
	fraction = dimension{name: "fraction", bare: true, units: []unit{
		in(1, 1, "1"),
		{names: []string{"%"}, num: 1, den: 100, below: math.Inf(1)},
	}}
	specificHeat = dimension{name: "specific heat", units: []unit{
		in(1, 1, "J/(kg·K)", "J/(kg.K)"),
		in(1000, 1, "kJ/(kg·K)", "kJ/(kg.K)"),
	}}
	specificEnthalpy = dimension{name: "specific enthalpy", units: []unit{
		in(1, 1, "J/kg"),
		in(1000, 1, "kJ/kg"),
	}}
	viscosity = dimension{name: "viscosity", units: []unit{
		in(1, 1, "mPa·s", "mPa.s", "cP"),
	}}
)

const noBasis = "needs its basis: mg/L N, mg/L NH3 or mg/L NH4, as the test kit says"

const noNitriteBasis = "needs its basis: mg/L N or mg/L NO2, as the test kit says"

// dimensions are those of the quantities. A unit that several of them share belongs to the
// first.
var dimensions = []*dimension{
	&practicalSalinity, &absoluteSalinity, &saltPerLitre, &chlorinity, &specificGravity,
	&density, &conductivity, &refractiveIndex, &osmolality,
	&temperature, &temperatureDifference, &temperatureRate, &salinityRate,
	&volume, &mass, &length, &area, &volumePerLength, &duration, &flow, &dripRate,
	&alkalinity, &ph, &ammonia, &nitrite, &dissolvedOxygen, &fraction,
	&specificHeat, &specificEnthalpy, &viscosity,
}

// scales are the dimensions of a reading of salinity; the fixed unit of each names its Scale.
var scales = []*dimension{
	&practicalSalinity, &absoluteSalinity, &saltPerLitre, &specificGravity, &density,
	&conductivity, &refractiveIndex, &brix, &chlorinity, &osmolality, &dissolvedSolids,
}

// scaleOf finds the scale of a unit that is written as Saltlock knows it.
var scaleOf = func() map[string]*dimension {
	all := map[string]*dimension{}
	for _, d := range slices.Backward(scales) { // the first of them counts
		for _, u := range d.units {
			for _, name := range u.names {
				all[name] = d
			}
		}
	}
	return all
}()

// readings has every unit of the scales, for saying what a reading can be written in.
var readings = func() dimension {
	d := dimension{name: "salinity"}
	for _, s := range scales {
		for _, u := range s.units {
			if _, known := d.lookup(u.names[0]); !known {
				d.units = append(d.units, u)
			}
		}
	}
	return d
}()
