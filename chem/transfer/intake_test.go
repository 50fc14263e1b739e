package transfer

import (
	"math"
	"slices"
	"strings"
	"testing"

	"saltlock/chem/quantity"
)

// A valve that fails open at any moment of a run fills the container to the rim at most, if the
// hose hangs at its greatest depth; and the hose stays under water to the end of the run, if it
// hangs at its least.
func TestIntakes(t *testing.T) {
	r := sixLitres(t, "18 L", "0.5 g/kg", 3)
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "7500 cm2")}
	p, err := NewPlan(t.Context(), r)
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

// Over a large surface no hand hangs the hose exactly enough, and the plan says what is at risk:
// in the run of 12 L from 6 to the rim of 18 there is no room for error, and one centimetre of
// 7500 cm2 is 7.5 L.
func TestIntakeByHand(t *testing.T) {
	none := sixLitres(t, "18 L", "0.5 g/kg", 3)
	none.Prefer = new(PreferVisits) // so that it is filled to the rim
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

// Without the surface area of the source nothing is said about the hose.
func TestIntakeNeedsSurface(t *testing.T) {
	p, err := NewPlan(t.Context(), sixLitres(t, "20 L", "3.282 g/kg", 2))
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Draw.Intakes) != 0 {
		t.Errorf("intakes %v of a source without a surface", p.Draw.Intakes)
	}
}

// The keeper's own depth, over a canister of 1000 cm² that gives 12 L to a container with room for
// 14: from 12 to 14 cm. A centimetre deeper, a litre can spill. It is long because all depths
// belong to this one hose.
func TestIntakeDepthGiven(t *testing.T) {
	hung := func(depth string) Request {
		r := sixLitres(t, "20 L", "3.282 g/kg", 1)
		r.Prefer = new(PreferVisits) // one filling
		r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "40 L"), Surface: read[quantity.Area](t, "1000 cm2")}
		r.Line.IntakeDepth = read[quantity.Length](t, depth)
		return r
	}
	p := plan(t, hung("12.7 cm"))
	if got := p.Draw.Intakes[0].Depth.Value; got != 12.7 || len(risks(p)) != 0 {
		t.Errorf("hung at 12.7 cm, planned at %g, warnings %q", float64(got), risks(p))
	}
	for depth, code := range map[string]string{"11.5 cm": "intake_uncovered", "0 cm": "intake_uncovered", "-3 cm": "intake_uncovered", "41 cm": "intake_below_bottom"} {
		f := refused(t, hung(depth), "line.intake_depth", code)
		n := len(f.Note.Params)
		for i, want := range []float64{12, 14} {
			offered := f.Note.Params[n-2+i].(quantity.Estimate[quantity.Length])
			if math.Abs(float64(offered.Value)-want) > 0.11 {
				t.Errorf("%s: offers %g, want %g", depth, float64(offered.Value), want)
			}
			freed := hung(depth)
			freed.Line.IntakeDepth = &offered
			if got := risks(plan(t, freed)); len(got) != 0 {
				t.Errorf("%s: hung at %g as offered, warnings %q", depth, float64(offered.Value), got)
			}
		}
	}
	deep := plan(t, hung("15 cm"))
	told := false
	for _, n := range deep.Warnings {
		if n.Code == "intake_too_deep" {
			told = math.Abs(float64(n.Params[1].(quantity.Estimate[quantity.Volume]).Value)-1) < 0.01
		}
	}
	if hose := deep.Draw.Intakes[0]; !told || hose.Depth.Value < hose.Least.Value || hose.Depth.Value > hose.Greatest.Value {
		t.Errorf("hung at 15 cm: warnings %v, depth %v", deep.Warnings, hose.Depth)
	}
	for depth, code := range map[string]string{"-1 cm": "intake_above_water", "0 cm": "intake_above_water"} {
		r := hung(depth)
		r.SourceTank = nil
		refused(t, r, "line.intake_depth", code)
	}
	r := hung("5 cm")
	r.SourceTank = nil
	if got := codes(plan(t, r).Warnings); !slices.Contains(got, "intake_not_checked") {
		t.Errorf("without a surface: warnings %q", got)
	}
}

// risks are the warnings of the hose.
func risks(p Plan) []string {
	return slices.DeleteFunc(codes(p.Warnings), func(code string) bool { return !strings.HasPrefix(code, "intake") || code == "intake_hardly_by_hand" })
}

// A hose left where it hangs gradually comes out of the water: it keeps its place in the source as
// long as that will do, and is hung again in the run where it no longer does.
func TestIntakeIsHungAnew(t *testing.T) {
	r := sixLitres(t, "18 L", "0.5 g/kg", 3)
	r.Container.Freeboard = read[quantity.Volume](t, "6 L")
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "1000 cm2")}
	r.Line.IntakeDepth = read[quantity.Length](t, "12 cm")
	list := plan(t, r).Draw.Intakes
	if len(list) < 3 {
		t.Fatalf("%d runs", len(list))
	}
	now, anew := 12.0, 0
	for i, hose := range list {
		depth := float64(hose.Depth.Value)
		if depth < float64(hose.Least.Value) || depth > float64(hose.Greatest.Value) {
			t.Errorf("run %d: hung at %g, outside %g to %g", i, depth, float64(hose.Least.Value), float64(hose.Greatest.Value))
		}
		if math.Abs(depth-now) > 1e-9 {
			if anew++; now >= float64(hose.Least.Value) {
				t.Errorf("run %d: hung anew at %g, though %g would do", i, depth, now)
			}
		}
		now = depth - float64(hose.Least.Value)
	}
	if anew == 0 {
		t.Error("never hung anew")
	}
}

// A source with less water than the container has room for cannot flood it: the hose may hang at
// the bottom, and no hand has to be steady.
func TestIntakeInSmallCanister(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 1)
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "13 L"), Surface: read[quantity.Area](t, "5000 cm2")}
	p := plan(t, r)
	hose := p.Draw.Intakes[0]
	if got := float64(hose.Greatest.Value); math.Abs(got-2.6) > 1e-9 || spilled(p) != 0 {
		t.Errorf("greatest depth %g of a canister 2.6 cm deep, %g L at risk", got, spilled(p))
	}
}

// Common practice, no source, hangs the end of the hose a fifth of the depth under water. In a
// tank of 450 L, 60 cm deep, that is 12 cm, at which a failed valve spills (12 − 14/7.5)·7.5 = 76
// L: the plan differs, and says why.
func TestFifthOfDepthWouldFlood(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 1)
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "7500 cm2")}
	r.Line.IntakeDepth = read[quantity.Length](t, "12 cm")
	p := plan(t, r)
	i := slices.Index(codes(p.Warnings), "intake_too_deep")
	if i < 0 {
		t.Fatalf("warnings %q", codes(p.Warnings))
	}
	if spill := float64(p.Warnings[i].Params[1].(quantity.Estimate[quantity.Volume]).Value); math.Abs(spill-76) > 0.5 {
		t.Errorf("%g L would spill, want 76", spill)
	}
}
