package transfer

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/drip"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// animal is one of a class, of known origin unless said.
func animal(c tolerance.Class) Animal {
	return Animal{Sensitivity: &c, Origin: new(tolerance.Captive), Condition: new(Well)}
}

// crossing is a drip without limits of its own.
func crossing(t testing.TB, from, to string, who ...Animal) Request {
	t.Helper()
	r := sixLitres(t, "20 L", "1 g/kg", 3)
	r.From, r.To = water(t, from, "25 C"), water(t, to, "25 C")
	r.Limits, r.Tolerance, r.Animals = nil, nil, who
	return r
}

func plan(t testing.TB, r Request) Plan {
	t.Helper()
	p, err := NewPlan(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	kept(t, p)
	return p
}

func limitOf(t testing.TB, p Plan, name string) Limit {
	t.Helper()
	for _, l := range p.Limits {
		if l.Name == name {
			return l
		}
	}
	t.Fatalf("the plan tells no limit %s", name)
	return Limit{}
}

func says(notes []quantity.Note, code string) bool {
	for _, n := range notes {
		if string(n.Code) == code {
			return true
		}
	}
	return false
}

// A step is judged by "at once" alone, a drip by "per hour" where it is fastest.
func TestStepAndDripAreJudgedApart(t *testing.T) {
	r := crossing(t, "2 ppt", "4.9 ppt", animal(tolerance.Moderate))
	r.Line = nil
	if p := plan(t, r); p.Route != Direct { // 2.91 g/kg of the 3 that a step may be, though an hour allows 1.5
		t.Errorf("a step of 2.9 ppt takes route %s, want direct", p.Route)
	}
	r.To, r.Line = water(t, "5.1 ppt", "25 C"), &Line{GreatestDrip: read[quantity.DripRate](t, "20 drops/s")}
	p := plan(t, r)
	if p.Route != Drip || p.Reason.Code != "drip_over_at_once" {
		t.Errorf("3.1 ppt: route %s, %s; want drip_over_at_once", p.Route, p.Reason.Code)
	}
	if l := limitOf(t, p, "per_hour"); l.Extreme.Value < 0.9*l.Limit.Value {
		t.Errorf("per_hour reaches %g of %g; a drip should start near its limit", l.Extreme.Value, l.Limit.Value)
	}
}

// The most sensitive animal decides, limit by limit.
func TestStrictestAnimal(t *testing.T) {
	p := plan(t, crossing(t, "5 ppt", "6.9 ppt", animal(tolerance.Hardy), animal(tolerance.Invertebrate), animal(tolerance.Moderate)))
	for name, want := range map[string]float64{"at_once": 2, "per_24_hours": 3} {
		if l := limitOf(t, p, name); l.Limit.Value != want || l.Standing != quantity.Proposed {
			t.Errorf("%s is %g (%s), want %g proposed", name, l.Limit.Value, l.Standing, want)
		}
	}
}

// A thin animal is moved as carefully as a delicate one.
func TestThin(t *testing.T) {
	thin := animal(tolerance.Hardy)
	thin.Condition = new(Thin)
	if l := limitOf(t, plan(t, crossing(t, "5 ppt", "6.5 ppt", thin)), "at_once"); l.Limit.Value != 1 {
		t.Errorf("at_once is %g, want 1", l.Limit.Value)
	}
}

// Change before the plan counts in the 24 hours, and so does the whole plan.
func TestDayCountsRecentChange(t *testing.T) {
	r := crossing(t, "2 ppt", "7 ppt", animal(tolerance.Moderate)) // 5.02 of 6 g/kg
	r.RecentChange = read[quantity.AbsoluteSalinity](t, "0.9 g/kg")
	if l := limitOf(t, plan(t, r), "per_24_hours"); math.Abs(l.Extreme.Value-5.02358-0.9) > 1e-4 {
		t.Errorf("per_24_hours reaches %g, want 5.024 + 0.9", l.Extreme.Value)
	}
	r.RecentChange = read[quantity.AbsoluteSalinity](t, "1 g/kg")
	refused(t, r, "to.salinity", "day_used_up")
}

// A step of x stays x/r hours clear of other change: before the release the drip rests that long.
func TestRestBeforeRelease(t *testing.T) {
	p := plan(t, crossing(t, "2 ppt", "7 ppt", animal(tolerance.Moderate)))
	want := float64(p.Tolerance.Value) / 1.5
	if got := float64(p.Release.Rest.Value); math.Abs(got-want) > 1e-9 {
		t.Errorf("rest of %g h, want %g", got, want)
	}
	if got := p.Release.Time.Value - p.Duration.Value - p.Release.Rest.Value; math.Abs(float64(got)) > 1e-9 {
		t.Errorf("release %g h after the rest", got)
	}
	if last := p.Phases[len(p.Phases)-2]; last.Kind != Rest || last.Duration != p.Release.Rest {
		t.Errorf("last but one phase is %s of %g h", last.Kind, last.Duration.Value)
	}
}

// The tolerance is half the limit at once, raised to what the instrument can show, and never above
// the limit.
func TestToleranceFollowsLimitAndInstrument(t *testing.T) {
	r := crossing(t, "2 ppt", "7 ppt", animal(tolerance.Moderate))
	if p := plan(t, r); p.Tolerance.Value != 1.5 || !says(p.Assumptions, "tolerance_assumed") {
		t.Errorf("tolerance %g, want 1.5, assumed", p.Tolerance.Value)
	}
	pointer := &instrument.Setup{Kind: new(instrument.PointerHydrometer)}
	u, err := instrument.DefaultUncertainty(*pointer, 7, 25)
	if err != nil {
		t.Fatal(err)
	}
	r.Instrument = pointer
	p := plan(t, r)
	if want := min(max(1.5, u), 3); math.Abs(float64(p.Tolerance.Value-want)) > 0.01 {
		t.Errorf("tolerance %g with an instrument good to %g, want %g", p.Tolerance.Value, u, want)
	}
	r = crossing(t, "2 ppt", "3.7 ppt", animal(tolerance.Delicate))
	r.Instrument = pointer
	if p := plan(t, r); p.Tolerance.Value != 1 || says(p.Warnings, "instrument_cannot_verify") != (u > 1) {
		t.Errorf("tolerance %g, warnings %v; want 1, and a warning if %g > 1", p.Tolerance.Value, p.Warnings, u)
	}
}

// Of unknown origin, down is no faster than up.
func TestUnknownOrigin(t *testing.T) {
	known, unknown := animal(tolerance.Hardy), animal(tolerance.Hardy)
	unknown.Origin = nil
	if p := plan(t, crossing(t, "12 ppt", "3 ppt", known)); limitOf(t, p, "at_once").Limit.Value != 8 {
		t.Error("at_once down, origin known, is not 8")
	}
	if p := plan(t, crossing(t, "12 ppt", "3 ppt", unknown)); limitOf(t, p, "at_once").Limit.Value != 5 {
		t.Error("at_once down, origin unknown, is not the 5 of up")
	}
}

// Below 2 g/kg on the way down, half the rate applies. From 5 to 1 g/kg with a last step of 0.5
// the bound is 3/5 + 0.5/2.5 h.
func TestHalfRateNearFresh(t *testing.T) {
	r := crossing(t, "5 ppt", "1 ppt", ofFresh(animal(tolerance.Hardy)))
	r.From.Salinity, r.To.Salinity = quantity.Reading{Value: 5, Scale: quantity.AbsoluteScale}, quantity.Reading{Value: 1, Scale: quantity.AbsoluteScale}
	r.Tolerance = read[quantity.AbsoluteSalinity](t, "0.5 g/kg")
	p := plan(t, r)
	if want := 3/5. + 0.5/2.5; math.Abs(float64(p.LeastDuration.Value)-want) > 1e-9 {
		t.Errorf("least duration %g h, want %g", p.LeastDuration.Value, want)
	}
	up := r
	up.From, up.To = r.To, r.From
	if p := plan(t, up); math.Abs(float64(p.LeastDuration.Value)-3.5/3) > 1e-9 {
		t.Errorf("least duration up %g h, want 3.5/3", p.LeastDuration.Value)
	}
}

// Invertebrates change by a tenth of their present salinity in an hour, and need not be slower
// than 0.3: from 2.5 to 5 g/kg, less a last step of 0.5, the bound is 0.5/0.3 + 10·ln(4.5/3) h.
func TestInvertebrateShare(t *testing.T) {
	r := crossing(t, "2 ppt", "5 ppt", animal(tolerance.Invertebrate))
	r.From.Salinity, r.To.Salinity = quantity.Reading{Value: 2.5, Scale: quantity.AbsoluteScale}, quantity.Reading{Value: 5, Scale: quantity.AbsoluteScale}
	r.Tolerance = read[quantity.AbsoluteSalinity](t, "0.5 g/kg")
	if p, want := plan(t, r), 0.5/0.3+10*math.Log(1.5); math.Abs(float64(p.LeastDuration.Value)-want) > 1e-9 {
		t.Errorf("least duration %g h, want %g", p.LeastDuration.Value, want)
	}
}

// A limit of the keeper's own is kept, marked and echoed with a caution.
func TestGivenLimit(t *testing.T) {
	r := crossing(t, "2 ppt", "7 ppt", animal(tolerance.Moderate))
	r.Limits = &Limits{PerHour: read[quantity.SalinityRate](t, "2 g/kg/h")}
	p := plan(t, r)
	if l := limitOf(t, p, "per_hour"); l.Limit.Value != 2 || l.Standing != Given || !says(p.Cautions, "limit_looser") {
		t.Errorf("per_hour is %g (%s), cautions %v", l.Limit.Value, l.Standing, p.Cautions)
	}
}

// A looser limit never makes a plan with the same tolerance longer.
func TestMonotone(t *testing.T) {
	cases := map[string]func(r *Request, x float64){
		"per_hour": func(r *Request, x float64) { r.Limits.PerHour = new(quantity.Of[quantity.SalinityRate](x, 0)) },
		"temperature_per_hour": func(r *Request, x float64) {
			r.Limits.TemperaturePerHour = new(quantity.Of[quantity.TemperatureRate](x, 0))
		},
		"at_once": func(r *Request, x float64) { r.Limits.AtOnce = new(quantity.Of[quantity.AbsoluteSalinity](x+0.5, 0)) },
		"per_24_hours": func(r *Request, x float64) {
			r.Limits.Per24Hours = new(quantity.Of[quantity.AbsoluteSalinity](x+10, 0))
		},
	}
	capacities := []string{"9 L", "20 L"}
	if testing.Short() {
		capacities = capacities[:1]
	}
	for name, set := range cases {
		for _, capacity := range capacities {
			before := math.Inf(1)
			for _, x := range []float64{0.65, 1, 2, 8} {
				r := sixLitres(t, capacity, "0.5 g/kg", 3)
				r.Animals = []Animal{animal(tolerance.Hardy)}
				r.To = water(t, "10 ppt", "28 C")
				r.Container.LeastVolume = read[quantity.Volume](t, "4 L")
				set(&r, x)
				now := leastHours(t, r)
				// The search ends within a thousandth of its optimum.
				if now > before*(1+1e-3) {
					t.Errorf("%s %g, %s: %.4f h, longer than %.4f under a tighter limit", name, x, capacity, now, before)
				}
				before = now
			}
		}
	}
}

// leastHours is how long the shortest drip takes with any flow allowed.
func leastHours(t testing.TB, r Request) float64 {
	t.Helper()
	task, err := newTask(r.WithDefaults())
	if err != nil {
		t.Fatal(err)
	}
	v, p, err := task.prepare()
	if err != nil {
		t.Fatal(err)
	}
	s, err := task.find(t.Context(), p, drip.Duration, v.settings, morePours)
	if err != nil {
		t.Fatal(err)
	}
	return s.exact
}

// refused checks that there is no plan, and for which reason.
func refused(t testing.TB, r Request, where, code string) Fault {
	t.Helper()
	_, err := NewPlan(t.Context(), r)
	why, ok := errors.AsType[*InfeasibleError](err)
	if !ok {
		t.Errorf("%v, want a refusal by %s (%s)", err, where, code)
		return Fault{}
	}
	for _, f := range why.Faults {
		if f.Where == where && string(f.Note.Code) == code {
			return f
		}
	}
	t.Errorf("%v, want %s (%s)", err, where, code)
	return Fault{}
}

// A gap of several days is refused with the stages that would cover it, each of which is planned.
func TestStagesThroughHoldingTanks(t *testing.T) {
	r := crossing(t, "2 ppt", "16 ppt", animal(tolerance.Moderate)) // 14.07 of 6 g/kg a day
	for _, f := range faultsAll(t, r) {
		if f.Note.Code != "holding_tanks_would_do" {
			continue
		}
		n, step := f.Note.Params[0].(int), float64(f.Note.Params[1].(quantity.Estimate[quantity.AbsoluteSalinity]).Value)
		if n != 3 || math.Abs(step-14.06602/3) > 1e-4 {
			t.Fatalf("%d stages of %g g/kg, want 3 of 4.6887", n, step)
		}
		plan(t, crossing(t, "2 ppt", "6.66 ppt", animal(tolerance.Moderate)))
		return
	}
	t.Error("no stages are named")
}

// A move that changes nothing breaks no limit, whatever came before it.
func TestNothingToChangeAfterTooMuch(t *testing.T) {
	r := Request{From: water(t, "30 ppt", "25 C"), To: water(t, "30 ppt", "25 C"), Animals: []Animal{animal(tolerance.Delicate)},
		RecentChange: read[quantity.AbsoluteSalinity](t, "3 g/kg")}
	p := plan(t, r)
	if p.Route != Direct {
		t.Errorf("route %s", p.Route)
	}
	kept(t, p)
}
