package drip_test

import (
	"context"
	"fmt"
	"math"

	"saltlock/chem/drip"
)

// Six kilograms, filled to three times as much, close the gap to a third, at 2 g/kg/h
// with three settings: ρ' = (1+ρ²)/2 with Πρ = 3 gives 4.70 h.
func ExampleSolve() {
	s, err := drip.Solve(context.Background(), drip.Problem{
		Gap: 9.85, Tolerance: 9.85 / 3, Mass: 6,
		LeastMass: func(float64) float64 { return 6 },
		MostMass:  func(float64) float64 { return 20 },
		Rate:      drip.Rate{At: func(float64) float64 { return 2 }},
		LeastFlow: 0.001, MostFlow: math.Inf(1), Settings: 3,
		Objective: drip.Duration,
	})
	fmt.Printf("%.2f h, %d settings, %d pour-offs, %v\n", s.Hours, s.Settings, s.PourOffs, err)
	// Output: 4.70 h, 3 settings, 0 pour-offs, <nil>
}

// A bucket that holds three times the start closes the gap to a third in one
// filling; to a ninth takes pouring off once.
func ExampleCheck() {
	p := drip.Problem{
		Gap: 9, Tolerance: 1, Mass: 6,
		LeastMass: func(float64) float64 { return 6 },
		MostMass:  func(float64) float64 { return 18 },
		Rate:      drip.Rate{At: func(float64) float64 { return 2 }},
		LeastFlow: 0.001, MostFlow: 100, Settings: 3,
	}
	fmt.Println(drip.Check(p))
	// Output: 1 <nil>
}

// Six litres at 2 ppt, new water at 10, in cups of up to a litre from a jug with marks of
// 50 mL: five grams at once, three an hour.
func ExampleSolveCups() {
	p := drip.CupProblem{Problem: drip.Problem{
		Gap: 8, Tolerance: 2.5, Mass: 6,
		LeastMass: func(float64) float64 { return 6 },
		MostMass:  func(float64) float64 { return 20 },
		Rate:      drip.Rate{At: func(float64) float64 { return 3 }},
		Settings:  2, Objective: drip.DurationAndVisits,
	}, AtOnce: 5, Mark: 0.05, MostCup: 1}
	s, err := drip.SolveCups(context.Background(), p)
	for _, c := range s.Cups {
		fmt.Printf("%.0f:%.2f ", c.Time*60, c.Mass)
	}
	fmt.Println(err)
	// Output:
	// 0:0.85 20:0.85 40:0.85 60:0.85 80:1.00 90:1.00 100:1.00 110:1.00 120:1.00 130:1.00 140:1.00 150:1.00 160:1.00 170:0.80 <nil>
}
