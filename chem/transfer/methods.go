package transfer

import (
	"slices"

	"saltlock/chem/quantity"
)

// Keys of the methods that this package adds to those it uses.
const (
	FillMethod   = "drip-filling"
	LadderMethod = "drip-schedule"
	LimitMethod  = "transfer-limits"
	StepMethod   = "step"
	RampMethod   = "tank-ramp"
	StageMethod  = "stages"

	OverflowMethod = "drip-overflow"
)

// Methods lists every formula of the package.
func Methods() []quantity.Method { return slices.Clone(methods) }

var methods = []quantity.Method{
	{Key: FillMethod, Title: "Salinity and temperature of a stirred container while one water drips in: gap times mass stays constant; pouring off leaves the gap",
		Source: "conservation of salt, water and enthalpy", Validity: "stirred through by an air stone; no evaporation, no heat to the room",
		Uncertainty: "that of drop volume, level marks and the two salinities", Standing: quantity.Definition},
	{Key: LadderMethod, Title: "Schedule of valve settings and pour-offs that closes the gap soonest under the hourly limit",
		Source:   "derived here: with one filling and nothing else binding the ratios of the gap follow ρ' = (1+ρ²)/2; otherwise, and where acts must fall on visits, by direct search over when to set the valve and pour off, and in which order",
		Validity: "up to 12 pour-offs and 12 settings", Uncertainty: "mostly within 0.1 % of the shortest time with the fewest pour-offs, 2 % at the worst, by comparison with a random search over 600 drips", Standing: quantity.Proposed},
	{Key: LimitMethod, Title: "Limits at once, per hour, per 24 hours and of temperature by sensitivity class",
		Source:   "proposed here, with a margin under the changes that laboratories report survived; see the species table for those",
		Validity: "animals that are well, fed and rested", Uncertainty: "strains, ages and the day differ: watch the animals", Standing: quantity.Proposed},
	{Key: StepMethod, Title: "A move in one step, judged by the limit at once",
		Source: "as the limits", Validity: "as the limits", Uncertainty: "as the limits", Standing: quantity.Proposed},
	{Key: RampMethod, Title: "Water changes that take a whole tank over, one a day at most, under limits of the day, the week, the filter's step and one change",
		Source:   "proposed here; a step of 0.002 in specific gravity a week is common practice, no source",
		Validity: "a tank whose filter is mature, animals that are well", Uncertainty: "filters differ: measure before each step", Standing: quantity.Proposed},
	{Key: StageMethod, Title: "A long way in the fewest equal stages of one day's limit, with the animals in a holding tank between them",
		Source:   "proposed here: the class's hold in proportion to the change, at least a day to feed in and one without food",
		Validity: "holding tanks with filters that are mature at their salinity", Uncertainty: "as the limits: go on when the animals feed, not by the clock alone", Standing: quantity.Proposed},
	{Key: OverflowMethod, Title: "Salinity and temperature of a stirred container that an overflow keeps at one volume, and the valve settings that close the gap soonest",
		Source:   "conservation of salt, water and enthalpy: the gap falls as exp(−inflow/mass); derived here: with nothing else binding the ratios of the gap follow ρ' = exp(ρ−1); otherwise over a grid of gaps, refined",
		Validity: "stirred through by an air stone, an overflow that does not clog; up to 12 settings", Uncertainty: "that of drop volume, volume and the two salinities", Standing: quantity.Definition},
}
