package followup

import (
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
)

func read[Q quantity.Quantity](t testing.TB, s string) *quantity.Estimate[Q] {
	t.Helper()
	e := new(quantity.Estimate[Q])
	if err := e.Bind(s); err != nil {
		t.Fatal(err)
	}
	return e
}

func water(t testing.TB, salinity, temperature string) transfer.Water {
	t.Helper()
	w := transfer.Water{Temperature: *read[quantity.Celsius](t, temperature)}
	if err := w.Salinity.Bind(salinity); err != nil {
		t.Fatal(err)
	}
	return w
}

// animal is one of a class, of known origin.
func animal(c tolerance.Class) transfer.Animal {
	return transfer.Animal{Sensitivity: &c, Origin: new(tolerance.Captive), Condition: new(transfer.Well)}
}

// crossing is a drip from 6 L that fill a bucket of 20, without limits of its own.
func crossing(t testing.TB, from, to string, who ...transfer.Animal) transfer.Request {
	t.Helper()
	return transfer.Request{From: water(t, from, "25 C"), To: water(t, to, "25 C"), Animals: who,
		Container: transfer.Container{Capacity: read[quantity.Volume](t, "20 L"), Freeboard: read[quantity.Volume](t, "0 L"),
			StartVolume: read[quantity.Volume](t, "6 L"), LeastVolume: read[quantity.Volume](t, "6 L"), Aerated: new(true)},
		Line: &transfer.Line{DropVolume: read[quantity.Volume](t, "0.050(15) mL"), LeastDrip: read[quantity.DripRate](t, "0.01 drops/s"),
			GreatestDrip: read[quantity.DripRate](t, "100 drops/s"), Settings: new(3)}}
}

func plan(t testing.TB, r transfer.Request) transfer.Plan {
	t.Helper()
	p, err := transfer.NewPlan(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// pail is the container of the simulation: kg of water, g of salt, J of heat.
type pail struct{ mass, salt, heat float64 }

func (p pail) salinity() float64 { return p.salt / p.mass }

func (p pail) water(t testing.TB) (sa quantity.AbsoluteSalinity, celsius quantity.Celsius, litres float64) {
	t.Helper()
	sa = quantity.AbsoluteSalinity(p.salinity())
	celsius, err := seawater.TemperatureFromEnthalpy(quantity.SpecificEnthalpy(p.heat/p.mass), sa)
	if err != nil {
		t.Fatal(err)
	}
	rho, err := seawater.Density(sa, celsius)
	if err != nil {
		t.Fatal(err)
	}
	return sa, celsius, p.mass / float64(rho) * 1000
}

// poured returns a volume of one of the request's waters.
func poured(t testing.TB, w transfer.Water, volume float64) pail {
	t.Helper()
	sa, err := instrument.AbsoluteSalinity(w.Salinity, &w.Temperature.Value, instrument.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	rho, noRho := seawater.Density(sa, w.Temperature.Value)
	h, noHeat := seawater.SpecificEnthalpy(sa, w.Temperature.Value)
	if noRho != nil || noHeat != nil {
		t.Fatal(noRho, noHeat)
	}
	mass := volume * float64(rho) / 1000
	return pail{mass, mass * float64(sa), mass * float64(h)}
}

// dripped lets new water in at kg/h for some hours, by the classical method of
// Runge and Kutta on the salinity and enthalpy of the water in the pail.
func (p pail) dripped(in pail, flow, hours float64) pail {
	const steps = 40
	rate := func(mass, x, of float64) float64 { return flow * (of - x) / mass }
	step := func(x, of, mass, h float64) float64 {
		k1 := rate(mass, x, of)
		k2 := rate(mass+flow*h/2, x+k1*h/2, of)
		k3 := rate(mass+flow*h/2, x+k2*h/2, of)
		k4 := rate(mass+flow*h, x+k3*h, of)
		return x + h*(k1+2*k2+2*k3+k4)/6
	}
	h := hours / steps
	sa, heat, mass := p.salt/p.mass, p.heat/p.mass, p.mass
	for range steps {
		sa, heat = step(sa, in.salt/in.mass, mass, h), step(heat, in.heat/in.mass, mass, h)
		mass += flow * h
	}
	return pail{mass, sa * mass, heat * mass}
}
