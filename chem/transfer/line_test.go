package transfer

import (
	"errors"
	"math"
	"slices"
	"testing"

	"saltlock/chem/hydraulics"
	"saltlock/chem/instrument"
	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
)

// overCanister is the case of sixLitres out of a canister of 1000 cm², whose level
// falls by a centimetre for each litre, into a box of 600 cm², whose level rises by
// one for each 0.6 L. One setting draws 12 L: down 12 cm, up 20 cm.
func overCanister(t testing.TB) Request {
	t.Helper()
	r := sixLitres(t, "20 L", "3.282 g/kg", 1)
	r.Container.Shape, r.Container.Capacity = new(mixing.Box), nil
	r.Container.Length, r.Container.Width = read[quantity.Length](t, "30 cm"), read[quantity.Length](t, "20 cm")
	r.Container.Height, r.Container.Freeboard = read[quantity.Length](t, "40 cm"), read[quantity.Volume](t, "4 L")
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "40 L"), Surface: read[quantity.Area](t, "1000 cm2")}
	r.Line.Head = read[quantity.Length](t, "40 cm")
	r.Prefer = new(PreferVisits) // one filling
	return r
}

func hose(t testing.TB, r *Request, bore, length string) {
	t.Helper()
	r.Line.Bore, r.Line.Length = read[quantity.Length](t, bore), read[quantity.Length](t, length)
}

// codes are those of the notes.
func codes(notes []quantity.Note) []string {
	var all []string
	for _, n := range notes {
		all = append(all, string(n.Code))
	}
	return all
}

// By hand, up and down in salinity: a free end loses 12 of 40 cm of head, leaving 0.7
// of the drip of a clamp and √0.7 of that of an orifice; an end under water 32 of 40,
// leaving 0.2 and √0.2.
func TestDriftByHand(t *testing.T) {
	for _, c := range []struct {
		submerged     bool
		end, lo, hi   float64
		warns, lifted bool
	}{{false, 28, 0.7, 0.83666, true, false}, {true, 8, 0.2, 0.44721, true, true}} {
		for _, down := range []bool{false, true} {
			r := overCanister(t)
			if down {
				r.From, r.To, r.Animals = r.To, r.From, []Animal{ofFresh(animal(carefulClass))}
			}
			r.Line.OutletSubmerged = new(c.submerged)
			p := plan(t, r)
			if len(p.Draw.Drifts) != 1 {
				t.Fatalf("%d drifts of one setting", len(p.Draw.Drifts))
			}
			d := p.Draw.Drifts[0]
			// The gap is closed by mass, and a litre of the two waters differs by 0.7 %: of 32 cm, 0.3.
			for name, v := range map[string][3]float64{"head": {float64(d.Head.Value), 40, 1e-9}, "head at the end": {float64(d.HeadAtEnd.Value), c.end, 0.3},
				"least": {float64(d.LeastAtEnd.Value), c.lo, 0.01}, "greatest": {float64(d.GreatestAtEnd.Value), c.hi, 0.01}, "at the start": {float64(d.AtStart.Value), 1, 1e-9}} {
				if math.Abs(v[0]-v[1]) > v[2] {
					t.Errorf("submerged %v, down %v: %s %g, want %g", c.submerged, down, name, v[0], v[1])
				}
			}
			if got := slices.Contains(codes(p.Warnings), "drip_slows"); got != c.warns {
				t.Errorf("submerged %v: warns of slowing: %v", c.submerged, got)
			}
			if got := slices.Contains(codes(p.Cautions), "submerged_outlet_runs_back"); got != c.lifted {
				t.Errorf("submerged %v: cautions of running back: %v", c.submerged, got)
			}
		}
	}
}

// Over a tank so large that the head stays within a twentieth, nothing is said.
func TestSmallDriftIsNotTold(t *testing.T) {
	r := overCanister(t)
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "7500 cm2")}
	p := plan(t, r)
	if d := p.Draw.Drifts[0]; d.LeastAtEnd.Value < 0.95 || d.LeastAtEnd.Value > 0.97 { // 12 L take 1.6 cm of 40
		t.Errorf("drift to %g, want 0.96", float64(d.LeastAtEnd.Value))
	}
	if slices.Contains(codes(p.Warnings), "drip_slows") {
		t.Errorf("warnings %v tell of a drift within counting", p.Warnings)
	}
}

// A valve that was set against a high level in the container, and left as it is when that level is
// poured off, runs faster than it was set.
func TestDripQuickensAfterPourOff(t *testing.T) {
	task := &task{}
	run := leg{from: 2, to: 1, deficit: 1, flow: 1}
	first, second, third := run, run, run
	first.set, second.set, third.pour = true, true, true
	list, err := task.drifts([]leg{first, second, third}, []heads{{40, 30}, {30, 20}, {36, 27}})
	if err != nil {
		t.Fatal(err)
	}
	want := [][3]float64{{1, 0.75, math.Sqrt(0.75)}, {1, 2. / 3, math.Sqrt(2. / 3)}, {1.2, 0.9, math.Sqrt(0.9)}}
	for i, d := range list {
		for k, got := range []quantity.Fraction{d.AtStart.Value, d.LeastAtEnd.Value, d.GreatestAtEnd.Value} {
			if math.Abs(float64(got)-want[i][k]) > 1e-12 {
				t.Errorf("leg %d: %g, want %g", i, float64(got), want[i][k])
			}
		}
	}
	if got := codes(task.warnings); !slices.Contains(got, "drip_quickens") || !slices.Contains(got, "drip_slows") {
		t.Errorf("warnings %q", got)
	}
}

// Levels that are not known are assumed to stay, and the plan says so.
func TestDriftNeedsLevels(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 1)
	r.Line.Head, r.Line.OutletSubmerged = read[quantity.Length](t, "40 cm"), new(true)
	p := plan(t, r)
	if got := codes(p.Assumptions); len(p.Draw.Drifts) != 0 || !slices.Contains(got, "source_level_taken_to_stand") || !slices.Contains(got, "container_level_taken_to_stand") {
		t.Errorf("drifts %v, assumptions %q", p.Draw.Drifts, got)
	}
}

// The flow of 1 m of 4 mm under 30 cm of sea water at 25 °C is 587 mL/min, worked
// elsewhere by the laws of Hagen and Poiseuille and of Blasius: 14 L in 23.9 min.
func TestOpenLine(t *testing.T) {
	r := sixLitres(t, "20 L", "4.5 g/kg", 3)
	r.To = water(t, "35 ppt", "25 C")
	r.Container.Freeboard = read[quantity.Volume](t, "2 L") // the rim is what floods, not the mark under it
	hose(t, &r, "4 mm", "1 m")
	r.Line.Head = read[quantity.Length](t, "30 cm")
	p := plan(t, r)
	open := p.Draw.OpenLine
	if math.Abs(float64(open.Flow.Value)-587) > 1 || open.Regime != hydraulics.Transitional || math.Abs(float64(open.Flow.U/open.Flow.Value)-0.15) > 1e-9 {
		t.Errorf("%v ± %v, %s, want 587 ± 15 %%, transitional", open.Flow.Value, open.Flow.U, open.Regime)
	}
	if got := float64(open.TimeToRim.Value) * 60; math.Abs(got-14/0.587) > 0.1 {
		t.Errorf("full after %g min, want 23.9", got)
	}
	fullest := 0.0
	for _, at := range p.Curve {
		fullest = max(fullest, float64(at.Volume.Value))
	}
	if got := float64(open.LeastTimeToRim.Value) * 60; math.Abs(got-(20-fullest)/0.587) > 0.1 {
		t.Errorf("full within %g min from %g L", got, fullest)
	}
	if !slices.Contains(codes(p.Warnings), "open_line_fills") || !slices.Contains(p.Methods, hydraulics.OpenFlowMethod) {
		t.Errorf("warnings %q, methods %q", codes(p.Warnings), p.Methods)
	}
	r.Line.Bore.U = 0.02 // half a notch of a caliper: the flow knows
	if wide := plan(t, r).Draw.OpenLine.Flow.U; wide <= open.Flow.U*1.1 {
		t.Errorf("a bore good to 0.2 mm leaves the flow good to %g, as before %g", float64(wide), float64(open.Flow.U))
	}
}

// An independent draining, step by step with the head that is left, takes longer than the plan
// says, but not so much longer that nobody would believe the plan.
func TestTimeToRimComesEarly(t *testing.T) {
	r := overCanister(t)
	r.Line.OutletSubmerged, r.Line.Head = new(true), read[quantity.Length](t, "60 cm")
	hose(t, &r, "5 mm", "2 m")
	planned := float64(plan(t, r).Draw.OpenLine.TimeToRim.Value) * 60
	volume, head, minutes := 6.0, 60.0, 0.0
	for volume < 24 {
		s, err := hydraulics.OpenFlow(hydraulics.Line{Bore: 0.5, Length: 200, Head: quantity.Length(head)}, 10.047, 25)
		if err != nil {
			t.Fatal(err)
		}
		const step = 0.01 // L: a canister of 1000 cm² and a box of 600 cm² lose and gain level
		volume, minutes, head = volume+step, minutes+step*1000/float64(s.Flow), head-step-step/0.6
	}
	if planned > minutes || planned < minutes/2 {
		t.Errorf("full after %g min by the plan, %g by the draining", planned, minutes)
	}
}

// A box of 40 cm that holds 10 cm at the start and whose source sinks by 18 cm as it
// fills evens out with a head of less than 48 cm, if the end of the hose is under
// water, and never fills from a canister of less than the 18 L it has room for.
func TestOpenLineEvensOut(t *testing.T) {
	for _, c := range []struct {
		head, volume string
		fills        bool
	}{{"47.5 cm", "40 L", false}, {"48.5 cm", "40 L", true}, {"60 cm", "17.9 L", false}, {"60 cm", "18.1 L", true}} {
		r := overCanister(t)
		r.Line.OutletSubmerged, r.Line.Head = new(true), read[quantity.Length](t, c.head)
		r.SourceTank.Volume = *read[quantity.Volume](t, c.volume)
		hose(t, &r, "5 mm", "1 m")
		p := plan(t, r)
		if got := p.Draw.OpenLine.TimeToRim != nil; got != c.fills || slices.Contains(codes(p.Warnings), "open_line_evens_out") == c.fills {
			t.Errorf("head %s, %s: fills %v, warnings %q", c.head, c.volume, got, codes(p.Warnings))
		}
	}
}

// What a refusal of the line offers leads to a plan.
func TestLineRefusalsFree(t *testing.T) {
	narrow := overCanister(t)
	hose(t, &narrow, "0.5 mm", "1 m")
	narrow.Line.LeastDrip = read[quantity.DripRate](t, "0.5 drops/s") // else the planner drips as slowly as the hose passes
	low, under := overCanister(t), overCanister(t)
	low.Line.Head = read[quantity.Length](t, "1 cm") // any drip draws more than a litre from 1000 cm²
	under.Line.Head = read[quantity.Length](t, "-5 cm")
	for name, c := range map[string]struct {
		r           Request
		where, code string
		param       int
		set         func(l *Line, to any)
	}{
		"wider bore": {narrow, "line.bore", "needs_wider_bore", 0, func(l *Line, to any) {
			l.Bore = new(to.(quantity.Estimate[quantity.Length]))
		}},
		"head too small": {low, "line.head", "head_runs_out", 1, func(l *Line, to any) { l.Head = new(to.(quantity.Estimate[quantity.Length])) }},
		"negative head":  {under, "line.head", "head_runs_out", 1, func(l *Line, to any) { l.Head = new(to.(quantity.Estimate[quantity.Length])) }},
	} {
		f := refused(t, c.r, c.where, c.code)
		if f.Where == "" {
			continue
		}
		freed := copied(c.r)
		c.set(freed.Line, f.Note.Params[c.param])
		if _, err := NewPlan(t.Context(), freed); err != nil {
			t.Errorf("%s: with what it asks for, still %v", name, err)
		}
	}
}

// A flow needs bore, length and head together; what is missing is named, all at once.
func TestLineIsWhole(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 1)
	r.Line.Bore = read[quantity.Length](t, "4 mm")
	_, err := NewPlan(t.Context(), r)
	for _, name := range []string{"line.length", "line.head"} {
		found := false
		for _, e := range leaves(err) {
			missing, ok := errors.AsType[*instrument.MissingError](e)
			found = found || ok && missing.Name == name
		}
		if !found {
			t.Errorf("%v does not miss %s", err, name)
		}
	}
}

// leaves are the errors that are joined in one.
func leaves(err error) []error {
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return []error{err}
	}
	var all []error
	for _, e := range joined.Unwrap() {
		all = append(all, leaves(e)...)
	}
	return all
}

// A drop that nobody counted is that of the tip; a counted one is compared with it. A dropper of 3
// mm makes 0.05 mL within a tenth [USP1101], an air line of 6 mm 12 drops to the millilitre.
func TestDropOfTip(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 1)
	r.Line.DropVolume, r.Line.TipDiameter = nil, read[quantity.Length](t, "6 mm")
	p := plan(t, r)
	fill := p.Phases[0]
	if got := float64(fill.Flow.Value) / 60 / float64(fill.Drip.Value); math.Abs(got-1./12) > 0.002 {
		t.Errorf("a drop of %g mL, want a twelfth", got)
	}
	if got := codes(p.Assumptions); !slices.Contains(got, "drop_volume_of_tip") || slices.Contains(got, "drop_volume_assumed") {
		t.Errorf("assumptions %q", got)
	}
	for tip, doubted := range map[string]bool{"3 mm": false, "6 mm": true} {
		r.Line.DropVolume, r.Line.TipDiameter = read[quantity.Volume](t, "0.05 mL"), read[quantity.Length](t, tip)
		if got := slices.Contains(codes(plan(t, r).Warnings), "drop_volume_unlike_tip"); got != doubted {
			t.Errorf("0.05 mL from a tip of %s: doubted %v", tip, got)
		}
	}
}
