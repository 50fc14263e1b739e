package seawater

import (
	"slices"
	"testing"

	"saltlock/chem/internal/published"
)

// Every formula against the tables of its source and of reference libraries.
func TestPublished(t *testing.T) {
	published.Verify(t, slices.Concat(densityChecks, conductivityChecks))
}

func isSalt(r published.Row) bool { return r.Float("SA_g_per_kg") > 0 }

var densityChecks = []published.Check{{
	File: "oracle/gsw_density.csv", What: "density, relative", Tolerance: 1e-10,
	Deviation: func(r published.Row) float64 {
		return published.Relative(density(r.Float("SA_g_per_kg"), r.Float("t_C")), r.Float("rho_kg_per_m3"))
	},
}, {
	// The library's pure water lies one bit under ours, outside the inverse's bracket.
	File: "oracle/gsw_density.csv", What: "its inverse, g/kg", Tolerance: 1e-8, Where: isSalt,
	Deviation: salinityFromDensityDeviation,
}, {
	File: "oracle/gsw_sa_from_rho_t.csv", What: "its inverse, g/kg", Tolerance: 1e-8,
	Deviation: salinityFromDensityDeviation,
}}

func salinityFromDensityDeviation(r published.Row) float64 {
	sa, err := absoluteSalinityFromDensity(r.Float("rho_kg_per_m3"), r.Float("t_C"))
	return orNaN(sa, err) - r.Float("SA_g_per_kg")
}

var conductivityChecks = []published.Check{{
	File: "oracle/gsw_conductivity.csv", What: "conductivity, relative", Tolerance: 1e-9,
	Deviation: func(r published.Row) float64 {
		c, err := conductivity(r.Float("SP"), 1.00024*r.Float("t_C"))
		return published.Relative(orNaN(c, err), r.Float("C_mS_per_cm"))
	},
}, {
	File: "oracle/gsw_conductivity.csv", What: "its inverse, relative", Tolerance: 1e-9,
	Deviation: func(r published.Row) float64 {
		sp, err := salinityFromConductivity(r.Float("C_mS_per_cm"), 1.00024*r.Float("t_C"))
		return published.Relative(orNaN(sp, err), r.Float("SP"))
	},
}}
