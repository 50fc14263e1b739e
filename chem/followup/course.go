package followup

import (
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// Verdict is how a transfer is going.
type Verdict string

// The verdicts.
const (
	NotBegun  Verdict = "not_begun" // nothing was read yet
	OnCourse  Verdict = "on_course"
	Corrected Verdict = "corrected" // there is a new plan from where the container is
	Arrived   Verdict = "arrived"   // the gap is within the tolerance: rest, then release
	Stopped   Verdict = "stopped"   // at a sign of distress
	NoWayOn   Verdict = "no_way_on" // no plan from here keeps the limits
	Paused    Verdict = "paused"    // the clamp is closed until something is read
	Ended     Verdict = "ended"     // finished
)

// Course is what the log of a transfer shows: where the container really is, how fast the drip
// really runs, which reading is off, and what to do now.
type Course struct {
	Verdict Verdict       `json:"verdict"`
	Now     quantity.Note `json:"now"` // what to do

	Why   []quantity.Note `json:"why,omitempty"`    // the reasons for Now, the most important first
	Then  []quantity.Note `json:"then,omitempty"`   // what to do after Now, in order
	WayOn *WayOn          `json:"way_on,omitempty"` // after a stop

	Time              *quantity.Estimate[quantity.Duration]         `json:"time,omitempty"` // of the latest entry
	PracticalSalinity *quantity.Estimate[quantity.Salinity]         `json:"practical_salinity,omitempty"`
	Gap               *quantity.Estimate[quantity.AbsoluteSalinity] `json:"gap,omitempty"`
	Volume            *quantity.Estimate[quantity.Volume]           `json:"volume,omitempty"`
	Level             *quantity.Estimate[quantity.Length]           `json:"level,omitempty"`
	DripRatio         *quantity.Estimate[quantity.Fraction]         `json:"drip_ratio,omitempty"` // real flow over the planned one
	Flow              *quantity.Estimate[quantity.Flow]             `json:"flow,omitempty"`       // the real one
	PlannedFlow       *quantity.Estimate[quantity.Flow]             `json:"planned_flow,omitempty"`
	Drip              *quantity.Estimate[quantity.DripRate]         `json:"drip,omitempty"`
	PlannedDrip       *quantity.Estimate[quantity.DripRate]         `json:"planned_drip,omitempty"`
	DropVolume        *quantity.Estimate[quantity.Volume]           `json:"drop_volume,omitempty"`

	Readings []Judged  `json:"readings"`
	Found    []Found   `json:"found,omitempty"`
	Broken   []Broken  `json:"broken,omitempty"` // the latest first
	StepBack *StepBack `json:"step_back,omitempty"`

	Assumptions []quantity.Note `json:"assumptions"`
	Warnings    []quantity.Note `json:"warnings"`
	Methods     []string        `json:"methods"`

	Plan *transfer.Plan `json:"-"` // the present one; nil when stopped, or without a way on
	Legs []Leg          `json:"-"` // including the continuation, if there is one
}

// Judged is one number of the log, with what it should have been according to the others.
type Judged struct {
	Entry     int                                  `json:"entry"` // in the log, from 1
	Time      quantity.Estimate[quantity.Duration] `json:"time"`
	What      string                               `json:"what"` // was read: salinity, volume, level, drops
	Read      quantity.Measure                     `json:"read"`
	Expected  quantity.Measure                     `json:"expected"`
	Deviation float64                              `json:"deviation"` // in standard deviations
	Suspect   bool                                 `json:"suspect"`   // and so not used
	Why       *quantity.Note                       `json:"why,omitempty"`

	far float64 // 1 if a salinity is far nearer to the target than planned, −1 if far behind
}

// WayOn is how to go on after a stop: by a new plan, once the animals have rested.
type WayOn struct {
	Earliest quantity.Estimate[quantity.Duration] `json:"earliest"`
	Advice   quantity.Note                        `json:"advice"`
}

// StepBack is half a step towards the water the animals came from: half of what was changed.
type StepBack struct {
	PracticalSalinity quantity.Estimate[quantity.Salinity]         `json:"practical_salinity"` // to go to
	Change            quantity.Estimate[quantity.AbsoluteSalinity] `json:"change"`
	OldWater          *quantity.Estimate[quantity.Volume]          `json:"old_water,omitempty"` // of the water set aside; it replaces as much
}

// Notes returns every note of the course and of its plan, for the renderer to fill.
func (c *Course) Notes() []*quantity.Note {
	all := []*quantity.Note{&c.Now}
	for i := range c.Readings {
		if why := c.Readings[i].Why; why != nil {
			all = append(all, why)
		}
	}
	for i := range c.Found {
		all = append(all, &c.Found[i].Evidence)
	}
	for i := range c.Broken {
		all = append(all, &c.Broken[i].Note)
	}
	if c.WayOn != nil {
		all = append(all, &c.WayOn.Advice)
	}
	for _, list := range [][]quantity.Note{c.Why, c.Then, c.Assumptions, c.Warnings} {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	if c.Plan != nil {
		all = append(all, c.Plan.Notes()...)
	}
	return all
}

// InDistress reports whether the animals showed a sign of distress and were not seen well since.
func (c *Course) InDistress() bool {
	has := func(code quantity.Code) bool {
		return slices.ContainsFunc(c.Why, func(n quantity.Note) bool { return n.Code == code })
	}
	return c.Verdict == Stopped && has("distress_seen") && !has("why_well_since")
}

// AfterDistress reports whether the way on leads over a rest after a sign of distress, which counts
// from the first look that found the animals well.
func (c *Course) AfterDistress() bool {
	return c.WayOn != nil && (c.WayOn.Advice.Code == "way_on_after_distress" || c.WayOn.Advice.Code == "way_on_after_refusing")
}

// pause leaves the plan until something is read, and says what to do first.
func (c *Course) pause(now quantity.Note) { c.Verdict, c.Plan, c.Now = Paused, nil, now }

// first puts an act before what was to be done now.
func (c *Course) first(now quantity.Note) {
	c.Now, c.Then = now, append([]quantity.Note{c.Now}, c.Then...)
}

// because puts a reason before all others.
func (c *Course) because(why ...quantity.Note) { c.Why = append(why, c.Why...) }

// noDrip says nothing of the rate of a drip.
func (c *Course) noDrip() {
	c.DripRatio, c.Flow, c.PlannedFlow, c.Drip, c.PlannedDrip = nil, nil, nil, nil, nil
}

func (c *Course) assume(n quantity.Note) { c.Assumptions = quantity.AppendNote(c.Assumptions, n) }
func (c *Course) warn(n quantity.Note)   { c.Warnings = quantity.AppendNote(c.Warnings, n) }
