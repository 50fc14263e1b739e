package lifesupport

import (
	"slices"

	"saltlock/chem/quantity"
)

// Methods lists every formula of the package.
func Methods() []quantity.Method { return slices.Clone(methods) }

var methods = []quantity.Method{
	{
		Key:         OxygenUseMethod,
		Title:       "Oxygen that animals use at rest, from mass and temperature",
		Source:      "Clarke & Johnston 1999, J. Anim. Ecol. 68:893-905, 69 species of bony fish, exponent 0.80 of mass; twice as much in the first 2 hours after a move, from memory",
		Validity:    "one animal of 0.01 g to 10 kg, 0 to 40 °C; the source compares fish from 0 to 30 °C",
		Uncertainty: "a factor of two either way between species",
		Standing:    quantity.PublishedFit,
	}, {
		Key:         AmmoniaOutputMethod,
		Title:       "Ammonia nitrogen that animals give off, from the oxygen they use",
		Source:      "ammonia quotient 0.11 of Brett & Zala 1975, J. Fish. Res. Board Can. 32:2479-2486, sockeye without food",
		Validity:    "fish that had no food for a day or two; just fed they give off four to ten times as much",
		Uncertainty: "a factor of two either way, with the oxygen",
		Standing:    quantity.PublishedFit,
	}, {
		Key:         MassBalanceMethod,
		Title:       "Oxygen, ammonia and temperature of a stirred container that is filled, runs over, stands or is poured off",
		Source:      "conservation of oxygen, ammonia nitrogen and heat, mixed by volume",
		Validity:    "stirred; hours, in which bacteria and loss of ammonia to the air do not count",
		Uncertainty: "0.1 °C for mixing by volume; the rest is that of use, output and exchange",
		Standing:    quantity.Definition,
	}, {
		Key:         AirExchangeMethod,
		Title:       "Oxygen through the surface, and under an air stone",
		Source:      "0.4 m a day through a still surface, held above 80 % of saturation by an air stone; from memory",
		Validity:    "a running air stone that suits the container",
		Uncertainty: "0.2 to 1 m a day",
		Standing:    quantity.Proposed,
	}, {
		Key:         HeatExchangeMethod,
		Title:       "Heat between a container and the room",
		Source:      "8 W/(m²·K) over wall and surface, 3.6 W/K for a bucket of 20 L and in proportion to area for others; from memory",
		Validity:    "plain walls, still air, a lid on; without one it cools faster",
		Uncertainty: "6 to 10 W/(m²·K)",
		Standing:    quantity.Proposed,
	}, {
		Key:         HighestPHMethod,
		Title:       "pH at which ammonia is judged while two waters mix in air",
		Source:      "the highest of both and of what they come to in air by their alkalinity; 8.6 where it is unknown, from memory",
		Validity:    "waters not made alkaline by more than their carbonates",
		Uncertainty: "± 0.2 in air",
		Standing:    quantity.Proposed,
	}, {
		Key:         BagWaterMethod,
		Title:       "Whether animals may be dripped in the water of their bag",
		Source:      "0.02 and 0.05 mg/L of un-ionized ammonia nitrogen, customary, from memory",
		Validity:    "the ammonia of the bag measured, or at most an hour in it",
		Uncertainty: "15 % of the ammonia, and 26 % for every 0.1 of pH",
		Standing:    quantity.CommonPractice,
	},
}
