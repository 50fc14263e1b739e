package tolerance

import "saltlock/chem/quantity"

// Methods returns every rule of this package that an answer may name. It is long because it
// is a list.
func Methods() []quantity.Method {
	return []quantity.Method{
		{
			Key:         "common-band",
			Title:       "Water that several species share",
			Source:      "Intersection of the species' bands, each with its own source",
			Validity:    "any number of species; an unknown bound of salinity is taken at the preferred band, stenohaline fish are held to theirs",
			Uncertainty: "that of the bands, which their sources do not state",
			Standing:    quantity.Definition,
		},
		{
			Key:         "water-verdict",
			Title:       "What a water means for a species",
			Source:      "Comparison with the species' bands, each with its own source",
			Validity:    "salinity 0 to 350 g/kg, temperature -5 to 60 °C, pH 0 to 14",
			Uncertainty: "that of the bands, which their sources do not state; a value within its standard uncertainty of a bound is named",
			Standing:    quantity.Definition,
		},
		{
			Key:         "limits-by-class",
			Title:       "Default limits of change by sensitivity class",
			Source:      "Proposed here with a margin under what laboratories report: Al-Amoudi 1987, Lemarie et al. 2004, McGraw et al. 2002, Pethiyagoda et al. 2019, the velifera molly study of 2021",
			Validity:    "healthy animals that were not moved in the last day; not for sick, medicated, moulting or just shipped ones",
			Uncertainty: "not known: an engineering choice, not a finding",
			Standing:    quantity.Proposed,
		},
		{
			Key:         MassMethod,
			Title:       "Mass of a fish from its length",
			Source:      "W = a L^b, a and b by build, recalled from the priors of Froese, Thorson and Reyes 2014 (from memory, no copy read)",
			Validity:    "fish of 0.5 to 200 cm total length in usual condition, of four builds; not for shrimps, crabs, snails and plants",
			Uncertainty: "a factor of 1.5 to 1.6",
			Standing:    quantity.CommonPractice,
		},
		{
			Key:         GrowthMethod,
			Title:       "Salinity of a tank as its animals grow",
			Source:      "A straight line in time from the salinity now to one that the last stage prefers, kept within what the stage between prefers",
			Validity:    "species of which the preferred salinity of two life stages is known",
			Uncertainty: "not known: when an animal enters a stage no source of the table tells",
			Standing:    quantity.Proposed,
		},
	}
}
