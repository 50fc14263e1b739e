package drip

import "fmt"

// Kind says what prevents a drip.
type Kind int

// The kinds of obstacle.
const (
	// TooFast: even the slowest drip changes the salinity too fast. Value is by what factor.
	TooFast Kind = iota
	// OverRim: the container is too full at the start. Value is the most mass it may hold.
	OverRim
	// OutOfReach: MostPourOffs do not close the gap. Value is the gap that is left.
	OutOfReach
	// NoVisit: no schedule has all its acts at times when someone can come.
	NoVisit
	// Broken: every schedule found breaks a constraint. Constraint, Time and Margin say
	// which, when and by how much, for the schedule that breaks it least.
	Broken
	// Unsettled: the budget was spent before a schedule was found. There may be one.
	Unsettled
)

// Obstacle is why there is no schedule.
type Obstacle struct {
	Kind        Kind
	Value       float64
	Constraint  int     // index in Problem.Constraints
	Time        float64 // h
	Margin      float64 // below 0
	Evaluations int     // schedules tried
}

func (o *Obstacle) Error() string {
	switch o.Kind {
	case TooFast:
		return fmt.Sprintf("the slowest drip is %.3g times too fast", o.Value)
	case OverRim:
		return fmt.Sprintf("the container may hold %.3g kg at the start", o.Value)
	case OutOfReach:
		return fmt.Sprintf("%d pour-offs leave a gap of %.3g g/kg", MostPourOffs, o.Value)
	case NoVisit:
		return "no schedule fits the visits"
	case Unsettled:
		return "the budget ended before a schedule was found"
	}
	return fmt.Sprintf("constraint %d is broken by %.3g at %.3g h", o.Constraint, -o.Margin, o.Time)
}
