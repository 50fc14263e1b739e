package transfer

import (
	"cmp"
	"slices"

	"saltlock/chem/quantity"
)

// When to look after the release, in hours: the first change of breath, the
// first of behaviour, the next day.
var afterRelease = []look{{1. / 3, "look_after_20_minutes"}, {2, "look_after_2_hours"}, {24, "look_next_day"}}

// afterPlanting is the same for plants, whose leaves show it within a week.
var afterPlanting = []look{{24, "look_at_plants"}, {168, "look_at_plants"}}

// look is when to look after the release, in hours, and what for.
type look struct {
	hours float64
	code  quantity.Code
}

// firstLook is when to look for the first time, h. Common practice, no source.
const firstLook = 0.5

// checkpoints lists when to look and what should be seen. It is long because it goes through the
// plan in order of time: acts, visits, the end, and after the release.
func (t *task) checkpoints(legs []leg, visits *timetable, rest float64) ([]Checkpoint, error) {
	var list []Checkpoint
	at := 0.0
	for i, s := range legs {
		if at += s.wait; i > 0 {
			code := quantity.Code("look_at_new_setting")
			if s.pour {
				code = "look_at_pour_off"
			}
			if err := t.inContainer(&list, at, code, s, s.from); err != nil {
				return nil, err
			}
		}
		for k, when := range visits.looks(at, at+s.hours()) {
			code := quantity.Code("look_at_visit")
			if at < firstLook && k == 0 {
				code = "look_first"
			}
			if err := t.inContainer(&list, when, code, s, s.gapAfter(when-at)); err != nil {
				return nil, err
			}
		}
		at += s.hours()
	}
	if len(legs) > 0 {
		last := legs[len(legs)-1]
		if err := t.inContainer(&list, at, "look_at_end", last, last.to); err != nil {
			return nil, err
		}
	}
	after := afterRelease[:]
	if t.plants() {
		after = afterPlanting[:]
	}
	for _, a := range after {
		reading, err := t.shown(t.to)
		if err != nil {
			return nil, err
		}
		list = append(list, Checkpoint{Time: hours(visits.released(at + rest + a.hours)), Why: noteOf(a.code),
			PracticalSalinity: practical(t.to.sa), Temperature: quantity.Exactly(quantity.Celsius(t.to.t)), Reading: reading})
	}
	return list, nil
}

// inContainer adds a look at the container.
func (t *task) inContainer(list *[]Checkpoint, at float64, code quantity.Code, s leg, gap float64) error {
	volume, water, err := t.volume(s, gap)
	if err != nil {
		return err
	}
	water.t = t.warmthAt(at, water)
	c := Checkpoint{Time: hours(at), Volume: new(litres(volume)),
		PracticalSalinity: practical(water.sa), Temperature: quantity.Exactly(quantity.Celsius(water.t))}
	if c.Level, err = t.request.Container.level(volume); err != nil {
		return err
	}
	if c.Reading, err = t.shown(water); err != nil {
		return err
	}
	c.Why = noteOf(code, c.shows())
	*list = append(*list, c)
	return nil
}

// inOrder sorts the looks by their times.
func (p *Plan) inOrder() {
	slices.SortStableFunc(p.Checkpoints, func(a, b Checkpoint) int { return cmp.Compare(a.Time.Value, b.Time.Value) })
}

// shows is what the keeper's instrument should read; the practical salinity if there is none.
func (c *Checkpoint) shows() quantity.Reading { return shownBy(c.Reading, c.PracticalSalinity) }

func shownBy(own *quantity.Reading, sp quantity.Estimate[quantity.Salinity]) quantity.Reading {
	if own != nil {
		return *own
	}
	return quantity.Reading{Value: float64(sp.Value), Scale: quantity.PracticalScale}
}
