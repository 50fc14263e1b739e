package drip

// Problem is a drip to be planned, in plain numbers: gaps in g/kg, masses in kg, flows
// in kg/h, times in h from the start.
//
// The gap is the absolute difference between the salinities of the new water and of the
// water in the container.
type Problem struct {
	Gap       float64 // at the start
	Tolerance float64 // the gap at which the drip may end
	Mass      float64 // of the water at the start

	// LeastMass and MostMass bound the mass in the container at a gap. They change only
	// with the density, by a few per cent at most over the whole drip.
	LeastMass, MostMass func(gap float64) float64

	// Overflow, if not nil, is the mass that an overflow keeps in the container at a
	// gap. Then nothing is poured off, and Mass, LeastMass and MostMass are ignored.
	Overflow func(gap float64) float64

	Rate Rate

	LeastFlow, MostFlow float64 // that the valve can be set to
	// Countable returns the two countable flows around a flow: the fastest that is not
	// above it (0 if there is none) and the slowest that is not below it (+Inf if there
	// is none). Nil means that every flow can be set.
	Countable func(flow float64) (below, above float64)

	Settings int // the most settings of the valve, including the first
	PourOffs int // the most pour-offs beyond those that the container forces

	Visits Visits

	// Filling returns the gap to which one filling of the jug brings a gap, with a mass in
	// the container; 0 if one filling is always enough. The jug is filled at each act. A
	// leg that needs more has further visits, to refill it. Nil means that the new water
	// never runs out.
	Filling func(gap, mass float64) float64

	Objective Objective

	Constraints []Constraint

	// Evaluations is the most schedules that are tried; 0 means DefaultEvaluations. It is
	// a count, not a time, so that a problem has the same answer on every machine.
	Evaluations int
	// AnyWillDo ends the search at the first schedule found, for a caller who only asks
	// whether there is one.
	AnyWillDo bool
}

// DefaultEvaluations is the budget of Solve if the problem names none.
const DefaultEvaluations = 60_000

// MostPourOffs is the most pour-offs of any schedule. More would be too much work.
const MostPourOffs = 12

// Rate is how fast the salinity may change, in g/kg/h, as a function of the gap left.
//
// Between two breaks At must be monotonic, and At(gap)/gap² must not fall while the gap
// closes. A drip that keeps the limit at the start of a leg then keeps it up to the next
// break, where the limit may drop.
type Rate struct {
	At     func(gap float64) float64
	Breaks []float64 // gaps
}

// Visits says when someone can come to act. Someone is there at the start, time 0.
type Visits struct {
	// Spacing is the least time between two acts that are not done together, and so
	// the shortest leg; 0 means DefaultSpacing.
	Spacing float64
	First   float64 // the earliest time of the first act after the start
	Every   float64 // the least time between any two later visits
	// Quiet lists the times when nobody comes, in order and without overlap. An act may
	// lie on the edge of one. The end of the drip has to wait for a visit, because
	// someone must close the valve; the release does not.
	Quiet [][2]float64
}

// DefaultSpacing is ten minutes, enough for a keeper to set the valve, count the drops
// and come back. Proposed here.
const DefaultSpacing = 1.0 / 6

// Objective is what a schedule should minimise.
type Objective int

// The objectives. FewestVisits and LeastWater break ties by the duration.
const (
	DurationAndVisits Objective = iota // the duration plus VisitTime for each visit
	Duration
	FewestVisits
	LeastWater // drawn from the source
)

// VisitTime is how much longer a drip may take to save one visit, in h. Proposed here.
const VisitTime = 0.25

// Weights of the duration against visits, and against kg of water: enough to break a
// tie, too little to decide anything else.
const (
	tieOfVisits = 1e-3
	tieOfWater  = 1e-3
)

// of is the objective of a schedule that takes so many hours, visits and kg of water.
func (o Objective) of(hours, visits, water float64) float64 {
	switch o {
	case Duration:
		return hours
	case FewestVisits:
		return visits + tieOfVisits*hours
	case LeastWater:
		return water + tieOfWater*hours
	case waterAlone:
		return water
	}
	return hours + VisitTime*visits
}

// Constraint is a limit that depends on what happened before: oxygen, ammonia, warmth,
// the change of the last 24 hours, the length of the drip. Its state starts as Start and
// is carried on by Leg and Act.
//
// Leg and Act write the state after a leg or an act to next, a slice of the same length
// as state that does not overlap it. They return the margin, which is how far the limit
// is from being broken; for a leg, at its worst moment. A negative margin means that the
// limit is broken. A margin should be of the order of 1, such as (limit − value)/limit,
// and change smoothly with the numbers of a leg. A nil function leaves the state
// unchanged and is never broken.
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
	Overflow         bool    // an overflow keeps the volume constant; otherwise the container fills
}

// End returns when the leg ends.
func (l Leg) End() float64 { return l.Start + l.Hours }

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
