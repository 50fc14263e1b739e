package drip

import (
	"context"
	"slices"
)

// CupProblem is a change of water by hand: new water comes in measured cups, each a step.
// Of Problem it takes the gap, tolerance and masses, Rate, PourOffs, Visits, Objective,
// Constraints and Evaluations; Settings bounds how many rounds there are, each of cups of
// one size at one interval. Flows and an overflow count for nothing.
//
// A cup is poured over a minute; to a constraint that is a leg, and the wait after it
// one without flow. The step of a cup is at most AtOnce, and it stays clear of other
// change, before and after, for as long as the hourly limit takes for it.
type CupProblem struct {
	Problem
	AtOnce float64 // g/kg of one step
	PerDay float64 // g/kg within any 24 h; 0 where that does not limit it
	// Mark is the least that the measure shows, and MostCup what it holds, kg.
	Mark, MostCup float64
}

// Cup is one measure of new water, poured in after what is poured off, if anything.
type Cup struct {
	Time           float64 // h
	Every          float64 // h, the interval of its round
	Mass           float64 // kg
	PouredOff      float64 // kg, before
	Left           float64 // kg in the container before the cup
	FromGap, ToGap float64
}

// CupSchedule is what a keeper pours. Its Settings is the number of rounds, and each cup
// is a visit.
type CupSchedule struct {
	Schedule
	Cups []Cup
}

// DefaultSteps is the budget of a search for cups whose problem names none. It counts
// steps that are held against the limits, many for each list of cups.
const DefaultSteps = 4 * DefaultEvaluations

// Pouring is how long a cup is poured, in h. Proposed here.
const Pouring = 1.0 / 60

// Intervals are multiples of five minutes up to an hour, what a kitchen clock and a keeper
// who stays can do; rarer visits make their own.
const (
	intervalStep = 1.0 / 12
	mostInterval = 1
)

// SolveCups returns the cups that take least of the problem's objective, or an *Obstacle,
// or the error of a context that ended.
//
// It looks at lists of rounds: at which interval, how many cups, how much is poured off
// before. The size of a round's cups is the largest that the limits allow to its first;
// the steps of the rest are smaller, for the same water moves a fuller container less. The
// last cup is no larger than it must be. Lists grow cup by cup, the most promising first:
// what is left of the gap takes at least as long as at the hourly limit. Of two
// that come to the same number of rounds, pour-offs and cups, one with more gap left at a
// later time is dropped. If the best breaks a constraint, all is done again with the
// constraints followed, without dropping any, and with smaller cups beside the largest.
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

// obstacle is what can be said to stand in the way without a search.
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

func (c *cupSearch) value(hours float64, cups int, water float64) float64 {
	switch c.p.Objective {
	case Duration:
		return hours + tieOfVisits*float64(cups)
	case FewestVisits:
		return float64(cups) + tieOfVisits*hours
	case LeastWater:
		return water + tieOfWater*hours
	}
	return hours + VisitTime*float64(cups)
}

// clear is for how long a step stays clear of other change, h: as long as it takes at
// the slowest limit on its way.
func (c *cupSearch) clear(from, to float64) float64 {
	slowest := min(c.p.Rate.At(from), c.p.Rate.At(to))
	for _, b := range c.p.Rate.Breaks {
		if b < from && b > to {
			slowest = min(slowest, c.p.Rate.At(b), c.p.Rate.At(b*(1-near)))
		}
	}
	return (from - to) / slowest
}

// soonest is how long the way from a gap to the tolerance takes at least.
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
	even      bool // every wait is a multiple of intervalStep
	days      bool // more than a day's change
	forced    int  // pour-offs
	pours     int  // at most
	following bool
	slack     float64 // by what part of the objective the search may settle for less
	tried     int
	spent     bool
	worst     *Obstacle // of the lists that a constraint ended, the one that came furthest
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
