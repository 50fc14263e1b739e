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
