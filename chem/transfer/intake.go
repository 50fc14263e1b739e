package transfer

import (
	"math"

	"saltlock/chem/hydraulics"
	"saltlock/chem/quantity"
)

// Intake is how deep the end of the hose hangs below the surface of the source when a run of the
// drip starts: deep enough to stay under water to the end of the run, and so high that a failed
// valve cannot flood the floor, since the siphon breaks before the container runs over.
//
// It is valid for a source with upright walls that nothing refills.
type Intake struct {
	Time     quantity.Estimate[quantity.Duration] `json:"time"`     // of the run's start
	Least    quantity.Estimate[quantity.Length]   `json:"least"`    // the water of the run takes the surface down by this
	Greatest quantity.Estimate[quantity.Length]   `json:"greatest"` // the container is full to the rim when the surface has come down by this, or the source is empty
	Depth    quantity.Estimate[quantity.Length]   `json:"depth"`    // to hang it at: where it hangs already if that will do, otherwise midway
}

// HangsAfter reports whether the hose still hangs at a right depth where it was hung before,
// though the surface has fallen.
func (i Intake) HangsAfter(before Intake) bool {
	return math.Abs(float64(before.Depth.Value-before.Least.Value-i.Depth.Value)) < 1e-6
}

// lookAtHose says at each pour-off whether the hose must be hung again after it.
func (p *Plan) lookAtHose() {
	for i := 1; i < len(p.Draw.Intakes); i++ {
		hose := p.Draw.Intakes[i]
		if hose.HangsAfter(p.Draw.Intakes[i-1]) {
			continue
		}
		for k := range p.Checkpoints {
			if c := &p.Checkpoints[k]; c.Why.Code == "look_at_pour_off" && math.Abs(float64(c.Time.Value-hose.Time.Value)) < soon {
				c.Why = noteOf("look_at_hose", c.shows(), hose.Depth, hose.Least, hose.Greatest)
			}
		}
	}
}

// intakes returns one for each run, from one pour-off to the next. It is long because each begins
// where the one before left the source and the hose.
func (t *task) intakes(s *solved, v vat) ([]Intake, error) {
	source := t.request.SourceTank
	if source == nil || source.Surface == nil {
		t.checkUnseen()
		return nil, nil
	}
	if t.runsOver() { // what runs over goes to a bucket, not to the rim
		return nil, nil
	}
	surface, left := float64(source.Surface.Value), float64(source.Volume.Value)
	var list, flooding []Intake // all, and those that a hose too deep makes dangerous
	var hung *quantity.Length   // depth now, if the keeper gives it
	if line := t.request.Line; line != nil && line.IntakeDepth != nil {
		hung = new(line.IntakeDepth.Value)
	}
	at := 0.0
	for i := 0; i < len(s.legs); {
		first, start := s.legs[i], at
		drawn := 0.0
		for ; i < len(s.legs) && (drawn == 0 || !s.legs[i].pour); i++ {
			drawn += (s.legs[i].end() - s.legs[i].start()) / v.dropMass * v.drop
			at += s.legs[i].whole()
		}
		standing, _, err := t.volume(first, first.from)
		if err != nil {
			return nil, err
		}
		room := v.capacity - standing
		window, err := hydraulics.Intake(quantity.Volume(drawn), quantity.Volume(room), quantity.Volume(left), source.Surface.Value)
		if err != nil {
			return nil, err
		}
		hose := Intake{Time: hours(start + first.wait), Least: quantity.Exactly(window.Least), Greatest: quantity.Exactly(window.Greatest), Depth: quantity.Exactly((window.Least + window.Greatest) / 2)}
		switch {
		case hung == nil:
		case *hung >= hose.Least.Value && *hung <= hose.Greatest.Value:
			hose.Depth.Value = *hung
		case len(list) == 0:
			t.checkDepth(hose, quantity.Exactly(hydraulics.FallOf(quantity.Volume(left), source.Surface.Value)), surface)
			hung = nil
		default:
			hung = new(hose.Depth.Value)
		}
		if hung != nil {
			*hung -= hose.Least.Value
		}
		if list = append(list, hose); room < left {
			flooding = append(flooding, hose)
		}
		left -= drawn
	}
	t.checkHand(flooding, surface)
	return list, nil
}

// underWater is how deep a hose end is offered if nothing else is known, cm: proposed here.
const underWater = 2

// checkUnseen says what can be said about the keeper's intake if the surface area of the source is
// not known.
func (t *task) checkUnseen() {
	switch line := t.request.Line; {
	case line == nil || line.IntakeDepth == nil:
	case line.IntakeDepth.Value <= 0:
		t.refuse("line.intake_depth", noteOf("intake_above_water", *line.IntakeDepth), intakeTo(underWater))
	default:
		t.warn(noteOf("intake_not_checked", *line.IntakeDepth))
	}
}

// checkDepth checks the keeper's intake in the first run: it is refused if it cannot draw, and
// warned about if it can flood.
func (t *task) checkDepth(hose Intake, bottom quantity.Estimate[quantity.Length], surface float64) {
	given, least, greatest := *t.request.Line.IntakeDepth, hose.Least, hose.Greatest
	// To the millimetre, and inwards, so that the offer works as written.
	if up, down := math.Ceil(float64(least.Value)*10)/10, math.Floor(float64(greatest.Value)*10)/10; up <= down {
		least, greatest = centimetres(up), centimetres(down)
	}
	switch {
	case given.Value < hose.Least.Value:
		t.refuse("line.intake_depth", noteOf("intake_uncovered", given, least, greatest), intakeTo(float64(least.Value+greatest.Value)/2))
	case given.Value > bottom.Value:
		t.refuse("line.intake_depth", noteOf("intake_below_bottom", given, bottom, least, greatest), intakeTo(float64(least.Value+greatest.Value)/2))
	default:
		t.warn(noteOf("intake_too_deep", given, litres(float64(given.Value-hose.Greatest.Value)*surface/1000), least, greatest))
	}
}

// checkHand warns where a hose hung as well as hands can could still flood the
// floor, and of how much.
func (t *task) checkHand(list []Intake, surface float64) {
	narrowest, spill := math.Inf(1), 0.0
	for _, hose := range list {
		either := float64(hose.Greatest.Value - hose.Depth.Value)
		narrowest = min(narrowest, either)
		spill = max(spill, (float64(hydraulics.ByHand)-either)*surface/1000)
	}
	if narrowest < float64(hydraulics.ByHand) {
		t.warn(noteOf("intake_hardly_by_hand", quantity.Exactly(quantity.Length(narrowest)), quantity.Exactly(hydraulics.ByHand), litres(spill)))
	}
}
