package server

import (
	"cmp"
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/render"
)

// step is what is done at one visit.
type step struct {
	after quantity.Estimate[quantity.Duration]
	texts []string
}

// planSteps joins acts at the same time, and joins the rest before a release to the release.
func planSteps(v render.Voice, p *transfer.Plan) []step {
	var steps []step
	part := 0
	for i, phase := range p.Phases {
		released := phase.Kind == transfer.Free && i > 0 && p.Phases[i-1].Kind == transfer.Rest
		if n := len(steps) - 1; n < 0 || p.Route == transfer.OutOfBag || !released && phase.Start.Value != steps[n].after.Value {
			s := step{after: phase.Start}
			if phase.Kind == transfer.WaterChange { // its sentence names the day
				s.after = quantity.Estimate[quantity.Duration]{}
			}
			steps = append(steps, s)
		}
		s := &steps[len(steps)-1]
		if phase.Stage != nil && *phase.Stage > part {
			part = *phase.Stage
			s.texts = append(s.texts, v.Say("stage_starts", part, len(p.Stages)))
		}
		if drips(phase.Kind) && phase.FromVolume != nil && (i == 0 || phase.Stage != nil && !sameStage(p.Phases[i-1], phase)) {
			s.texts = append(s.texts, v.Say("step_begins_with", *phase.FromVolume))
		}
		s.texts = append(s.texts, jugs(v, p, phase)...)
		s.texts = append(s.texts, phase.Instruction.Text)
		s.texts = append(s.texts, wastes(v, p, phase)...)
		s.texts = append(s.texts, readings(v, p, phase)...)
		s.texts = append(s.texts, hoseEnd(v, p, phase)...)
	}
	return steps
}

// warmthSteps are the steps on temperature before all others, or those after them.
func warmthSteps(p *transfer.Plan, before bool) []step {
	if p.Temperature == nil {
		return nil
	}
	notes := p.Temperature.Last
	if before {
		notes = p.Temperature.First
	}
	var steps []step
	for _, n := range notes {
		steps = append(steps, step{texts: []string{n.Text}})
	}
	return steps
}

// sameStage reports whether two phases belong to the same stage of a long move.
func sameStage(a, b transfer.Phase) bool { return a.Stage != nil && *a.Stage == *b.Stage }

// readings say what the keeper's own instrument should show at the end of a phase.
func readings(v render.Voice, p *transfer.Plan, phase transfer.Phase) []string {
	end := phase.Start.Value + phase.Duration.Value
	if phase.Kind == transfer.WaterChange {
		end++ // the look comes an hour after it
	}
	for _, c := range p.Checkpoints {
		if c.Volume == nil && p.Route != transfer.ByMarks || math.Abs(float64(c.Time.Value-end)) > 1e-6 {
			continue
		}
		switch {
		case drips(phase.Kind) && c.Reading != nil:
			return []string{v.Say("step_reads", *c.Reading)}
		case drips(phase.Kind):
			return []string{v.Say("step_reads", c.PracticalSalinity)}
		case phase.Kind == transfer.WaterChange && c.Reading != nil && c.Reading.Scale != quantity.PracticalScale:
			return []string{v.Say("step_reads_own", *c.Reading)}
		}
	}
	return nil
}

// fewRefills is how many refills of a jug a step lists one by one.
const fewRefills = 2

// jugs says how to fill the jug during a phase.
func jugs(v render.Voice, p *transfer.Plan, phase transfer.Phase) []string {
	if p.Draw == nil || phase.Kind != transfer.Fill && phase.Kind != transfer.RunOver {
		return nil
	}
	var texts []string
	var refills []transfer.Charge
	for _, c := range p.Draw.Charges {
		switch since := float64(c.Time.Value - phase.Start.Value); {
		case math.Abs(since) < 1e-6:
			texts = append(texts, v.Say("jug_fill", c.Volume))
		case since > 0 && c.Time.Value < phase.Start.Value+phase.Duration.Value-1e-6:
			refills = append(refills, c)
		}
	}
	if n := len(refills); n > fewRefills {
		most := slices.MaxFunc(refills, func(a, b transfer.Charge) int { return cmp.Compare(a.Volume.Value, b.Volume.Value) })
		return append(texts, v.Say("jug_refills", most.Volume, n))
	}
	for _, c := range refills {
		texts = append(texts, v.Say("jug_refill", c.Volume, quantity.Exactly(c.Time.Value-phase.Start.Value)))
	}
	return texts
}

// wastes says when to empty the bucket under the overflow during a phase.
func wastes(v render.Voice, p *transfer.Plan, phase transfer.Phase) []string {
	var texts []string
	for _, c := range p.Checkpoints {
		since := quantity.Exactly(c.Time.Value - phase.Start.Value)
		switch {
		case phase.Kind != transfer.RunOver || since.Value < 0 || since.Value >= phase.Duration.Value:
		case c.Why.Code == "look_at_waste":
			texts = append(texts, v.Say("empty_waste", since))
		case c.Why.Code == "look_at_refill_and_waste":
			return []string{v.Say("empty_waste_at_refills")}
		}
	}
	return texts
}

// drips reports whether new water comes in during a phase.
func drips(kind transfer.PhaseKind) bool {
	return kind == transfer.Fill || kind == transfer.RunOver || kind == transfer.Cups
}

// hoseEnd says how deep the hose must hang when a phase begins.
func hoseEnd(v render.Voice, p *transfer.Plan, phase transfer.Phase) []string {
	if p.Draw == nil || phase.Kind != transfer.Fill && phase.Kind != transfer.RunOver {
		return nil
	}
	for i, hose := range p.Draw.Intakes {
		if math.Abs(float64(hose.Time.Value-phase.Start.Value)) > 1e-6 {
			continue
		}
		if i == 0 {
			return []string{v.Say("intake", hose.Depth, hose.Least, hose.Greatest)}
		}
		if !hose.HangsAfter(p.Draw.Intakes[i-1]) {
			return []string{v.Say("intake_now", hose.Depth, hose.Least, hose.Greatest)}
		}
	}
	return nil
}
