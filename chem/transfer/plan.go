package transfer

import "saltlock/chem/quantity"

// Plan is how to move the animals. Times count from the first drop, or from the move on the route
// direct.
type Plan struct {
	Route  Route         `json:"route"`
	Reason quantity.Note `json:"reason"`

	Duration      quantity.Estimate[quantity.Duration] `json:"duration"`       // until the tolerance is reached
	ExactDuration quantity.Estimate[quantity.Duration] `json:"exact_duration"` // the optimum, before rounding to drops that can be counted
	LeastDuration quantity.Estimate[quantity.Duration] `json:"least_duration"` // no schedule under the limits is faster
	BoundRatio    *float64                             `json:"bound_ratio,omitempty"`
	Search        Search                               `json:"search,omitempty"` // missing in plans of the first release
	Settings      int                                  `json:"settings"`         // times the valve is set
	PourOffs      int                                  `json:"pour_offs"`        // times water is poured off
	Visits        int                                  `json:"visits,omitempty"` // of a drip; missing in plans of earlier releases

	Gap       quantity.Estimate[quantity.AbsoluteSalinity] `json:"gap"`       // between the two waters at the start
	Tolerance quantity.Estimate[quantity.AbsoluteSalinity] `json:"tolerance"` // gap that remains at the release

	Stages       []Stage                           `json:"stages,omitempty"` // of a move through holding tanks
	Phases       []Phase                           `json:"phases"`
	Checkpoints  []Checkpoint                      `json:"checkpoints"`
	Curve        []CurvePoint                      `json:"curve"`
	Draw         *Draw                             `json:"draw,omitempty"`         // with a drip; in stages, of the last
	LifeSupport  *LifeSupport                      `json:"life_support,omitempty"` // if the animals are counted
	TotalSalt    *quantity.Estimate[quantity.Mass] `json:"total_salt,omitempty"`   // of a ramp's water changes
	Ramp         *RampTotals                       `json:"ramp,omitempty"`         // of a ramp's water changes
	Alternatives []Alternative                     `json:"alternatives,omitempty"` // of a drip: least time, fewest visits, least water
	Limits       []Limit                           `json:"limits"`
	Release      Release                           `json:"release"`
	// NewWaterParts is how much a plan by marks takes, in parts of the water they start in.
	NewWaterParts *quantity.Estimate[quantity.Fraction] `json:"new_water_parts,omitempty"`
	SetAside      *SetAside                             `json:"set_aside,omitempty"` // where the container is known
	// Temperature is what is done about it apart from the phases, where the two waters differ in it.
	Temperature *TemperatureSteps `json:"temperature_steps,omitempty"`

	Before []quantity.Note `json:"before,omitempty"` // to check before the first step
	After  []quantity.Note `json:"after,omitempty"`  // to watch after the release
	If     []quantity.Note `json:"if,omitempty"`     // something fails: the first thing to do

	Cautions    []quantity.Note `json:"cautions"`
	Assumptions []quantity.Note `json:"assumptions"`
	Warnings    []quantity.Note `json:"warnings"`
	Methods     []string        `json:"methods"`
}

// Search says whether the search for a plan reached its end.
type Search string

// How a search can end.
const (
	Complete Search = "complete" // no plan is better by more than its tolerance
	Bounded  Search = "bounded"  // it stopped at the most evaluations; the plan is good, but a better one may exist
)

// PhaseKind is what happens in a phase.
type PhaseKind string

// The kinds of phase.
const (
	Prepare PhaseKind = "prepare"  // what must be ready before the animals are touched
	Move    PhaseKind = "move"     // the animals go over in one step
	Fill    PhaseKind = "fill"     // the drip runs at one setting of the valve
	PourOff PhaseKind = "pour_off" // water is taken from the container
	RunOver PhaseKind = "run_over" // the drip runs at one setting, and as much runs over
	Cups    PhaseKind = "cups"     // measured cups of one size are poured in at one interval
	Rest    PhaseKind = "rest"     // the drip is off and the salinity stays
	Free    PhaseKind = "release"  // the animals cross the difference that is left

	WaterChange PhaseKind = "water_change" // part of the tank's water is changed, on a ramp
	Hold        PhaseKind = "hold"         // the animals live where they are, fed, until the next change
)

// Phase is one thing to do, or to let run.
type Phase struct {
	Kind         PhaseKind                             `json:"kind"`
	Start        quantity.Estimate[quantity.Duration]  `json:"start"`
	Duration     quantity.Estimate[quantity.Duration]  `json:"duration"`
	Drip         *quantity.Estimate[quantity.DripRate] `json:"drip,omitempty"`
	Flow         *quantity.Estimate[quantity.Flow]     `json:"flow,omitempty"`
	SetValve     bool                                  `json:"set_valve"` // false: leave the valve as it is
	FromVolume   *quantity.Estimate[quantity.Volume]   `json:"from_volume,omitempty"`
	ToVolume     *quantity.Estimate[quantity.Volume]   `json:"to_volume,omitempty"`
	FromLevel    *quantity.Estimate[quantity.Length]   `json:"from_level,omitempty"`
	ToLevel      *quantity.Estimate[quantity.Length]   `json:"to_level,omitempty"`
	TakeOut      *quantity.Estimate[quantity.Volume]   `json:"take_out,omitempty"`     // of the tank
	PutIn        *quantity.Estimate[quantity.Volume]   `json:"put_in,omitempty"`       // back to the same level
	NewWater     *quantity.Estimate[quantity.Salinity] `json:"new_water,omitempty"`    // that is put in
	Salt         *quantity.Estimate[quantity.Mass]     `json:"salt,omitempty"`         // anhydrous, for the new water
	SourceWater  *quantity.Estimate[quantity.Volume]   `json:"source_water,omitempty"` // that the new water is made of
	FromSalinity quantity.Estimate[quantity.Salinity]  `json:"from_salinity"`
	ToSalinity   quantity.Estimate[quantity.Salinity]  `json:"to_salinity"`
	Stage        *int                                  `json:"stage,omitempty"` // it belongs to, from 1
	Cups         *int                                  `json:"cups,omitempty"`
	Cup          *quantity.Estimate[quantity.Volume]   `json:"cup,omitempty"`       // that one of them holds
	Every        *quantity.Estimate[quantity.Duration] `json:"every,omitempty"`     // from one cup to the next
	FromPart     *quantity.Estimate[quantity.Fraction] `json:"from_part,omitempty"` // of the water they start in, if nobody gave its volume
	ToPart       *quantity.Estimate[quantity.Fraction] `json:"to_part,omitempty"`
	Instruction  quantity.Note                         `json:"instruction"`
}

// Stage is one part of a move through holding tanks. Each leads into the next tank, the last into
// the new water.
type Stage struct {
	Number    int                                          `json:"number"` // from 1
	Route     Route                                        `json:"route"`  // how they move: direct or drip
	Start     quantity.Estimate[quantity.Duration]         `json:"start"`
	Change    quantity.Estimate[quantity.AbsoluteSalinity] `json:"change"`
	Salinity  quantity.Estimate[quantity.Salinity]         `json:"salinity"`          // of the water it leads to
	Reading   *quantity.Reading                            `json:"reading,omitempty"` // of that water in the keeper's own instrument
	Warmth    quantity.Estimate[quantity.Celsius]          `json:"temperature"`       // of that water
	Water     *quantity.Estimate[quantity.Volume]          `json:"water,omitempty"`   // to make for the holding tank, including what the drip takes
	Drawn     *quantity.Estimate[quantity.Volume]          `json:"drawn,omitempty"`   // of it by the drip
	Salt      *quantity.Estimate[quantity.Mass]            `json:"salt,omitempty"`    // anhydrous, for that water
	SaltInto  *quantity.Estimate[quantity.Volume]          `json:"source_water,omitempty"`
	Hold      *quantity.Estimate[quantity.Duration]        `json:"hold,omitempty"` // to live there, at least
	Condition *quantity.Note                               `json:"condition,omitempty"`
}

// Checkpoint is when to look, and what you should see.
type Checkpoint struct {
	Time              quantity.Estimate[quantity.Duration] `json:"time"`
	Why               quantity.Note                        `json:"why"`
	Volume            *quantity.Estimate[quantity.Volume]  `json:"volume,omitempty"`
	Level             *quantity.Estimate[quantity.Length]  `json:"level,omitempty"`
	PracticalSalinity quantity.Estimate[quantity.Salinity] `json:"practical_salinity"`
	Temperature       quantity.Estimate[quantity.Celsius]  `json:"temperature"`
	Reading           *quantity.Reading                    `json:"reading,omitempty"` // in the keeper's own instrument, at that temperature
}

// CurvePoint is the water around the animals at one time.
type CurvePoint struct {
	Time              quantity.Estimate[quantity.Duration] `json:"time"`
	Volume            quantity.Estimate[quantity.Volume]   `json:"volume"`
	PracticalSalinity quantity.Estimate[quantity.Salinity] `json:"practical_salinity"`
	Temperature       quantity.Estimate[quantity.Celsius]  `json:"temperature"`

	Oxygen *quantity.Estimate[quantity.DissolvedOxygen] `json:"oxygen,omitempty"` // at the likely use
	TAN    *quantity.Estimate[quantity.AmmoniaNitrogen] `json:"tan,omitempty"`
	NH3    *quantity.Estimate[quantity.AmmoniaNitrogen] `json:"nh3,omitempty"`
}

// Draw is what the drip takes from the source, and what replaces it.
type Draw struct {
	Volume          quantity.Estimate[quantity.Volume]  `json:"volume"`
	LevelDrop       *quantity.Estimate[quantity.Length] `json:"level_drop,omitempty"` // of the source tank, if nothing replaces it
	Intakes         []Intake                            `json:"intakes,omitempty"`    // of the hose, where the source's surface is known
	OpenLine        *OpenLine                           `json:"open_line,omitempty"`  // where the hose is described
	Drifts          []Drift                             `json:"drifts,omitempty"`     // of each phase of the drip, where head and levels are known
	Feed            Feed                                `json:"feed,omitempty"`
	Charges         []Charge                            `json:"charges,omitempty"` // of a jug
	Failure         *Failure                            `json:"failure,omitempty"` // of the valve
	Waste           *quantity.Estimate[quantity.Volume] `json:"waste,omitempty"`   // that runs over
	ReplacementSalt quantity.Estimate[quantity.Mass]    `json:"replacement_salt"`  // anhydrous, into pure water
	PureWater       quantity.Estimate[quantity.Volume]  `json:"pure_water"`        // the salt goes into
}

// Given is the standing of a limit that the request gave.
const Given quantity.Standing = "given"

// Limit is one limit and how close the plan comes to it.
type Limit struct {
	Name     string            `json:"name"`
	Limit    quantity.Measure  `json:"limit"`
	Extreme  quantity.Measure  `json:"extreme"` // nearest the plan comes to the limit
	Margin   quantity.Measure  `json:"margin"`  // limit minus extreme
	Binding  bool              `json:"binding"` // a looser limit would let the plan be faster
	Standing quantity.Standing `json:"standing"`
}

// Release is the last step, over the difference that is left.
type Release struct {
	Time quantity.Estimate[quantity.Duration]         `json:"time"`
	Gap  quantity.Estimate[quantity.AbsoluteSalinity] `json:"gap"`
	Rest quantity.Estimate[quantity.Duration]         `json:"rest"` // before and after it, without other change
}

// SetAside is the way back: old water of the animals, kept aerated and covered.
type SetAside struct {
	Volume quantity.Estimate[quantity.Volume]   `json:"volume"`
	Until  quantity.Estimate[quantity.Duration] `json:"until"`
}

// Notes returns every note of the plan, for the renderer to fill.
func (p *Plan) Notes() []*quantity.Note {
	all := []*quantity.Note{&p.Reason}
	for _, s := range p.Stages {
		if s.Condition != nil {
			all = append(all, s.Condition)
		}
	}
	for i := range p.Phases {
		all = append(all, &p.Phases[i].Instruction)
	}
	if p.Ramp != nil && p.Ramp.Cheaper != nil {
		for i := range p.Ramp.Cheaper.Phases {
			all = append(all, &p.Ramp.Cheaper.Phases[i].Instruction)
		}
	}
	for i := range p.Checkpoints {
		all = append(all, &p.Checkpoints[i].Why)
	}
	lists := [][]quantity.Note{p.Before, p.After, p.If, p.Cautions, p.Assumptions, p.Warnings}
	if p.Temperature != nil {
		lists = append(lists, p.Temperature.First, p.Temperature.Last)
	}
	for _, a := range p.Alternatives {
		lists = append(lists, a.Differences)
	}
	for _, list := range lists {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	return all
}
