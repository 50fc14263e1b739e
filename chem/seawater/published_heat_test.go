package seawater

import (
	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

var heatChecks = []published.Check{{
	// IAPWS-95 water there, SR7-09 here.
	File: "published/iapws08_table8.csv", What: "heat capacity, relative", Tolerance: 1e-5, Where: table8Row("a"),
	Deviation: func(r published.Row) float64 {
		return published.Relative(specificHeat(1000*r.Float("S_kg_per_kg"), kelvin(r)), 1000*r.Float("cp"))
	},
}, {
	File: "published/iapws08_table8.csv", What: "heat capacity, 80 °C, on IAPWS-95 water, relative", Tolerance: 1e-5, Where: table8Row("b"),
	Deviation: func(r published.Row) float64 {
		salt := specificHeat(1000*r.Float("S_kg_per_kg"), kelvin(r)) - specificHeat(0, kelvin(r))
		return published.Relative(specificHeat353+salt, 1000*r.Float("cp"))
	},
}, {
	File: "published/iapws_sr7_09_table6.csv", What: "heat capacity of water, half digits", Tolerance: 1, Where: atmospheric,
	Deviation: func(r published.Row) float64 {
		return (specificHeat(0, kelvin(r))/1000 - r.Float("cp")) / r.HalfDigit("cp")
	},
}, {
	File: "published/iapws_sr7_09_table6.csv", What: "enthalpy of water, half digits", Tolerance: 1, Where: atmospheric,
	Deviation: func(r published.Row) float64 {
		return (specificEnthalpy(0, kelvin(r))/1000 - r.Float("h")) / r.HalfDigit("h")
	},
}, {
	File: "oracle/gsw_cp_enthalpy.csv", What: "heat capacity, relative", Tolerance: 1e-8,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(SpecificHeat(sa(r), celsius(r))), r.Float("cp_J_per_kgK"))
	},
}, {
	File: "oracle/gsw_cp_enthalpy.csv", What: "enthalpy, relative", Tolerance: 1e-8,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(SpecificEnthalpy(sa(r), celsius(r))), r.Float("h_J_per_kg"))
	},
}, {
	File: "oracle/gsw_cp_enthalpy.csv", What: "temperature from enthalpy, °C", Tolerance: 1e-9,
	Deviation: func(r published.Row) float64 {
		return orNaN(TemperatureFromEnthalpy(quantity.SpecificEnthalpy(r.Float("h_J_per_kg")), sa(r))) - r.Float("t_C")
	},
}, {
	File: "oracle/teos10_osmotic.csv", What: "osmotic coefficient, relative", Tolerance: 1e-7,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(OsmoticCoefficient(sa(r), celsius(r))), r.Float("phi"))
	},
}, {
	File: "oracle/teos10_osmotic.csv", What: "osmolality, relative", Tolerance: 1e-7,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(Osmolality(sa(r), celsius(r))), r.Float("osmolality_mOsm_per_kg"))
	},
}, {
	File: "oracle/teos10_osmotic.csv", What: "its inverse, relative", Tolerance: 1e-7,
	Deviation: func(r published.Row) float64 {
		os := quantity.Osmolality(r.Float("osmolality_mOsm_per_kg"))
		return published.Relative(orNaN(AbsoluteSalinityFromOsmolality(os, celsius(r))), r.Float("SA_g_per_kg"))
	},
}}

var freezingChecks = []published.Check{{
	File: "published/unesco44_cp_freezing.csv", What: "freezing point, °C", Tolerance: 1e-6,
	Where: func(r published.Row) bool { return r.String("quantity") == "freezing" },
	Deviation: func(r published.Row) float64 {
		return orNaN(FreezingPoint(quantity.Salinity(r.Float("S")))) - r.Float("value")
	},
}, {
	// Another physics, the ice equilibrium: the difference is FreezingPointFit.
	File: "oracle/gsw_freezing.csv", What: "freezing point, °C", Tolerance: float64(FreezingPointFit),
	Deviation: func(r published.Row) float64 {
		sp, err := Salinity(sa(r))
		if err != nil {
			return orNaN(sp, err)
		}
		return orNaN(FreezingPoint(sp)) - r.Float("t_freezing_C")
	},
}}

var viscosityChecks = []published.Check{{
	File: "published/iapws_water_transport.csv", What: "viscosity of water, relative", Tolerance: 2e-4,
	Where: func(r published.Row) bool { return r.String("quantity") == "viscosity_0p1MPa_uPa_s" },
	Deviation: func(r published.Row) float64 {
		return published.Relative(1000*viscosity(0, kelvin(r)), r.Float("value"))
	},
}, {
	File: "oracle/iapws_pure_water.csv", What: "viscosity of water, relative", Tolerance: 5e-4,
	Deviation: func(r published.Row) float64 {
		return published.Relative(1000*orNaN(Viscosity(0, celsius(r))), r.Float("mu_uPa_s"))
	},
}, {
	// The same formula evaluated elsewhere.
	File: "oracle/formula_viscosity.csv", What: "viscosity, relative", Tolerance: 1e-10,
	Deviation: func(r published.Row) float64 {
		return published.Relative(1000*orNaN(Viscosity(sa(r), celsius(r))), r.Float("mu_uPa_s"))
	},
}}
