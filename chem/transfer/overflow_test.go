package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
)

// runningOver are the cases of filling, with an overflow instead.
func runningOver(t testing.TB) map[string]Request {
	t.Helper()
	all := cases(t)
	for name, r := range all {
		r.Container.Overflow, r.Container.LeastVolume = new(true), nil
		r.Line.LeastDrip = read[quantity.DripRate](t, "0.01 drops/s")
		all[name] = r
	}
	return all
}

// The phases are carried out in a container of one volume by an integration of the test's own:
// curve, end, waste and every limit come out the same.
func TestOverflowSimulated(t *testing.T) {
	for name, r := range runningOver(t) {
		t.Run(name, func(t *testing.T) {
			p := plan(t, r)
			if p.PourOffs != 0 || p.Draw.Waste == nil || p.Has(Fill) {
				t.Errorf("%d pour-offs, waste %v", p.PourOffs, p.Draw.Waste)
			}
			if !(p.LeastDuration.Value <= p.ExactDuration.Value*(1+1e-9) && p.ExactDuration.Value <= p.Duration.Value*(1+1e-9)) {
				t.Errorf("least %.4f, exact %.4f, planned %.4f h", p.LeastDuration.Value, p.ExactDuration.Value, p.Duration.Value)
			}
			simulateOverflow(t, r, p)
		})
	}
}

// spilling is a container of one volume: salinity and heat of its water, and what
// has run over so far: kg, g, J and L.
type spilling [6]float64

// full is the mass of its water.
func (s spilling) full(t testing.TB, volume float64) float64 {
	t.Helper()
	warmth, noWarmth := seawater.TemperatureFromEnthalpy(quantity.SpecificEnthalpy(s[1]), quantity.AbsoluteSalinity(s[0]))
	rho, noRho := seawater.Density(quantity.AbsoluteSalinity(s[0]), warmth)
	if noWarmth != nil || noRho != nil {
		t.Fatal(noWarmth, noRho)
	}
	return volume * float64(rho) / 1000
}

// slope is how all of it changes in an hour under a drip of kg/h. What the water
// gains in mass as it gets denser does not run over.
func (s spilling) slope(t testing.TB, in pail, flow, volume float64) spilling {
	t.Helper()
	mass := s.full(t, volume)
	salt, heat := flow*(in.salinity()-s[0])/mass, flow*(in.heat/in.mass-s[1])/mass
	const bit = 1e-4 // h
	before, after := spilling{s[0] - salt*bit, s[1] - heat*bit}, spilling{s[0] + salt*bit, s[1] + heat*bit}
	out := flow - (after.full(t, volume)-before.full(t, volume))/(2*bit)
	return spilling{salt, heat, out, out * s[0], out * s[1], out / mass * volume}
}

func (s spilling) on(k spilling, h float64) spilling {
	for i := range s {
		s[i] += k[i] * h
	}
	return s
}

// dripped is the state some hours later, by the classical method of Runge and Kutta.
func (s spilling) dripped(t testing.TB, in pail, flow, volume, hours float64) spilling {
	t.Helper()
	const steps = 24
	h := hours / steps
	for range steps {
		k1 := s.slope(t, in, flow, volume)
		k2 := s.on(k1, h/2).slope(t, in, flow, volume)
		k3 := s.on(k2, h/2).slope(t, in, flow, volume)
		k4 := s.on(k3, h).slope(t, in, flow, volume)
		s = s.on(k1, h/6).on(k2, h/3).on(k3, h/3).on(k4, h/6)
	}
	return s
}

func simulateOverflow(t testing.TB, r Request, p Plan) {
	t.Helper()
	drop, volume := float64(r.Line.WithDefaults().DropVolume.Value), float64(p.Phases[0].FromVolume.Value)
	in, first := poured(t, asPoured(r), 1), poured(t, r.From, volume)
	at, drawn := spilling{first.salinity(), first.heat / first.mass}, 0.0
	curve := p.Curve
	for _, x := range p.Phases {
		if x.Kind != RunOver {
			continue
		}
		start, end := x.Start.Value, x.Start.Value+x.Duration.Value
		flow, since := float64(x.Drip.Value)*3600*drop*in.mass, start
		for len(curve) > 0 && curve[0].Time.Value < end+1e-9 {
			at = at.dripped(t, in, flow, volume, float64(curve[0].Time.Value-since))
			since = curve[0].Time.Value
			mass := at.full(t, volume)
			onCurve(t, pail{mass, mass * at[0], mass * at[1]}, curve[0])
			curve = curve[1:]
		}
		at = at.dripped(t, in, flow, volume, float64(end-since))
		drawn += flow * float64(x.Duration.Value)
	}
	if gap, want := math.Abs(in.salinity()-at[0]), float64(p.Tolerance.Value); math.Abs(gap-want) > 1e-6 {
		t.Errorf("the drip ends %.8f g/kg from the new water, want %.8f", gap, want)
	}
	// What went in and did not run over is what stands there.
	mass := at.full(t, volume)
	near(t, "water", first.mass+drawn, mass+at[2])
	near(t, "salt", first.salt+drawn*in.salinity(), mass*at[0]+at[3])
	near(t, "draw", float64(p.Draw.Volume.Value)*in.mass, drawn)
	if got := float64(p.Draw.Waste.Value); math.Abs(got-at[5]) > 1e-5 {
		t.Errorf("waste of %.7f L, simulated %.7f", got, at[5])
	}
}

// From 0.2 to 10 ppt in 6 L under 2 g/kg/h to a third of the gap, as filling takes
// 9.85 and 5.64 h: gap/rate is 4.923 h, times ln 3 and 0.8628 are 5.41 and 4.25 h,
// and half a per cent more since the water gets denser. The drip takes 6·ln 3 = 6.59 L.
func TestOverflowByHand(t *testing.T) {
	for settings, want := range map[int]float64{1: 5.41, 2: 4.25} {
		r := sixLitres(t, "20 L", "3.282 g/kg", settings)
		r.Container.Overflow = new(true)
		p := plan(t, r)
		if got := float64(p.ExactDuration.Value); math.Abs(got/want-1) > 0.007 {
			t.Errorf("%d settings: %.3f h, want about %.2f", settings, got, want)
		}
		if got := float64(p.LeastDuration.Value); math.Abs(got-3.28) > 0.005 {
			t.Errorf("%d settings: the bound is %.3f h, want 3.28", settings, got)
		}
		if got := float64(p.Draw.Volume.Value); math.Abs(got-6.59) > 0.03 {
			t.Errorf("%d settings: it draws %.3f L, want 6.59", settings, got)
		}
		if !says(p.Warnings, "waste_bucket_needed") || !says(p.Cautions, "screen_the_overflow") || says(p.Cautions, "failed_valve") || !says(p.Cautions, "never_siphon_by_mouth") {
			t.Errorf("warnings %v, cautions %v", p.Warnings, p.Cautions)
		}
	}
}

// A bucket under the overflow that is too small is emptied before it runs over.
func TestWasteBucket(t *testing.T) {
	r := sixLitres(t, "20 L", "1 g/kg", 3)
	r.Container.Overflow, r.Container.WasteCapacity = new(true), read[quantity.Volume](t, "5 L")
	r.Feed = new(FromTank)
	p := plan(t, r)
	var looks []float64
	before := 0.0
	for _, c := range p.Checkpoints {
		if float64(c.Time.Value) < before {
			t.Errorf("the look at %v comes after a later one", c.Time)
		}
		if before = float64(c.Time.Value); c.Why.Code == "look_at_waste" {
			looks = append(looks, before)
		}
	}
	// 6·ln(9.846/1) = 13.7 L into 4.5 L: emptied three times.
	if len(looks) != 3 || !says(p.Warnings, "waste_bucket_fills") {
		t.Fatalf("emptied at %v, warnings %v", looks, p.Warnings)
	}
	ran := 0.0 // by the first look, at the flow of the first setting
	for _, x := range p.Phases {
		if x.Kind == RunOver {
			ran += float64(x.Flow.Value) * 0.06 * max(0, min(looks[0], float64(x.Start.Value+x.Duration.Value))-float64(x.Start.Value))
		}
	}
	if ran > 4.55 || ran < 4.4 {
		t.Errorf("%.3f L have run over at the first look, want 4.5", ran)
	}
	r.Container.WasteCapacity = read[quantity.Volume](t, "0.5 L")
	refused(t, r, "container.waste_capacity", "waste_bucket_too_small")
	r.Container.WasteCapacity = read[quantity.Volume](t, "15.4 L")
	if p := plan(t, r); says(p.Warnings, "waste_bucket_fills") || says(p.Warnings, "waste_bucket_needed") {
		t.Errorf("a bucket that takes it all: %v", p.Warnings)
	}
}

func TestOverflowRefuses(t *testing.T) {
	over := func() Request {
		r := sixLitres(t, "20 L", "3.282 g/kg", 2)
		r.Container.Overflow = new(true)
		return r
	}
	never := over()
	never.Tolerance = read[quantity.AbsoluteSalinity](t, "0 g/kg")
	refused(t, never, "tolerance", "overflow_never_ends")
	high := over()
	high.Container.StartVolume = read[quantity.Volume](t, "21 L")
	refused(t, high, "container.start_volume", "overflow_above_the_rim")
	high.Container.StartVolume = read[quantity.Volume](t, "20 L")
	plan(t, high)
	fast := over()
	fast.Line.LeastDrip = read[quantity.DripRate](t, "9 drops/s")
	for where, code := range map[string]string{"line.least_drip": "needs_slower_drip", "line.drop_volume": "needs_smaller_drop", "container.start_volume": "needs_more_water"} {
		refused(t, fast, where, code)
	}
	least := refused(t, fast, "line.least_drip", "needs_slower_drip").Note.Params[0].(quantity.Estimate[quantity.DripRate])
	fast.Line.LeastDrip = new(scaled(least, 0.9999))
	plan(t, fast)
	still := over()
	still.Container.Aerated = nil
	refused(t, still, "container.aerated", "no_air_stone")
}

// Ammonia is washed out as it is given off: with the same animals an overflow of
// the same water ends with what the balance of inflow, output and waste leaves.
func TestOverflowLifeSupport(t *testing.T) {
	r := crossing(t, "2 ppt", "8 ppt", animal(tolerance.Hardy))
	r.Container.Overflow, r.Container.StartVolume = new(true), read[quantity.Volume](t, "12 L")
	r.Container.Capacity = read[quantity.Volume](t, "60 L")
	r.Animals[0].Count, r.Animals[0].Mass = new(2), read[quantity.Mass](t, "2 g")
	p := plan(t, r)
	if p.LifeSupport == nil || p.LifeSupport.NH3.Value <= 0 {
		t.Fatalf("life support %v", p.LifeSupport)
	}
	// By hand, from the curve itself: d(TAN)/dt = output/V − Q/V·TAN, so what it
	// gains over the drip is output less what ran over.
	kept, given := float64(p.Curve[len(p.Curve)-2].TAN.Value)*12, 0.0
	for i, c := range p.Curve[1 : len(p.Curve)-1] {
		a := p.Curve[i]
		flow := flowAt(p, float64(a.Time.Value+c.Time.Value)/2)
		kept += flow * float64(a.TAN.Value+c.TAN.Value) / 2 * float64(c.Time.Value-a.Time.Value)
	}
	standing := r
	standing.Container.Overflow, standing.To, standing.Route = nil, r.To, new(Drip)
	q := plan(t, standing)
	// The same animals give off as much an hour in a container that fills; both
	// drips end within the two hours in which they use twice as much.
	end := q.Curve[len(q.Curve)-2]
	given = float64(end.TAN.Value) * float64(end.Volume.Value)
	for _, x := range q.Phases {
		if x.Kind == PourOff {
			given += tanAt(q, x.Start.Value) * float64(x.FromVolume.Value-x.ToVolume.Value)
		}
	}
	if q.Duration.Value > 2 || p.Duration.Value > 2 {
		t.Fatalf("%v and %v", q.Duration, p.Duration)
	}
	if want := given * float64(p.Duration.Value/q.Duration.Value); math.Abs(kept/want-1) > 0.01 {
		t.Errorf("%.4f mg N are held and run over, %.4f given off", kept, want)
	}
}

// tanAt is the total ammonia at a time of the curve, mg/L N.
func tanAt(p Plan, at quantity.Duration) float64 {
	for _, c := range p.Curve {
		if math.Abs(float64(c.Time.Value-at)) < 1e-9 {
			return float64(c.TAN.Value)
		}
	}
	return math.NaN()
}

// flowAt is the drip at a time, L/h.
func flowAt(p Plan, at float64) float64 {
	for _, x := range p.Phases {
		if x.Kind == RunOver && at < float64(x.Start.Value+x.Duration.Value) {
			return float64(x.Flow.Value) * 0.06
		}
	}
	return 0
}
