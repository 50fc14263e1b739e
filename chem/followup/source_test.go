package followup

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// After a correction the source holds what was not drawn, and the hose hangs less
// deep by what its surface came down. By hand: each litre more in the container is
// one less in the source, whose 7500 cm² come down by 1/7.5 cm for it.
func TestHoseAfterACorrection(t *testing.T) {
	r := quarantined(t)
	r.Container.StartVolume = read[quantity.Volume](t, "6.000(1) L")
	r.SourceTank = &transfer.SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "7500 cm2")}
	p, _ := begin(t, r)
	depth := (p.Draw.Intakes[0].Least.Value + p.Draw.Intakes[0].Greatest.Value) / 2
	r.Line.IntakeDepth = new(quantity.Exactly(depth))
	p, legs := begin(t, r)
	at := float64(p.Phases[0].Duration.Value) / 2
	_, litres := newKeeper(t, r, p, 0.7, 1).until(t, at)
	drawn := litres - float64(p.Phases[0].FromVolume.Value)
	c := follow(t, r, legs, entry(at).holds(litres, 0.001))
	if c.Verdict != Corrected {
		t.Fatalf("%s, %v", c.Verdict, c.Warnings)
	}
	after := c.Legs[1].Request
	if got := float64(after.SourceTank.Volume.Value); math.Abs(got-(450-drawn)) > 0.05 {
		t.Errorf("the source holds %.3f L, want %.3f", got, 450-drawn)
	}
	want := float64(depth) - drawn/7.5
	if after.Line.IntakeDepth == nil || math.Abs(float64(after.Line.IntakeDepth.Value)-want) > 0.007 {
		t.Fatalf("the hose hangs at %v, want %.3f cm", after.Line.IntakeDepth, want)
	}
	if got := float64(c.Plan.Draw.Intakes[0].Depth.Value); math.Abs(got-want) > 0.007 {
		t.Errorf("the plan has it at %.3f cm, want %.3f", got, want)
	}
}

// A hose that came to hang too near to the surface does not end the plan: it is
// hung again.
func TestHoseHungAnewAfterACorrection(t *testing.T) {
	r := quarantined(t)
	r.Container.Capacity = read[quantity.Volume](t, "11 L")
	r.Container.StartVolume = read[quantity.Volume](t, "6.000(1) L")
	r.SourceTank = &transfer.SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "7500 cm2")}
	r.Prefer = new(transfer.PreferVisits) // a long stretch, so that much is drawn by the look
	p, _ := begin(t, r)
	r.Line.IntakeDepth = new(quantity.Exactly(p.Draw.Intakes[0].Least.Value + 1e-4))
	p, legs := begin(t, r)
	at := float64(p.Phases[0].Duration.Value) * 0.8
	_, litres := newKeeper(t, r, p, 1.3, 1).until(t, at)
	c := follow(t, r, legs, entry(at).holds(litres, 0.001))
	if c.Verdict != Corrected {
		t.Fatalf("%s, %v", c.Verdict, c.Warnings)
	}
	for _, hose := range c.Plan.Draw.Intakes {
		if hose.Depth.Value < hose.Least.Value || hose.Depth.Value > hose.Greatest.Value {
			t.Errorf("the hose hangs at %v, outside %v to %v", hose.Depth, hose.Least, hose.Greatest)
		}
	}
}
