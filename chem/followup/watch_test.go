package followup

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// Water that turns cold or hot during a drip stops it, until it reads right again.
func TestWarmthOff(t *testing.T) {
	r := quarantined(t)
	p, legs := begin(t, r)
	sa, litres := newKeeper(t, r, p, 1, 1).until(t, 1)
	for _, apart := range []float64{-9, 10, 0.5} {
		e := entry(1).reads(sa, 0.1).holds(litres, 0.05)
		e.Temperature = new(quantity.Exactly(r.From.Temperature.Value + quantity.Celsius(apart)))
		c := follow(t, r, legs, e)
		if off := math.Abs(apart) > warmthApart; off != (c.Verdict == Paused) || off && (c.Now.Code != "act_close_clamp" && c.Now.Code != "act_unplug_and_close" || c.Plan != nil || len(c.Then) == 0) {
			t.Errorf("%v degrees off: %s, %s", apart, c.Verdict, c.Now.Code)
		}
	}
}

// Animals that refuse food during a drip are still in the container, at its salinity.
func TestNotFeedingDuringDrip(t *testing.T) {
	r := quarantined(t)
	p, legs := begin(t, r)
	sa, litres := newKeeper(t, r, p, 1, 1).until(t, 1)
	e := entry(1).reads(sa, 0.1).holds(litres, 0.05)
	e.Behaviour = new(NotFeeding)
	c := follow(t, r, legs, e)
	if got := float64(c.PracticalSalinity.Value) * quantity.GramsPerPractical; c.Verdict != Stopped || math.Abs(got-sa) > 0.2 {
		t.Errorf("%s at %.2f g/kg, want stopped at %.2f", c.Verdict, got, sa)
	}
}

// An event that carries what it would ask for is answered from that.
func TestLateWithReadings(t *testing.T) {
	r := quarantined(t)
	p, legs := begin(t, r)
	sa, litres := newKeeper(t, r, p, 1, 1).until(t, 2)
	e := entry(2).reads(sa, 0.1).holds(litres, 0.05)
	e.Event = new(Late)
	if c := follow(t, r, legs, e); c.Verdict == Paused {
		t.Errorf("late, with readings: %s, %s", c.Verdict, c.Now.Code)
	}
}
