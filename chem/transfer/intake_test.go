package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// A valve that fails open at any moment of a run fills the container to the rim
// at the most when the hose hangs at its greatest depth, and the hose stays under
// water to the end of the run when it hangs at its least.
func TestIntakes(t *testing.T) {
	r := sixLitres(t, "18 L", "0.5 g/kg", 3)
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "7500 cm2")}
	p, err := NewPlan(r)
	if err != nil {
		t.Fatal(err)
	}
	runs := p.PourOffs + 1
	if len(p.Draw.Intakes) != runs || runs < 2 {
		t.Fatalf("%d intakes for %d runs", len(p.Draw.Intakes), runs)
	}
	run, drawn := -1, 0.0
	for _, phase := range p.Phases {
		if phase.Kind == PourOff || run < 0 {
			run, drawn = run+1, 0
		}
		if phase.Kind != Fill {
			continue
		}
		hose := p.Draw.Intakes[run]
		for _, level := range []float64{float64(phase.FromVolume.Value), float64(phase.ToVolume.Value)} {
			if level == float64(phase.ToVolume.Value) {
				drawn += float64(phase.Flow.Value) * 60 / 1000 * float64(phase.Duration.Value)
			}
			left := float64(hose.Greatest.Value)*7500/1000 - drawn
			if full := level + left; math.Abs(full-18) > 0.01 {
				t.Errorf("at %.2f L a failed valve fills the container to %.3f L, want the rim at 18", level, full)
			}
		}
		if lowest := float64(hose.Least.Value) * 7500 / 1000; drawn > lowest+1e-6 {
			t.Errorf("%.3f L drawn, with the hose under %.3f L", drawn, lowest)
		}
		if hose.Depth.Value < hose.Least.Value || hose.Depth.Value > hose.Greatest.Value {
			t.Errorf("depth %v lies outside %v to %v", hose.Depth, hose.Least, hose.Greatest)
		}
	}
}

// Over a large surface no hand hangs the hose well enough, and the plan says what is
// at risk: in the run of 12 L from 6 to the rim of 18 there is no room for error,
// and a centimetre of 7500 cm2 is 7.5 L.
func TestIntakeByHand(t *testing.T) {
	none := sixLitres(t, "18 L", "0.5 g/kg", 3)
	none.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "7500 cm2")}
	if got := spilled(plan(t, none)); math.Abs(got-7.5) > 0.1 {
		t.Errorf("without freeboard over 7500 cm2: %g L at risk, want 7.5", got)
	}
	r := sixLitres(t, "20 L", "0.5 g/kg", 3)
	r.Container.Freeboard = read[quantity.Volume](t, "2 L")
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "400 cm2")}
	if got := spilled(plan(t, r)); got != 0 {
		t.Errorf("with 2 L of freeboard over 400 cm2, 2.5 cm either way: %g L at risk", got)
	}
}

// spilled is the volume that a plan warns of.
func spilled(p Plan) float64 {
	for _, n := range p.Warnings {
		if n.Code == "intake_hardly_by_hand" {
			return float64(n.Params[2].(quantity.Estimate[quantity.Volume]).Value)
		}
	}
	return 0
}

// Without the surface of the source nothing is said of the hose.
func TestIntakeNeedsSurface(t *testing.T) {
	p, err := NewPlan(sixLitres(t, "20 L", "3.282 g/kg", 2))
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Draw.Intakes) != 0 {
		t.Errorf("intakes %v of a source without a surface", p.Draw.Intakes)
	}
}
