package followup

import (
	"math"
	"testing"

	"saltlock/chem/tolerance"
)

// Distress stops the plan and goes half a step back, never past the old water.
func TestDistress(t *testing.T) {
	r := quarantined(t)
	p, legs := begin(t, r)
	k := newKeeper(t, r, p, 1, 1)
	sa, litres := k.until(t, 2.5)
	e := entry(2.5).reads(sa, 0.1).holds(litres, 0.05)
	e.Behaviour = new(Gasping)
	c := follow(t, r, legs, e)
	if c.Verdict != Stopped || c.Plan != nil || c.StepBack == nil {
		t.Fatalf("%s with plan %v, back %v", c.Verdict, c.Plan, c.StepBack)
	}
	// Half of 5 g/kg, the limit at once of hardy animals going up, by swapping their water for the old, cup by cup.
	if math.Abs(float64(c.StepBack.Change.Value)-2.5) > 1e-9 {
		t.Errorf("back by %v", c.StepBack.Change)
	}
	share := 1 - math.Exp(-float64(c.StepBack.OldWater.Value)/litres)
	if mixed := sa*(1-share) + 2*1.00472*share; math.Abs(sa-mixed-2.5) > 0.1 {
		t.Errorf("%v of old water in %.2f L leave %.2f g/kg of %.2f", c.StepBack.OldWater, litres, mixed, sa)
	}
	early := entry(0.1)
	early.Behaviour = new(LossOfBalance)
	if c := follow(t, r, legs, early); c.Verdict != Stopped || c.StepBack != nil {
		t.Errorf("after six minutes: %s, back by %v", c.Verdict, c.StepBack)
	}
}

// A moult stops the drip and is left alone: nothing is poured back, and nothing goes on for a day.
func TestMoult(t *testing.T) {
	r := quarantined(t)
	_, legs := begin(t, r)
	e := entry(2.5).reads(4, 0.1)
	e.Behaviour = new(Moults)
	c := follow(t, r, legs, e)
	if c.Verdict != Stopped || c.Plan != nil || c.StepBack != nil || c.Now.Code != "act_close_clamp" || c.WayOn == nil || float64(c.WayOn.Earliest.Value) < 26.5 {
		t.Errorf("%s, %v, plan %v, back %v, on %v", c.Verdict, c.Now, c.Plan, c.StepBack, c.WayOn)
	}
}

// A move in one step and a ramp are judged against their plan, and stopped by distress.
func TestWithoutDrip(t *testing.T) {
	r := crossing(t, "2 ppt", "5 ppt", animal(tolerance.Hardy))
	r.Line, r.Start = nil, &firstDrop
	_, legs := begin(t, r)
	c := follow(t, r, legs, entry(1).reads(5, 0.2), entry(2).reads(9, 0.2))
	if c.Verdict != Paused || c.Readings[0].Suspect || !c.Readings[1].Suspect {
		t.Errorf("%s, %+v", c.Verdict, c.Readings)
	}
	e := entry(24)
	e.Behaviour = new(Gasping)
	if c = follow(t, r, legs, e); c.Verdict != Stopped || c.StepBack == nil || math.Abs(float64(c.StepBack.Change.Value)-1.5*1.00472) > 1e-3 { // half of what was changed
		t.Errorf("%s, back %+v", c.Verdict, c.StepBack)
	}
}
