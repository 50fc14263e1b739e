package lifesupport_test

import (
	"fmt"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
)

// Clarke & Johnston 1999 at 5 g and 25 °C: 325.3 mg/kg/h. A given species may use half as
// much or twice as much.
func ExampleOxygenUse() {
	use, err := lifesupport.OxygenUse(0.005, 25)
	fmt.Printf("%.1f, from %.0f to %.0f mg/kg/h %v\n", use, use/lifesupport.UseSpread, use*lifesupport.UseSpread, err)
	// Output: 325.3, from 163 to 651 mg/kg/h <nil>
}

// The 29 g sockeye of Brett & Zala 1975 gave off 8.2 mg N/kg/h at 15 °C.
func ExampleAmmoniaOutput() {
	output, err := lifesupport.AmmoniaOutput(0.029, 15)
	fmt.Printf("%.1f, from %.1f to %.1f mg N/kg/h %v\n", output, output/lifesupport.UseSpread, output*lifesupport.UseSpread, err)
	// Output: 6.1, from 3.1 to 12.3 mg N/kg/h <nil>
}

// Six fish of 5 g in 6 L, filled to 18 L with dripping brackish water in five hours, with
// an air stone and a heater, at pH 8.2 and 25 °C.
func ExampleSupport() {
	animals := []lifesupport.Animals{{Count: 6, Mass: quantity.Of[quantity.Mass](0.005, 0.001)}}
	c, err := lifesupport.Support(animals, lifesupport.State{Oxygen: 8.2, Ammonia: 0.2, Temperature: 25}, []lifesupport.Stretch{{
		Time: 5, Volume: 6, Inflow: 40, Water: lifesupport.State{Oxygen: 7.8, Temperature: 25}, SalinityAtStart: 0.2, SalinityAtEnd: 6.7,
	}}, lifesupport.Care{Aerated: true, Held: new(quantity.Celsius(25)), PH: 8.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	end := c.Points[len(c.Points)-1]
	fmt.Printf("after %.0f h %.1f L with %.2f mg/L N\n", end.Time, end.Volume, end.Ammonia)
	fmt.Printf("un-ionized at most %.3f mg/L N, %.3f at worst\n", c.GreatestAmmonia.Likely, c.GreatestAmmonia.Worst)
	fmt.Printf("oxygen low %.1f h after the air stops, %.1f at worst\n", c.WithoutAir.Likely, c.WithoutAir.Worst)
	// Output:
	// after 5 h 18.0 L with 0.25 mg/L N
	// un-ionized at most 0.023 mg/L N, 0.037 at worst
	// oxygen low 1.7 h after the air stops, 0.7 at worst
}

// How many times as many animals the container could hold before un-ionized ammonia
// reaches 0.02 mg/L N.
func ExampleCourse_MostAnimals() {
	animals := []lifesupport.Animals{{Count: 6, Mass: quantity.Of[quantity.Mass](0.005, 0)}}
	c, err := lifesupport.Support(animals, lifesupport.State{Oxygen: 8, Temperature: 25}, []lifesupport.Stretch{{Time: 12, Volume: 10}},
		lifesupport.Care{Aerated: true, Held: new(quantity.Celsius(25)), PH: 8})
	limits := lifesupport.Limits{Ammonia: lifesupport.HarmlessAmmonia, Oxygen: lifesupport.LowOxygen}
	most, ok := c.MostAnimals(limits)
	fmt.Printf("%.2f of them, %.2f at worst %v %v\n", most.Likely, most.Worst, ok, err)
	// Output: 0.57 of them, 0.28 at worst true <nil>
}

// Soft tap water and sea water of known alkalinity, and the same without it.
func ExampleHighestPH() {
	from, to := lifesupport.Acidity{Temperature: 25}, lifesupport.Acidity{Salinity: 35, Temperature: 25}
	unknown, err := lifesupport.HighestPH(from, to)
	fmt.Printf("%.1f %v\n", unknown, err)
	from.Alkalinity, to.Alkalinity = new(quantity.Of[quantity.Alkalinity](0.5, 0)), new(quantity.Of[quantity.Alkalinity](2.3, 0))
	known, err := lifesupport.HighestPH(from, to)
	fmt.Printf("%.1f %v\n", known, err)
	// Output:
	// 8.6 <nil>
	// 8.1 <nil>
}

// Two days in a bag: 5 mg/L N is harmless at pH 6.5 but not at pH 8. The un-ionized shares
// are 0.0018 and 0.054 by Emerson et al. 1975, so 0.009 and 0.27 mg/L N.
func ExampleBagVerdict() {
	tan := quantity.AmmoniaNitrogen(5)
	for _, ph := range []quantity.PH{6.5, 8} {
		drip, err := lifesupport.BagVerdict(&tan, new(quantity.Duration(48)), ph, 0, 25)
		fmt.Printf("pH %.1f: %s %v\n", ph, drip, err)
	}
	// Output:
	// pH 6.5: allowed <nil>
	// pH 8.0: refused <nil>
}

func ExampleMethods() {
	for _, m := range lifesupport.Methods() {
		fmt.Println(m.Key, m.Standing)
	}
	// Output:
	// fish-oxygen-clarke-johnston1999 published_fit
	// fish-ammonia-brett-zala1975 published_fit
	// container-mass-balance definition
	// container-air-exchange proposed
	// container-heat-exchange proposed
	// highest-ph proposed
	// bag-water common_practice
}

// One fish of 5 g for an hour in a litre, once it is calm.
func ExampleNewTracker() {
	k, err := lifesupport.NewTracker([]lifesupport.Animals{{Count: 1, Mass: quantity.Of[quantity.Mass](0.005, 0)}},
		lifesupport.State{Oxygen: 8, Temperature: 25}, lifesupport.State{Oxygen: 8, Temperature: 25},
		lifesupport.Care{Aerated: true, Held: new(quantity.Celsius(25)), PH: 8}, 5, 1, 0, 0)
	next := make([]float64, lifesupport.TrackerState)
	_, ammonia := k.Follow(next, k.Start(), lifesupport.Spell{Start: 2, Hours: 1, Volume: 1})
	fmt.Printf("%.4f mg/L N of NH3 at the greatest use %v\n", ammonia, err)
	// Output: 0.0084 mg/L N of NH3 at the greatest use <nil>
}

// Ten litres at 26 °C in a room of 20 °C: by hand 6·exp(−5·0.198) K are left of the 6.
func ExampleWarmth() {
	after, fastest, _ := lifesupport.Warmth(26, lifesupport.Spell{Hours: 5, Volume: 10}, 26, 20)
	fmt.Printf("%.1f °C, at most %.2f K/h\n", after, fastest)
	// Output: 22.2 °C, at most 1.19 K/h
}
