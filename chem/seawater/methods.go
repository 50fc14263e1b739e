package seawater

import (
	"fmt"
	"slices"

	"saltlock/chem/quantity"
)

// Methods lists every formula of the package.
func Methods() []quantity.Method { return slices.Clone(methods) }

var methods = []quantity.Method{
	{
		Key:         DensityMethod,
		Title:       "Density of sea water, and salinity from it",
		Source:      "IAPWS R13-08 (2008), density from the Gibbs function, over pure water of IAPWS SR7-09 (2009)",
		Validity:    within(densitySalinity, densityTemperature),
		Uncertainty: plusMinus(DensityFit) + "; above 42 g/kg in warm water larger",
		Standing:    quantity.Standard,
	}, {
		Key:         SpecificGravityMethod,
		Title:       "Specific gravity at a pair of temperatures, and salinity from it",
		Source:      "definition: density of the sample over density of pure water, both by " + DensityMethod,
		Validity:    within(densitySalinity, densityTemperature) + " for sample and water",
		Uncertainty: plusMinus(SpecificGravityFit),
		Standing:    quantity.Definition,
	}, {
		Key:         ConductivityMethod,
		Title:       "Practical salinity from conductivity, and conductivity from it",
		Source:      "Practical Salinity Scale 1978, Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44",
		Validity:    within(pss78Salinity, pss78Temperature) + "; used to " + measure(conductivityTemperature.Hi),
		Uncertainty: plusMinus(SalinityFromConductivityFit) + " in salinity, " + plusMinus(ConductivityFit) + " in conductivity, from memory; past the source's range not stated",
		Standing:    quantity.Standard,
	}, {
		Key:         LowConductivityMethod,
		Title:       "Practical salinity below 2 from conductivity, and conductivity from it",
		Source:      "Hill, Dauphinee & Woods 1986, IEEE J. Oceanic Eng. OE-11:109-112, scaled to meet the Practical Salinity Scale at 2 as in the TEOS-10 toolbox",
		Validity:    within(quantity.Range[quantity.Salinity]{Lo: conductivitySalinity.Lo, Hi: pss78Salinity.Lo}, conductivityTemperature) + ", sea salt",
		Uncertainty: plusMinus(SalinityFromConductivityFit) + " for dilute sea water, from memory; water with other salts may hold half as much again",
		Standing:    quantity.PublishedFit,
	}, {
		Key:         ReferenceSalinityMethod,
		Title:       "Absolute salinity from practical salinity, and back",
		Source:      "Millero, Feistel, Wright & McDougall 2008, Deep-Sea Res. I 55:50-72, Reference-Composition Salinity Scale",
		Validity:    span(scalePractical) + "; above " + measure(pss78Salinity.Hi) + " by proportion only",
		Uncertainty: plusMinus(AbsoluteSalinityFit) + " for standard sea water, from memory; artificial mixes differ by an unknown amount",
		Standing:    quantity.Standard,
	}, {
		Key:         ChlorinityMethod,
		Title:       "Chlorinity from practical salinity, and back",
		Source:      "definition of 1969, S = 1.80655 Cl, consistent with PSS-78 at 35",
		Validity:    span(scalePractical),
		Uncertainty: "none of its own",
		Standing:    quantity.Definition,
	}, {
		Key:         SaltPerLitreMethod,
		Title:       "Mass of sea salt per litre, and salinity from it",
		Source:      "definition: absolute salinity times density by " + DensityMethod,
		Validity:    within(densitySalinity, densityTemperature),
		Uncertainty: plusMinus(SaltPerLitreFit),
		Standing:    quantity.Definition,
	}, {
		Key:         EnthalpyMethod,
		Title:       "Enthalpy and heat capacity of sea water, and temperature from enthalpy",
		Source:      "IAPWS R13-08 (2008), Gibbs function, over pure water of IAPWS SR7-09 (2009)",
		Validity:    within(gibbsSalinity, gibbsTemperature),
		Uncertainty: plusMinus(SpecificHeatFit) + " in heat capacity, from memory",
		Standing:    quantity.Standard,
	}, {
		Key:         OsmolalityMethod,
		Title:       "Osmotic coefficient and osmolality, and salinity from osmolality",
		Source:      "IAPWS R13-08 (2008), chemical potential of water from the Gibbs function",
		Validity:    within(osmoticSalinity, osmoticTemperature),
		Uncertainty: fmt.Sprintf("± %g in the coefficient, ", float64(OsmoticCoefficientFit)) + plusMinus(OsmolalityFit) + " at 35 g/kg, from memory",
		Standing:    quantity.Standard,
	}, {
		Key:         FreezingMethod,
		Title:       "Freezing point",
		Source:      "Millero 1978 in Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44, page 30",
		Validity:    span(freezingSourceSalinity) + " in the source; used for " + span(freezingSalinity),
		Uncertainty: plusMinus(FreezingPointFit) + ", the difference from the ice equilibrium of TEOS-10",
		Standing:    quantity.Standard,
	}, {
		Key:         ZoneMethod,
		Title:       "Zone of brackish water",
		Source:      "Venice System 1958, Archivio di Oceanografia e Limnologia 11 (1959), supplement",
		Validity:    "any salinity",
		Uncertainty: "none: the limits are a convention",
		Standing:    quantity.Standard,
	}, {
		Key:         RefractiveIndexMethod,
		Title:       "Refractive index of sea water at 589.3 nm relative to air, and salinity from it",
		Source:      "Millard & Seaver 1990, Deep-Sea Res. 37:1909-1926, regions I and II",
		Validity:    within(refractiveSalinity, refractiveSourceTemperature) + " in the source; used to " + measure(refractiveTemperature.Hi),
		Uncertainty: plusMinus(RefractiveIndexFit) + ", above " + measure(refractiveSourceTemperature.Hi) + " " + plusMinus(RefractiveIndexWarmFit),
		Standing:    quantity.PublishedFit,
	}, {
		Key:         SodiumChlorideMethod,
		Title:       "Refractive index of sodium chloride at 20 °C and 589.3 nm, and fraction from it",
		Source:      "quadratic fitted by Saltlock to the table in CRC Handbook of Chemistry and Physics, 102nd edition (after Wolf 1966)",
		Validity:    "mass fraction " + parts(sodiumChlorideFraction),
		Uncertainty: plusMinus(SolutionIndexFit) + ", the table's rounding; " + fmt.Sprintf("± %g in the fraction", float64(SodiumChlorideFit)),
		Standing:    quantity.Proposed,
	}, {
		Key:         SucroseMethod,
		Title:       "Refractive index of sucrose at 20 °C and 589.3 nm (Brix scale), and fraction from it",
		Source:      "cubic fitted by Saltlock to the table in CRC Handbook of Chemistry and Physics, 102nd edition (after Wolf 1966)",
		Validity:    "mass fraction " + parts(sucroseFraction),
		Uncertainty: plusMinus(SolutionIndexFit) + ", the table's rounding; " + fmt.Sprintf("± %g in the fraction", float64(SucroseFit)),
		Standing:    quantity.Proposed,
	}, {
		Key:         OxygenSaturationMethod,
		Title:       "Dissolved oxygen at saturation, per litre and with pressure",
		Source:      "Benson & Krause 1984, Limnol. Oceanogr. 29:620-632, as in the USGS DOTABLES",
		Validity:    within(oxygenSaturationSalinity, oxygenTemperature) + ", pressure " + parts(oxygenPressure) + " atm",
		Uncertainty: plusMinus(OxygenSaturationFit) + ", about 0.2 %, from memory",
		Standing:    quantity.PublishedFit,
	}, {
		Key:         OxygenSolubilityMethod,
		Title:       "Dissolved oxygen at saturation, per kilogram",
		Source:      "Garcia & Gordon 1992, Limnol. Oceanogr. 37:1307-1312, fit to Benson & Krause",
		Validity:    within(oxygenSolubilitySalinity, oxygenTemperature) + ", 1 atm",
		Uncertainty: "about 0.2 %, from memory",
		Standing:    quantity.PublishedFit,
	}, {
		Key:         AmmoniaMethod,
		Title:       "Un-ionized share of ammonia for a pH on the NBS scale",
		Source:      "Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383, plus the ionic-strength term of Khoo, Culberson & Bates 1977, J. Solution Chem. 6:281-290",
		Validity:    within(ammoniaSalinity, ammoniaTemperature),
		Uncertainty: plusMinus(AmmoniaPKFit) + " in pK, 15 % of the share",
		Standing:    quantity.CommonPractice,
	}, {
		Key:         AmmoniaTotalMethod,
		Title:       "Un-ionized share of ammonia for a pH on the total or free scale",
		Source:      "Clegg & Whitfield 1995, Geochim. Cosmochim. Acta 59:2403-2421, equation 18, in mol per kg of sea water",
		Validity:    within(ammoniaSalinity, ammoniaTemperature),
		Uncertainty: plusMinus(AmmoniaPKTotalFit) + " in pK, 5 % of the share",
		Standing:    quantity.PublishedFit,
	}, {
		Key:         CarbonateMethod,
		Title:       "Inorganic carbon from pH and alkalinity, pH from both, and pH in air",
		Source:      "carbonic acid: Millero 2010, Mar. Freshw. Res. 61:139-142; borate: Dickson 1990; water: Millero 1995; bisulfate: Dickson 1990; boron: Lee et al. 2010; solubility: Weiss 1974",
		Validity:    within(carbonateSalinity, carbonateTemperature) + ", pH " + carbonatePH.String(),
		Uncertainty: plusMinus(BlendPHFit) + " in a pH, for kits, gas and scales; the constants are far better",
		Standing:    quantity.PublishedFit,
	}, {
		Key:         ViscosityMethod,
		Title:       "Dynamic viscosity",
		Source:      "Sharqawy, Lienhard & Zubair 2010, Desalin. Water Treat. 16:354-380, equations 22 and 23",
		Validity:    within(viscositySalinity, viscosityTemperature) + "; the source goes further",
		Uncertainty: plusMinus(ViscosityFit) + ", 1.5 %",
		Standing:    quantity.PublishedFit,
	},
}

// within prints the ranges of a formula of two inputs.
func within[A, B quantity.Quantity](a quantity.Range[A], b quantity.Range[B]) string {
	return span(a) + ", " + span(b)
}

func span[Q quantity.Quantity](r quantity.Range[Q]) string {
	return fmt.Sprintf("%.4g to %s", float64(r.Lo), measure(r.Hi))
}

// parts is span for a fraction, which has no unit.
func parts(r quantity.Range[quantity.Fraction]) string {
	return fmt.Sprintf("%g to %g", float64(r.Lo), float64(r.Hi))
}

func plusMinus[Q quantity.Quantity](u Q) string { return "± " + measure(u) }

func measure[Q quantity.Quantity](q Q) string { return fmt.Sprintf("%.4g %s", float64(q), q.Unit()) }
