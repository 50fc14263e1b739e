package transfer

import (
	"errors"
	"math"

	"saltlock/chem/hydraulics"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// spareHead is the head that a refusal asks for at the end of a drip, cm. Proposed here.
const spareHead = 1

// alikeDrops is by what share a counted drop may differ from that of its tip before a plan doubts
// it: about two standard uncertainties of a tip measured to 0.5 mm. Proposed here.
const alikeDrops = 0.25

// heightRange is wider than a house; what does not hang high enough is refused with the height
// that would do, not as out of range.
var heightRange = quantity.Range[quantity.Length]{Lo: -1000, Hi: 1000}

// check returns what is wrong with the numbers of a line, or missing beside them.
func (l Line) check() error {
	faults := []error{
		within(hydraulics.Bore, "line.bore", l.Bore),
		within(hydraulics.HoseLength, "line.length", l.Length),
		within(heightRange, "line.head", l.Head),
		within(hydraulics.TipDiameter, "line.tip_diameter", l.TipDiameter),
		within(heightRange, "line.intake_depth", l.IntakeDepth),
	}
	if l.Head != nil && l.Head.Value > 0 {
		faults = append(faults, quantity.Range[quantity.Length]{Hi: hydraulics.Head.Hi}.Check("line.head", l.Head.Value))
	}
	if l.Bore != nil || l.Length != nil {
		for _, part := range []struct {
			name string
			e    *quantity.Estimate[quantity.Length]
		}{{"line.bore", l.Bore}, {"line.length", l.Length}, {"line.head", l.Head}} {
			if part.e == nil {
				faults = append(faults, &instrument.MissingError{Name: part.name, Why: "what runs through an open line follows from its bore, length and head together", Note: quantity.Note{Code: "line_incomplete"}})
			}
		}
	}
	return errors.Join(faults...)
}

// dropOfTip takes the drop that falls from the tip, or compares it with the one given.
func (t *task) dropOfTip(v *vat) error {
	line := t.request.Line
	if line == nil || line.TipDiameter == nil {
		return nil
	}
	drop, err := quantity.Propagate1(func(tip quantity.Length) (quantity.Volume, error) {
		return hydraulics.DropVolume(tip, quantity.AbsoluteSalinity(t.to.sa), quantity.Celsius(t.to.t))
	}, hydraulics.DropVolumeFit, *line.TipDiameter)
	switch {
	case err != nil:
		return err
	case line.DropVolume == nil:
		v.drop = float64(drop.Value)
		t.assume(noteOf("drop_volume_of_tip", drop))
	case math.Abs(float64(line.DropVolume.Value/drop.Value)-1) > alikeDrops:
		t.warn(noteOf("drop_volume_unlike_tip", *line.DropVolume, drop))
	}
	return nil
}

// plumb adds to the draw what the line does: where its ends hang, what it passes when open, how
// the drip drifts. It is long because it fills in every field of the draw.
func (t *task) plumb(p *Plan, s *solved, v vat) error {
	if p.Draw == nil {
		return nil
	}
	var noIntakes, noOpenLine error
	if p.Draw.Feed == FromTank {
		p.Draw.Intakes, noIntakes = t.intakes(s, v)
	}
	if len(p.Draw.Intakes) > 0 {
		p.Methods = append(p.Methods, hydraulics.IntakeMethod)
	}
	line := t.request.Line
	if line == nil {
		return noIntakes
	}
	if line.TipDiameter != nil {
		p.Methods = append(p.Methods, hydraulics.DropVolumeMethod, hydraulics.SurfaceTensionMethod)
	}
	if t.submerged() {
		t.caution(noteOf("submerged_outlet_runs_back"))
	}
	switch {
	case line.Head == nil:
		return noIntakes
	case t.runsOver():
		t.assume(noteOf("hose_not_followed_with_overflow"))
		return noIntakes
	}
	heads, err := t.heads(s.legs, v)
	if err != nil || !t.flows(heads) {
		return errors.Join(noIntakes, err)
	}
	var noDrifts error
	if p.Draw.Drifts, noDrifts = t.drifts(s.legs, heads); len(p.Draw.Drifts) > 0 {
		p.Methods = append(p.Methods, hydraulics.DriftMethod)
	}
	if line.Bore != nil {
		p.Draw.OpenLine, noOpenLine = t.openLine(s.legs, heads, v, *p.Draw)
		p.Methods = append(p.Methods, hydraulics.OpenFlowMethod, seawater.ViscosityMethod)
	}
	return errors.Join(noIntakes, noDrifts, noOpenLine)
}

// heads are the head at the start of a leg and at its end, cm.
type heads struct{ start, end float64 }

// heads follows the head through the drip. The source sinks by what is drawn; a container with the
// end of the hose in its water rises against it. A level that the request does not determine is
// assumed to stay, and the plan says so.
func (t *task) heads(legs []leg, v vat) ([]heads, error) {
	if t.sinks() == 0 {
		t.assume(noteOf("source_level_taken_to_stand"))
	}
	if t.submerged() && !t.shaped() {
		t.assume(noteOf("container_level_taken_to_stand"))
	}
	drawn := 0.0
	head := func(s leg, gap float64) (float64, error) {
		volume, _, err := t.volume(s, gap)
		if err != nil || !t.submerged() || !t.shaped() {
			return t.headAfter(drawn, 0), err
		}
		first, noFirst := t.request.Container.level(v.start)
		now, noNow := t.request.Container.level(volume)
		if err := errors.Join(noFirst, noNow); err != nil {
			return 0, err
		}
		return t.headAfter(drawn, float64(now.Value-first.Value)), nil
	}
	var list []heads
	for _, s := range legs {
		start, noStart := head(s, s.from)
		drawn += (s.end() - s.start()) / v.dropMass * v.drop
		end, noEnd := head(s, s.to)
		if err := errors.Join(noStart, noEnd); err != nil {
			return nil, err
		}
		list = append(list, heads{start, end})
	}
	return list, nil
}

// headAfter is the head, cm, when so many litres were drawn and the container, if its level
// counts, has risen by so many centimetres.
func (t *task) headAfter(drawn, risen float64) float64 {
	return float64(t.request.Line.Head.Value) - drawn*t.sinks() - risen
}

// sinks is by how many centimetres a litre lowers the source; 0 if its surface area is not known.
func (t *task) sinks() float64 {
	if source := t.request.SourceTank; source != nil && source.Surface != nil {
		return float64(hydraulics.FallOf(1, source.Surface.Value))
	}
	return 0
}

func (t *task) submerged() bool {
	line := t.request.Line
	return line.OutletSubmerged != nil && *line.OutletSubmerged
}

func (t *task) shaped() bool {
	_, ok := t.request.Container.vessel()
	return ok
}

// flows refuses a head that does not last to the end of the drip.
func (t *task) flows(heads []heads) bool {
	given := t.request.Line.Head
	least := math.Inf(1)
	for _, h := range heads {
		least = min(least, h.end)
	}
	if least >= float64(hydraulics.Head.Lo) {
		return true
	}
	t.refuse("line.head", noteOf("head_runs_out", *given, quantity.Exactly(given.Value+quantity.Length(spareHead-least))), headTo(roundedUp(float64(given.Value)+spareHead-least)))
	return false
}

func centimetres(l float64) quantity.Estimate[quantity.Length] {
	return quantity.Exactly(quantity.Length(l))
}
