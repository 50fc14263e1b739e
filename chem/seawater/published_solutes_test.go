package seawater

import (
	"math"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

var refractiveChecks = []published.Check{{
	// IAPWS R9-97, which is absolute, over the index of air at the same temperature: 2.765e-4 over 1 at 15 °C (from memory).
	File: "oracle/iapws_pure_water.csv", What: "index of water", Tolerance: float64(RefractiveIndexWarmFit),
	Deviation: func(r published.Row) float64 {
		air := 1 + 2.765e-4*288.15/celsius(r).Kelvin()
		return orNaN(RefractiveIndex(0, celsius(r))) - r.Float("n_vacuum_589p3nm")/air
	},
}, {
	// The same formula evaluated elsewhere.
	File: "oracle/formula_refractive_index.csv", What: "index, relative", Tolerance: 1e-10,
	Deviation: func(r published.Row) float64 {
		return published.Relative(orNaN(RefractiveIndex(practical(r), celsius(r))), r.Float("n_MillardSeaver1990"))
	},
}, {
	File: "published/crc_nacl_20C.csv", What: "index of NaCl", Tolerance: 5e-5,
	Where: func(r published.Row) bool { return r.Float("mass_pct") <= 10 },
	Deviation: func(r published.Row) float64 {
		return orNaN(SodiumChlorideIndex(quantity.Fraction(r.Float("mass_pct")/100))) - r.Float("n_D20")
	},
}, {
	File: "published/crc_sucrose_20C.csv", What: "index of sucrose", Tolerance: 5e-5,
	Where: func(r published.Row) bool { return r.Float("mass_pct") <= 26 },
	Deviation: func(r published.Row) float64 {
		return orNaN(SucroseIndex(quantity.Fraction(r.Float("mass_pct")/100))) - r.Float("n_D20")
	},
}}

var oxygenChecks = []published.Check{{
	// From memory of the paper, which uses the temperature without conversion.
	File: "published/garcia_gordon_check.csv", What: "O2, half digits of µmol/kg", Tolerance: 1,
	Deviation: func(r published.Row) float64 {
		return (oxygenSolubility(r.Float("S"), r.Float("t_C")) - r.Float("O2_umol_per_kg")) / r.HalfDigit("O2_umol_per_kg")
	},
}, {
	// 1 mL of oxygen is 1.42905 mg, a mmol 31.9988 mg; the source prints its own fit for mL/L.
	File: "published/garcia_gordon_check.csv", What: "O2, half digits of mL/L", Tolerance: 1,
	Deviation: func(r published.Row) float64 {
		rho, err := Density(quantity.AbsoluteSalinity(r.Float("S")*quantity.GramsPerPractical), celsius(r))
		perLitre := oxygenSolubility(r.Float("S"), r.Float("t_C")) * orNaN(rho, err) / 1000 * 31.9988 / 1.42905 / 1000
		return (perLitre - r.Float("O2_mL_per_L")) / r.HalfDigit("O2_mL_per_L")
	},
}, {
	File: "oracle/gsw_o2sol.csv", What: "O2 in µmol/kg, relative", Tolerance: 1e-9,
	Deviation: func(r published.Row) float64 {
		o, err := OxygenSolubility(practical(r), celsius(r))
		return published.Relative(orNaN(quantity.Fraction(o), err), r.Float("O2_umol_per_kg"))
	},
}, {
	File: "published/usgs_do_freshwater.csv", What: "O2, half digits of mg/L", Tolerance: 1,
	Deviation: func(r published.Row) float64 {
		return (orNaN(OxygenSaturation(0, celsius(r), 1)) - r.Float("DO_mg_per_L")) / r.HalfDigit("DO_mg_per_L")
	},
}, {
	File: "oracle/formula_o2_bk84_mgL.csv", What: "O2 in mg/L, relative", Tolerance: 1e-10,
	Deviation: func(r published.Row) float64 {
		o := orNaN(OxygenSaturation(practicalS(r), celsius(r), quantity.Fraction(r.Float("P_atm"))))
		return published.Relative(o, r.Float("DO_mg_per_L"))
	},
}}

var ammoniaChecks = []published.Check{{
	File: "published/emerson_1975_factors.csv", What: "share of NH3", Tolerance: 2e-4,
	Deviation: func(r published.Row) float64 {
		return orNaN(UnionizedAmmonia(quantity.PH(r.Float("pH")), 0, celsius(r), NBSScale)) - r.Float("fraction")
	},
}, {
	// Another pK, superseded by Emerson et al.
	File: "published/trussell_1972_freshwater_nh3.csv", What: "share of NH3, 10 to 25 °C, relative", Tolerance: 0.026,
	Deviation: func(r published.Row) float64 { return worstOfTemperatures(r, 0) },
}, {
	File: "published/bower_bidwell_1978.csv", What: "share of NH3 at 34, 10 to 25 °C, relative", Tolerance: 0.014,
	Deviation: func(r published.Row) float64 { return worstOfTemperatures(r, 34) },
}, {
	// The table uses the molal constants unconverted and prints four decimals (0.0440 as 0.044).
	File: "published/clegg_whitfield_1995_fractions.csv", What: "share, total scale", Tolerance: 5e-5,
	Deviation: func(r published.Row) float64 {
		share := unionized(r.Float("pH"), pKTotalMolal(r.Float("S"), celsius(r).Kelvin()))
		return share - r.Float("fraction_total_scale")
	},
}, {
	File: "published/clegg_whitfield_1995_fractions.csv", What: "share, free scale", Tolerance: 5e-5,
	Deviation: func(r published.Row) float64 {
		share := unionized(r.Float("pH"), pKFreeMolal(r.Float("S"), celsius(r).Kelvin()))
		return share - r.Float("fraction_free_scale")
	},
}, {
	File: "oracle/pyco2sys_nh3.csv", What: "pK, total scale", Tolerance: 1e-4,
	Deviation: func(r published.Row) float64 {
		return orNaN(AmmoniaPK(practicalS(r), celsius(r), TotalScale)) - r.Float("pK_NH4_total")
	},
}, {
	File: "oracle/pyco2sys_nh3.csv", What: "share, total scale, relative", Tolerance: 3e-4,
	Deviation: func(r published.Row) float64 {
		share := orNaN(UnionizedAmmonia(quantity.PH(r.Float("pH_total")), practicalS(r), celsius(r), TotalScale))
		return published.Relative(share, r.Float("fraction_NH3"))
	},
}}

// worstOfTemperatures compares the four columns of a table of percents.
func worstOfTemperatures(r published.Row, sp quantity.Salinity) float64 {
	worst := 0.0
	for column, t := range map[string]quantity.Celsius{"pct_10C": 10, "pct_15C": 15, "pct_20C": 20, "pct_25C": 25} {
		share := orNaN(UnionizedAmmonia(quantity.PH(r.Float("pH")), sp, t, NBSScale))
		worst = math.Max(worst, math.Abs(published.Relative(100*share, r.Float(column))))
	}
	return worst
}
