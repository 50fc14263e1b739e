package seawater

import (
	"slices"
	"strings"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

// Every formula against the tables of its source and of reference libraries.
func TestPublished(t *testing.T) {
	published.Verify(t, slices.Concat(densityChecks, conductivityChecks, scaleChecks, heatChecks,
		freezingChecks, refractiveChecks, oxygenChecks, ammoniaChecks, carbonateChecks, viscosityChecks))
}

// Short names for the cells that most files have.
func sa(r published.Row) quantity.AbsoluteSalinity {
	return quantity.AbsoluteSalinity(r.Float("SA_g_per_kg"))
}
func practical(r published.Row) quantity.Salinity  { return quantity.Salinity(r.Float("SP")) }
func practicalS(r published.Row) quantity.Salinity { return quantity.Salinity(r.Float("S")) }
func celsius(r published.Row) quantity.Celsius     { return quantity.Celsius(r.Float("t_C")) }
func kelvin(r published.Row) float64               { return r.Float("T_K") - 273.15 }
func atmospheric(r published.Row) bool             { return r.Float("P_MPa") == 0.101325 }

var densityChecks = []published.Check{{
	// Table 8 rests on IAPWS-95 water and this on SR7-09.
	File: "published/iapws08_table8.csv", What: "density, kg/m³", Tolerance: 2e-4, Where: table8Row("a"),
	Deviation: func(r published.Row) float64 {
		return density(1000*r.Float("S_kg_per_kg"), kelvin(r)) - r.Float("rho")
	},
}, {
	File: "published/iapws08_table8.csv", What: "density, 80 °C, on IAPWS-95 water, kg/m³", Tolerance: 5e-3, Where: table8Row("b"),
	Deviation: func(r published.Row) float64 {
		salt := 1/density(1000*r.Float("S_kg_per_kg"), kelvin(r)) - 1/density(0, kelvin(r))
		return 1/(1/density353+salt) - r.Float("rho")
	},
}, {
	File: "published/iapws_sr7_09_table6.csv", What: "density of water, half digits", Tolerance: 1, Where: atmospheric,
	Deviation: func(r published.Row) float64 {
		return (density(0, kelvin(r)) - r.Float("rho")) / r.HalfDigit("rho")
	},
}, {
	// The water of SR6-08, at 0.1 MPa: 5e-5 is for the formulation, of which IAPWS-95 itself
	// (997.047039 there, Debian python3-iapws 1.5.3-1) takes half. A compressibility of
	// 4.52e-10 per Pa (from memory) over 1325 Pa leaves less than 1e-6 of doubt.
	File: "published/iapws_water_transport.csv", What: "density of water, kg/m³", Tolerance: 5e-5,
	Where: func(r published.Row) bool { return r.String("quantity") == "rho_0p1MPa" },
	Deviation: func(r published.Row) float64 {
		return density(0, kelvin(r))*(1-4.52e-10*1325) - r.Float("value")
	},
}, {
	File: "oracle/iapws_pure_water.csv", What: "density of water, kg/m³", Tolerance: 3e-5,
	Deviation: func(r published.Row) float64 {
		return orNaN(Density(0, celsius(r))) - r.Float("rho_IAPWS95_kg_per_m3")
	},
}, {
	File: "oracle/gsw_density.csv", What: "density, relative", Tolerance: 1e-10, Deviation: densityDeviation,
}, {
	File: "oracle/gsw_density.csv", What: "its inverse, g/kg", Tolerance: 1e-8, Deviation: inverseDensityDeviation,
}, {
	File: "oracle/gsw_sa_from_rho_t.csv", What: "its inverse, g/kg", Tolerance: 1e-8, Deviation: inverseDensityDeviation,
}, {
	File: "oracle/iapws08_density_120.csv", What: "density, relative", Tolerance: 1e-7, Deviation: densityDeviation,
}, {
	// IAPWS-95 water there; 1e-7 of the density over its least slope, 0.73 kg/m³ per g/kg.
	File: "oracle/iapws08_density_120.csv", What: "its inverse, g/kg", Tolerance: 1.5e-4,
	Where:     func(r published.Row) bool { return sa(r) > 0 && sa(r) < densitySalinity.Hi },
	Deviation: inverseDensityDeviation,
}}

// table8Row picks a row of Table 8: a lies at 0 °C; b at 80 °C, where SR7-09 water,
// made for up to 40 °C, is 0.16 kg/m³ from IAPWS-95, so that the part of the salt is
// checked there on the water it was published on; c lies at 100 MPa.
func table8Row(name string) func(published.Row) bool {
	return func(r published.Row) bool { return r.String("case") == name }
}

// IAPWS-95 water at 353 K and 0.101325 MPa: density in kg/m³, heat capacity in
// J/(kg K), by Debian python3-iapws 1.5.3-1.
const (
	density353      = 971.8838319131547
	specificHeat353 = 4196.640501563183
)

func densityDeviation(r published.Row) float64 {
	return published.Relative(orNaN(Density(sa(r), celsius(r))), r.Float("rho_kg_per_m3"))
}

func inverseDensityDeviation(r published.Row) float64 {
	rho := quantity.Density(r.Float("rho_kg_per_m3"))
	return orNaN(AbsoluteSalinityFromDensity(rho, celsius(r))) - r.Float("SA_g_per_kg")
}

var conductivityChecks = []published.Check{{
	File: "published/unesco44_pss78.csv", What: "practical salinity", Tolerance: 5e-6,
	Where: func(r published.Row) bool { return r.Float("p_dbar") == 0 && r.String("direction") == "forward" },
	Deviation: func(r published.Row) float64 {
		return salinityFromConductivity(standardConductivity*r.Float("R"), r.Float("t68_C")) - r.Float("S")
	},
}, {
	File: "published/unesco44_pss78.csv", What: "conductivity ratio", Tolerance: 5e-7,
	Where: func(r published.Row) bool { return r.Float("p_dbar") == 0 && r.String("direction") == "inverse" },
	Deviation: func(r published.Row) float64 {
		return conductivity(r.Float("S"), r.Float("t68_C"))/standardConductivity - r.Float("R")
	},
}, {
	File: "oracle/gsw_conductivity.csv", What: "conductivity, relative", Tolerance: 1e-9,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(Conductivity(practical(r), celsius(r))), r.Float("C_mS_per_cm"))
	},
}, {
	File: "oracle/gsw_conductivity.csv", What: "practical salinity, relative", Tolerance: 1e-9,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(SalinityFromConductivity(quantity.Conductivity(r.Float("C_mS_per_cm")), celsius(r))), r.Float("SP"))
	},
}}

var scaleChecks = []published.Check{{
	File: "oracle/gsw_salinity_scales.csv", What: "absolute salinity, relative", Tolerance: 1e-12,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(AbsoluteSalinity(practical(r))), r.Float("SR_g_per_kg"))
	},
}, {
	File: "oracle/gsw_salinity_scales.csv", What: "practical salinity, relative", Tolerance: 1e-12,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(Salinity(quantity.AbsoluteSalinity(r.Float("SR_g_per_kg")))), r.Float("SP"))
	},
}, {
	File: "oracle/gsw_salinity_scales.csv", What: "chlorinity, relative", Tolerance: 1e-12,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(Chlorinity(practical(r))), r.Float("Cl_g_per_kg"))
	},
}, {
	File: "oracle/gsw_salinity_scales.csv", What: "its inverse, relative", Tolerance: 1e-12,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(SalinityFromChlorinity(quantity.Chlorinity(r.Float("Cl_g_per_kg")))), r.Float("SP"))
	},
}, {
	File: "oracle/derived_make_up_water.csv", What: "salt per litre, relative", Tolerance: 1e-9,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(SaltPerLitre(sa(r), celsius(r))), r.Float("g_per_L_final"))
	},
}, {
	File: "oracle/derived_make_up_water.csv", What: "its inverse, relative", Tolerance: 1e-9,
	Deviation: func(r published.Row) float64 {
		g := quantity.SaltPerLitre(r.Float("g_per_L_final"))
		return published.Relative(orNaN(AbsoluteSalinityFromSaltPerLitre(g, celsius(r))), r.Float("SA_g_per_kg"))
	},
}, {
	File: "published/venice_system.csv", What: "zones at and above a limit, misses", Tolerance: 0,
	Deviation: func(r published.Row) float64 {
		lower := quantity.Salinity(r.Float("lower"))
		want := Zone(strings.ReplaceAll(strings.TrimSuffix(r.String("zone"), " (fresh)"), " ", "_"))
		misses := 0.0
		for _, sp := range []quantity.Salinity{lower, lower + 0.25} {
			if got, err := ZoneOf(sp); (got != want || err != nil) && !(want == Hyperhaline && sp == lower) {
				misses++
			}
		}
		return misses
	},
}}
