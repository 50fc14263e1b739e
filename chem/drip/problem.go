package drip

import "math"

// Problem is a drip to be planned, on plain numbers: gaps in g/kg, masses in kg,
// flows in kg/h, times in h from the start.
//
// The gap is the difference between the salinities of the new water and of the
// container, without its sign.
type Problem struct {
	Gap       float64 // at the start
	Tolerance float64 // the gap at which the drip may end
	Mass      float64 // of the water at the start

	// LeastMass and MostMass bound what may be in the container at a gap. They
	// change with the density alone, by a few per cent at most over the whole way.
	LeastMass, MostMass func(gap float64) float64

	// Overflow, where it is not nil, is the mass that an overflow holds in the
	// container at a gap. Then nothing is poured off, and Mass, LeastMass and
	// MostMass count for nothing.
	Overflow func(gap float64) float64

	Rate Rate

	LeastFlow, MostFlow float64 // that the valve can be set to
	// Countable returns the flows next to one that a keeper can count: the fastest
	// that is not above it, and the slowest that is not below; 0 and +Inf where
	// there is none. A nil function means that every flow can be set.
	Countable func(flow float64) (below, above float64)

	Settings int // the most times that the valve is set, the first included
	PourOffs int // the most pour-offs beyond those that the container forces

	Visits Visits

	// Filling is the least gap that the new water of one filling of the jug can bring a
	// gap to, with so much in the container: 0 where one holds all that may be asked for.
	// The jug is filled at each act; a leg that takes more has visits of its own, to
	// refill it. A nil function means that the new water never runs out.
	Filling func(gap, mass float64) float64

	Objective Objective

	Constraints []Constraint

	// Evaluations bounds how many schedules are tried; 0 stands for
	// DefaultEvaluations. It is a count, and no time, so that the same problem has the
	// same answer on every machine.
	Evaluations int
	// AnyWillDo ends the search at the first schedule found: all that is asked is
	// whether there is one.
	AnyWillDo bool
}

// DefaultEvaluations is the budget of a search whose problem names none.
const DefaultEvaluations = 60_000

// MostPourOffs is the most pour-offs of any schedule; more are no work for two hands.
const MostPourOffs = 12

// Rate is how fast the salinity may change, in g/kg/h, as a function of the gap
// that is left to close.
//
// Between two breaks At is monotonic and At(gap)/gap² does not fall while the gap
// closes, so a drip that keeps the limit at the start of a leg keeps it up to the
// next break. At a break the limit may drop.
type Rate struct {
	At     func(gap float64) float64
	Breaks []float64 // gaps
}

// Visits says when someone can come to act. At the start, time 0, someone is there.
type Visits struct {
	// Spacing is the least time between two acts that are not done together, and so
	// the least time of a leg; 0 stands for DefaultSpacing.
	Spacing float64
	First   float64 // the earliest time of the first act after the start
	Every   float64 // the least time between any two later visits
	// Quiet holds the times in which nobody comes, in order and apart from each
	// other. An act may lie at the edge of one. The release does not have to wait for
	// a visit, but the end of the drip does: someone must close the valve.
	Quiet [][2]float64
}

// DefaultSpacing is ten minutes: what a keeper needs to set the valve, count the
// drops and come back. Proposed here.
const DefaultSpacing = 1.0 / 6

// Objective is what a schedule should take least of.
type Objective int

// The objectives. Each but Duration breaks ties by the duration.
const (
	DurationAndVisits Objective = iota // the duration plus VisitTime for each visit
	Duration
	FewestVisits
	LeastWater // drawn from the source
)

// VisitTime is how much longer a drip may take to spare one visit, in h. Proposed here.
const VisitTime = 0.25

// Constraint is a limit that depends on what happened before: oxygen, ammonia,
// warmth, the change of the last 24 hours, the length of the drip. It has a state
// of its own, which starts as Start and which Leg and Act carry on.
//
// Leg and Act write the state after a leg, or an act, to next, which has the length
// of state and is another slice, and return the margin: how far the limit is from
// being broken, of a leg at its worst moment within the leg. A margin below 0 is a
// limit broken. It should be of the order of 1, as (limit − value)/limit, and change
// smoothly with the numbers of a leg. Nil functions leave the state as it is and are
// never broken.
//
// Both are called very often and must be pure.
type Constraint struct {
	Start []float64
	Leg   func(next, state []float64, l Leg) (margin float64)
	Act   func(next, state []float64, a Act) (margin float64)
}

// Leg is a stretch of drip between two acts.
type Leg struct {
	Start, Hours     float64
	FromGap, ToGap   float64
	FromMass, ToMass float64 // in the container
	Flow             float64 // of new water; 0 while the valve is closed
	Overflow         bool    // as much runs over as an overflow takes; else the container fills
}

// End returns when the leg ends.
func (l Leg) End() float64 { return l.Start + l.Hours }

// Rate returns how fast the salinity changes when the gap has come down to a
// value within the leg and the mass to another, in g/kg/h.
func (l Leg) Rate(gap, mass float64) float64 { return l.Flow * gap / mass }

// GapAt returns the gap so many hours after the leg's start. Of a leg with
// an overflow it takes the mass to change in a straight line.
func (l Leg) GapAt(hours float64) float64 {
	switch {
	case l.Flow == 0 || l.Hours == 0:
		return l.FromGap
	case l.Overflow:
		way := math.Log(l.FromGap / l.ToGap)
		return l.FromGap * math.Exp(-way*hours/l.Hours)
	}
	return l.FromGap * l.FromMass / (l.FromMass + l.Flow*hours)
}

// MassAt returns the mass in the container so many hours after the leg's start.
func (l Leg) MassAt(hours float64) float64 {
	if l.Hours == 0 {
		return l.FromMass
	}
	return l.FromMass + (l.ToMass-l.FromMass)*hours/l.Hours
}

// Act is what a keeper does at one time.
type Act struct {
	Time             float64
	Gap              float64
	FromMass, ToMass float64 // less after a pour-off
	Flow             float64 // from then on; 0 where the valve is closed
	Set              bool    // the valve was set to Flow
	Pour             bool
	Close            bool // the valve, until the next act
	End              bool // of the drip
}
