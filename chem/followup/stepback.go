package followup

import (
	"math"
	"sort"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// backStep is the share of a step that animals in distress are taken back by.
// Proposed here; a whole step would be one more shock.
const backStep = 0.5

// mostTakenOut is the share of the container's water that is taken out with the
// animals in it; for more the step back is mixed beside them.
const mostTakenOut = 0.5

// stop ends the plan at a sign of distress and takes the animals half a step
// back: half of what a step may be, in the stricter direction, and never beyond
// the water they came from.
func (f *following) stop(sign Behaviour) error {
	c, b := f.course, f.base
	c.Verdict = Stopped
	c.warn(noteOf("distress_seen", string(sign)))
	c.warn(noteOf("after_distress", hours(max(24, b.Hold))))
	mass, volume := f.moment.mass, f.moment.volume
	released := sign == NotFeeding || len(f.leg().Steps) == 0
	if c.Volume != nil && released { // the container is free to be filled anew
		c.PracticalSalinity = new(practical(b.To))
		volume = f.trail.drip.Start
		mass = volume * f.trail.drip.Density(0)
	}
	sa := float64(c.PracticalSalinity.Value * quantity.GramsPerPractical)
	atOnce, err := b.AtOnceBack()
	if err != nil {
		return err
	}
	apart := math.Abs(sa - b.From)
	change := min(backStep*atOnce, apart)
	if change < 0.01 { // they stand in the water that they came from
		c.Now = noteOf("now_stop")
		return nil
	}
	to := practical(sa + math.Copysign(change, b.From-sa))
	c.StepBack = &StepBack{PracticalSalinity: to, Change: salinity(change)}
	if c.Volume == nil {
		c.Now = noteOf("now_step_back_to", to, salinity(change))
		return nil
	}
	rho, err := b.FromDensity()
	if err != nil {
		return err
	}
	old := litres(mass * change / apart / rho)
	c.StepBack.OldWater = &old
	rest := litres(max(0, volume-float64(old.Value)))
	switch share := change / apart; {
	case share > 1-inside:
		c.Now = noteOf("now_step_back_all", to, salinity(change))
	case released || share > mostTakenOut:
		c.Now = noteOf("now_step_back_mix", old, rest, to, salinity(change))
	default:
		c.Now = noteOf("now_step_back", old, old, to, salinity(change))
	}
	return nil
}

// withoutDrip judges the log of a move in one step or of a ramp, where nothing
// drips: each salinity against that of the water the plan has them in.
func (f *following) withoutDrip() error {
	c, b := f.course, f.base
	p := f.leg().Plan
	for i, e := range f.log {
		if e.Salinity == nil {
			continue
		}
		sa, err := e.salinity(b.Request)
		if err != nil {
			return err
		}
		h := e.hours(b.Request)
		expected := salinityAt(p, h)
		j := Judged{Entry: i + 1, Time: hours(h), What: "salinity", Read: sa.Measure(), Expected: salinity(expected).Measure()}
		j.Deviation = (float64(sa.Value) - expected) / math.Hypot(float64(sa.U), b.Doubt)
		if j.Suspect = math.Abs(j.Deviation) > suspectFrom; j.Suspect {
			n := noteOf("suspect_salinity", j.Read, j.Expected)
			j.Why = &n
			c.warn(n)
		}
		c.Readings = append(c.Readings, j)
	}
	c.PracticalSalinity = new(practical(salinityAt(p, f.last)))
	for _, e := range f.log {
		if e.distressed() {
			return f.stop(*e.Behaviour)
		}
	}
	switch {
	case p.Route == transfer.Ramped:
		c.warn(noteOf("ramp_not_corrected"))
	case p.Route != transfer.Direct:
		c.warn(noteOf("way_not_corrected"))
	}
	c.Verdict, c.Now, c.Plan = OnCourse, noteOf("now_watch"), p
	for _, phase := range p.Phases {
		if float64(phase.Start.Value) > f.last {
			c.Now = phase.Instruction
			break
		}
	}
	return nil
}

// onCurve is the salinity of the curve at an hour, g/kg.
func onCurve(p *transfer.Plan, hours float64) float64 {
	i := sort.Search(len(p.Curve)-1, func(i int) bool { return float64(p.Curve[i].Time.Value) >= hours })
	a, b := p.Curve[max(i-1, 0)], p.Curve[i]
	part := 1.0
	if span := float64(b.Time.Value - a.Time.Value); span > 0 {
		part = (hours - float64(a.Time.Value)) / span
	}
	return float64(a.PracticalSalinity.Value+(b.PracticalSalinity.Value-a.PracticalSalinity.Value)*quantity.Salinity(part)) * quantity.GramsPerPractical
}

// salinityAt is what the animals are in after so many hours of a plan whose drip,
// if it has one, is not followed, g/kg.
func salinityAt(p *transfer.Plan, hours float64) float64 {
	sp := p.Phases[0].FromSalinity.Value
	for _, phase := range p.Phases {
		if start := float64(phase.Start.Value); (phase.Kind == transfer.Fill || phase.Kind == transfer.RunOver) && start <= hours+soon && hours <= start+float64(phase.Duration.Value) {
			return onCurve(p, hours)
		}
		if float64(phase.Start.Value) <= hours+soon {
			sp = phase.ToSalinity.Value
		}
	}
	return float64(sp * quantity.GramsPerPractical)
}
