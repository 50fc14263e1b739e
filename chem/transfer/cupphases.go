package transfer

import (
	"errors"
	"math"

	"saltlock/chem/drip"
	"saltlock/chem/quantity"
)

// roundsOf splits the cups into runs of one size at one interval, with nothing between.
func roundsOf(cups []drip.Cup) [][]drip.Cup {
	var rounds [][]drip.Cup
	for i, c := range cups {
		if i > 0 && c.PouredOff == 0 && c.Mass == cups[i-1].Mass && math.Abs(c.Time-cups[i-1].Time-c.Every) < inside {
			rounds[len(rounds)-1] = append(rounds[len(rounds)-1], c)
			continue
		}
		rounds = append(rounds, []drip.Cup{c})
	}
	return rounds
}

// phasesOfCups lists what the keeper does.
func (t *task) phasesOfCups(s *cupped, v vat, rest float64) ([]Phase, error) {
	var list []Phase
	level, err := t.request.Container.level(v.start)
	if err != nil {
		return nil, err
	}
	before := Phase{ToVolume: new(litres(v.start)), ToLevel: level, ToSalinity: practical(t.from.sa)}
	for _, round := range roundsOf(s.cups) {
		p, err := t.round(round, v)
		if err != nil {
			return nil, err
		}
		if round[0].PouredOff > 0 {
			list = append(list, pourOff(before, p))
		}
		list = append(list, p)
		before = p
	}
	ready := practical(t.to.sa)
	return append(list,
		Phase{Kind: Rest, Start: hours(s.rounded), Duration: hours(rest), FromSalinity: before.ToSalinity, ToSalinity: before.ToSalinity,
			Instruction: noteOf("rest_after_cups", hours(rest))},
		Phase{Kind: Free, Start: hours(s.rounded + rest), Duration: hours(0), FromSalinity: before.ToSalinity, ToSalinity: ready,
			Instruction: noteOf("release", salinity(t.tolerance), ready)}), nil
}

// round is cups of one size at one interval.
func (t *task) round(cups []drip.Cup, v vat) (Phase, error) {
	first, last := cups[0], cups[len(cups)-1]
	start, noStart := t.at(first.FromGap)
	end, noEnd := t.at(last.ToGap)
	before, noBefore := density(start)
	after, noAfter := density(end)
	if err := errors.Join(noStart, noEnd, noBefore, noAfter); err != nil {
		return Phase{}, err
	}
	from, to := first.Left/before, (last.Left+last.Mass)/after
	p := Phase{Kind: Cups, Start: hours(first.Time), Duration: hours(last.Time + drip.Pouring - first.Time),
		Cups: new(len(cups)), Cup: new(litres(first.Mass / v.dropMass)),
		FromVolume: new(litres(from)), ToVolume: new(litres(to)), FromSalinity: practical(start.sa), ToSalinity: practical(end.sa)}
	var noFrom, noTo error
	p.FromLevel, noFrom = t.request.Container.level(from)
	p.ToLevel, noTo = t.request.Container.level(to)
	p.Instruction = noteOf("pour_in_a_cup", *p.Cup, *p.ToVolume)
	if len(cups) > 1 {
		p.Every = new(hours(first.Every))
		p.Instruction = noteOf("pour_in_cups", len(cups), *p.Cup, *p.Every, *p.ToVolume)
	}
	return p, errors.Join(noFrom, noTo)
}

// checkpointsOfCups are a look at the end of each round, and after the release.
func (t *task) checkpointsOfCups(s *cupped, phases []Phase, rest float64) ([]Checkpoint, error) {
	var list []Checkpoint
	i := -1
	for _, round := range roundsOf(s.cups) {
		i += len(round)
		last := s.cups[i]
		code := quantity.Code("look_between_cups")
		if i == len(s.cups)-1 {
			code = "look_after_cups"
		}
		if err := t.inContainer(&list, last.Time+drip.Pouring, code, s.legs[i], last.ToGap); err != nil {
			return nil, err
		}
	}
	after, err := t.checkpoints(nil, t.visits, s.rounded+rest)
	return append(list, after...), err
}

// limitsOfCups says how close cups come to every limit. The hourly limit is kept by keeping each
// cup clear of other change for as long as its step needs.
func (t *task) limitsOfCups(s *cupped, v vat) ([]Limit, error) {
	step, lowest, highest := t.tolerance, v.start, v.start
	var hourly closest
	for i, c := range s.cups {
		step = max(step, c.FromGap-c.ToGap)
		apart := math.Inf(1)
		if i > 0 {
			apart = c.Time - s.cups[i-1].Time
		}
		if i+1 < len(s.cups) {
			apart = min(apart, s.cups[i+1].Time-c.Time)
		} else {
			apart = min(apart, t.restAfterCups(s))
		}
		for _, k := range s.problem.rate.checks(c.FromGap, c.ToGap) {
			hourly.see(t.rules.perHour(t.salinityAt(k.just)), (c.FromGap-c.ToGap)/apart)
		}
		from, _, noFrom := t.volume(s.legs[i], c.FromGap)
		to, _, noTo := t.volume(s.legs[i], c.ToGap)
		if err := errors.Join(noFrom, noTo); err != nil {
			return nil, err
		}
		lowest, highest = min(lowest, from), max(highest, to)
	}
	list := t.stepLimits(step)
	list[0].Binding = step >= t.rules.atOnce*(1-tight)
	given, c := t.request.Limits, t.request.Container
	list = append(list, atMost("per_hour", quantity.SalinityRate(hourly.limit), quantity.SalinityRate(hourly.extreme), true, standing(given.PerHour, quantity.Proposed)))
	if t.counts() && !t.unheld() {
		list = append(list, atMost("temperature_per_24_hours", quantity.TemperatureDifference(t.rules.temperatureOfDay), quantity.TemperatureDifference(math.Abs(t.warmer())), false, quantity.Proposed))
	}
	list = append(list, t.roomLimits()...)
	return append(list,
		atMost("greatest_volume", quantity.Volume(v.brim), quantity.Volume(highest), highest >= v.brim*(1-tight), standing(c.Freeboard, quantity.Proposed)),
		atLeast("least_volume", quantity.Volume(v.least), quantity.Volume(lowest), false, standing(c.LeastVolume, quantity.Proposed)),
	), nil
}
