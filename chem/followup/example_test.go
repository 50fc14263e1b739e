package followup_test

import (
	"context"
	"errors"
	"fmt"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
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

// An hour after the first drop the container holds 6.8 L instead of the planned 7.2 L. So 0.8 L
// of the expected 1.2 L came.
func ExampleFollow() {
	r := inFreshWater()
	p, err := transfer.NewPlan(context.Background(), r)
	if err != nil {
		fmt.Println(err)
		return
	}
	log := []followup.LogEntry{{Time: new(r.Start.Add(time.Hour)), Volume: estimate[quantity.Volume]("6.80(5) L")}}
	c, err := followup.Follow(context.Background(), r, []followup.Leg{followup.NewLeg(0, r, p)}, log)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %s; drip %.2f ± %.2f of that planned\n", c.Verdict, c.Now.Code, c.DripRatio.Value, c.DripRatio.U)
	// Output: corrected, now_set_flow; drip 0.70 ± 0.09 of that planned
}

func ExampleNewLeg() {
	r := inFreshWater()
	p, err := transfer.NewPlan(context.Background(), r)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range followup.NewLeg(0, r, p).Steps {
		fmt.Printf("set %t, %.1f drops/s until %.1f L\n", s.Set, s.Drip, s.Until)
	}
	// Output:
	// set true, 6.7 drops/s until 7.5 L
	// set true, 8.5 drops/s until 7.8 L
	// set true, 11.0 drops/s until 8.0 L
	// set true, 19.5 drops/s until 11.1 L
}

func ExampleMethods() {
	for _, m := range followup.Methods() {
		fmt.Println(m.Key, m.Standing)
	}
	// Output: drip-readings proposed
}

// A transfer that has ended: from then on the animals count as in the new water.
func ExampleRelease() {
	entry := followup.Release(time.Date(2026, 11, 28, 21, 0, 0, 0, time.UTC))
	fmt.Println(*entry.Event, entry.Time.Format(time.Kitchen))
	// Output: released 9:00PM
}

// Half an hour after a move out of a bag somebody reads the temperature of the new water.
func ExampleLeg_LeftBag() {
	r := inFreshWater()
	read := followup.LogEntry{Time: new(r.Start.Add(30 * time.Minute)), Temperature: estimate[quantity.Celsius]("25 C")}
	gasping := followup.LogEntry{Time: read.Time, Behaviour: new(followup.Gasping)}
	var leg followup.Leg
	fmt.Println(leg.LeftBag(r, []followup.LogEntry{gasping}), leg.LeftBag(r, []followup.LogEntry{gasping, read}))
	// Output: false true
}
