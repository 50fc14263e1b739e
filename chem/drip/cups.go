package drip

import (
	"context"
	"slices"
)

// CupProblem is a change of water by hand: new water is added in measured cups, and each
// cup is a step. Of Problem it uses the gap, tolerance and masses, Rate, PourOffs,
// Visits, Objective, Constraints and Evaluations. Settings is the most rounds; all cups
// of a round have one size and one interval. Flows and Overflow are ignored.
//
// A cup takes a minute to pour. A constraint sees that minute as a leg, and the wait
// after it as a leg without flow. The step of a cup is at most AtOnce. No other change
// happens, before or after it, within the time the step would take at the hourly limit.
type CupProblem struct {
	Problem
	AtOnce float64 // g/kg of one step
	PerDay float64 // g/kg within any 24 h; 0 for no limit
	// Mark is the smallest amount that the measure shows, and MostCup what it holds, kg.
	Mark, MostCup float64
}

// Cup is one measure of new water, poured in after any pour-off.
type Cup struct {
	Time           float64 // h
	Every          float64 // h, the interval of its round
	Mass           float64 // kg
	PouredOff      float64 // kg, before the cup
	Left           float64 // kg in the container before the cup
	FromGap, ToGap float64
}

// CupSchedule is a schedule of cups. Its Settings is the number of rounds, and each cup
// is a visit.
type CupSchedule struct {
	Schedule
	Cups []Cup
}

// DefaultSteps is the budget of SolveCups if the problem names none. It counts steps
// that are checked against the limits, of which each list of cups takes many.
const DefaultSteps = 4 * DefaultEvaluations

// Pouring is how long it takes to pour a cup, in h. Proposed here.
const Pouring = 1.0 / 60

// Intervals are multiples of five minutes up to an hour, which suit a kitchen clock and
// a keeper who stays. If visits are further apart than that, their spacing is the interval.
const (
	intervalStep = 1.0 / 12
	mostInterval = 1
)

// SolveCups returns the cups that take least of the problem's objective, or an *Obstacle,
// or the error of a context that ended.
//
// It searches over lists of rounds: the interval, the number of cups, and how much is
// poured off first. The cups of a round are as large as the limits allow for the first of
// them; the later ones make smaller steps, because the same cup changes a fuller
// container less. The last cup is no larger than it needs to be. Lists grow cup by cup,
// the most promising first; the bound is that the rest of the gap takes at least as long
// as at the hourly limit. Of two lists with the same number of rounds, pour-offs and
// cups, the one that has more of the gap left at a later time is dropped. If the best
// list breaks a constraint, the search runs again and follows the constraints. It then
// drops no list and also tries cups smaller than the largest.
func SolveCups(ctx context.Context, p CupProblem) (CupSchedule, error) {
	if err := ctx.Err(); err != nil {
		return CupSchedule{}, err
	}
	c := newCupSearch(ctx, p)
	if err := c.obstacle(); err != nil {
		return CupSchedule{}, err
	}
	best := c.run()
	if best != nil && c.follow(best) < -tight {
		c.worst, c.following, c.slack = nil, true, relativeTolerance
		best = c.run()
	}
	if err := ctx.Err(); err != nil {
		return CupSchedule{}, err
	}
	if best == nil {
		return CupSchedule{}, c.explain()
	}
	s := c.schedule(best)
	s.Evaluations, s.Complete = c.tried, !c.spent
	return s, nil
}

// obstacle returns the obstacle that can be found without a search, if there is one.
func (c *cupSearch) obstacle() error {
	m := model{Problem: c.p.Problem, deficit: c.p.Gap * c.p.Mass}
	m.LeastFlow = 0
	if most := m.MostMass(m.Gap); m.Mass > most*(1+near) {
		return &Obstacle{Kind: OverRim, Value: most}
	}
	ends := m.fills()
	c.forced = len(ends) - 1
	if reach := m.gapAt(ends[c.forced]); !(reach <= m.Tolerance*(1+near)) {
		return &Obstacle{Kind: OutOfReach, Value: reach}
	}
	c.pours = min(c.forced+max(c.p.PourOffs, 0), MostPourOffs)
	return nil
}

// explain says why there are no cups.
func (c *cupSearch) explain() error {
	switch {
	case c.spent:
		return &Obstacle{Kind: Unsettled, Evaluations: c.tried}
	case c.worst != nil:
		o := *c.worst
		o.Evaluations = c.tried
		return &o
	}
	step := c.p.Gap * c.p.Mark / (c.p.Mass + c.p.Mark)
	longest := c.intervals[len(c.intervals)-1]
	return &Obstacle{Kind: TooFast, Value: max(1, step/c.p.AtOnce, c.clear(c.p.Gap, c.p.Gap-step)/longest), Evaluations: c.tried}
}

// schedule writes a list of cups as legs and acts.
func (c *cupSearch) schedule(end *poured) CupSchedule {
	var out CupSchedule
	for n := end; n.before != nil; n = n.before {
		out.Cups = append(out.Cups, n.Cup)
		if n.PouredOff > 0 {
			out.PourOffs++
		}
		out.Water += n.Mass
	}
	slices.Reverse(out.Cups)
	if len(out.Cups) == 0 {
		return out // the gap is within the tolerance
	}
	for i, cup := range out.Cups {
		if i > 0 {
			last := out.Legs[len(out.Legs)-1]
			out.Legs = append(out.Legs, waiting(out.Cups[i-1], cup))
			out.Acts = append(out.Acts, Act{Time: last.End(), Gap: last.ToGap, FromMass: last.ToMass, ToMass: last.ToMass, Close: true})
		}
		out.Legs, out.Acts = append(out.Legs, pouring(cup)), append(out.Acts, opening(cup))
	}
	last := out.Legs[len(out.Legs)-1]
	out.Acts = append(out.Acts, ending(last))
	out.Hours, out.Visits, out.Settings = last.End(), len(out.Cups), end.rounds
	out.Objective = c.value(last.End(), len(out.Cups), out.Water)
	return out
}

func pouring(c Cup) Leg {
	return Leg{Start: c.Time, Hours: Pouring, FromGap: c.FromGap, ToGap: c.ToGap, FromMass: c.Left, ToMass: c.Left + c.Mass, Flow: c.Mass / Pouring}
}

func waiting(c, next Cup) Leg {
	start := c.Time + Pouring
	return Leg{Start: start, Hours: next.Time - start, FromGap: c.ToGap, ToGap: c.ToGap, FromMass: c.Left + c.Mass, ToMass: c.Left + c.Mass}
}

func opening(c Cup) Act {
	return Act{Time: c.Time, Gap: c.FromGap, FromMass: c.Left + c.PouredOff, ToMass: c.Left, Flow: c.Mass / Pouring, Set: true, Pour: c.PouredOff > 0}
}

func ending(l Leg) Act {
	return Act{Time: l.End(), Gap: l.ToGap, FromMass: l.ToMass, ToMass: l.ToMass, Close: true, End: true}
}

// value is the objective of a list of cups. Of those that take equally long, the one
// with fewer cups is better.
func (c *cupSearch) value(hours float64, cups int, water float64) float64 {
	v := c.p.Objective.of(hours, float64(cups), water)
	if c.p.Objective == Duration {
		v += tieOfVisits * float64(cups)
	}
	return v
}

// clear is how long a step must stay clear of other changes, h: as long as it would
// take at the strictest hourly limit on its way.
func (c *cupSearch) clear(from, to float64) float64 {
	slowest := min(c.p.Rate.At(from), c.p.Rate.At(to))
	for _, b := range c.p.Rate.Breaks {
		if b < from && b > to {
			slowest = min(slowest, c.p.Rate.At(b), c.p.Rate.At(b*(1-near)))
		}
	}
	return (from - to) / slowest
}

// soonest is the least time in which the gap can come down to the tolerance.
func (c *cupSearch) soonest(gap float64) float64 {
	const steps = 8
	if gap <= c.p.Tolerance {
		return 0
	}
	h, sum := (gap-c.p.Tolerance)/steps, 0.0
	for i := range steps {
		from := c.p.Tolerance + float64(i)*h
		fastest := max(c.p.Rate.At(from), c.p.Rate.At(from+h))
		for _, b := range c.p.Rate.Breaks {
			if b > from && b < from+h {
				fastest = max(fastest, c.p.Rate.At(b), c.p.Rate.At(b*(1-near)))
			}
		}
		sum += h / fastest
	}
	return sum
}

// cupSearch is a search over lists of cups.
type cupSearch struct {
	p         CupProblem
	ctx       context.Context
	intervals []float64
	even      bool    // every wait is a multiple of intervalStep
	days      bool    // the change is more than one day allows
	forced    int     // pour-offs
	pours     int     // at most
	following bool    // the constraints
	slack     float64 // part of the objective by which the result may miss the best
	tried     int
	spent     bool
	worst     *Obstacle // of the lists that a constraint ended, that of the one that got furthest
	furthest  float64
	open      lists
	reached   map[kind][]*poured
}

func newCupSearch(ctx context.Context, p CupProblem) *cupSearch {
	if p.Evaluations == 0 {
		p.Evaluations = DefaultSteps
	}
	if p.Visits.Spacing == 0 {
		p.Visits.Spacing = DefaultSpacing
	}
	c := &cupSearch{p: p, ctx: ctx, slack: near, days: p.PerDay > 0 && p.PerDay < p.Gap}
	if c.days {
		c.slack = relativeTolerance
	}
	least := max(p.Visits.Spacing, p.Visits.Every)
	for i := 1.0; i*intervalStep <= mostInterval+near; i++ {
		if every := i * intervalStep; every >= least-near {
			c.intervals = append(c.intervals, every)
		}
	}
	c.even = len(c.intervals) > 0 && p.Visits.First <= c.intervals[0] && p.Visits.Quiet == nil && !c.days
	if len(c.intervals) == 0 {
		c.intervals = []float64{least}
	}
	return c
}
