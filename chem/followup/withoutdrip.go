package followup

import (
	"math"
	"sort"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

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
		j := Judged{Entry: f.number[i], Time: hours(h), What: "salinity", Read: sa.Measure(), Expected: salinity(expected).Measure()}
		j.Deviation = (float64(sa.Value) - expected) / math.Hypot(float64(sa.U), b.Doubt)
		if j.Suspect = math.Abs(j.Deviation) > suspectFrom; j.Suspect {
			n := noteOf("suspect_salinity", j.Read, j.Expected)
			j.Why = &n
			c.warn(n)
		}
		c.Readings = append(c.Readings, j)
	}
	c.PracticalSalinity = new(practical(salinityAt(p, f.last)))
	if done, err := f.event(); done || err != nil {
		return err
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

// suspectFrom is from how many standard deviations on a reading is laid aside.
const suspectFrom = 3.5
