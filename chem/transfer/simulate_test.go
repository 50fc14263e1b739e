package transfer

import (
	"math"
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

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
func poured(t testing.TB, w Water, volume float64) pail {
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
// Runge and Kutta on the salinity and enthalpy of what stands in the pail.
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

// The phases are carried out on an independent pail: the curve, every limit and the end come out
// the same.
func TestSimulated(t *testing.T) {
	for name, r := range cases(t) {
		t.Run(name, func(t *testing.T) {
			simulate(t, r, planned(t, name, r))
		})
	}
}

// simulate carries out a drip. It is long because each check is next to the phase that could fail
// it.
func simulate(t testing.TB, r Request, p Plan) {
	t.Helper()
	drop := float64(r.Line.WithDefaults().DropVolume.Value)
	in := poured(t, asPoured(r), 1)
	at := poured(t, r.From, float64(p.Phases[0].FromVolume.Value))
	first, drawn, gone := at, pail{}, pail{}
	curve := p.Curve
	for i, phase := range p.Phases {
		if phase.Kind == Rest && i < len(p.Phases)-2 { // the valve is closed until the next visit
			onCurve(t, at, curve[0])
			curve = curve[1:]
		}
		if phase.Kind == PourOff {
			share := 1 - float64(phase.ToVolume.Value/phase.FromVolume.Value)
			gone = pail{gone.mass + at.mass*share, gone.salt + at.salt*share, gone.heat + at.heat*share}
			at = pail{at.mass * (1 - share), at.salt * (1 - share), at.heat * (1 - share)}
		}
		if phase.Kind != Fill {
			continue
		}
		start, end := phase.Start.Value, phase.Start.Value+phase.Duration.Value
		flow := float64(phase.Drip.Value) * 3600 * drop * in.mass
		for ended := false; !ended; curve = curve[1:] {
			ended = curve[0].Time.Value >= end-1e-9 // a pour-off may follow at the same time
			onCurve(t, at.dripped(in, flow, float64(curve[0].Time.Value-start)), curve[0])
		}
		at = at.dripped(in, flow, float64(phase.Duration.Value))
		water := flow * float64(phase.Duration.Value)
		drawn = pail{drawn.mass + water, drawn.salt + water*in.salinity(), 0}
	}
	gap := math.Abs(in.salinity() - at.salinity())
	if most := float64(p.Tolerance.Value); gap > most+1e-6 { // it may end lower, to fit a visit
		t.Errorf("the drip ends %.8f g/kg from the new water, at most %.8f may be left", gap, most)
	}
	if want := float64(p.Release.Gap.Value); math.Abs(gap-want) > 1e-6 {
		t.Errorf("the drip ends %.8f g/kg from the new water, want %.8f", gap, want)
	}
	// What went in and was not poured off is what stands there.
	near(t, "water", first.mass+drawn.mass, at.mass+gone.mass)
	near(t, "salt", first.salt+drawn.salt, at.salt+gone.salt)
	rho := in.mass // of one litre
	near(t, "draw", float64(p.Draw.Volume.Value)*rho, drawn.mass)
	near(t, "replacement salt", float64(p.Draw.ReplacementSalt.Value)*1000, drawn.salt)
}

func near(t testing.TB, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// onCurve compares a pail with a point of the curve.
func onCurve(t testing.TB, at pail, c CurvePoint) {
	t.Helper()
	sa, celsius, litres := at.water(t)
	sp, err := seawater.Salinity(sa)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(float64(sp-c.PracticalSalinity.Value)) > 1e-6 ||
		math.Abs(float64(celsius-c.Temperature.Value)) > 1e-6 ||
		math.Abs(litres-float64(c.Volume.Value)) > 1e-6 {
		t.Errorf("at %.3f h the curve has %.7f ppt, %.7f °C, %.7f L; simulated %.7f, %.7f, %.7f", float64(c.Time.Value),
			float64(c.PracticalSalinity.Value), float64(c.Temperature.Value), float64(c.Volume.Value), float64(sp), float64(celsius), litres)
	}
}

// The rate of change, read off the simulated curve by small differences, keeps
// the hourly limits at every moment.
func TestRatesSimulated(t *testing.T) {
	for name, r := range cases(t) {
		p := planned(t, name, r)
		drop := float64(r.Line.WithDefaults().DropVolume.Value)
		task, err := newTask(r.WithDefaults())
		if err != nil {
			t.Fatal(name, err)
		}
		in := poured(t, asPoured(r), 1)
		at := poured(t, r.From, float64(p.Phases[0].FromVolume.Value))
		for _, phase := range p.Phases {
			if phase.Kind == PourOff {
				share := float64(phase.ToVolume.Value / phase.FromVolume.Value)
				at = pail{at.mass * share, at.salt * share, at.heat * share}
			}
			if phase.Kind != Fill {
				continue
			}
			flow := float64(phase.Drip.Value) * 3600 * drop * in.mass
			const moments = 300
			h := float64(phase.Duration.Value) / moments
			for range moments {
				next := at.dripped(in, flow, h/1000)
				sa, celsius, _ := at.water(t)
				then, later, _ := next.water(t)
				rate := math.Abs(float64(then-sa)) / (h / 1000)
				if most := task.rules.perHour(float64(sa)); rate > most*(1+1e-4) {
					t.Errorf("%s: %.5f g/kg/h at %.4f g/kg, limit %.5f", name, rate, sa, most)
				}
				warming := math.Abs(float64(later-celsius)) / (h / 1000)
				if most := task.rules.temperature; task.counts() && warming > most*(1+1e-4) {
					t.Errorf("%s: %.5f K/h, limit %.5f", name, warming, most)
				}
				at = at.dripped(in, flow, h)
			}
		}
	}
}

// asPoured is the new water as the keeper is told to bring it: at the animals'
// temperature, unless it runs from a tank.
func asPoured(r Request) Water {
	w := r.To
	if r.SourceTank == nil && math.Abs(float64(w.Temperature.Value-r.From.Temperature.Value)) >= 1 {
		w.Temperature = r.From.Temperature
	}
	return w
}
