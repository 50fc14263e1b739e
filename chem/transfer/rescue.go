package transfer

import (
	"errors"
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// Animals in a water outside what they tolerate are rescued, and a rescue overrides the limits of
// the class. Proposed here: there for less than a day, back in one move; longer and calm, 2 ppt a
// day without holds; longer and distressed, half way to the edge of what they tolerate, 12 h of
// rest, a vet.
const restHalfWay = 12.0 // h

// judgeRescue lets a sick animal out of water that is not for it, since the way back is not one of
// the steps that must wait for its health.
func (t *task) judgeRescue() {
	if t.returning == notReturning || !t.outside {
		return
	}
	t.faults = slices.DeleteFunc(t.faults, func(f Fault) bool { return f.Note.Code == "no_step_while_sick" })
}

// harmfulBehind reports whether the water they leave harms them, by its salinity or its
// temperature, so that no step may lead back into it.
func (t *task) harmfulBehind() bool {
	_, side := t.strays()
	return side != 0 && !t.request.Underway || t.poisonBehind || t.underMedicine() || t.outside && t.returning != notReturning
}

// noReturn removes from a plan whatever would lead back into water that harms them.
func (p *Plan) noReturn() {
	p.SetAside = nil
	for i := range p.Checkpoints {
		if why := &p.Checkpoints[i].Why; why.Code == "look_next_day" {
			*why = noteOf("look_next_day_no_return")
		}
	}
}

// Rescues reports whether a plan brings animals out of water that harms them, so that no step
// leads back.
func (p *Plan) Rescues() bool {
	return p != nil && slices.ContainsFunc(p.Cautions, func(n quantity.Note) bool { return n.Code == "no_way_back" || n.Code == "no_way_back_at_signs" })
}

// NoWayBack removes the way back from a plan that continues a rescue.
func (p *Plan) NoWayBack() {
	p.noReturn()
	p.Cautions = slices.DeleteFunc(p.Cautions, func(n quantity.Note) bool { return n.Code == "keep_a_way_back" || n.Code == "keep_litres_as_way_back" })
	for i := range p.Cautions {
		switch n := &p.Cautions[i]; n.Code {
		case "stop_on_distress":
			*n = noteOf("no_way_back")
		case "stop_at_signs":
			n.Code = "no_way_back_at_signs"
		}
	}
}

// halfWay reports whether they are distressed and go half way first.
func (t *task) halfWay() bool {
	return t.returning == comesUp && t.outside && slices.ContainsFunc(t.request.Animals, func(a Animal) bool { return *a.Condition == Sick })
}

// bandEdge is where the water begins that all of them tolerate, on the way back.
func (t *task) bandEdge() float64 {
	edge := t.from.sa
	for _, a := range t.request.Animals {
		if a.Known == nil {
			continue
		}
		b := a.Known.Stage.Usable()
		switch {
		case t.up && b.Min != nil:
			edge = max(edge, float64(b.Min.Value))
		case !t.up && b.Max != nil:
			edge = min(edge, float64(b.Max.Value))
		}
	}
	if t.up {
		return min(edge, t.to.sa)
	}
	return max(edge, t.to.sa)
}

// half is half way to that edge.
func (t *task) half() float64 { return (t.from.sa + t.bandEdge()) / 2 }

// rescueHalfWay is the plan for distressed animals.
func (t *task) rescueHalfWay() (Plan, error) {
	p, err := t.direct()
	if err != nil {
		return p, err
	}
	half := practical(t.half())
	p.Phases[0].ToSalinity = half
	p.Phases[0].Instruction = noteOf("move_half_way", half, celsius(t.from.t))
	p.Phases = append(p.Phases, Phase{Kind: Rest, Start: hours(0), Duration: hours(restHalfWay), FromSalinity: half, ToSalinity: half,
		Instruction: noteOf("rest_half_way", hours(restHalfWay), practical(t.to.sa))})
	p.Checkpoints, p.Limits = t.looksAt(half, 1, 3, 8, restHalfWay), []Limit{}
	p.Release = Release{Time: hours(0), Gap: salinity(math.Abs(t.to.sa - t.half())), Rest: hours(restHalfWay)}
	t.last = math.Abs(t.half() - t.from.sa)
	return p, nil
}

// looksAt is when to look at animals that rest in a water.
func (t *task) looksAt(sp quantity.Estimate[quantity.Salinity], at ...float64) []Checkpoint {
	looks := make([]Checkpoint, len(at))
	for i, h := range at {
		looks[i] = Checkpoint{Time: hours(h), Why: noteOf("bag_look"), PracticalSalinity: sp, Temperature: celsius(t.from.t)}
	}
	return looks
}

// tooHigh reports whether a fault of the first water is a salinity beyond what is planned for, and
// which. A value that its own scale does not have is a slip of the pen, and no water; but the scale
// of conductivity ends where plans do. Beyond its end salinity goes on in proportion, to within a
// tenth: from memory.
func tooHigh(fault error) (salinity float64, ok bool) {
	e, off := errors.AsType[*quantity.RangeError](fault)
	if !off || e.Name != "from.salinity" || !(e.Value > e.Hi) {
		return 0, false
	}
	switch e.Unit {
	case PlannedSalinity.Hi.Unit():
		return e.Value, true
	case quantity.Conductivity(0).Unit():
		return float64(PlannedSalinity.Hi) * e.Value / e.Hi, e.Value < 2*e.Hi
	}
	return 0, false
}

// tooSalty is what to do in water beyond everything that is planned for: it comes from evaporation
// or a mistake, and the way back cannot wait for a formula.
func tooSalty(from float64) *InfeasibleError {
	edge := float64(mostSea)
	return &InfeasibleError{Faults: []Fault{{Where: "from.salinity", Note: noteOf("too_salty_for_plans", practical(from), practical(comingHome), practical(edge), practical((from+edge)/2), hours(restHalfWay))}}}
}
