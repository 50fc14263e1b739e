package instrument

import (
	"fmt"
	"slices"

	"saltlock/chem/quantity"
)

// Keys in Methods of what this package adds to the formulas of chem/seawater.
const (
	HydrometerMethod   = "hydrometer-glass"
	HalfDivisionMethod = "half-division"
)

// Methods lists every formula of the package.
func Methods() []quantity.Method { return slices.Clone(methods) }

var methods = []quantity.Method{
	{
		Key:         HydrometerMethod,
		Title:       "Density from the reading of a glass hydrometer at another temperature than its own, and the reading from it",
		Source:      fmt.Sprintf("the stem displaces its mass of water; glass expands by %g per K as ISO 1768:1975 has it", GlassExpansion),
		Validity:    operating.String() + " for water and calibration; buoyancy in air and surface tension left out, below 0.0001 SG",
		Uncertainty: "that of the density; glass of another kind adds up to 0.3 g/kg at 28 °C on an instrument for 60 °F",
		Standing:    quantity.Definition,
	}, {
		Key:         HalfDivisionMethod,
		Title:       "Uncertainty of a reading that states none: half a division of the scale",
		Source:      "common practice, no source",
		Validity:    "an instrument that is clean, whole and read at the right height",
		Uncertainty: "is one",
		Standing:    quantity.CommonPractice,
	},
}
