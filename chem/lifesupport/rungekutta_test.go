package lifesupport

import (
	"math"
	"slices"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// An independent integration of the balances as they are printed in books: the
// classical Runge-Kutta rule, a hundred times finer.
func TestAgainstRungeKutta(t *testing.T) {
	animals, start, stretches, care := drip()
	last := stretches[2] // running over, at the volume that it ends with
	over := Stretch{Time: 5, Volume: last.End(), Inflow: 60, Overflow: 60, Water: last.Water, SalinityAtStart: 8, SalinityAtEnd: 9}
	stretches = append(stretches, over)
	c := course(t, animals, start, stretches, care)
	y, time := [3]float64{float64(start.Oxygen), float64(start.Ammonia), float64(start.Temperature)}, 0.0
	for _, s := range stretches {
		y = rungeKutta(s, care, animals[0], y, time, 6000)
		time += float64(s.Time)
		p := c.Points[slices.IndexFunc(c.Points, func(p Point) bool { return float64(p.Time) > time-1e-9 })]
		for i, got := range []float64{float64(p.Oxygen), float64(p.Ammonia), float64(p.Temperature)} {
			if math.Abs(got/y[i]-1) > 1e-4 {
				t.Errorf("after %g h value %d is %.6f, Runge-Kutta gives %.6f", time, i, got, y[i])
			}
		}
	}
}

// rungeKutta carries oxygen, ammonia and temperature through a stretch that starts at a time.
// It is long because it has the balance of each, written out.
func rungeKutta(s Stretch, care Care, a Animals, y [3]float64, start float64, n int) [3]float64 {
	flow := float64(s.Inflow) * 0.06
	growth := flow - float64(s.Overflow)*0.06
	end := float64(s.Volume) + growth*float64(s.Time)
	air := airExchange(16.8)
	slope := func(at float64, y [3]float64) [3]float64 {
		v := float64(s.Volume) + growth*at
		sa := s.SalinityAtStart
		if flow > 0 && growth == 0 {
			sa += (s.SalinityAtEnd - s.SalinityAtStart) * quantity.AbsoluteSalinity(math.Expm1(-flow*at/v)/math.Expm1(-flow*float64(s.Time)/v))
		} else if flow > 0 {
			sa += (s.SalinityAtEnd - s.SalinityAtStart) * quantity.AbsoluteSalinity((1/float64(s.Volume)-1/v)/(1/float64(s.Volume)-1/end))
		}
		sp, _ := seawater.Salinity(sa)
		saturation, _ := seawater.OxygenSaturation(sp, quantity.Celsius(y[2]), 1)
		perKilogram, _ := OxygenUse(a.Mass.Value, quantity.Celsius(y[2]))
		use := perKilogram * float64(a.Count) * float64(a.Mass.Value)
		if start+at < float64(Excitement) {
			use *= Excited
		}
		return [3]float64{
			(flow*(float64(s.Water.Oxygen)-y[0]) + air*(float64(saturation)-y[0]) - use) / v,
			(flow*(float64(s.Water.Ammonia)-y[1]) + nitrogenPerOxygen*use) / v,
			(flow*(float64(s.Water.Temperature)-y[2]) + heatExchange(v)*(float64(care.Room)-y[2])) / v,
		}
	}
	h := float64(s.Time) / float64(n)
	along := func(y, k [3]float64, h float64) [3]float64 {
		return [3]float64{y[0] + h*k[0], y[1] + h*k[1], y[2] + h*k[2]}
	}
	for i := range n {
		at := float64(i) * h
		k1 := slope(at, y)
		k2 := slope(at+h/2, along(y, k1, h/2))
		k3 := slope(at+h/2, along(y, k2, h/2))
		k4 := slope(at+h, along(y, k3, h))
		for j := range y {
			y[j] += h / 6 * (k1[j] + 2*k2[j] + 2*k3[j] + k4[j])
		}
	}
	return y
}
