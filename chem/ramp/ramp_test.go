package ramp

import (
	"context"
	"errors"
	"math"
	"testing"
)

// density is close enough to that of sea water at 25 °C for a test of balances, kg/L.
func density(salinity float64) float64 { return 0.99705 + 0.00075*salinity }

// The limits of a tank of one class with a filter; the numbers are those proposed
// for it in chem/tolerance.
func limits(perDay, perWeek, saltyWeek, atOnce float64, filter bool) Limits {
	l := Unlimited()
	l.AtOnce, l.PerDay, l.PerWeek, l.SaltyWeek, l.Salty = atOnce, perDay, perWeek, saltyWeek, 10
	if filter {
		l.Step, l.Wait, l.SaltyWait = 2.7, 3, 7
	}
	return l
}

var (
	hardyUp     = limits(2, 5.3, 2.7, 5, true)
	hardyDown   = limits(2, 5.3, 2.7, 8, true)
	moderate    = limits(1, 2.7, 2.7, 3, true)
	delicate    = limits(0.7, 2, 2, 1, true)
	noFilter    = limits(2, 5.3, 2.7, 5, false)
	slowedBelow = func(l Limits) Limits { l.HalvedBelow = 2; return l }
)

// ramps are realistic tanks with every kind of ramp.
var ramps = map[string]Problem{
	"up hardy":            {From: 2.6, To: 23.9, Tolerance: 0.3, Volume: 300, Source: 0.2, Saltiest: 35.165, Share: 0.3, Limits: hardyUp},
	"up, evaporation":     {From: 2.6, To: 23.9, Tolerance: 0.3, Volume: 300, Source: 0.2, Saltiest: 35.165, Share: 0.3, Limits: hardyUp, Evaporation: 6},
	"up moderate":         {From: 0.2, To: 15, Tolerance: 0.1, Volume: 120, Source: 0.2, Saltiest: 35.165, Share: 0.3, Limits: moderate},
	"up in a small tank":  {From: 0.2, To: 8, Tolerance: 0.1, Volume: 12, Source: 0.2, Saltiest: 35.165, Share: 0.3, Limits: delicate},
	"up to sea water":     {From: 0.2, To: 35.165, Tolerance: 0.1, Volume: 450, Source: 0.2, Saltiest: 45, Share: 0.3, Limits: hardyUp},
	"up from saltier tap": {From: 0.1, To: 10, Tolerance: 0.1, Volume: 450, Source: 2, Saltiest: 35.165, Share: 0.5, Limits: delicate},
	"down to the tap":     {From: 5.02, To: 0.2, Tolerance: 0.25, Volume: 200, Source: 0.2, Saltiest: 35, Share: 0.3, Limits: slowedBelow(hardyDown)},
	"down a long way":     {From: 34.96, To: 1, Tolerance: 0.25, Volume: 500, Source: 0.2, Saltiest: 45, Share: 0.3, Limits: slowedBelow(hardyDown)},
	"down, evaporation":   {From: 20, To: 2, Tolerance: 0.25, Volume: 100, Source: 0.5, Saltiest: 45, Share: 0.3, Limits: slowedBelow(moderate), Evaporation: 1.5},
	"after change":        {From: 5, To: 15, Tolerance: 0.1, Volume: 200, Source: 0.2, Saltiest: 35.165, Share: 0.3, Limits: recent(moderate, 0.6)},
	"without a filter":    {From: 15, To: 5, Tolerance: 0.1, Volume: 200, Source: 0.2, Saltiest: 35.165, Share: 0.5, Limits: noFilter},
	"into salty water":    {From: 9, To: 12.5, Tolerance: 0, Volume: 1e5, Source: 0, Saltiest: 35.165, Share: 0.3, Limits: hardyUp},
}

func recent(l Limits, change float64) Limits {
	l.Recent = change
	return l
}

func solve(t testing.TB, p Problem) Plan {
	t.Helper()
	p.Density = density
	plan, err := Solve(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// If there is no plan, the obstacle says how far the tank gets.
func TestObstacles(t *testing.T) {
	for name, c := range map[string]struct {
		p       Problem
		reason  Reason
		nearest float64
	}{
		"below the tap":        {Problem{From: 5, To: 0.1, Tolerance: 0.1, Volume: 200, Source: 0.5, Saltiest: 35, Share: 0.3, Limits: hardyDown}, BeyondWater, 0.5},
		"above the new water":  {Problem{From: 5, To: 30, Tolerance: 0.1, Volume: 200, Source: 0.2, Saltiest: 25, Share: 0.3, Limits: hardyUp}, BeyondWater, 25},
		"limits that stand":    {Problem{From: 5, To: 30, Tolerance: 0.1, Volume: 200, Source: 0.2, Saltiest: 35, Share: 0.3, Limits: limits(2, 0, 0, 5, true)}, TooLong, 5},
		"more than can be had": {Problem{From: 1, To: 40, Tolerance: 0.1, Volume: 200, Source: 0.2, Saltiest: 45, Share: 0.3, Limits: limits(0.01, 0.07, 0.07, 5, true)}, TooLong, 12.01},
	} {
		c.p.Density = density
		_, err := Solve(t.Context(), c.p)
		o, ok := errors.AsType[*Obstacle](err)
		if !ok || o.Reason != c.reason || math.Abs(o.Nearest-c.nearest) > 1e-6 {
			t.Errorf("%s: %v, want %s at %g g/kg", name, err, c.reason, c.nearest)
		}
	}
	bad := Problem{From: math.NaN(), To: 1, Volume: 1, Density: density, Saltiest: 35, Share: 1, Limits: Unlimited()}
	if _, err := Solve(t.Context(), bad); !errors.Is(err, ErrProblem) {
		t.Errorf("a tank of NaN g/kg: %v", err)
	}
	done, cancel := context.WithCancel(t.Context())
	cancel()
	p := ramps["up hardy"]
	p.Density = density
	if _, err := Solve(done, p); !errors.Is(err, context.Canceled) {
		t.Errorf("after the end of its context: %v", err)
	}
}

// The least that mass balance allows, by hand: with new water of 35.165 g/kg, 300 L
// go from 2.6 to 23.9 g/kg with 300·ln((35.165−2.6)/(35.165−23.9)) = 318 L if it is added
// in infinitely small shares; larger shares take less. The salt is what that water
// contains beyond its source.
func TestLeastMassBalance(t *testing.T) {
	p := ramps["up hardy"]
	p.Tolerance = 0
	plan := solve(t, p)
	most := 300 * math.Log((35.165-2.6)/(35.165-23.9))
	if plan.Water > most || plan.Salt > most*density(35.165)*(35.165-0.2)/(1000-0.2) {
		t.Errorf("%.1f L and %.2f kg, the smallest shares take %.1f L at the most", plan.Water, plan.Salt, most)
	}
}

// On the way up, less has to be taken out because water evaporates. That saves more than a
// quarter of the salt; a little more time saves some of the rest.
func TestEvaporationSavesSalt(t *testing.T) {
	dry, open := solve(t, ramps["up hardy"]), solve(t, ramps["up, evaporation"])
	if open.Salt > 0.75*dry.Salt || open.Days != dry.Days {
		t.Errorf("with evaporation the ramp takes %.2f kg of salt and %d days, without %.2f and %d", open.Salt, open.Days, dry.Salt, dry.Days)
	}
	if c := open.Cheaper; c == nil || c.Salt >= open.Salt*(1-worthwhile) {
		t.Errorf("offered %+v", c)
	}
}

// The pH of a tank bounds its changes, up to a limit that the first changes reach.
func TestPHLimits(t *testing.T) {
	p := ramps["up moderate"]
	free := solve(t, p)
	p.Limits.PH, p.Limits.PHPerDay = func(s float64) float64 { return 6 + 2*s/(s+1) }, 0.3
	plan := solve(t, p)
	replay(t, p, plan)
	for _, c := range plan.Changes {
		if by := p.Limits.PH(c.After) - p.Limits.PH(c.Before); by > 0.3+1e-6 {
			t.Errorf("day %d changes the pH by %.3f", c.Day, by)
		}
	}
	if plan.Changes[0].After >= free.Changes[0].After {
		t.Error("the first change is no smaller for the pH")
	}
}

// A ramp along a curve is never ahead of it and never more than a day's change behind,
// and consists of full days' changes.
func TestFollowsCurve(t *testing.T) {
	for name, p := range map[string]Problem{
		"up":   {From: 6, To: 15, Tolerance: 0.1, Volume: 450, Source: 0.2, Saltiest: 35.165, Share: 0.3, Limits: moderate},
		"down": {From: 15, To: 2, Tolerance: 0.1, Volume: 450, Source: 0.2, Saltiest: 35.165, Share: 0.3, Limits: moderate},
	} {
		p.Ahead = func(day float64) float64 { return p.From + (p.To-p.From)*min(1, day/200) }
		plan := solve(t, p)
		replay(t, p, plan)
		sign := math.Copysign(1, p.To-p.From)
		at, next := p.From, 0
		for day := range plan.Days + 1 {
			if next < len(plan.Changes) && plan.Changes[next].Day == day {
				at = plan.Changes[next].After
				next++
			}
			if lag := sign * (p.Ahead(float64(day)) - at); lag < -1e-6 || lag > 1+1e-6 {
				t.Errorf("%s: on day %d the tank has %.3f, %.3f behind the curve", name, day, at, lag)
			}
		}
		if most := int(math.Abs(p.To-p.From)) + 3; len(plan.Changes) > most {
			t.Errorf("%s: %d changes, %d will do", name, len(plan.Changes), most)
		}
	}
}

// No number makes Solve panic, run forever, or return anything that is not finite.
func FuzzSolve(f *testing.F) {
	f.Add(2.6, 23.9, 0.3, 300.0, 0.2, 35.165, 0.3, 2.0, 5.3)
	f.Add(5.0, 0.2, 0.25, 200.0, 0.2, 35.0, 0.3, 2.0, 5.3)
	f.Add(math.Inf(1), 0.2, -1.0, 0.0, math.NaN(), 35.0, 0.3, 2.0, 5.3)
	f.Fuzz(func(t *testing.T, from, to, tolerance, volume, source, saltiest, share, perDay, perWeek float64) {
		if from > 60 || to > 60 || source > 60 || saltiest > 100 { // the stand-in for density is no good there
			return
		}
		p := Problem{From: from, To: to, Tolerance: tolerance, Volume: volume, Density: density, Source: source, Saltiest: saltiest, Share: share,
			Limits: limits(perDay, perWeek, perWeek/2, 5, true)}
		plan, err := Solve(t.Context(), p)
		if err != nil {
			return
		}
		for _, c := range plan.Changes {
			for _, x := range []float64{c.Before, c.After, c.TakeOut, c.Source, c.Salt, c.PutIn, c.NewWater} {
				if !(x >= -1e-9) || math.IsInf(x, 0) {
					t.Errorf("day %d: %+v", c.Day, c)
				}
			}
		}
	})
}

func BenchmarkSolve(b *testing.B) {
	p := ramps["up to sea water"]
	p.Density = density
	for b.Loop() {
		if _, err := Solve(b.Context(), p); err != nil {
			b.Fatal(err)
		}
	}
}
