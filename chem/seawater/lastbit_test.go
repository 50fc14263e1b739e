package seawater

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// Over the whole domain, the inverses return what went in. The error is no more than the
// last bits of the formula's answer are worth, or those of the terms that it subtracts.
func TestInverseToTheLastBit(t *testing.T) {
	for _, c := range []struct {
		name             string
		x, at            []float64
		forward, inverse func(x, at float64) float64
		terms            float64
	}{
		{"density", grid(densitySalinity, 1200), grid(densityTemperature, 80), density,
			func(rho, t float64) float64 { v := volumeAt(t); return v.salinity(rho) }, 0},
		{"salt per litre", grid(densitySalinity, 1200), grid(densityTemperature, 80),
			func(sa, t float64) float64 { v := volumeAt(t); return v.salt(sa) },
			func(g, t float64) float64 { v := volumeAt(t); return v.salinityOfSalt(g) }, 0},
		{"osmolality", grid(osmoticSalinity, 1200), grid(osmoticTemperature, 80), osmolality,
			func(os, t float64) float64 { o := osmosisAt(t); return o.salinity(os) }, 0},
		{"enthalpy", grid(gibbsTemperature, 840), grid(gibbsSalinity, 60),
			func(t, sa float64) float64 { return specificEnthalpy(sa, t) },
			func(h, sa float64) float64 { g := gibbsOf(sa); return g.temperature(h) }, 1e5},
		{"practical salinity", grid(conductivitySalinity, 4200)[1:], grid(conductivityTemperature, 80), conductivity, salinityFromConductivity, 0},
		{"conductivity of dilute water", grid(quantity.Range[quantity.Conductivity]{Lo: 0.003, Hi: 2}, 1000), grid(conductivityTemperature, 80),
			salinityFromConductivity, conductivity, pssA0},
	} {
		worst := 0.0
		for _, at := range c.at {
			for _, x := range c.x {
				y := c.forward(x, at)
				step := max(1e-4*x, 1e-9)
				slope := (c.forward(x+step, at) - y) / step
				bit := lastBit(x) + lastBit(max(math.Abs(y), c.terms))/slope
				if off := math.Abs(c.inverse(y, at)-x) / bit; !(off <= worst) {
					worst = off
				}
			}
		}
		if !(worst <= 8) {
			t.Errorf("%s: the inverse is off by %.1f last bits", c.name, worst)
		}
	}
}

// lastBit is what the last bit of a number is worth.
func lastBit(x float64) float64 { return math.Nextafter(math.Abs(x), math.Inf(1)) - math.Abs(x) }
