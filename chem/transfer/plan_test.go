package transfer

import (
	"math"
	"testing"

	"saltlock/chem/drip"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

func read[Q quantity.Quantity](t testing.TB, s string) *quantity.Estimate[Q] {
	t.Helper()
	e := new(quantity.Estimate[Q])
	if err := e.Bind(s); err != nil {
		t.Fatal(err)
	}
	return e
}

func water(t testing.TB, salinity, temperature string) Water {
	t.Helper()
	w := Water{Temperature: *read[quantity.Celsius](t, temperature)}
	if err := w.Salinity.Bind(salinity); err != nil {
		t.Fatal(err)
	}
	return w
}

// sixLitres is the case whose times are known in closed form: from 0.2 to 10
// ppt in 6 L that fill a container of 18 or 20, under 2 g/kg/h alone.
func sixLitres(t testing.TB, capacity, tolerance string, settings int) Request {
	t.Helper()
	return Request{
		From: water(t, "0.2 ppt", "25 C"), To: water(t, "10 ppt", "25 C"),
		Container: Container{Capacity: read[quantity.Volume](t, capacity), Freeboard: read[quantity.Volume](t, "0 L"),
			StartVolume: read[quantity.Volume](t, "6 L"), LeastVolume: read[quantity.Volume](t, "6 L"), Aerated: new(true)},
		Line: &Line{DropVolume: read[quantity.Volume](t, "0.05 mL"), LeastDrip: read[quantity.DripRate](t, "0.01 drops/s"),
			GreatestDrip: read[quantity.DripRate](t, "100 drops/s"), Settings: &settings},
		Limits: &Limits{AtOnce: read[quantity.AbsoluteSalinity](t, "20 g/kg"), PerHour: read[quantity.SalinityRate](t, "2 g/kg/h"),
			Per24Hours: read[quantity.AbsoluteSalinity](t, "40 g/kg")},
		Tolerance: read[quantity.AbsoluteSalinity](t, tolerance),
	}
}

// The recursion ρ' = (1+ρ²)/2 with Πρ = 3, worked by hand: 2; 1.4458 … hours of (ρ−1)·gap/rate.
func TestOneFilling(t *testing.T) {
	for settings, want := range map[int]float64{1: 9.85, 2: 5.64, 3: 4.70} {
		task, err := newTask(sixLitres(t, "20 L", "3.282 g/kg", settings).WithDefaults())
		if err != nil {
			t.Fatal(err)
		}
		_, p, err := task.prepare()
		if err != nil {
			t.Fatal(err)
		}
		s, err := task.solve(t.Context(), p, drip.Duration, settings, 0)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.exact/want-1) > 0.005 {
			t.Errorf("%d settings: exact duration %.3f h, want %.2f", settings, s.exact, want)
		}
		if got := p.rate.hours(p.Gap, p.Tolerance); math.Abs(got-3.28) > 0.005 {
			t.Errorf("%d settings: least duration %.3f h, want 3.28", settings, got)
		}
		if s.settings() > settings || s.pours() != 0 {
			t.Errorf("%d settings: plan has %d and %d pour-offs", settings, s.settings(), s.pours())
		}
		// Whole drops in ten seconds at rates near 5 drops/s cost at most 2 %.
		if s.rounded < s.exact*(1-1e-9) || s.rounded > s.exact*1.03 {
			t.Errorf("%d settings: duration %.3f h against exact %.3f", settings, s.rounded, s.exact)
		}
	}
}

// By default a visit weighs as much as a quarter of an hour: no drip that takes less of
// something is better by that.
func TestVisitsWeighAQuarterOfAnHour(t *testing.T) {
	worth := func(hours quantity.Duration, visits int) float64 { return float64(hours) + 0.25*float64(visits) }
	for settings := 1; settings <= 4; settings++ {
		r := sixLitres(t, "20 L", "3.282 g/kg", settings)
		p := plan(t, r)
		kept(t, p)
		least := worth(p.Duration.Value, p.visits())
		for _, prefer := range []Preference{PreferTime, PreferVisits, PreferWater} {
			r.Prefer = &prefer
			if q := plan(t, r); worth(q.Duration.Value, q.visits()) < least*(1-3e-3) {
				t.Errorf("%d settings: %.3f h with its visits, preferring %s %.3f", settings, least, prefer, worth(q.Duration.Value, q.visits()))
			}
		}
	}
}

func TestPourOffs(t *testing.T) {
	p, err := NewPlan(t.Context(), sixLitres(t, "18 L", "0.5 g/kg", 3))
	if err != nil {
		t.Fatal(err)
	}
	kept(t, p)
	if p.PourOffs == 0 {
		t.Error("no pour-off, though a container filled to three times its start leaves a third of the gap")
	}
	told := false
	for _, w := range p.Warnings {
		if w.Code == "one_filling_leaves" {
			share := w.Params[0].(quantity.Estimate[quantity.Fraction]).Value
			told = math.Abs(float64(share)-1./3) < 0.005
		}
	}
	if !told {
		t.Errorf("warnings %v do not say that one filling leaves a third of the gap", p.Warnings)
	}
	last := p.Curve[len(p.Curve)-1]
	if gap := 10 - float64(last.PracticalSalinity.Value); math.Abs(gap*35.16504/35-0.5) > 1e-6 {
		t.Errorf("the drip ends %.4f g/kg from the new water, want 0.5", gap*35.16504/35)
	}
}

// kept checks every limit of a plan.
func kept(t testing.TB, p Plan) {
	t.Helper()
	for _, l := range p.Limits {
		if !(l.Margin.Value >= -1e-9*math.Abs(l.Limit.Value)) {
			t.Errorf("limit %s of %g %s is broken: %g", l.Name, l.Limit.Value, l.Limit.Unit, l.Extreme.Value)
		}
	}
}

// cases are drips up and down, with one filling and several, warm and cold, under limits that are
// level, slope and drop. It is long because it lists them.
func cases(t testing.TB) map[string]Request {
	t.Helper()
	animals := func(c tolerance.Class) []Animal {
		return []Animal{{Sensitivity: new(c), Origin: new(tolerance.Captive)}}
	}
	between := func(from, to Water, settings int, who tolerance.Class) Request {
		r := sixLitres(t, "18 L", "0.5 g/kg", settings)
		r.From, r.To, r.Limits, r.Animals = from, to, nil, animals(who)
		return r
	}
	given := func(capacity, tolerance string, settings int) Request {
		r := sixLitres(t, capacity, tolerance, settings)
		r.Animals = animals("hardy")
		return r
	}
	down := given("18 L", "0.5 g/kg", 4)
	down.From, down.To = down.To, down.From
	down.Animals[0] = ofFresh(down.Animals[0])
	warmer := given("18 L", "0.5 g/kg", 4)
	warmer.To = water(t, "10 ppt", "28 C")
	lower := given("18 L", "1 g/kg", 3)
	lower.Container.StartVolume, lower.Container.LeastVolume = read[quantity.Volume](t, "10 L"), read[quantity.Volume](t, "3 L")
	slow := given("18 L", "1 g/kg", 3)
	slow.Line.LeastDrip, slow.Line.GreatestDrip = read[quantity.DripRate](t, "2 drops/s"), read[quantity.DripRate](t, "4 drops/s")
	slow.Container.LeastVolume = read[quantity.Volume](t, "2 L")
	fresh := between(water(t, "6 ppt", "20 C"), water(t, "0.1 ppt", "20 C"), 4, "hardy")
	fresh.Animals[0] = ofFresh(fresh.Animals[0])
	return map[string]Request{
		"one filling":         given("20 L", "3.282 g/kg", 3),
		"several fillings":    given("18 L", "0.5 g/kg", 4),
		"one setting":         given("18 L", "0.5 g/kg", 1),
		"down":                down,
		"warmer":              warmer,
		"starts above least":  lower,
		"slow line":           slow,
		"towards fresh":       fresh,
		"snails up":           between(water(t, "5 ppt", "24 C"), water(t, "7.5 ppt", "24 C"), 4, "invertebrate"),
		"snails down":         between(water(t, "5 ppt", "24 C"), water(t, "2.2 ppt", "24 C"), 3, "invertebrate"),
		"snails, cooler":      between(water(t, "12 ppt", "24 C"), water(t, "9.5 ppt", "22.8 C"), 4, "invertebrate"),
		"sea water, delicate": between(water(t, "33.2 ppt", "25 C"), water(t, "35 ppt", "25 C"), 4, "delicate"),
	}
}

// casePlans are the plans of the cases, each made once: tests only read them.
var casePlans = map[string]Plan{}

// planned is the plan of a case.
func planned(t testing.TB, name string, r Request) Plan {
	t.Helper()
	if p, ok := casePlans[name]; ok {
		return p
	}
	p, err := NewPlan(t.Context(), r)
	if err != nil {
		t.Fatal(name, err)
	}
	casePlans[name] = p
	return p
}

// No schedule beats the bound, and every limit is kept, in every case.
func TestBound(t *testing.T) {
	for name, r := range cases(t) {
		p := planned(t, name, r)
		kept(t, p)
		if !(p.LeastDuration.Value <= p.ExactDuration.Value*(1+1e-9) && p.ExactDuration.Value <= p.Duration.Value*(1+1e-9)) {
			t.Errorf("%s: least %.4f, exact %.4f, planned %.4f h", name, p.LeastDuration.Value, p.ExactDuration.Value, p.Duration.Value)
		}
	}
}

// The route of auto: one step where it is within the limit and no drip is described.
func TestRoute(t *testing.T) {
	hardy := []Animal{{Sensitivity: new(tolerance.Hardy), Origin: new(tolerance.Captive)}}
	small := Request{Animals: hardy, From: water(t, "2 ppt", "25 C"), To: water(t, "5 ppt", "25 C")}
	p, err := NewPlan(t.Context(), small)
	if err != nil || p.Route != Direct {
		t.Errorf("3 ppt for hardy fish: route %q, %v; want direct", p.Route, err)
	}
	kept(t, p)
	small.Line = &Line{}
	small.Container = sixLitres(t, "20 L", "1 g/kg", 1).Container
	if p, err = NewPlan(t.Context(), small); err != nil || p.Route != Drip || p.Reason.Code != "drip_as_described" {
		t.Errorf("with a line: route %q, %v, %v; want drip", p.Route, p.Reason.Code, err)
	}
	kept(t, p)
}

func BenchmarkNewPlan(b *testing.B) {
	r := sixLitres(b, "18 L", "0.5 g/kg", 4)
	for b.Loop() {
		if _, err := NewPlan(b.Context(), r); err != nil {
			b.Fatal(err)
		}
	}
}
