package instrument

import (
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// Measures is a set of the measures of a conversion.
type Measures uint32

// AllMeasures is every measure of a conversion.
const AllMeasures Measures = 1<<slots - 1

// MeasureNamed returns the measure with this name on the wire, as a set of one; false if no
// measure has that name.
//
//	name  such as "density"; "specific_gravity" is that on every convention
//
// Standard uncertainty: none.
// Check value: "density" is a measure, "colour" is not.
//
// Source: the contract.
func MeasureNamed(name string) (Measures, bool) {
	var set Measures
	for s := range slots {
		if s.name() == name {
			set |= 1 << s
		}
	}
	return set, set != 0
}

// GravityOn returns the specific gravity on one of the conventions in use, as a set of
// one; false if this convention is not among them.
//
//	c  such as 25C/25C
//
// Standard uncertainty: none.
// Check value: 25C/25C is in use, 10C/10C is not.
//
// Source: the contract.
func GravityOn(c quantity.Convention) (Measures, bool) {
	i := slices.Index(conventions[:], c)
	if i < 0 {
		return 0, false
	}
	return 1 << (firstGravity + slot(i)), true
}

func (m Measures) has(s slot) bool { return m&(1<<s) != 0 }

// slot is the place of a measure among all, in the order in which warnings name them.
type slot int

const (
	practicalSalinity slot = iota
	saltPerLitre
	density
	firstGravity // on each of the conventions
)

const (
	ownGravity slot = firstGravity + slot(len(conventions)) + iota // on the request's own
	conductivity
	conductivity25
	refractiveIndex
	chlorinity
	osmolality
	freezingPoint
	oxygenSaturation
	absoluteSalinity
	slots
)

// described are the names of the measures on the wire, and the formulas they come from.
var described = [slots]struct {
	name   string
	method methodSet
}{
	practicalSalinity: {"practical_salinity", methodsOf(seawater.ReferenceSalinityMethod)},
	saltPerLitre:      {"salt_per_litre", methodsOf(seawater.SaltPerLitreMethod)},
	density:           {"density", methodsOf(seawater.DensityMethod)},
	firstGravity:      {"specific_gravity", methodsOf(seawater.SpecificGravityMethod)},
	conductivity:      {"conductivity", methodsOf(seawater.ConductivityMethod)},
	conductivity25:    {"conductivity_25", methodsOf(seawater.ConductivityMethod)},
	refractiveIndex:   {"refractive_index", methodsOf(seawater.RefractiveIndexMethod)},
	chlorinity:        {"chlorinity", methodsOf(seawater.ChlorinityMethod)},
	osmolality:        {"osmolality", methodsOf(seawater.OsmolalityMethod)},
	freezingPoint:     {"freezing_point", methodsOf(seawater.FreezingMethod)},
	oxygenSaturation:  {"oxygen_saturation", methodsOf(seawater.OxygenSaturationMethod)},
	absoluteSalinity:  {name: "absolute_salinity"},
}

// kind is the slot itself, or firstGravity for any specific gravity.
func (s slot) kind() slot {
	if s >= firstGravity && s <= ownGravity {
		return firstGravity
	}
	return s
}

func (s slot) name() string { return described[s.kind()].name }

// conventions are those of specific gravity in use.
var conventions = [...]quantity.Convention{
	{Sample: sixtyF, Water: sixtyF}, {Sample: 15, Water: 15}, {Sample: 15, Water: 4},
	{Sample: 20, Water: 20}, {Sample: 20, Water: 4}, {Sample: 25, Water: 25}, {Sample: 25, Water: 4},
}

const sixtyF = quantity.Celsius((60. - 32) * 5 / 9)

var gravities = mustGravities(conventions[:]...)

func mustGravities(on ...quantity.Convention) seawater.Gravities {
	g, err := seawater.GravitiesOn(on...)
	if err != nil {
		panic(err)
	}
	return g
}
