package instrument

import (
	"fmt"
	"slices"

	"saltlock/chem/quantity"
)

// Keys in Methods of what this package adds to the formulas of chem/seawater.
const (
	HydrometerMethod            = "hydrometer-glass"
	PointerMethod               = "hydrometer-pointer"
	RefractometerMethod         = "refractometer"
	SodiumChlorideDensityMethod = "density-nacl"
	MeterMethod                 = "meter-compensation"
	NonLinearMethod             = "meter-compensation-iso7888"
	TDSMethod                   = "meter-tds"
	HalfDivisionMethod          = "half-division"
	CalibrationMethod           = "calibration"
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
		Key:         PointerMethod,
		Title:       "Specific gravity from a plastic hydrometer with a pointer, taken as read",
		Source:      "from memory: no general correction is known for its plastic and its lever",
		Validity:    operating.String() + " for the calibration",
		Uncertainty: "± " + quantity.Exactly(PointerUncertainty).String() + ", from memory; less once calibrated",
		Standing:    quantity.CommonPractice,
	}, {
		Key:         RefractometerMethod,
		Title:       "Salinity from the marks of a refractometer, drawn for sea water, sodium chloride or sucrose at 20 °C, and the mark from it",
		Source:      "the mark stands for the index at 20 °C of what it was drawn for, moved by as much as pure water was off where it showed zero",
		Validity:    operating.String() + "; a bimetal compensates at " + compensates.String() + " (from memory), past that it is taken to stop",
		Uncertainty: "that of the index and of the temperature of the zero; past the range of the compensation the shift it may add, over √3",
		Standing:    quantity.Proposed,
	}, {
		Key:         SodiumChlorideDensityMethod,
		Title:       "Density at 20 °C of a solution of sodium chloride, for scales in g/L and SG",
		Source:      "CRC Handbook, 102nd edition 2021, after Wolf 1966; the quadratic is fitted here",
		Validity:    "0 to 10 % by mass, 20 °C",
		Uncertainty: "± 0.08 kg/m³ of the table, which has four decimals",
		Standing:    quantity.PublishedFit,
	}, {
		Key:         MeterMethod,
		Title:       "Conductivity that a compensating meter measured, found by undoing its own linear coefficient",
		Source:      "display = C / (1 + a (t − reference)), the definition of such a meter",
		Validity:    operating.String() + ", reference 20 or 25 °C",
		Uncertainty: "none of its own; a coefficient that is not known is taken as 1.91 ± 0.1 %/C (from memory)",
		Standing:    quantity.Definition,
	}, {
		Key:         NonLinearMethod,
		Title:       "Conductivity that a meter with the curve for natural waters measured",
		Source:      "ISO 7888:1985, table of f25 for whole degrees, straight lines between",
		Validity:    nonLinearTemperature.String() + "; only undone here, since sea water does not follow it",
		Uncertainty: "the table's last digit, 0.05 %",
		Standing:    quantity.Standard,
	}, {
		Key:         TDSMethod,
		Title:       "Conductivity behind what a TDS meter shows, found by undoing its factor",
		Source:      "display = factor × conductivity at the reference temperature, the definition of such a meter",
		Validity:    fmt.Sprintf("factor %g to %g", tdsFactors.Lo, tdsFactors.Hi),
		Uncertainty: "none of its own, as the factor is the meter's",
		Standing:    quantity.Definition,
	}, {
		Key:         HalfDivisionMethod,
		Title:       "Uncertainty of a reading that states none: half a division of the scale",
		Source:      "common practice, no source",
		Validity:    "an instrument that is clean, whole and read at the right height",
		Uncertainty: "is one",
		Standing:    quantity.CommonPractice,
	}, {
		Key:         CalibrationMethod,
		Title:       "Correction of an instrument from its reading in a known water",
		Source:      "what it should show there against what it shows: a factor for meters of conductivity, a difference for all others",
		Validity:    "near the salinity and temperature of the standard",
		Uncertainty: "of the standard, the reading and the temperature, propagated",
		Standing:    quantity.Definition,
	},
}
