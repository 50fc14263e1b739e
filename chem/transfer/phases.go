package transfer

import (
	"math"

	"saltlock/chem/quantity"
)

// volume is the volume of the water at a gap, in a leg of the drip.
func (t *task) volume(s leg, gap float64) (float64, state, error) {
	water, err := t.at(gap)
	if err != nil {
		return 0, water, err
	}
	rho, err := density(water)
	return s.mass(gap) / rho, water, err
}

// phases lists what the keeper does.
func (t *task) phases(legs []leg, v vat, rest float64) ([]Phase, error) {
	var list []Phase
	at := 0.0
	level, err := t.request.Container.level(v.start)
	if err != nil {
		return nil, err
	}
	before := Phase{ToVolume: new(litres(v.start)), ToLevel: level, ToSalinity: practical(t.from.sa)}
	for _, s := range legs {
		if s.wait > 0 {
			list = append(list, closed(before, at, s.wait))
			at += s.wait
		}
		fill, err := t.fill(s, v, at)
		if err != nil {
			return nil, err
		}
		if s.pour {
			list = append(list, pourOff(before, fill))
		}
		list = append(list, fill)
		before = fill
		at += s.hours()
	}
	ready := practical(t.to.sa)
	return append(list,
		Phase{Kind: Rest, Start: hours(at), Duration: hours(rest), FromSalinity: before.ToSalinity, ToSalinity: before.ToSalinity,
			Instruction: noteOf("rest_before_release", hours(rest))},
		Phase{Kind: Free, Start: hours(at + rest), Duration: hours(0), FromSalinity: before.ToSalinity, ToSalinity: ready,
			Instruction: noteOf("release", salinity(t.tolerance), ready)}), nil
}

// closed is a phase with the valve shut until the next visit.
func closed(before Phase, at, wait float64) Phase {
	return Phase{Kind: Rest, Start: hours(at), Duration: hours(wait), FromVolume: before.ToVolume, ToVolume: before.ToVolume,
		FromLevel: before.ToLevel, ToLevel: before.ToLevel, FromSalinity: before.ToSalinity, ToSalinity: before.ToSalinity,
		Instruction: noteOf("close_until_next_visit", hours(wait))}
}

// fill is one stretch of drip.
func (t *task) fill(s leg, v vat, at float64) (Phase, error) {
	from, start, err := t.volume(s, s.from)
	if err != nil {
		return Phase{}, err
	}
	to, end, err := t.volume(s, s.to)
	if err != nil {
		return Phase{}, err
	}
	drip := v.drip(s.flow)
	p := Phase{Kind: s.kind(), Start: hours(at), Duration: hours(s.hours()), SetValve: s.set,
		Drip: new(drops(drip)), Flow: new(quantity.Exactly(quantity.Flow(drip * 60 * v.drop * 1000))),
		FromVolume: new(litres(from)), ToVolume: new(litres(to)), FromSalinity: practical(start.sa), ToSalinity: practical(end.sa)}
	if p.FromLevel, err = t.request.Container.level(from); err != nil {
		return p, err
	}
	if p.ToLevel, err = t.request.Container.level(to); err != nil {
		return p, err
	}
	p.Instruction = s.instruction(p)
	return p, nil
}

// instruction says how to set the valve, or to leave it, and until when.
func (s leg) instruction(p Phase) quantity.Note {
	c := Countable(float64(p.Drip.Value))
	n, in := c.Drops, c.Seconds
	switch level := p.ToLevel; {
	case s.held != nil && p.Drip.Value > usualMostDrip*(1+inside):
		return noteOf("run_over_by_flow", *p.Flow, p.Duration, *p.ToVolume)
	case s.held != nil:
		return noteOf("run_over", n, in, *p.Flow, p.Duration, *p.ToVolume)
	case s.set && p.Drip.Value > usualMostDrip*(1+inside):
		return noteOf("fill_by_flow", *p.Flow, p.Duration, *p.ToVolume)
	case s.set && level != nil:
		return noteOf("fill_set_level", n, in, *p.Flow, p.Duration, *p.ToVolume, *level)
	case s.set:
		return noteOf("fill_set", n, in, *p.Flow, p.Duration, *p.ToVolume)
	case level != nil:
		return noteOf("fill_on_level", p.Duration, *p.ToVolume, *level)
	}
	return noteOf("fill_on", p.Duration, *p.ToVolume)
}

// pourOff leads from the end of one fill to the start of the next.
func pourOff(before, after Phase) Phase {
	p := Phase{Kind: PourOff, Start: after.Start, Duration: hours(0),
		FromVolume: before.ToVolume, ToVolume: after.FromVolume, FromLevel: before.ToLevel, ToLevel: after.FromLevel,
		FromSalinity: before.ToSalinity, ToSalinity: after.FromSalinity}
	out := quantity.Exactly(p.FromVolume.Value - p.ToVolume.Value)
	if p.ToLevel != nil {
		p.Instruction = noteOf("pour_off_level", out, *p.ToVolume, *p.ToLevel)
	} else {
		p.Instruction = noteOf("pour_off", out, *p.ToVolume)
	}
	return p
}

// PourFirst makes a plan begin with a pour-off, from so many litres to what its first phase begins
// with.
func (p *Plan) PourFirst(full float64) {
	before := Phase{ToVolume: new(litres(full)), ToSalinity: p.Phases[0].FromSalinity}
	p.Phases = append([]Phase{pourOff(before, p.Phases[0])}, p.Phases...)
	p.PourOffs++
}

// RestFirst makes the plan of a step begin with the rest before its release.
func (p *Plan) RestFirst() {
	rest, from := p.Release.Rest, p.Phases[0].FromSalinity
	p.Phases[0].Start = rest
	p.Phases = append([]Phase{{Kind: Rest, Start: hours(0), Duration: rest, FromSalinity: from, ToSalinity: from,
		Instruction: noteOf("rest_before_release", rest)}}, p.Phases...)
	for i := range p.Checkpoints {
		p.Checkpoints[i].Time.Value += rest.Value
	}
	p.Release.Time = rest
}

// curvePoints is about how many points the curve of a drip has.
const curvePoints = 90

// curve is the water around the animals over time: in each leg equal steps of the gap's logarithm,
// which are denser where it bends.
func (t *task) curve(legs []leg, rest float64) ([]CurvePoint, error) {
	curve := []CurvePoint{}
	at := 0.0
	add := func(when float64, s leg, gap float64) error {
		volume, water, err := t.volume(s, gap)
		curve = append(curve, CurvePoint{Time: hours(when), Volume: litres(volume), PracticalSalinity: practical(water.sa), Temperature: celsius(t.warmthAt(when, water))})
		return err
	}
	for i, s := range legs {
		if at += s.wait; s.wait > 0 {
			if err := add(at, legs[i-1], s.from); err != nil {
				return nil, err
			}
		}
		n := max(4, int(math.Ceil(curvePoints*math.Log(s.from/s.to)/math.Log(t.gap/t.tolerance))))
		for k := range n + 1 {
			if k == 0 && i > 0 && !s.pour {
				continue // the leg before ended here
			}
			gap := s.from * math.Pow(s.to/s.from, float64(k)/float64(n))
			if err := add(at+s.hoursTo(gap), s, gap); err != nil {
				return nil, err
			}
		}
		at += s.hours()
	}
	last := legs[len(legs)-1]
	return curve, add(at+rest, last, last.to)
}
