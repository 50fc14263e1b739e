package ramp

import (
	"math"
	"testing"
)

// A tank that is followed through a plan hour by hour, by masses alone, has the plan's
// salinities, keeps the limits as they are defined, and arrives.
func TestReplay(t *testing.T) {
	for name, p := range ramps {
		t.Run(name, func(t *testing.T) {
			plan := solve(t, p)
			replay(t, p, plan)
			if plan.Cheaper != nil {
				replay(t, p, *plan.Cheaper)
				if plan.Cheaper.Days > plan.Days+plan.Days/10 || plan.Cheaper.Salt > plan.Salt || plan.Cheaper.Water > plan.Water {
					t.Errorf("the cheaper plan takes %d days, %.3f kg, %.1f L; the plan %d, %.3f, %.1f", plan.Cheaper.Days, plan.Cheaper.Salt, plan.Cheaper.Water, plan.Days, plan.Salt, plan.Water)
				}
			}
			t.Logf("%d days, %d changes, %.1f L, %.3f kg", plan.Days, len(plan.Changes), plan.Water, plan.Salt)
		})
	}
}

// replay keeps the tank as kilograms of water and of salt. It is long because it follows
// each day from morning to evening.
func replay(t testing.TB, p Problem, plan Plan) {
	t.Helper()
	salt := p.From / 1000 * p.Volume * density(p.From)
	water := p.Volume*density(p.From) - salt
	salinity := func() float64 { return 1000 * salt / (salt + water) }
	fill := func() { // to the mark with source water
		for range 50 {
			gap := p.Volume - (salt+water)/density(salinity())
			add := gap * density(p.Source)
			salt, water = salt+add*p.Source/1000, water+add*(1-p.Source/1000)
		}
	}
	evenings, next := []float64{p.From}, 0
	for day := 0; day <= plan.Days; day++ {
		if day == 0 { // what evaporated in the day before
			fill()
		}
		for range 24 {
			water -= p.Evaporation * density(0) / 24
		}
		if next < len(plan.Changes) && plan.Changes[next].Day == day {
			c := plan.Changes[next]
			if math.Abs(c.Before-evenings[day]) > 1e-6 {
				t.Errorf("day %d: the tank has %.6f, the plan says %.6f", day, evenings[day], c.Before)
			}
			left := 1 - c.TakeOut/((salt+water)/density(salinity()))
			salt, water = salt*left+c.Salt+c.Source*density(p.Source)*p.Source/1000, water*left+c.Source*density(p.Source)*(1-p.Source/1000)
			if full := (salt + water) / density(salinity()); math.Abs(full-p.Volume) > 1e-6*p.Volume {
				t.Errorf("day %d: %.6f L in a tank of %g L", day, full, p.Volume)
			}
			if math.Abs(salinity()-c.After) > 1e-6 {
				t.Errorf("day %d: the tank comes to %.6f, the plan says %.6f", day, salinity(), c.After)
			}
			checkChange(t, p, c)
			next++
		} else {
			fill()
		}
		evenings = append(evenings, salinity())
	}
	if end := evenings[len(evenings)-1]; math.Abs(end-p.To) > p.Tolerance+2/(p.Volume*density(p.To)) {
		t.Errorf("the tank ends at %.4f, want %g within %g", end, p.To, p.Tolerance)
	}
	checkLimits(t, p, plan, evenings)
}

// checkChange looks at one change by itself.
func checkChange(t testing.TB, p Problem, c Change) {
	t.Helper()
	if c.Salt > 0 { // one strength for all: what is put in is the stock, and source water only where nothing is taken out
		if c.Plain > 1e-9 && c.TakeOut > 0 {
			t.Errorf("day %d: %.6f L of source water beside the stock, though %.3f L are taken out", c.Day, c.Plain, c.TakeOut)
		}
		stock, plain := c.Stock*density(p.Saltiest), c.Plain*density(p.Source)
		if got := stock*p.Saltiest + plain*p.Source; math.Abs(got-c.PutIn*density(c.NewWater)*c.NewWater) > 1e-6*got || math.Abs(stock+plain-c.PutIn*density(c.NewWater)) > 1e-6*stock {
			t.Errorf("day %d: %.6f L of stock and %.6f L of source water are not %.6f L at %.6f", c.Day, c.Stock, c.Plain, c.PutIn, c.NewWater)
		}
		if c.TakeOut > 0 && math.Abs(c.NewWater-p.Saltiest) > 1e-6 {
			t.Errorf("day %d: new water of %.6f g/kg, the stock has %.6f", c.Day, c.NewWater, p.Saltiest)
		}
	}
	if p.To < p.From && c.Salt != 0 {
		t.Errorf("day %d: %.3f kg of salt to lower a tank", c.Day, c.Salt)
	}
	if c.TakeOut < 0 || c.TakeOut > p.Share*p.Volume*(1+1e-9) {
		t.Errorf("day %d: %.3f L are taken out of %g", c.Day, c.TakeOut, p.Volume)
	}
	if c.NewWater > p.Saltiest+1e-9 || c.NewWater < p.Source-1e-9 {
		t.Errorf("day %d: new water of %.3f g/kg", c.Day, c.NewWater)
	}
}

// checkLimits compares the evenings with the limits as they are defined: days, weeks, and
// filter steps that each start long enough after the first day of the one before. It is
// long because it has a paragraph for each limit.
func checkLimits(t testing.TB, p Problem, plan Plan, evenings []float64) {
	t.Helper()
	l, began, start, step := p.Limits, -100, 0.0, -1
	for _, c := range plan.Changes {
		change := math.Abs(c.After - c.Before)
		day := l.PerDay
		if low := min(c.Before, c.After); p.To < p.From && low < l.HalvedBelow {
			day -= (min(c.Before, l.HalvedBelow) - low)
		}
		if c.Day == 0 {
			day -= l.Recent
		}
		if change > day+1e-6 || change > l.AtOnce+1e-6 {
			t.Errorf("day %d changes %.4f, most %g", c.Day, change, day)
		}
		week, most := math.Abs(evenings[c.Day+1]-evenings[max(0, c.Day-6)]), l.PerWeek
		if c.Day < 6 {
			week += l.Recent
		}
		if max(c.Before, c.After) > 10 {
			most = l.SaltyWeek
		}
		if week > most+1e-6 {
			t.Errorf("the week to day %d changes %.4f, most %g", c.Day, week, most)
		}
		if l.Wait == 0 {
			continue
		}
		if c.Step != step {
			wait := l.Wait
			if c.Before > 10+1e-9 {
				wait = l.SaltyWait
			}
			if c.Day-began < wait || c.Step != step+1 {
				t.Errorf("step %d begins on day %d, %d days after step %d", c.Step, c.Day, c.Day-began, step)
			}
			began, start, step = c.Day, c.Before, c.Step
		}
		if by := math.Abs(c.After - start); by > l.Step+1e-6 {
			t.Errorf("step %d changes %.4f, most %g", step, by, l.Step)
		}
	}
}
