package transfer

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"saltlock/chem/drip"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// youngScats leave quarantine at 2 ppt for 10, in a bucket of 20 L with 6 L in it.
func youngScats(t testing.TB) Request {
	t.Helper()
	return Request{
		From: water(t, "2 ppt", "26 C"), To: water(t, "10 ppt", "26 C"),
		Animals: []Animal{{Sensitivity: new(tolerance.Hardy), Origin: new(tolerance.Captive), Count: new(2), Mass: read[quantity.Mass](t, "3 g")}},
		Container: Container{Capacity: read[quantity.Volume](t, "20 L"), StartVolume: read[quantity.Volume](t, "6 L"),
			LeastVolume: read[quantity.Volume](t, "6 L"), Aerated: new(true)},
	}
}

// The same scats four ways, each a different plan, each carried out independently of the planner.
func TestScatsFourWays(t *testing.T) {
	met := map[string]string{}
	for name, change := range map[string]func(*Request){
		"default":         func(*Request) {},
		"least time":      func(r *Request) { r.Prefer = new(PreferTime) },
		"cups":            func(r *Request) { r.Route = new(ByCups) },
		"measured stream": func(r *Request) { r.Line = &Line{GreatestDrip: read[quantity.DripRate](t, "40 drops/s")} },
	} {
		r := youngScats(t)
		change(&r)
		if !replayed(t, name, r) {
			t.Errorf("%s: no plan", name)
			continue
		}
		p, err := NewPlan(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		told := ""
		for _, phase := range p.Phases {
			told += fmt.Sprint(phase.Kind, phase.Start.Value, phase.ToVolume, phase.Instruction)
		}
		if other, same := met[told]; same {
			t.Errorf("%s and %s are the same plan", name, other)
		}
		met[told] = name
		t.Logf("%s: %.2f h, %d settings, %d pour-offs", name, float64(p.Duration.Value), p.Settings, p.PourOffs)
		if name == "cups" != p.Has(Cups) || name == "cups" == p.Has(Fill) {
			t.Errorf("%s: %v", name, p.Phases)
		}
		streams := false
		for _, phase := range p.Phases {
			streams = streams || phase.Instruction.Code == "fill_by_flow"
		}
		if streams != (name == "measured stream") {
			t.Errorf("%s: caught in a cup: %v", name, streams)
		}
	}
}

// A drip that its line slows offers cups, and they take as long as it says.
func TestCupsOffered(t *testing.T) {
	r := youngScats(t)
	r.Animals[0].Count, r.Animals[0].Mass = nil, nil
	r.Line = &Line{GreatestDrip: read[quantity.DripRate](t, "1.3 drops/s")}
	p, err := NewPlan(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	r.Route = new(ByCups)
	cups, err := NewPlan(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range p.Warnings {
		if n.Code == "cups_are_faster" {
			if took := n.Params[1].(quantity.Estimate[quantity.Duration]); took != cups.Release.Time || took.Value >= p.Release.Time.Value {
				t.Errorf("cups are said to take %v, take %v; the drip %v", took, cups.Release.Time, p.Release.Time)
			}
			return
		}
	}
	t.Errorf("no cups are offered where the line binds: %v", p.Warnings)
}

// Cups for random requests keep every limit; a request without a plan is refused with a reason.
func TestReplayCups(t *testing.T) {
	dice := requestDice{rand.New(rand.NewPCG(20261128, 3))}
	planned := 0
	for i := range replays(t) {
		r := dice.request(t)
		r.Route = new(ByCups)
		if replayed(t, fmt.Sprint("cups ", i), r) {
			planned++
		}
	}
	if planned < replays(t)/4 {
		t.Errorf("only %d of %d random requests have cups", planned, replays(t))
	}
	t.Logf("%d of %d random requests were planned by cups and carried out", planned, replays(t))
}

// pour pours cups in, each over a minute, and checks each against the limit at once and, with the
// waits on both sides, against the hourly limit.
func (w *witness) pour(phase Phase) {
	mass := float64(phase.Cup.Value) * w.in.mass
	for i := range *phase.Cups {
		if i > 0 {
			w.wait(float64(phase.Every.Value) - drip.Pouring)
		}
		apart := w.clock - w.cup
		w.cup = w.clock
		w.acts = append(w.acts, w.clock)
		before := w.at.salinity()
		const parts = 6
		for range parts {
			w.live(float64(phase.Cup.Value)/drip.Pouring, drip.Pouring/parts, false)
			w.at = w.at.dripped(w.in, mass/drip.Pouring, drip.Pouring/parts)
			w.clock += drip.Pouring / parts
		}
		after := w.at.salinity()
		step := math.Abs(after - before)
		if step > w.task.rules.atOnce*(1+1e-6) {
			w.bad("a step of %.4f g/kg, limit %.4f", step, w.task.rules.atOnce)
		}
		clear := 0.0
		for k := range 51 {
			clear = max(clear, step/w.task.rules.perHour(before+(after-before)*float64(k)/50))
		}
		if w.clear > 0 && apart < max(clear, w.clear)*(1-1e-4) {
			w.bad("a cup %.4f h after another, which must be %.4f and %.4f clear", apart, w.clear, clear)
		}
		w.clear = clear
	}
}
