package transfer

import (
	"slices"
	"time"

	"saltlock/chem/instrument"
	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Route is how the animals are moved.
type Route string

// The routes.
const (
	Auto     Route = "auto"       // of a request: choose, and say why
	Direct   Route = "direct"     // moved in one step
	Drip     Route = "drip"       // dripped in a container, then moved
	ByCups   Route = "cups"       // by measured cups poured into a container by hand, then moved
	Ramped   Route = "ramp"       // the tank they are in changes around them, over days and weeks
	Combined Route = "combined"   // the tank they are in changes to within the limit of a day, then they are dripped
	Staged   Route = "staged"     // over several days through holding tanks, in one step or by a drip each time
	ByMarks  Route = "by_marks"   // of a plan: a drip without its volume, in parts of what the animals start in
	OutOfBag Route = "out_of_bag" // of a plan: out of foul bag water first, whatever comes then
)

// Condition is how an animal is today.
type Condition string

// The conditions. The zero value counts as Well.
const (
	Well        Condition = "well"
	Thin        Condition = "thin"
	Sick        Condition = "sick"
	Medicated   Condition = "medicated"
	JustShipped Condition = "just_shipped"
	Moulting    Condition = "moulting"
)

func (c Condition) known() bool {
	return slices.Contains([]Condition{Well, Thin, Sick, Medicated, JustShipped, Moulting}, c)
}

// Request asks for a plan. WithDefaults fills in what is nil.
type Request struct {
	Animals         []Animal                                      `json:"animals,omitempty"`
	From            Water                                         `json:"from"` // the water the animals are in
	To              Water                                         `json:"to"`   // the water they go to
	Container       Container                                     `json:"container"`
	Line            *Line                                         `json:"line,omitempty"`
	SourceTank      *SourceTank                                   `json:"source_tank,omitempty"`
	Instrument      *instrument.Setup                             `json:"instrument,omitempty"`       // the keeper will check with
	Tolerance       *quantity.Estimate[quantity.AbsoluteSalinity] `json:"tolerance,omitempty"`        // gap that may remain at the release
	HomeTank        *HomeTank                                     `json:"home_tank,omitempty"`        // the animals live in, for a ramp
	HomeMates       []Animal                                      `json:"home_mates,omitempty"`       // that also live there
	HoldingTanks    *HoldingTanks                                 `json:"holding_tanks,omitempty"`    // to live in between the stages of a long move
	Limits          *Limits                                       `json:"limits,omitempty"`           // replacing those of the class
	RoomTemperature *quantity.Estimate[quantity.Celsius]          `json:"room_temperature,omitempty"` // of the air around the container
	RecentChange    *quantity.Estimate[quantity.AbsoluteSalinity] `json:"recent_change,omitempty"`    // in the 24 h before the plan
	Route           *Route                                        `json:"route,omitempty"`
	Start           *time.Time                                    `json:"start,omitempty"`     // of the first drop, for a calendar; times count from it
	TimeZone        *Zone                                         `json:"time_zone,omitempty"` // of the keeper's clock; nil is that of Start
	Visits          *Visits                                       `json:"visits,omitempty"`    // when someone can come
	Stay            *quantity.Estimate[quantity.Duration]         `json:"stay,omitempty"`      // how long they stay in the new water; nil is for good
	Prefer          *Preference                                   `json:"prefer,omitempty"`    // what a drip should take least of; nil is time, with drip.VisitTime for each visit
	Feed            *Feed                                         `json:"feed,omitempty"`      // nil is a jug, unless the request describes a hose in the tank
	// Underway says that a drip is being continued: its keeper stays with the line that runs.
	Underway bool `json:"-"`
}

// Animal is one kind of animal that is moved.
type Animal struct {
	Species     *string              `json:"species,omitempty"`     // id in the species table
	Stage       *tolerance.LifeStage `json:"stage,omitempty"`       // of life; nil is the one that the table answers with
	Sensitivity *tolerance.Class     `json:"sensitivity,omitempty"` // nil is the species' own
	Origin      *tolerance.Origin    `json:"origin,omitempty"`
	// Count and Mass, given for every kind, make oxygen and ammonia in the container limits.
	Count     *int                                `json:"count,omitempty"`
	Mass      *quantity.Estimate[quantity.Mass]   `json:"mass,omitempty"`   // of one
	Length    *quantity.Estimate[quantity.Length] `json:"length,omitempty"` // of one, total; replaces the mass for a fish of the table
	Condition *Condition                          `json:"condition,omitempty"`
	// Known is what the species table says; the caller of NewPlan looks it up.
	Known *Known `json:"-"`
}

// Known is what the species table says about a life stage.
type Known struct {
	Name    string
	Stage   tolerance.Stage
	Of      *tolerance.Taxon // nil where only a stage is known
	Hazards []quantity.Note  // to the person who handles it
	Shape   tolerance.Shape  // empty where no relation of length and mass is known
}

// class returns how sensitive the animal is: as the request says, or the species, or else as
// carefully as possible, and then not known. A species is no hardier for being called so.
func (a Animal) class() (c tolerance.Class, known bool) {
	switch {
	case a.calledHardier():
		return a.Known.Stage.SensitivityClass, true
	case a.Sensitivity != nil:
		return *a.Sensitivity, true
	case a.Known != nil:
		return a.Known.Stage.SensitivityClass, true
	}
	return carefulClass, false
}

// byCare are the classes from the hardiest to the one that takes the most care.
var byCare = []tolerance.Class{tolerance.Hardy, tolerance.Moderate, tolerance.Invertebrate, tolerance.Delicate, tolerance.StenohalineMarine, tolerance.StenohalineFresh, tolerance.Plant}

// calledHardier reports whether the request calls an animal hardier than its species is.
func (a Animal) calledHardier() bool {
	return a.Sensitivity != nil && a.Known != nil && slices.Index(byCare, *a.Sensitivity) < slices.Index(byCare, a.Known.Stage.SensitivityClass)
}

// Water is one of the two waters of a transfer.
type Water struct {
	Salinity    quantity.Reading                    `json:"salinity"`
	Temperature quantity.Estimate[quantity.Celsius] `json:"temperature"`

	PH         *quantity.Estimate[quantity.PH]              `json:"ph,omitempty"`
	Alkalinity *quantity.Estimate[quantity.Alkalinity]      `json:"alkalinity,omitempty"`
	TAN        *quantity.Estimate[quantity.AmmoniaNitrogen] `json:"tan,omitempty"`
	Nitrite    *quantity.Estimate[quantity.NitriteNitrogen] `json:"nitrite,omitempty"`
	HoursInBag *quantity.Estimate[quantity.Duration]        `json:"hours_in_bag,omitempty"` // of a shipping bag's water
	// Conditioned says whether chlorine and chloramine have been removed; nil is not said.
	Conditioned *bool `json:"conditioned,omitempty"`
}

// Container is what the animals are dripped in. Its inner dimensions, if given, set its capacity
// and turn volumes into level marks.
type Container struct {
	Capacity    *quantity.Estimate[quantity.Volume] `json:"capacity,omitempty"`     // to the rim
	Freeboard   *quantity.Estimate[quantity.Volume] `json:"freeboard,omitempty"`    // room left empty under the rim
	StartVolume *quantity.Estimate[quantity.Volume] `json:"start_volume,omitempty"` // of the animals' water
	LeastVolume *quantity.Estimate[quantity.Volume] `json:"least_volume,omitempty"` // the animals may stand in
	Aerated     *bool                               `json:"aerated,omitempty"`      // stirred by an air stone
	Heated      *bool                               `json:"heated,omitempty"`       // a heater holds its temperature
	InBath      *bool                               `json:"in_bath,omitempty"`      // it stands in water that holds its temperature
	// With an overflow the volume stays as at the start while the drip runs.
	Overflow      *bool                               `json:"overflow,omitempty"`
	WasteCapacity *quantity.Estimate[quantity.Volume] `json:"waste_capacity,omitempty"` // of the bucket under the overflow

	Shape          *mixing.Shape                       `json:"shape,omitempty"`
	Length         *quantity.Estimate[quantity.Length] `json:"length,omitempty"`
	Width          *quantity.Estimate[quantity.Length] `json:"width,omitempty"`
	MiddleWidth    *quantity.Estimate[quantity.Length] `json:"middle_width,omitempty"`
	Height         *quantity.Estimate[quantity.Length] `json:"height,omitempty"`
	Diameter       *quantity.Estimate[quantity.Length] `json:"diameter,omitempty"`
	TopDiameter    *quantity.Estimate[quantity.Length] `json:"top_diameter,omitempty"`
	BottomDiameter *quantity.Estimate[quantity.Length] `json:"bottom_diameter,omitempty"`
}

// Line is the drip line and what its valve can do.
type Line struct {
	DropVolume   *quantity.Estimate[quantity.Volume]   `json:"drop_volume,omitempty"`
	LeastDrip    *quantity.Estimate[quantity.DripRate] `json:"least_drip,omitempty"`    // slowest the valve holds
	GreatestDrip *quantity.Estimate[quantity.DripRate] `json:"greatest_drip,omitempty"` // fastest that is still drops
	Settings     *int                                  `json:"settings,omitempty"`      // most times the valve is set, the first included

	TipDiameter     *quantity.Estimate[quantity.Length] `json:"tip_diameter,omitempty"`     // outer, of the end that the drops fall from
	Bore            *quantity.Estimate[quantity.Length] `json:"bore,omitempty"`             // inner diameter of the hose
	Length          *quantity.Estimate[quantity.Length] `json:"length,omitempty"`           // of the hose, from end to end
	Head            *quantity.Estimate[quantity.Length] `json:"head,omitempty"`             // at the start, of the source's surface above the lower end, or above the container's water where that end is in it
	OutletSubmerged *bool                               `json:"outlet_submerged,omitempty"` // the lower end is in the container's water; nil is no
	IntakeDepth     *quantity.Estimate[quantity.Length] `json:"intake_depth,omitempty"`     // at the start, of the upper end under the source's surface
}

// HomeTank is the tank the animals live in, whose water a ramp changes.
type HomeTank struct {
	Volume            quantity.Estimate[quantity.Volume]    `json:"volume"`                        // of water, net
	Source            *quantity.Reading                     `json:"source,omitempty"`              // what new water is made from; nil is pure water
	GreatestShare     *quantity.Estimate[quantity.Fraction] `json:"greatest_share,omitempty"`      // of the tank in one water change
	EvaporationPerDay *quantity.Estimate[quantity.Volume]   `json:"evaporation_per_day,omitempty"` // made up with fresh water
	Filter            *bool                                 `json:"filter,omitempty"`              // whether the ramp must be slow enough for a filter; nil is yes
	TargetCurve       []TargetPoint                         `json:"target_curve,omitempty"`        // the salinity never runs ahead of it; empty is as fast as possible
}

// HoldingTanks are tanks of one size, each with its own filter, that the keeper can set up.
type HoldingTanks struct {
	Volume *quantity.Estimate[quantity.Volume] `json:"volume,omitempty"` // of the water in one, net
	Count  *int                                `json:"count,omitempty"`  // nil: as many as the move takes
	Source *quantity.Reading                   `json:"source,omitempty"` // what their water is made from; nil is pure water
}

// SourceTank is the tank that feeds the drip.
type SourceTank struct {
	Volume  quantity.Estimate[quantity.Volume] `json:"volume"`
	Surface *quantity.Estimate[quantity.Area]  `json:"surface,omitempty"`
}

// Limits replace the limits of the animals' class.
type Limits struct {
	AtOnce             *quantity.Estimate[quantity.AbsoluteSalinity] `json:"at_once,omitempty"`
	PerHour            *quantity.Estimate[quantity.SalinityRate]     `json:"per_hour,omitempty"`
	Per24Hours         *quantity.Estimate[quantity.AbsoluteSalinity] `json:"per_24_hours,omitempty"`
	TemperaturePerHour *quantity.Estimate[quantity.TemperatureRate]  `json:"temperature_per_hour,omitempty"`
	NH3                *quantity.Estimate[quantity.AmmoniaNitrogen]  `json:"nh3,omitempty"`    // most un-ionized ammonia in the container
	Oxygen             *quantity.Estimate[quantity.DissolvedOxygen]  `json:"oxygen,omitempty"` // least there
}

// Defaults for a request that does not say. All are proposed here, except the share of the
// container, the drops of an air line and the greatest drip, which are common practice without a
// source.
const (
	usualFreeboard                    = 0.1      // of the capacity
	usualStart                        = 1.0 / 3  // of what the container may hold
	usualDropVolume quantity.Volume   = 0.084e-3 // from a 6 mm air line, a large drop: the limits hold for any smaller one
	usualLeastDrip  quantity.DripRate = 0.1
	usualMostDrip   quantity.DripRate = 4 // above it drops become a stream
	usualSettings                     = 4
	carefulClass                      = tolerance.Delicate
)

// WithDefaults returns the request with its defaults filled in, except those that depend on
// animals, waters and container. A plan lists those among its assumptions.
func (r Request) WithDefaults() Request {
	r.Animals = slices.Clone(r.Animals)
	if len(r.Animals) == 0 {
		r.Animals = []Animal{{}}
	}
	for i := range r.Animals {
		if a := &r.Animals[i]; a.Condition == nil {
			a.Condition = new(Well)
		}
		if a := &r.Animals[i]; a.Origin == nil {
			a.Origin = new(tolerance.UnknownOrigin)
		}
	}
	if r.Route == nil {
		r.Route = new(Auto)
	}
	if r.RecentChange == nil {
		r.RecentChange = new(quantity.Exactly[quantity.AbsoluteSalinity](0))
	}
	if r.Limits == nil {
		r.Limits = &Limits{}
	}
	return r
}

// WithDefaults returns the line with its defaults filled in; nil counts as an empty line.
func (l *Line) WithDefaults() Line {
	var line Line
	if l != nil {
		line = *l
	}
	if line.DropVolume == nil {
		line.DropVolume = new(quantity.Exactly(usualDropVolume))
	}
	if line.LeastDrip == nil {
		line.LeastDrip = new(quantity.Exactly(usualLeastDrip))
	}
	if line.GreatestDrip == nil {
		line.GreatestDrip = new(quantity.Exactly(usualMostDrip))
	}
	if line.Settings == nil {
		line.Settings = new(usualSettings)
	}
	return line
}

// vessel is the shape of the container; not ok if none is given.
func (c Container) vessel() (mixing.VesselRequest, bool) {
	if c.Shape == nil {
		return mixing.VesselRequest{}, false
	}
	return mixing.VesselRequest{Shape: *c.Shape, Length: c.Length, Width: c.Width, MiddleWidth: c.MiddleWidth, Height: c.Height,
		Diameter: c.Diameter, TopDiameter: c.TopDiameter, BottomDiameter: c.BottomDiameter}, true
}
