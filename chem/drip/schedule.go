package drip

// Schedule is what a keeper does, and what the drip does between.
type Schedule struct {
	Legs []Leg // in order of time, without a gap
	// Acts has one act before each leg, the start of the drip being the first, and
	// one at the end of the last.
	Acts []Act

	Hours     float64 // until the drip ends
	Water     float64 // new water, kg
	Visits    int     // acts, the start and the end included
	Settings  int     // of the valve, the first included
	PourOffs  int
	Objective float64 // as the problem asks for it

	// Ideal is the schedule without regard to which flows can be counted.
	// It is nil where every flow can be set.
	Ideal *Schedule

	Evaluations int  // schedules tried
	Complete    bool // false where the budget ended the search
}
