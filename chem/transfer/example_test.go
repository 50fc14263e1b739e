package transfer_test

import (
	"context"
	"errors"
	"fmt"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
)

// estimate reads a quantity as a request writes it.
func estimate[Q quantity.Quantity](s string) *quantity.Estimate[Q] {
	e := new(quantity.Estimate[Q])
	if err := e.Bind(s); err != nil {
		panic(err)
	}
	return e
}

func water(salinity, temperature string) transfer.Water {
	var w transfer.Water
	if err := errors.Join(w.Salinity.Bind(salinity), w.Temperature.Bind(temperature)); err != nil {
		panic(err)
	}
	return w
}

// From fresh to low brackish water in a bucket, under the keeper's own limits. A filling from 6 to
// 18 L leaves a third of the gap; by hand, with ρ' = (1+ρ²)/2 and the product of all ρ being 3,
// that takes 9.85, 5.64 and 4.70 h. Pouring off in between saves more time than the visit costs.
func ExampleNewPlan() {
	for settings := range 3 {
		p, err := transfer.NewPlan(context.Background(), transfer.Request{
			From: water("0.2 ppt", "25 C"),
			To:   water("10 ppt", "25 C"),
			Container: transfer.Container{
				Capacity: estimate[quantity.Volume]("20 L"), Freeboard: estimate[quantity.Volume]("0 L"),
				StartVolume: estimate[quantity.Volume]("6 L"), Aerated: new(true),
			},
			Line: &transfer.Line{
				DropVolume: estimate[quantity.Volume]("0.05 mL"), Settings: new(settings + 1),
				GreatestDrip: estimate[quantity.DripRate]("100 drops/s"),
			},
			Limits: &transfer.Limits{
				AtOnce: estimate[quantity.AbsoluteSalinity]("20 g/kg"), PerHour: estimate[quantity.SalinityRate]("2 g/kg/h"),
				Per24Hours: estimate[quantity.AbsoluteSalinity]("40 g/kg"),
			},
			Tolerance: estimate[quantity.AbsoluteSalinity]("3.282 g/kg"),
		})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%d set: %.2f h, not under %.2f\n", p.Settings, p.ExactDuration.Value, p.LeastDuration.Value)
	}
	// Output:
	// 1 set: 6.55 h, not under 3.28
	// 2 set: 4.71 h, not under 3.28
	// 3 set: 4.30 h, not under 3.28
}

// A gap of more than a day's change is too much for a bucket; the error says what works.
func ExampleNewPlan_refused() {
	_, err := transfer.NewPlan(context.Background(), transfer.Request{
		Animals:   []transfer.Animal{{Sensitivity: new(tolerance.Moderate)}},
		From:      water("0.2 ppt", "25 C"),
		To:        water("10 ppt", "25 C"),
		Container: transfer.Container{Capacity: estimate[quantity.Volume]("20 L"), Aerated: new(true)},
	})
	refused, _ := errors.AsType[*transfer.InfeasibleError](err)
	for _, f := range refused.Faults {
		fmt.Println(f.Where, f.Note.Code)
	}
	// Output:
	// to.salinity over_24_hours
	// holding_tanks.volume holding_tanks_would_do
	// home_tank.volume combined_would_do
	// home_tank.volume ramp_would_do
}

func ExampleRequest_WithDefaults() {
	r := transfer.Request{From: water("0.2 ppt", "25 C"), To: water("10 ppt", "25 C")}.WithDefaults()
	fmt.Println(*r.Route, *r.Animals[0].Condition, *r.Animals[0].Origin, r.RecentChange)
	// Output: auto well unknown 0 g/kg
}

// A little more than two drops a second is set by counting the drops in ten seconds.
func ExampleCountable() {
	c := transfer.Countable(2.37)
	fmt.Println(c.Drops, "drops in", c.Seconds, "s")
	// Output: 23 drops in 10 s
}

// What a plan under way is compared with.
func ExampleNewBaseline() {
	b, err := transfer.NewBaseline(transfer.Request{From: water("0.2 ppt", "25 C"), To: water("10 ppt", "25 C"),
		Animals: []transfer.Animal{{Sensitivity: new(tolerance.Moderate)}}})
	fmt.Printf("%.2f g/kg apart, a step of %g g/kg at once, %v\n", b.Gap, b.AtOnce, err)
	// Output: 9.85 g/kg apart, a step of 3 g/kg at once, <nil>
}

// A jellyfish is never under an air stone.
func ExampleSpareBells() {
	moon := &transfer.Known{Of: &tolerance.Taxon{Group: tolerance.GroupCnidarian, Family: "Ulmaridae"}}
	n := quantity.Note{Code: "triage_air"}
	there := transfer.SpareBells(transfer.Request{Animals: []transfer.Animal{{Known: moon}}}, []*quantity.Note{&n})
	fmt.Println(there, n.Code)
	// Output: true triage_air_bell
}

func ExampleMethods() {
	for _, m := range transfer.Methods() {
		fmt.Println(m.Key, m.Standing)
	}
	// Output:
	// drip-filling definition
	// drip-schedule proposed
	// transfer-limits proposed
	// step proposed
	// tank-ramp proposed
	// stages proposed
	// drip-overflow definition
}

// Four drops a second can be counted, five cannot.
func ExampleByFlow() {
	fmt.Println(transfer.ByFlow(4), transfer.ByFlow(5))
	// Output: false true
}

// Nitrite in the new water rules out the move; a coarse valve only one way of making it.
func ExampleUnwise() {
	fmt.Println(transfer.Unwise("nitrite_in_new_water"), transfer.Unwise("needs_slower_drip"))
	// Output: true false
}
