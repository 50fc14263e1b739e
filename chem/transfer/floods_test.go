package transfer

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// intoOverflow is a drip of one fish with an overflow.
func intoOverflow(t testing.TB) Request {
	t.Helper()
	r := crossing(t, "5 ppt", "10 ppt", animal(tolerance.Moderate))
	r.Container = Container{Capacity: read[quantity.Volume](t, "20 L"), StartVolume: read[quantity.Volume](t, "6 L"), Aerated: new(true), Overflow: new(true)}
	return r
}

// No charge of the jug is more than the bucket under the overflow holds, which is emptied at each
// refill, so a stuck valve spills nothing.
func TestBucketTakesEveryCharge(t *testing.T) {
	r := intoOverflow(t)
	r.Container.WasteCapacity = read[quantity.Volume](t, "3 L")
	p := plan(t, r)
	emptied := 0
	for _, c := range p.Checkpoints {
		if c.Why.Code == "look_at_refill_and_waste" {
			emptied++
		}
	}
	if n := len(p.Draw.Charges); n < 3 || emptied != n-1 {
		t.Errorf("%d charges of %v, the bucket is emptied %d times", n, p.Draw.Waste, emptied)
	}
	for _, c := range p.Draw.Charges {
		if c.Volume.Value > 2.7*(1+1e-9) {
			t.Errorf("a charge of %v, the bucket takes 2.7 L", c.Volume)
		}
	}
	if floor := p.Draw.Failure.Floor; floor == nil || floor.Value != 0 {
		t.Errorf("a stuck valve spills %v", floor)
	}
}

// From a tank that nobody described, nobody knows how much a stuck valve spills: the plan says so,
// and how soon it begins, and makes up no number.
func TestUnknownTankFloods(t *testing.T) {
	open := intoOverflow(t)
	open.Feed = new(FromTank)
	closed := open
	closed.Container.Overflow = nil
	for code, r := range map[quantity.Code]Request{"stuck_valve_floods_overflow": open, "stuck_valve_floods_after": closed} {
		p := plan(t, r)
		if p.Draw.Failure.Floor != nil {
			t.Errorf("%s: spills %v", code, p.Draw.Failure.Floor)
		}
		n := noteIn(t, p.Cautions, code)
		if code == "stuck_valve_floods_overflow" {
			continue
		}
		fullest := 0.0
		for _, at := range p.Curve {
			fullest = max(fullest, float64(at.Volume.Value))
		}
		// By hand: the room under the rim divided by what the assumed hose passes.
		want := (20 - fullest) * 1000 / 60 / float64(p.Draw.Failure.Flow.Value)
		if got := float64(n.Params[0].(quantity.Estimate[quantity.Duration]).Value); math.Abs(got/want-1) > 0.02 {
			t.Errorf("full after %.3f h, want about %.3f", got, want)
		}
	}
}

// If the tank falls and the hose end must be hung again, a look says so each time.
func TestHoseHungAgain(t *testing.T) {
	r := scats(t, 4, "1 g")
	hose(t, &r, "4 mm", "2 m")
	r.Line.Head = read[quantity.Length](t, "60 cm")
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "200 L"), Surface: read[quantity.Area](t, "5000 cm2")}
	p := plan(t, r)
	looks := 0
	for _, c := range p.Checkpoints {
		if c.Why.Code == "look_at_hose" {
			looks++
		}
	}
	if n := len(p.Draw.Intakes); n < 2 || looks != n-1 {
		t.Errorf("%d runs, and the hose is hung again %d times", n, looks)
	}
}

// A difference that has in ppt the number of the limit in g/kg is within it; a whole ppt more is
// not.
func TestLimitAsPrinted(t *testing.T) {
	for _, c := range []struct {
		from, to string
		route    Route
	}{{"5 ppt", "8 ppt", Direct}, {"5 ppt", "8.1 ppt", Drip}, {"10 ppt", "16 ppt", Drip}} {
		r := crossing(t, c.from, c.to, animal(tolerance.Moderate))
		r.Container.StartVolume = read[quantity.Volume](t, "6 L")
		r.Line = nil
		p, err := NewPlan(t.Context(), r)
		if err != nil || p.Route != c.route {
			t.Errorf("%s to %s: route %s, %v", c.from, c.to, p.Route, err)
		}
	}
	refused(t, crossing(t, "10 ppt", "16.1 ppt", animal(tolerance.Moderate)), "to.salinity", "over_24_hours")
	r := crossing(t, "5 ppt", "8 ppt", animal(tolerance.Moderate))
	r.Line = nil
	r.Limits = &Limits{AtOnce: read[quantity.AbsoluteSalinity](t, "3 g/kg")}
	if p := plan(t, r); p.Route != Drip {
		t.Errorf("a limit that the keeper gave is widened: %s", p.Route)
	}
}

// What no container would change is refused before a container is asked for.
func TestTooFarBeforeContainer(t *testing.T) {
	r := crossing(t, "5 ppt", "25 ppt", animal(tolerance.Moderate))
	r.Container = Container{}
	_, err := NewPlan(t.Context(), r)
	if _, asked := errors.AsType[*instrument.MissingError](err); asked {
		t.Errorf("a container is asked for: %v", err)
	}
	refused(t, r, "to.salinity", "over_24_hours")
}

// If the container starts with more than the animals need, the rest goes before the drip and not
// after a few minutes of it.
func TestPourFirst(t *testing.T) {
	r := scats(t, 2, "1 g")
	r.Container.LeastVolume = read[quantity.Volume](t, "3 L")
	p := plan(t, r)
	first := p.Phases[0]
	if first.Kind != PourOff || first.FromVolume.Value != 6 || math.Abs(float64(first.ToVolume.Value)-3) > 1e-9 {
		t.Errorf("begins with %s from %v to %v", first.Kind, first.FromVolume, first.ToVolume)
	}
	r.Container.StartVolume = read[quantity.Volume](t, "3 L")
	if q := plan(t, r); math.Abs(float64(p.Duration.Value/q.Duration.Value)-1) > 0.02 {
		t.Errorf("takes %v, from 3 L at once %v", p.Duration, q.Duration)
	}
}

// A move of several legs says once, at its worst, what a stuck valve does.
func TestStuckValveSaidOnce(t *testing.T) {
	r := crossing(t, "5 ppt", "22 ppt", animal(tolerance.Moderate))
	r.HoldingTanks = &HoldingTanks{}
	p := plan(t, r)
	said, worst := 0, 0.0
	for _, n := range p.Cautions {
		if n.Code == "stuck_valve_empties_jug" {
			said++
			worst = float64(n.Params[1].(quantity.Estimate[quantity.AbsoluteSalinity]).Value)
		}
	}
	if said != 1 {
		t.Errorf("said %d times", said)
	}
	for _, c := range p.Draw.Charges {
		if float64(c.Change.Value) > worst*(1+1e-9) {
			t.Errorf("a charge changes %v, and %v is said", c.Change, worst)
		}
	}
}
