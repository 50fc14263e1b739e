package transfer_test

import (
	"errors"
	"fmt"
	"time"

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

// From fresh to low brackish water in a bucket, under the keeper's own limits. A
// filling from 6 to 18 L leaves a third of the gap; by hand, with ρ' = (1+ρ²)/2
// and the product of all ρ being 3, it takes 9.85, 5.64 and 4.70 h.
func ExampleNewPlan() {
	for settings := range 3 {
		p, err := transfer.NewPlan(transfer.Request{
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
	// 1 set: 9.85 h, not under 3.28
	// 2 set: 5.64 h, not under 3.28
	// 3 set: 4.70 h, not under 3.28
}

// A gap of more than a day's change is no job for a bucket; the error says what is.
func ExampleNewPlan_refused() {
	_, err := transfer.NewPlan(transfer.Request{
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
	// drip-readings proposed
}

// inFreshWater is a bucket that a drip should fill from 6 to 18 L.
func inFreshWater() transfer.Request {
	return transfer.Request{
		From: water("0.2 ppt", "25 C"), To: water("10 ppt", "25 C"),
		Container: transfer.Container{
			Capacity: estimate[quantity.Volume]("20 L"), Freeboard: estimate[quantity.Volume]("0 L"),
			StartVolume: estimate[quantity.Volume]("6.00(5) L"), Aerated: new(true),
		},
		Line: &transfer.Line{DropVolume: estimate[quantity.Volume]("0.05 mL"), GreatestDrip: estimate[quantity.DripRate]("100 drops/s")},
		Limits: &transfer.Limits{
			AtOnce: estimate[quantity.AbsoluteSalinity]("20 g/kg"), PerHour: estimate[quantity.SalinityRate]("2 g/kg/h"),
			Per24Hours: estimate[quantity.AbsoluteSalinity]("40 g/kg"),
		},
		Tolerance: estimate[quantity.AbsoluteSalinity]("3.282 g/kg"),
		Start:     new(time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC)),
	}
}

// An hour after the first drop the container holds 7.0 L; told were 7.2, so of
// the 1.2 L that should have come, 1.0 came.
func ExampleFollow() {
	r := inFreshWater()
	p, err := transfer.NewPlan(r)
	if err != nil {
		fmt.Println(err)
		return
	}
	log := []transfer.LogEntry{{Time: new(r.Start.Add(time.Hour)), Volume: estimate[quantity.Volume]("7.00(5) L")}}
	c, err := transfer.Follow(r, []transfer.Leg{transfer.NewLeg(0, r, p)}, log)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %s; drip %.2f ± %.2f of that planned\n", c.Verdict, c.Now.Code, c.DripRatio.Value, c.DripRatio.U)
	// Output: corrected, now_set_drip; drip 0.84 ± 0.06 of that planned
}

func ExampleNewLeg() {
	r := inFreshWater()
	p, err := transfer.NewPlan(r)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range transfer.NewLeg(0, r, p).Steps {
		fmt.Printf("set %t, %.1f drops/s until %.1f L\n", s.Set, s.Drip, s.Until)
	}
	// Output:
	// set true, 6.7 drops/s until 7.5 L
	// set true, 10.6 drops/s until 9.9 L
	// set true, 18.4 drops/s until 13.0 L
	// set true, 31.8 drops/s until 17.9 L
}
