package ramp_test

import (
	"context"
	"fmt"

	"saltlock/chem/ramp"
)

// Two hundred litres at 5 g/kg go down to 2 g/kg with plain tap water, by at most a step of
// 2.7 g/kg in three days.
func ExampleSolve() {
	limits := ramp.Unlimited()
	limits.PerDay, limits.Step, limits.Wait, limits.SaltyWait = 2, 2.7, 3, 7
	plan, err := ramp.Solve(context.Background(), ramp.Problem{
		From: 5, To: 2, Tolerance: 0.1, Volume: 200, Density: func(s float64) float64 { return 0.997 + 0.00075*s },
		Source: 0.2, Saltiest: 35, Share: 0.5, Limits: limits,
	})
	for _, c := range plan.Changes {
		fmt.Printf("day %d: change %.0f L, to %.1f g/kg\n", c.Day, c.TakeOut, c.After)
	}
	fmt.Printf("%.0f L, %.0f kg of salt, %v\n", plan.Water, plan.Salt, err)
	// Output:
	// day 0: change 51 L, to 3.8 g/kg
	// day 3: change 100 L, to 2.0 g/kg
	// 150 L, 0 kg of salt, <nil>
}

// Without a limit, one change does it.
func ExampleUnlimited() {
	plan, err := ramp.Solve(context.Background(), ramp.Problem{
		From: 5, To: 10, Volume: 100, Density: func(float64) float64 { return 1 }, Saltiest: 35, Share: 0.5, Limits: ramp.Unlimited(),
	})
	fmt.Println(len(plan.Changes), plan.Days, err)
	// Output: 1 0 <nil>
}
