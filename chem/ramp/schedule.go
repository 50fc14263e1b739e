package ramp

import (
	"context"
	"math"
	"slices"
)

// budget is the most labels that the search for fewer changes makes. The search for the
// fewest days needs no budget: it ends after Longest days.
const budget = 1_000_000

// evening is the tank on one day of a schedule.
type evening struct {
	way   float64
	moved bool
}

// run finds how far the tank gets day by day. It returns the evenings up to the day on
// which the way reaches aim; not ok if that is after the last day. Caps bound the change
// of each day. If floor is given, every evening must be at least that far.
func (s *search) run(ctx context.Context, aim float64, last int, caps, floor []float64) (list []evening, ok bool, err error) {
	s.labels = append(s.labels[:0], s.first())
	begin, end := 0, 1 // the labels of the evening before
	for day := range last + 1 {
		if err := ctx.Err(); err != nil {
			return nil, false, err
		}
		best := -1
		for i := begin; i < end; i++ {
			to := min(s.most(s.labels[i], day), aim)
			if day < len(caps) {
				to = min(to, s.labels[i].way[0]+caps[day])
			}
			s.follow(i, end, to)
		}
		begin, end = end, len(s.labels)
		s.spent += end - begin
		for i := begin; i < end; i++ {
			l := s.labels[i]
			if best < 0 || l.way[0] > s.labels[best].way[0]+slack || l.way[0] > s.labels[best].way[0]-slack && l.count < s.labels[best].count {
				best = i
			}
		}
		reached := s.labels[best].way[0]
		if floor != nil && reached < floor[min(day, len(floor)-1)]-slack {
			return nil, false, nil
		}
		if reached >= aim-slack {
			return s.trace(best), true, nil
		}
	}
	return s.trace(begin), false, nil
}

// follow adds the successors of a label on a day on which the tank may go as far as to.
// The labels of this day start at index from.
func (s *search) follow(i, from int, to float64) {
	l := s.labels[i]
	if to > l.way[0]+slack {
		s.add(s.change(l, i, to), from)
	}
	if s.sign > 0 && !s.isSalty(l.way[0]) { // or stop where the wait is still short
		to = min(to, s.salty)
	}
	if to > l.way[0]+slack {
		s.add(s.change(l, i, to), from)
	} else {
		s.add(s.idle(l, i), from)
	}
}

// add stores a label of a day unless another of that day beats it, and drops those that it
// beats.
func (s *search) add(n label, from int) {
	for i := from; i < len(s.labels); i++ {
		if s.beats(s.labels[i], n) && !(s.beats(n, s.labels[i]) && n.count < s.labels[i].count) {
			return
		}
	}
	kept := s.labels[:from]
	for _, l := range s.labels[from:] {
		if !s.beats(n, l) {
			kept = append(kept, l)
		}
	}
	s.labels = append(kept, n)
}

// trace returns the evenings that led to a label.
func (s *search) trace(i int) []evening {
	var list []evening
	for ; s.labels[i].parent >= 0; i = s.labels[i].parent {
		l := s.labels[i]
		list = append(list, evening{l.way[0], l.moved})
	}
	slices.Reverse(list)
	return list
}

// thin leaves changes out of a schedule as long as the rest arrives by the last day. It
// starts with the smallest shares or, if a curve is followed, with the earliest, which
// leaves full days' changes. Then it shortens one, so that the last is whole.
func (s *search) thin(ctx context.Context, list []evening, aim float64, last int) (thinned []evening, complete bool, err error) {
	caps, tried := make([]float64, last+1), make([]bool, last+1)
	for i := range caps {
		caps[i] = math.Inf(1)
	}
	floor := s.floors(list, last)
	for {
		day := s.next(list, tried)
		if day < 0 {
			break
		}
		if s.spent > budget {
			return list, false, nil
		}
		tried[day], caps[day] = true, 0
		less, ok, err := s.run(ctx, aim, last, caps, floor)
		if err != nil {
			return nil, false, err
		}
		if ok && s.cost(less) <= s.cost(list)+slack {
			list = less
			continue
		}
		caps[day] = math.Inf(1)
	}
	if s.Ahead == nil {
		list, err = s.shorten(ctx, list, aim, last, caps)
	}
	return list, true, err
}

// next is the day of the change to try without; -1 if all have been tried.
func (s *search) next(list []evening, tried []bool) int {
	best, least := -1, math.Inf(1)
	for day, e := range list {
		if !e.moved || tried[day] || day == 0 && s.Limits.Recent == 0 && s.Ahead == nil { // a late start gains nothing
			continue
		}
		if s.Ahead != nil {
			return day
		}
		if share := s.share(list, day); share <= least+slack {
			best, least = day, share
		}
	}
	return best
}

// shorten makes the last change a whole one by shortening another: the one for which the
// changes then take the least water.
func (s *search) shorten(ctx context.Context, list []evening, aim float64, last int, caps []float64) ([]evening, error) {
	best, least := list, s.cost(list)
	for day, e := range list {
		whole := e.way - before(list, day)
		lo, hi := 0.0, whole
		for try := whole * (1 - 1./shortenings); e.moved && hi-lo > whole/shortenings/2; try = (lo + hi) / 2 {
			caps[day] = try
			less, ok, err := s.run(ctx, aim, last, caps, nil)
			if err != nil || s.spent > budget {
				return best, err
			}
			if !ok {
				lo = try
				continue
			}
			hi = try
			if cost := s.cost(less); cost < least-slack {
				best, least = less, cost
			}
		}
		caps[day] = math.Inf(1)
	}
	return best, nil
}

// topOff looks for a schedule that costs less on the way up because it replaces what
// evaporates with new water every day, and so takes out hardly anything.
func (s *search) topOff(ctx context.Context, list []evening, aim float64, last int) ([]evening, error) {
	if s.Evaporation == 0 || s.sign < 0 || s.Ahead != nil {
		return list, nil
	}
	defer func() { s.gentle = 0 }()
	least := s.cost(list)
	for lo, hi := 0.5, 16.; hi-lo > 0.05; {
		s.gentle = (lo + hi) / 2
		even, ok, err := s.run(ctx, aim, last, nil, nil)
		if err != nil {
			return nil, err
		}
		if !ok {
			lo = s.gentle
			continue
		}
		hi = s.gentle
		if cost := s.cost(even); cost < least-slack {
			list, least = even, cost
		}
	}
	return list, nil
}

// before is the way on the evening before a day.
func before(list []evening, day int) float64 {
	if day == 0 {
		return 0
	}
	return list[day-1].way
}

// shortenings is the number of parts into which a change is divided to see how much of it
// is needed.
const shortenings = 64

// share is the share of the tank that the change of a day takes out.
func (s *search) share(list []evening, day int) float64 {
	return max(0, s.before(s.at(before(list, day))).with(s.newWater(), s.at(list[day].way)))
}

// changeCost is the cost of each change, as a part of the water: nobody makes another
// change to save a litre.
const changeCost = 0.005

// cost is the sum of the shares that the changes take, with the work of making them.
func (s *search) cost(list []evening) float64 {
	sum, n := 0.0, 0
	for day, e := range list {
		if e.moved {
			sum += s.share(list, day)
			n++
		}
	}
	return sum * (1 + changeCost*float64(n))
}

// floors is how far the tank must be each day: at most a day's change behind the curve.
func (s *search) floors(list []evening, last int) []float64 {
	if s.Ahead == nil {
		return nil
	}
	floor := make([]float64, last+1)
	for day := range floor {
		fastest := list[min(day, len(list)-1)].way
		curve := s.sign * (s.Ahead(float64(day)) - s.From)
		floor[day] = min(fastest, curve-min(s.Limits.PerDay, s.Limits.AtOnce))
	}
	return floor
}
