package transfer

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
)

func staged(t testing.TB, from, to string, who ...Animal) Request {
	t.Helper()
	r := crossing(t, from, to, who...)
	r.HoldingTanks = &HoldingTanks{Volume: read[quantity.Volume](t, "100 L")}
	return r
}

// walkStages carries out each stage independently of the planner, from the water that the one
// before led into, and checks the change in any 24 hours.
func walkStages(t testing.TB, r Request, p Plan) {
	t.Helper()
	absolute := func(s quantity.Estimate[quantity.Salinity]) float64 { return float64(s.Value) * 35.16504 / 35 }
	from := r.From
	for i, s := range p.Stages {
		to := r.To
		if i < len(p.Stages)-1 {
			to = Water{Salinity: quantity.Reading{Value: absolute(s.Salinity), Scale: quantity.AbsoluteScale}, Temperature: s.Warmth}
		}
		leg, end := p, poured(t, to, 1)
		leg.Phases, leg.Curve = nil, nil
		for _, x := range p.Phases {
			if x.Stage != nil && *x.Stage == s.Number {
				leg.Phases = append(leg.Phases, x)
			}
		}
		if got := math.Abs(poured(t, from, 1).salinity() - end.salinity()); math.Abs(got-float64(s.Change.Value)) > 1e-9 {
			t.Errorf("stage %d changes %.9f g/kg, told %.9f", s.Number, got, float64(s.Change.Value))
		}
		if s.Route == Drip {
			simulateStage(t, r, from, to, leg)
		}
		from = to
	}
	rolling(t, r, p)
}

// simulateStage drips one stage into a pail and looks at where it ends.
func simulateStage(t testing.TB, r Request, from, to Water, p Plan) {
	t.Helper()
	drop, in := float64(r.Line.WithDefaults().DropVolume.Value), poured(t, to, 1)
	at := poured(t, from, float64(p.Phases[0].FromVolume.Value))
	for _, x := range p.Phases {
		switch x.Kind {
		case PourOff:
			share := float64(x.ToVolume.Value / x.FromVolume.Value)
			at = pail{at.mass * share, at.salt * share, at.heat * share}
		case Fill:
			at = at.dripped(in, float64(x.Drip.Value)*3600*drop*in.mass, float64(x.Duration.Value))
			sp, err := seawater.Salinity(quantity.AbsoluteSalinity(at.salinity()))
			if err != nil || math.Abs(float64(sp-x.ToSalinity.Value)) > 1e-6 {
				t.Errorf("a fill ends at %.7f ppt, told %.7f; %v", sp, float64(x.ToSalinity.Value), err)
			}
		}
	}
}

// rolling checks that no 24 hours bring more change than they may.
func rolling(t testing.TB, r Request, p Plan) {
	t.Helper()
	most := limitOf(t, p, "per_24_hours").Limit.Value
	for _, first := range p.Phases {
		sum, start := 0.0, float64(first.Start.Value)
		if start < 24 {
			sum = float64(r.WithDefaults().RecentChange.Value)
		}
		for _, x := range p.Phases {
			if from, to := float64(x.Start.Value), float64(x.Start.Value+x.Duration.Value); to >= start && from < start+24 && (start >= 24 || from < 24) {
				sum += math.Abs(float64(x.ToSalinity.Value-x.FromSalinity.Value)) * 35.16504 / 35
			}
		}
		if sum > most*(1+1e-9) {
			t.Errorf("the day from hour %.1f brings %.4f g/kg, most %.4f", start, sum, most)
		}
	}
}

// A gap over the limit of a day is split into the fewest equal stages; each is planned by itself,
// and the animals rest between them as long as their class requires, in proportion to the change:
// 14.066 of 6 g/kg a day are three stages of 4.689, and 72 h of hold come to 56.3.
func TestStaged(t *testing.T) {
	r := staged(t, "2 ppt", "16 ppt", animal(tolerance.Moderate))
	p := plan(t, r)
	if p.Route != Staged || p.Reason.Code != "staged_over_24_hours" || len(p.Stages) != 3 {
		t.Fatalf("route %s for %s in %d stages, want staged in 3", p.Route, p.Reason.Code, len(p.Stages))
	}
	walkStages(t, r, p)
	for i, s := range p.Stages[:2] {
		if math.Abs(float64(s.Change.Value)-14.06602/3) > 1e-4 || math.Abs(float64(s.Hold.Value)-72*14.06602/3/6) > 1e-3 {
			t.Errorf("stage %d changes %v and is held for %v, want 4.6887 g/kg and 56.26 h", s.Number, s.Change, s.Hold)
		}
		if next := p.Stages[i+1]; next.Start.Value < s.Start.Value+s.Hold.Value {
			t.Errorf("stage %d starts at %v, before the hold of the one before is over", next.Number, next.Start)
		}
	}
	if last := p.Stages[2]; last.Hold != nil || last.Salt != nil || math.Abs(float64(last.Salinity.Value)-16) > 1e-9 {
		t.Errorf("the last stage leads to %v with hold %v and salt %v", last.Salinity, last.Hold, last.Salt)
	}
	if !says(p.Warnings, "mature_filters_first") || !says(p.Cautions, "no_animals_near_the_salt") || !says(p.Cautions, "never_siphon_by_mouth") {
		t.Errorf("warnings %v, cautions %v", p.Warnings, p.Cautions)
	}
	fed := 0
	for _, c := range p.Checkpoints {
		if c.Why.Code == "look_next_day" {
			fed++
		}
	}
	if fed != 3 {
		t.Errorf("they are offered food a day after %d of 3 releases", fed)
	}
}

// The salt for a holding tank makes its water and what the drip takes: by mass on paper.
func TestHoldingWater(t *testing.T) {
	r := staged(t, "2 ppt", "16 ppt", animal(tolerance.Moderate))
	for _, volume := range []string{"100 L", "", "40 L"} {
		want := 100.
		if r.HoldingTanks.Volume = nil; volume != "" {
			r.HoldingTanks.Volume = read[quantity.Volume](t, volume)
			want = float64(r.HoldingTanks.Volume.Value)
		}
		p := plan(t, r)
		if says(p.Assumptions, "holding_volume_assumed") != (volume == "") {
			t.Errorf("%q: assumptions %v", volume, p.Assumptions)
		}
		s := p.Stages[0]
		if got := float64(s.Water.Value - s.Drawn.Value); math.Abs(got-want) > 1e-9 {
			t.Errorf("%q: %.3f L are left for the tank", volume, got)
		}
		sa := float64(s.Salinity.Value) * 35.16504 / 35
		rho, err := density(state{sa: sa, t: 25})
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(s.Water.Value) * rho * sa / 1000; math.Abs(got-float64(s.Salt.Value)) > 1e-9 {
			t.Errorf("%q: %.9f kg of salt, want %.9f", volume, float64(s.Salt.Value), got)
		}
	}
}

// Change before the plan counts: if it leaves no room for a stage, the plan waits first.
func TestStagedAfterChange(t *testing.T) {
	r := staged(t, "2 ppt", "16 ppt", animal(tolerance.Moderate))
	for change, start := range map[string]float64{"1 g/kg": 0, "2 g/kg": 24, "5 g/kg": 60} { // 72 h × 5/6
		r.RecentChange = read[quantity.AbsoluteSalinity](t, change)
		p := plan(t, r)
		rolling(t, r, p)
		if got := float64(p.Stages[0].Start.Value); math.Abs(got-start) > 1e-9 {
			t.Errorf("after a change of %s the first stage starts at %g h, want %g", change, got, start)
		}
	}
}

// If the class requires no rest, a day to feed in and a day without food still lie between.
func TestLeastTimeBetweenStages(t *testing.T) {
	p := plan(t, staged(t, "30 ppt", "1 ppt", animal(tolerance.Hardy)))
	for _, s := range p.Stages[:len(p.Stages)-1] {
		if s.Hold.Value != betweenStages {
			t.Errorf("stage %d is followed by %v, want %d h", s.Number, s.Hold, betweenStages)
		}
	}
}

// A stage no larger than a step may be is one step, and needs no container.
func TestStagesInSteps(t *testing.T) {
	r := staged(t, "34 ppt", "30 ppt", animal(tolerance.StenohalineMarine))
	r.Line, r.Container, r.Limits = nil, Container{}, &Limits{Per24Hours: read[quantity.AbsoluteSalinity](t, "1 g/kg")}
	p := plan(t, r)
	if len(p.Stages) != 5 || p.Has(Fill) || p.BoundRatio == nil {
		t.Errorf("%d stages, ratio %v", len(p.Stages), p.BoundRatio)
	}
	walkStages(t, r, p)
}

func TestStagedRefuses(t *testing.T) {
	few := staged(t, "2 ppt", "16 ppt", animal(tolerance.Moderate))
	few.HoldingTanks.Count = new(1)
	refused(t, few, "holding_tanks.count", "needs_more_holding_tanks")
	few.HoldingTanks.Count = new(2)
	plan(t, few)

	near := staged(t, "2 ppt", "6 ppt", animal(tolerance.Moderate))
	near.Route = new(Staged)
	refused(t, near, "route", "stages_not_needed")
	far := staged(t, "2 ppt", "30 ppt", animal(tolerance.Delicate))
	refused(t, far, "route", "too_many_stages")
	refused(t, far, "home_tank.volume", "ramp_would_do")

	hard := staged(t, "16 ppt", "2 ppt", animal(tolerance.Moderate))
	hard.HoldingTanks.Source = &quantity.Reading{Value: 9, Scale: quantity.PracticalScale} // just as salt as the tank between
	if p := plan(t, hard); p.Stages[0].Salt.Value > 1e-9 {
		t.Errorf("a source of the tank's own salinity takes %v of salt", p.Stages[0].Salt)
	}
	hard.HoldingTanks.Source.Value = 9.1
	refused(t, hard, "holding_tanks.source", "stage_below_the_source")
	sick := staged(t, "2 ppt", "16 ppt", Animal{Sensitivity: new(tolerance.Moderate), Condition: new(Sick)})
	refused(t, sick, "animals.0.condition", "no_step_while_sick")
	still := staged(t, "2 ppt", "16 ppt", animal(tolerance.Moderate))
	still.Container.Aerated = nil
	refused(t, still, "container.aerated", "no_air_stone")
	small := staged(t, "2 ppt", "16 ppt", animal(tolerance.Moderate))
	small.HoldingTanks.Volume = read[quantity.Volume](t, "0 L")
	if limit, ok := errors.AsType[*quantity.RangeError](second(NewPlan(t.Context(), small))); !ok || limit.Name != "holding_tanks.volume" {
		t.Errorf("a tank of 0 L: %v", limit)
	}
	small.HoldingTanks = &HoldingTanks{Count: new(-1)}
	if limit, ok := errors.AsType[*quantity.RangeError](second(NewPlan(t.Context(), small))); !ok || limit.Name != "holding_tanks.count" {
		t.Errorf("-1 tanks: %v", limit)
	}
}

// With an overflow, too, each stage's hold begins where its phases end.
func TestStagedOverOverflow(t *testing.T) {
	r := staged(t, "0.1 ppt", "35 ppt", animal(tolerance.Hardy))
	r.From.Temperature, r.To.Temperature = *read[quantity.Celsius](t, "21.2 C"), *read[quantity.Celsius](t, "21.2 C")
	r.Container = Container{Capacity: read[quantity.Volume](t, "22.37 L"), Freeboard: read[quantity.Volume](t, "0.00289 L"), StartVolume: read[quantity.Volume](t, "15.9 L"),
		Aerated: new(true), Overflow: new(true)}
	r.Line = &Line{DropVolume: read[quantity.Volume](t, "0.0201 mL"), GreatestDrip: read[quantity.DripRate](t, "16 drops/s"), Settings: new(4)}
	p := plan(t, r)
	for i := 1; i < len(p.Curve); i++ {
		if before, now := p.Curve[i-1].Time.Value, p.Curve[i].Time.Value; now < before {
			t.Errorf("the curve goes back from %v to %v h", before, now)
		}
	}
	for i := 1; i < len(p.Phases); i++ {
		if end := p.Phases[i-1].Start.Value + p.Phases[i-1].Duration.Value; p.Phases[i].Start.Value < end-1e-12 {
			t.Errorf("%s begins at %v, before the end at %v of %s", p.Phases[i].Kind, p.Phases[i].Start.Value, end, p.Phases[i-1].Kind)
		}
	}
}
