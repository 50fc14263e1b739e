package drip

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"
	"time"
)

// typical is a bucket of 20 L, a third full, from 0 to 10 g/kg at 2 g/kg/h, with counted
// drops of 0.05 mL.
func typical() Problem {
	const drop = 0.05e-3 * 3600 // kg/h at 1 drop/s
	return Problem{
		Gap: 10, Tolerance: 2.5, Mass: 6,
		LeastMass: func(float64) float64 { return 6 },
		MostMass:  func(float64) float64 { return 18 },
		Rate:      Rate{At: func(float64) float64 { return 2 }},
		LeastFlow: 0.2 * drop, MostFlow: 4 * drop, Settings: 4,
		Countable: counted(drop),
	}
}

// counted allows whole numbers of drops in a minute.
func counted(drop float64) func(float64) (float64, float64) { return countable(drop / 60) }

// table is what most keepers ask for.
func table() map[string]Problem {
	with := func(change func(p *Problem)) Problem {
		p := typical()
		change(&p)
		return p
	}
	return map[string]Problem{
		"typical":         typical(),
		"one setting":     with(func(p *Problem) { p.Settings = 1 }),
		"one filling":     with(func(p *Problem) { p.Tolerance = 3.4 }),
		"three pour-offs": with(func(p *Problem) { p.Tolerance = 0.25 }),
		"delicate":        with(func(p *Problem) { p.Gap, p.Tolerance = 2, 0.5; p.Rate.At = func(float64) float64 { return 0.5 } }),
		"fast line":       with(func(p *Problem) { p.MostFlow *= 20 }),
		"small least":     with(func(p *Problem) { p.LeastMass = func(float64) float64 { return 2 } }),
		"towards fresh": with(func(p *Problem) {
			p.Gap, p.Tolerance = 6, 0.5
			p.Rate = Rate{At: func(g float64) float64 { return map[bool]float64{true: 1.5, false: 3}[g < 2] }, Breaks: []float64{2}}
		}),
		"overflow":    with(func(p *Problem) { p.Overflow = func(float64) float64 { return 6 } }),
		"least water": with(func(p *Problem) { p.Objective, p.PourOffs = LeastWater, 2 }),
		"few visits":  with(func(p *Problem) { p.Objective = FewestVisits }),
		"least time":  with(func(p *Problem) { p.Objective, p.PourOffs = Duration, 2 }),
		"ammonia":     with(func(p *Problem) { p.Constraints = []Constraint{ammonia(0.1, 0.6, 0.8)} }),
	}
}

// visitedTable is the table with visits every two hours and nights without any.
func visitedTable() map[string]Problem {
	all := table()
	for name, p := range all {
		p.Visits = Visits{Every: 2, First: 0.5, Quiet: [][2]float64{{5, 13}, {29, 37}, {53, 61}}}
		all[name] = p
	}
	return all
}

// The search looks at few enough schedules, at five microseconds each, to take 50 ms
// at most, and 300 with visits, on a machine of 2.5 GHz; see the benchmarks.
func TestTable(t *testing.T) {
	for _, problems := range []struct {
		of   map[string]Problem
		most int // schedules
	}{{table(), 5_000}, {visitedTable(), 40_000}} {
		for name, p := range problems.of {
			s, err := Solve(t.Context(), p)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			replay(t, p, s)
			if !s.Complete || s.Evaluations > problems.most {
				t.Errorf("%s: complete %v after %d schedules, %d are enough", name, s.Complete, s.Evaluations, problems.most)
			}
			if s.Ideal != nil && s.Ideal.Objective > s.Objective*(1+1e-9) {
				t.Errorf("%s: %g where flows must be countable, %g where they need not", name, s.Objective, s.Ideal.Objective)
			}
			if again, err := Solve(t.Context(), p); err != nil || !reflect.DeepEqual(s, again) {
				t.Errorf("%s: the same problem gives another schedule", name)
			}
		}
	}
}

// If only counted flows can be set, a drip takes longer, but by less than 5 %.
func TestCountable(t *testing.T) {
	p := typical()
	p.Objective = Duration
	p.PourOffs = 0
	s, err := Solve(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	if s.Ideal == nil || s.Hours < s.Ideal.Hours || s.Hours > 1.05*s.Ideal.Hours {
		t.Errorf("%g h in counted drops, %+v without", s.Hours, s.Ideal)
	}
}

func TestObstacles(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(p *Problem)
		want   Obstacle
	}{
		// 0.5 kg/h into 6 kg at a gap of 10 is 0.83 g/kg/h.
		{"too fast", func(p *Problem) { p.LeastFlow, p.MostFlow, p.Rate.At = 0.5, 1, func(float64) float64 { return 0.5 } }, Obstacle{Kind: TooFast, Value: 10 * 0.5 / 6 / 0.5}},
		{"over the rim", func(p *Problem) { p.Mass = 19 }, Obstacle{Kind: OverRim, Value: 18}},
		// 13 fillings from 6 to 6.6 leave (6/6.6)^13.
		{"out of reach", func(p *Problem) { p.MostMass = func(float64) float64 { return 6.6 } }, Obstacle{Kind: OutOfReach, Value: 10 * math.Pow(6/6.6, 13)}},
		{"nobody comes", func(p *Problem) { p.Visits.Quiet = [][2]float64{{0.01, 1e6}} }, Obstacle{Kind: NoVisit}},
	} {
		p := typical()
		c.change(&p)
		_, err := Solve(t.Context(), p)
		got, ok := errors.AsType[*Obstacle](err)
		if !ok || got.Kind != c.want.Kind || math.Abs(got.Value-c.want.Value) > 1e-6 {
			t.Errorf("%s: %v, want %+v", c.name, err, c.want)
		}
	}
}

// A refusal names the constraint that is broken, and not another.
func TestBroken(t *testing.T) {
	p := typical()
	p.Constraints = []Constraint{
		{Leg: func(_, _ []float64, _ Leg) float64 { return 1 }},
		{Leg: func(_, _ []float64, l Leg) float64 { return 1 - l.End() }}, // one hour, where four are needed
	}
	_, err := Solve(t.Context(), p)
	o, ok := errors.AsType[*Obstacle](err)
	if !ok || o.Kind != Broken || o.Constraint != 1 || !(o.Margin < 0) || !(o.Time > 1) {
		t.Errorf("%v, %+v; want constraint 1 broken after an hour", err, o)
	}
}

// More orders than can be looked at: the search still ends within its budget, says that
// it is not complete, and keeps every limit.
func TestBudget(t *testing.T) {
	p := typical()
	p.Objective, p.Settings, p.PourOffs, p.Tolerance, p.MostFlow = Duration, 8, 2, 0.05, 20
	p.Evaluations = inShort(DefaultEvaluations, 12_000)
	s, err := Solve(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	replay(t, p, s)
	if s.Complete || s.Evaluations > p.Evaluations+2000 {
		t.Errorf("complete %v after %d schedules", s.Complete, s.Evaluations)
	}
	p.Evaluations = 10
	if _, err := Solve(t.Context(), p); err == nil || err.(*Obstacle).Kind != Unsettled {
		t.Errorf("with a budget of 10 schedules: %v", err)
	}
}

// When its context ends, a search still follows the schedule in hand to its end, but no
// other. That takes less than 50 ms even if a constraint takes a millisecond a leg.
func TestContext(t *testing.T) {
	for _, when := range []int{1, 2, 50, 110} {
		p := typical()
		p.Objective, p.Settings, p.PourOffs, p.MostFlow = Duration, 6, 2, 20
		p.Evaluations = 1 << 40
		ctx, cancel := context.WithCancel(t.Context())
		calls := 0
		p.Constraints = []Constraint{{Leg: func(_, _ []float64, l Leg) float64 {
			if calls++; calls == when {
				cancel()
			}
			return 30 - l.End()
		}}}
		_, err := Solve(ctx, p)
		cancel()
		if most := p.Settings + MostPourOffs; !errors.Is(err, context.Canceled) || calls-when > most {
			t.Errorf("ended at leg %d: %v, %d more legs were followed, want %d at most", when, err, calls-when, most)
		}
	}
}

// How long the table takes: the median and the worst, each the fastest of three tries.
func BenchmarkTable(b *testing.B)        { benchmark(b, table()) }
func BenchmarkVisitedTable(b *testing.B) { benchmark(b, visitedTable()) }

func benchmark(b *testing.B, problems map[string]Problem) {
	var all []float64
	for b.Loop() {
		all = all[:0]
		for name, p := range problems {
			took := math.Inf(1)
			for range 3 {
				start := time.Now()
				if _, err := Solve(b.Context(), p); err != nil {
					b.Fatal(name, err)
				}
				took = min(took, time.Since(start).Seconds()*1e3)
			}
			if b.Logf("%s %.2f ms", name, took); took > 0 {
				all = append(all, took)
			}
		}
	}
	slices.Sort(all)
	b.ReportMetric(all[len(all)/2], "median-ms")
	b.ReportMetric(all[len(all)-1], "worst-ms")
}
