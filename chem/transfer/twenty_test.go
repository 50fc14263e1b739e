package transfer

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"text/tabwriter"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// move is one of the transfers: invented, but of every kind.
type move struct {
	name    string
	request Request
	want    Route  // empty where it must be refused
	refused string // the field that must be named then
}

// twenty are transfers as keepers make them, planned with the limits of their class. It is long
// because it is a table.
func twenty(t testing.TB) []move {
	t.Helper()
	drip := func(from, to, warmth string, who tolerance.Class, capacity string) Request {
		return Request{From: water(t, from, warmth), To: water(t, to, warmth), Line: &Line{DropVolume: read[quantity.Volume](t, "0.05 mL")},
			Animals:   []Animal{{Sensitivity: &who, Origin: new(tolerance.Captive)}},
			Container: Container{Capacity: read[quantity.Volume](t, capacity), Aerated: new(true)}}
	}
	with := func(r Request, count int, mass string) Request {
		r.Animals[0].Count, r.Animals[0].Mass = &count, read[quantity.Mass](t, mass)
		return r
	}
	step := func(r Request) Request {
		r.Line = nil
		return r
	}
	bag := func(r Request, hours, tan string) Request {
		r.From.HoursInBag, r.From.TAN = read[quantity.Duration](t, hours), read[quantity.AmmoniaNitrogen](t, tan)
		return r
	}
	to := func(r Request, warmth string) Request {
		r.To.Temperature = *read[quantity.Celsius](t, warmth)
		return r
	}
	over := func(r Request, volume string) Request {
		r.Container.Overflow, r.Container.StartVolume = new(true), read[quantity.Volume](t, volume)
		return r
	}
	used := func(r Request, change string) Request {
		r.RecentChange = read[quantity.AbsoluteSalinity](t, change)
		return r
	}
	home := func(r Request, volume string) Request {
		r.HomeTank = &HomeTank{Volume: *read[quantity.Volume](t, volume)}
		return r
	}
	through := func(r Request, volume string) Request {
		r.HoldingTanks = &HoldingTanks{Volume: read[quantity.Volume](t, volume)}
		return r
	}
	pumped := func(r Request) Request {
		r.Line.GreatestDrip = read[quantity.DripRate](t, "40 drops/s")
		return r
	}
	return []move{
		{"scats up", with(drip("2 ppt", "10 ppt", "26 C", "hardy", "20 L"), 4, "1 g"), Drip, ""},
		{"hardy down", drip("10 ppt", "2 ppt", "26 C", "hardy", "20 L"), Drip, ""},
		{"hardy, small gap", step(drip("2 ppt", "4 ppt", "26 C", "hardy", "20 L")), Direct, ""},
		{"delicate, small gap", step(drip("34.6 ppt", "35 ppt", "25 C", "delicate", "20 L")), Direct, ""},
		{"delicate up, sea", drip("33.2 ppt", "35 ppt", "25 C", "delicate", "20 L"), Drip, ""},
		{"delicate down, sea", drip("35 ppt", "33.2 ppt", "25 C", "delicate", "20 L"), Drip, ""},
		{"snails up", drip("5 ppt", "7.5 ppt", "24 C", "invertebrate", "10 L"), Drip, ""},
		{"snails down", drip("5 ppt", "2.2 ppt", "24 C", "invertebrate", "10 L"), Drip, ""},
		{"moderate up", drip("5 ppt", "9 ppt", "25 C", "moderate", "20 L"), Drip, ""},
		{"moderate down", drip("9 ppt", "5 ppt", "25 C", "moderate", "20 L"), Drip, ""},
		{"one fry in a jar", with(drip("1 ppt", "5 ppt", "25 C", "hardy", "2 L"), 1, "0.1 g"), Drip, ""},
		{"a shoal, by pump", pumped(with(drip("1 ppt", "7 ppt", "25 C", "hardy", "120 L"), 12, "2 g")), Drip, ""},
		{"warmer too", to(drip("2 ppt", "8 ppt", "24 C", "hardy", "20 L"), "26 C"), Drip, ""},
		{"cold", drip("2 ppt", "8 ppt", "12 C", "hardy", "20 L"), Drip, ""},
		{"bag, clean", bag(with(drip("1 ppt", "5 ppt", "25 C", "hardy", "20 L"), 1, "1 g"), "3 h", "0.02 mg/L N"), Drip, ""},
		{"stenohaline marine", drip("34 ppt", "35 ppt", "25 C", "stenohaline-marine", "20 L"), Drip, ""},
		{"tank to the sea", rampRequest(t, "0.2 ppt", "35 ppt", "0.2 ppt", tolerance.Hardy), Ramped, ""},
		{"tank down", rampRequest(t, "12 ppt", "2 ppt", "0.2 ppt", tolerance.Moderate), Ramped, ""},
		{"scats up, overflow", over(with(drip("2 ppt", "10 ppt", "26 C", "hardy", "20 L"), 4, "1 g"), "15 L"), Drip, ""},
		{"snails down, overflow", over(drip("5 ppt", "2.2 ppt", "24 C", "invertebrate", "10 L"), "3 L"), Drip, ""},
		{"staged, moderate up", through(drip("2 ppt", "16 ppt", "25 C", "moderate", "20 L"), "100 L"), Staged, ""},
		{"staged, hardy down", through(with(drip("30 ppt", "1 ppt", "25 C", "hardy", "20 L"), 4, "1 g"), "60 L"), Staged, ""},
		{"staged, one day used up", through(used(drip("2 ppt", "16 ppt", "25 C", "hardy", "20 L"), "12 g/kg"), "60 L"), Staged, ""},
		{"combined, moderate up", home(drip("2 ppt", "16 ppt", "25 C", "moderate", "20 L"), "200 L"), Combined, ""},
		{"combined, delicate down", home(drip("12 ppt", "8 ppt", "25 C", "delicate", "20 L"), "120 L"), Combined, ""},
		{"no tank to hold them", drip("2 ppt", "16 ppt", "25 C", "moderate", "20 L"), "", "to.salinity"},
		{"bag, foul", bag(drip("1 ppt", "5 ppt", "25 C", "hardy", "20 L"), "20 h", "5 mg/L N"), OutOfBag, ""},
		{"crowded bucket", with(drip("2 ppt", "10 ppt", "26 C", "hardy", "20 L"), 40, "20 g"), "", "animals.0.count"},
	}
}

// Twenty transfers and more, of every kind: none breaks a limit, and each, carried out
// independently of the planner, ends where it says.
func TestTwenty(t *testing.T) {
	var table strings.Builder
	w := tabwriter.NewWriter(&table, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, "transfer\troute\thours\tto bound\tclosest limit\tvisits\twater L")
	for _, m := range twenty(t) {
		p, err := NewPlan(t.Context(), m.request)
		if m.refused != "" {
			infeasible, ok := errors.AsType[*InfeasibleError](err)
			if !ok || infeasible.Faults[0].Where != m.refused {
				t.Errorf("%s: %v, want it refused at %s", m.name, err, m.refused)
				continue
			}
			fmt.Fprintf(w, "%s\trefused\t\t\t%s\n", m.name, m.refused)
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", m.name, err)
			continue
		}
		if p.Route != m.want {
			t.Errorf("%s: route %s, want %s", m.name, p.Route, m.want)
		}
		kept(t, p)
		fmt.Fprintf(w, "%s\t%s\t%s\n", m.name, p.Route, tableRow(t, m.request, p))
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	t.Log("\n" + table.String())
}

// tableRow carries out a plan and returns what it costs.
func tableRow(t testing.TB, r Request, p Plan) string {
	t.Helper()
	visits, drawn, ratio := len(p.Phases), 0.0, 1.0
	switch p.Route {
	case Drip:
		if p.Has(RunOver) {
			simulateOverflow(t, r, p)
		} else {
			simulate(t, r, p)
		}
		visits, drawn, ratio = p.Settings+p.PourOffs+1, float64(p.Draw.Volume.Value), *p.BoundRatio
	case Combined:
		walkCombined(t, r, p)
		visits, drawn, ratio = p.Settings+p.PourOffs+1+p.count(WaterChange), float64(p.Draw.Volume.Value), *p.BoundRatio
	case Staged:
		walkStages(t, r, p)
		visits, ratio = p.Settings+p.PourOffs+2*len(p.Stages), *p.BoundRatio
	case Ramped:
		carryOut(t, r, p)
		for _, c := range p.Phases {
			drawn += float64(c.PutIn.Value)
		}
	}
	closest, share := "", math.Inf(1)
	for _, l := range p.Limits {
		if now := l.Margin.Value / l.Limit.Value; now < share && !strings.Contains(l.Name, "volume") && !strings.Contains(l.Name, "drip") && l.Name != "hold" {
			closest, share = fmt.Sprintf("%s %.3g of %.3g %s", l.Name, l.Extreme.Value, l.Limit.Value, l.Limit.Unit), now
		}
	}
	return fmt.Sprintf("%.1f\t%.2f\t%s\t%d\t%.1f", float64(p.Duration.Value), ratio, closest, visits, drawn)
}

func BenchmarkTwenty(b *testing.B) {
	for _, m := range twenty(b) {
		b.Run(strings.ReplaceAll(m.name, " ", "_"), func(b *testing.B) {
			for b.Loop() {
				_, err := NewPlan(b.Context(), m.request)
				if _, infeasible := errors.AsType[*InfeasibleError](err); err != nil && !infeasible {
					b.Fatal(err)
				}
			}
		})
	}
}
