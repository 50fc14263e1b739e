package seawater_test

import (
	"fmt"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// IAPWS R13-08, Table 8a, prints 1028.1072 kg/m³.
func ExampleDensity() {
	d, err := seawater.Density(35.16504, 0)
	fmt.Printf("%.4f %s %v\n", d, d.Unit(), err)
	// Output: 1028.1072 kg/m³ <nil>
}

// A water known to 0.3 g/kg and 0.5 °C: the uncertainty of its density is mostly theirs.
func ExampleDensity_uncertain() {
	sa, t := quantity.Of[quantity.AbsoluteSalinity](35.16504, 0.3), quantity.Of[quantity.Celsius](0, 0.5)
	d, err := quantity.Propagate2(seawater.Density, seawater.DensityFit, sa, t)
	fmt.Printf("%.2f ± %.2f %v\n", d.Value, d.U, err)
	// Output: 1028.11 ± 0.24 <nil>
}

// The density of IAPWS R13-08, Table 8a, gives back its salinity.
func ExampleAbsoluteSalinityFromDensity() {
	sa, err := seawater.AbsoluteSalinityFromDensity(1028.1072, 0)
	fmt.Printf("%.3f %s %v\n", sa, sa.Unit(), err)
	// Output: 35.165 g/kg <nil>
}

// Sea water of practical salinity 35 by TEOS-10 density: 1.02637 at 25C/25C, 1.02686 at 60F/60F.
func ExampleSpecificGravity() {
	sixty := quantity.Celsius((60 - 32) / 1.8)
	for _, c := range []quantity.Convention{{Sample: 25, Water: 25}, {Sample: sixty, Water: sixty}} {
		sg, err := seawater.SpecificGravity(35.16504, c)
		fmt.Printf("%.5f %v\n", sg, err)
	}
	// Output:
	// 1.02637 <nil>
	// 1.02686 <nil>
}

// A reading of 1.010 at 25C/25C is 13.35 g/kg by TEOS-10 density.
func ExampleAbsoluteSalinityFromSpecificGravity() {
	sa, err := seawater.AbsoluteSalinityFromSpecificGravity(1.010, quantity.Convention{Sample: 25, Water: 25})
	fmt.Printf("%.2f %s %v\n", sa, sa.Unit(), err)
	// Output: 13.35 g/kg <nil>
}

// PSS-78 is defined by 42.914 mS/cm for a practical salinity of 35 at 15 °C of IPTS-68.
func ExampleConductivity() {
	c, err := seawater.Conductivity(35, 15/1.00024)
	fmt.Printf("%.3f %s %v\n", c, c.Unit(), err)
	// Output: 42.914 mS/cm <nil>
}

// UNESCO 44: a conductivity ratio of 0.498008 at 0 °C is a practical salinity of 25.
func ExampleSalinityFromConductivity() {
	sp, err := seawater.SalinityFromConductivity(0.498008*42.914, 0)
	fmt.Printf("%.4f %v\n", sp, err)
	// Output: 25.0000 <nil>
}

// The reference: 35.16504 g of salt per kilogram at a practical salinity of 35.
func ExampleAbsoluteSalinity() {
	sa, err := seawater.AbsoluteSalinity(35)
	fmt.Printf("%.5f %s %v\n", sa, sa.Unit(), err)
	// Output: 35.16504 g/kg <nil>
}

func ExampleSalinity() {
	sp, err := seawater.Salinity(35.16504)
	fmt.Printf("%.3f %s %v\n", sp, sp.Unit(), err)
	// Output: 35.000 ppt <nil>
}

// The definition of 1969.
func ExampleChlorinity() {
	cl, err := seawater.Chlorinity(1.80655)
	fmt.Printf("%.3f %s %v\n", cl, cl.Unit(), err)
	// Output: 1.000 g/kg Cl <nil>
}

func ExampleSalinityFromChlorinity() {
	sp, err := seawater.SalinityFromChlorinity(1)
	fmt.Printf("%.5f %v\n", sp, err)
	// Output: 1.80655 <nil>
}

// By TEOS-10 density a litre of sea water at 25 °C holds 35.99 g of salt.
func ExampleSaltPerLitre() {
	g, err := seawater.SaltPerLitre(35.16504, 25)
	fmt.Printf("%.2f %s %v\n", g, g.Unit(), err)
	// Output: 35.99 g/L <nil>
}

func ExampleAbsoluteSalinityFromSaltPerLitre() {
	sa, err := seawater.AbsoluteSalinityFromSaltPerLitre(35.9859, 25)
	fmt.Printf("%.3f %s %v\n", sa, sa.Unit(), err)
	// Output: 35.165 g/kg <nil>
}

// IAPWS SR7-09, Table 6, prints 167.616267 kJ/kg for pure water at 313.15 K.
func ExampleSpecificEnthalpy() {
	h, err := seawater.SpecificEnthalpy(0, 40)
	fmt.Printf("%.3f %s %v\n", h, h.Unit(), err)
	// Output: 167616.267 J/kg <nil>
}

// IAPWS SR7-09, Table 6, prints 4.21941153 kJ/(kg·K) for pure water at 273.15 K.
func ExampleSpecificHeat() {
	cp, err := seawater.SpecificHeat(0, 0)
	fmt.Printf("%.5f %s %v\n", cp, cp.Unit(), err)
	// Output: 4219.41153 J/(kg·K) <nil>
}

// The enthalpy of IAPWS SR7-09, Table 6, gives back its temperature.
func ExampleTemperatureFromEnthalpy() {
	t, err := seawater.TemperatureFromEnthalpy(167616.267, 0)
	fmt.Printf("%.4f %s %v\n", t, t.Unit(), err)
	// Output: 40.0000 °C <nil>
}

// 289.9 mOsm/kg by TEOS-10: about what the plasma of fresh-water fish holds.
func ExampleOsmolality() {
	os, err := seawater.Osmolality(10, 25)
	fmt.Printf("%.1f %s %v\n", os, os.Unit(), err)
	// Output: 289.9 mOsm/kg <nil>
}

// 0.9026 for standard sea water at 25 °C by TEOS-10.
func ExampleOsmoticCoefficient() {
	phi, err := seawater.OsmoticCoefficient(35.16504, 25)
	fmt.Printf("%.4f %v\n", phi, err)
	// Output: 0.9026 <nil>
}

// The water isosmotic with a plasma of 347.8 mOsm/kg holds 12 g/kg by TEOS-10.
func ExampleAbsoluteSalinityFromOsmolality() {
	sa, err := seawater.AbsoluteSalinityFromOsmolality(347.8, 25)
	fmt.Printf("%.1f %s %v\n", sa, sa.Unit(), err)
	// Output: 12.0 g/kg <nil>
}

// UNESCO 44, page 30, on ITS-90.
func ExampleFreezingPoint() {
	t, err := seawater.FreezingPoint(35)
	fmt.Printf("%.6f %s %v\n", t, t.Unit(), err)
	// Output: -1.921840 °C <nil>
}

// The Venice system calls 10 to 18 the α-mesohaline zone.
func ExampleZoneOf() {
	zone, err := seawater.ZoneOf(13.3)
	fmt.Println(zone, err)
	// Output: mesohaline_alpha <nil>
}

// The NBS table of water, relative to air, has 1.3337, 1.3330 and 1.3319.
func ExampleRefractiveIndex() {
	for _, t := range []quantity.Celsius{10, 20, 30} {
		n, err := seawater.RefractiveIndex(0, t)
		fmt.Printf("%.4f %v\n", n, err)
	}
	// Output:
	// 1.3337 <nil>
	// 1.3330 <nil>
	// 1.3319 <nil>
}

// Two published fits, of Millard & Seaver and of Quan & Fry, put sea water of 35 at 20 °C
// 0.006398 and 0.006401 above pure water.
func ExampleSalinityFromRefractiveIndex() {
	sp, err := seawater.SalinityFromRefractiveIndex(1.332986+0.006398, 20)
	fmt.Printf("%.1f %v\n", sp, err)
	// Output: 35.0 <nil>
}

// The CRC Handbook has 1.3391 for 3.5 %.
func ExampleSodiumChlorideIndex() {
	n, err := seawater.SodiumChlorideIndex(0.035)
	fmt.Printf("%.4f %v\n", n, err)
	// Output: 1.3391 <nil>
}

func ExampleSodiumChlorideFromIndex() {
	w, err := seawater.SodiumChlorideFromIndex(1.3391)
	fmt.Printf("%.3f %v\n", w, err)
	// Output: 0.035 <nil>
}

// The CRC Handbook has 1.3478 for 10 %.
func ExampleSucroseIndex() {
	n, err := seawater.SucroseIndex(0.10)
	fmt.Printf("%.4f %v\n", n, err)
	// Output: 1.3478 <nil>
}

func ExampleSucroseFromIndex() {
	w, err := seawater.SucroseFromIndex(1.3478)
	fmt.Printf("%.3f %v\n", w, err)
	// Output: 0.100 <nil>
}

// The USGS DOTABLES have 8.263 mg/L for fresh water at 25 °C.
func ExampleOxygenSaturation() {
	o, err := seawater.OxygenSaturation(0, 25, 1)
	fmt.Printf("%.3f %s %v\n", o, o.Unit(), err)
	// Output: 8.263 mg/L <nil>
}

// The paper's check value is 274.61 µmol/kg (from memory), 10 °C being taken on IPTS-68.
func ExampleOxygenSolubility() {
	o, err := seawater.OxygenSolubility(35, 10/1.00024)
	fmt.Printf("%.2f %v\n", o, err)
	// Output: 274.61 <nil>
}

// The equation of Clegg & Whitfield starts from 9.244605 in fresh water at 25 °C.
func ExampleAmmoniaPK() {
	pK, err := seawater.AmmoniaPK(0, 25, seawater.TotalScale)
	fmt.Printf("%.6f %v\n", pK, err)
	// Output: 9.244605 <nil>
}

// The table after Emerson et al. has 0.0502 for pH 8 at 24 °C.
func ExampleUnionizedAmmonia() {
	share, err := seawater.UnionizedAmmonia(8, 0, 24, seawater.NBSScale)
	fmt.Printf("%.4f %v\n", share, err)
	// Output: 0.0502 <nil>
}

// PyCO2SYS 1.8.3 has 1965.55 µmol/kg with the same constants.
func ExampleInorganicCarbon() {
	carbon, err := seawater.InorganicCarbon(8.1, 2300, 35, 25, seawater.TotalScale)
	fmt.Printf("%.2f µmol/kg %v\n", carbon, err)
	// Output: 1965.55 µmol/kg <nil>
}

// Half soft tap water of pH 7.0 and half sea water of pH 8.1: PyCO2SYS has 8.0302, the average would be 7.55.
func ExamplePHFromCarbon() {
	ph, err := seawater.PHFromCarbon(1400, 1280.936650290527, 17.6, 25, seawater.TotalScale)
	fmt.Printf("%.4f %v\n", ph, err)
	// Output: 8.0302 <nil>
}

// The same blend after it has stood in air: PyCO2SYS has 7.9112.
func ExamplePHInAir() {
	ph, err := seawater.PHInAir(1400, 17.6, 25, seawater.TotalScale)
	fmt.Printf("%.4f %v\n", ph, err)
	// Output: 7.9112 <nil>
}

// IAPWS has 0.8900 mPa·s for water at 25 °C; the formula is good to 0.05 %.
func ExampleViscosity() {
	mu, err := seawater.Viscosity(0, 25)
	fmt.Printf("%.3f %s %v\n", mu, mu.Unit(), err)
	// Output: 0.890 mPa·s <nil>
}

// The key in the methods of an answer leads to source, range and uncertainty.
func ExampleMethods() {
	m := seawater.Methods()[0]
	fmt.Println(m.Key, "·", m.Validity)
	// Output: density-iapws08 · 0 to 120 g/kg, 0 to 40 °C
}

// Many salinities at one temperature.
func ExampleAtTemperature() {
	warm := seawater.AtTemperature(25)
	os, ok := warm.Osmolality(10)
	fmt.Printf("%.1f mOsm/kg %v\n", os, ok)
	_, ok = warm.Density(121)
	fmt.Println(ok)
	// Output:
	// 289.9 mOsm/kg true
	// false
}

// What hydrometers for two conventions would show in one water.
func ExampleGravitiesOn() {
	on, err := seawater.GravitiesOn(quantity.Convention{Sample: 25, Water: 25}, quantity.Convention{Sample: 25, Water: 4})
	shown := make([]float64, 2)
	ok := on.Of(35.16504, shown)
	fmt.Printf("%.5f %.5f %v %v\n", shown[0], shown[1], ok, err)
	// Output: 1.02637 1.02337 true <nil>
}
