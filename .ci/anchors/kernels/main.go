// Command kernels times the four kernels of chem/seawater as kernels.c does: the
// best round of many over the same thousand waters, in nanoseconds for each.
package main

import (
	"fmt"
	"log"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

const waters, rounds = 1000, 3000

var sink float64

func main() {
	var s, t [waters]float64
	for i := range waters {
		s[i], t[i] = 3+37*float64(i*7919%waters)/waters, 40*float64(i)/waters
	}
	rho := measure("Density", &s, &t, seawater.Density)
	c := measure("Conductivity", &s, &t, seawater.Conductivity)
	measure("SalinityFromConductivity", &c, &t, seawater.SalinityFromConductivity)
	measure("AbsoluteSalinityFromDensity", &rho, &t, seawater.AbsoluteSalinityFromDensity)
}

// measure prints the time of one call and returns what the calls gave.
func measure[X, Y quantity.Quantity](name string, x, t *[waters]float64, f func(X, quantity.Celsius) (Y, error)) (y [waters]float64) {
	best := time.Hour
	for range rounds {
		from, sum := time.Now(), 0.0
		for i := range x {
			v, err := f(X(x[i]), quantity.Celsius(t[i]))
			if err != nil {
				log.Fatal(err)
			}
			sum += float64(v)
		}
		best = min(best, time.Since(from))
		sink = sum
	}
	for i := range x {
		v, _ := f(X(x[i]), quantity.Celsius(t[i])) // which did not fail above
		y[i] = float64(v)
	}
	fmt.Printf("%s %.1f\n", name, float64(best.Nanoseconds())/waters)
	return y
}
