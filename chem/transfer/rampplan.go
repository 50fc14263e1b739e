package transfer

import (
	"context"
	"errors"
	"math"
	"strconv"

	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/chem/ramp"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
)

// RampTotals sums up the water changes of a ramp.
type RampTotals struct {
	Days    int                                `json:"days"`
	Changes int                                `json:"changes"`
	Water   quantity.Estimate[quantity.Volume] `json:"water"`
	Salt    quantity.Estimate[quantity.Mass]   `json:"salt"`
	Search  SearchEnd                          `json:"search"`
	Cheaper *CheaperRamp                       `json:"cheaper,omitempty"`
}

// CheaperRamp takes up to a tenth longer than the plan, but less salt, less water or fewer
// changes.
type CheaperRamp struct {
	Days    int                                `json:"days"`
	Changes int                                `json:"changes"`
	Water   quantity.Estimate[quantity.Volume] `json:"water"`
	Salt    quantity.Estimate[quantity.Mass]   `json:"salt"`
	Phases  []Phase                            `json:"phases"`
}

// SearchEnd says how a search ended.
type SearchEnd string

// The ends of a search.
const (
	SearchComplete SearchEnd = "complete"
	SearchBounded  SearchEnd = "bounded" // it stopped at its bound, so a slightly cheaper plan may exist
)

// checkMates refuses a ramp for tank mates that must not change their salinity.
func (t *task) checkMates() {
	for i, a := range t.request.HomeMates {
		if a.Condition == nil {
			continue
		}
		where := "home_mates." + strconv.Itoa(i) + ".condition"
		switch *a.Condition {
		case Sick:
			t.refuse(where, noteOf("no_step_while_sick"))
		case JustShipped:
			t.refuse(where, noteOf("no_step_just_shipped"))
		case Moulting:
			t.refuse(where, a.moults())
		}
	}
}

// ramped plans the water changes that take the whole tank over, with its animals and its filter in
// it.
func (t *task) ramped(ctx context.Context) (Plan, error) {
	home, err := t.homeTank()
	if err != nil {
		return Plan{}, err
	}
	t.checkBands("home_mates", t.request.HomeMates)
	t.checkMates()
	if t.request.From.HoursInBag != nil {
		t.refuse("from.hours_in_bag", noteOf("bag_is_no_home_tank"), routeTo(Auto))
	}
	problem, err := t.rampProblem(home)
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	changes, ok, err := t.solveRamp(ctx, problem)
	if err != nil || !ok {
		return Plan{}, err
	}
	end := hours(24 * float64(changes.Days))
	p := Plan{
		Duration: end, ExactDuration: end, LeastDuration: end,
		Phases: waterChanges(changes, problem.Saltiest), Curve: []CurvePoint{}, Checkpoints: []Checkpoint{},
		Limits:  rampLimitsKept(problem, changes),
		Release: Release{Time: end, Gap: salinity(math.Abs(t.to.sa - changes.Changes[len(changes.Changes)-1].After)), Rest: hours(0)},
		Methods: []string{RampMethod, mixing.WaterChangeMethod, seawater.DensityMethod},
	}
	for _, c := range changes.Changes {
		if err := t.lookAtTank(&p, home, c); err != nil {
			return Plan{}, err
		}
	}
	p.Ramp = totals(changes, problem.Saltiest)
	p.TotalSalt = &p.Ramp.Salt
	if problem.Limits.PH != nil {
		p.Methods = append(p.Methods, seawater.CarbonateMethod)
	}
	t.tellRamp(home, problem)
	return p, t.tellStock(problem, changes.Salt)
}

// totals sums a plan up, with the cheaper one if there is one.
func totals(p ramp.Plan, saltiest float64) *RampTotals {
	all := &RampTotals{Days: p.Days, Changes: len(p.Changes), Water: litres(p.Water), Salt: kilograms(p.Salt), Search: SearchComplete}
	if !p.Complete {
		all.Search = SearchBounded
	}
	if c := p.Cheaper; c != nil {
		all.Cheaper = &CheaperRamp{Days: c.Days, Changes: len(c.Changes), Water: litres(c.Water), Salt: kilograms(c.Salt), Phases: waterChanges(*c, saltiest)}
	}
	return all
}

// waterChanges are the changes as phases; new water with salt has the saltiest salinity.
func waterChanges(p ramp.Plan, saltiest float64) []Phase {
	list := make([]Phase, len(p.Changes))
	for i, c := range p.Changes {
		h := Phase{Kind: WaterChange, Start: hours(24 * float64(c.Day)), Duration: hours(0), FromSalinity: practical(c.Before), ToSalinity: practical(c.After),
			TakeOut: new(litres(c.TakeOut)), PutIn: new(litres(c.PutIn)), NewWater: new(practical(c.NewWater)), Salt: new(kilograms(c.Salt)), SourceWater: new(litres(c.Source))}
		h.Instruction = noteOf("change_water", c.Day, *h.TakeOut, *h.PutIn, *h.NewWater, *h.Salt, h.ToSalinity)
		switch {
		case c.TakeOut == 0:
			h.Instruction = noteOf("top_off_with_stock", c.Day, litres(c.Stock), practical(saltiest), litres(c.Plain), h.ToSalinity)
		case c.Salt == 0:
			h.Instruction = noteOf("change_water_no_salt", c.Day, *h.TakeOut, *h.PutIn, h.ToSalinity)
		}
		list[i] = h
	}
	return list
}

// lookAtTank adds the reading that each change should lead to.
func (t *task) lookAtTank(p *Plan, h HomeTank, c ramp.Change) error {
	reading, err := t.shown(state{sa: c.After, t: t.from.t})
	if err != nil {
		return err
	}
	look := Checkpoint{Time: hours(24*float64(c.Day) + 1), Volume: &h.Volume, PracticalSalinity: practical(c.After), Temperature: celsius(t.from.t), Reading: reading}
	look.Why = noteOf("look_after_change", look.PracticalSalinity)
	if reading != nil {
		look.Why = noteOf("look_after_change", *reading)
	}
	p.Checkpoints = append(p.Checkpoints, look)
	for _, sa := range []float64{c.Before, c.After} {
		p.Curve = append(p.Curve, CurvePoint{Time: hours(24 * float64(c.Day)), Volume: h.Volume, PracticalSalinity: practical(sa), Temperature: celsius(t.from.t)})
	}
	return nil
}

// rampLimitsKept says how close the changes come to their limits. Of limits that vary with the
// salinity, it reports the one kept most narrowly.
func rampLimitsKept(p ramp.Problem, plan ramp.Plan) []Limit {
	type extreme struct{ limit, most float64 }
	var day, week, step, ph extreme
	narrow := func(e *extreme, limit, most float64) {
		if e.limit == 0 || limit-most < e.limit-e.most {
			*e = extreme{limit, most}
		}
	}
	begin := 0 // of the filter step
	for i, c := range plan.Changes {
		if c.Step != plan.Changes[begin].Step {
			begin = i
		}
		from := i // the first change of the week
		for from > 0 && plan.Changes[from-1].Day > c.Day-7 {
			from--
		}
		changed := math.Abs(c.After - plan.Changes[from].Before)
		if c.Day < 6 {
			changed += p.Limits.Recent
		}
		narrow(&day, p.Limits.DayAt(c.Before, c.After, c.Day), math.Abs(c.After-c.Before))
		narrow(&week, p.Limits.WeekAt(c.Before, c.After), changed)
		narrow(&step, p.Limits.Step, math.Abs(c.After-plan.Changes[begin].Before))
		if p.Limits.PH != nil {
			narrow(&ph, p.Limits.PHPerDay, math.Abs(p.Limits.PH(c.After)-p.Limits.PH(c.Before)))
		}
	}
	kept := func(name string, e extreme) Limit {
		return atMost(name, quantity.AbsoluteSalinity(e.limit), quantity.AbsoluteSalinity(e.most), e.most > e.limit*(1-tight), quantity.Proposed)
	}
	list := []Limit{kept("per_day", day), kept("per_week", week)}
	if p.Limits.PH != nil {
		list = append(list, atMost("ph_per_24_hours", quantity.PH(ph.limit), quantity.PH(ph.most), ph.most > ph.limit*(1-tight), quantity.Proposed))
	}
	if p.Limits.Wait > 0 {
		list = append(list, kept("filter_step", step))
	}
	return list
}

// tellRamp says what goes with a ramp.
func (t *task) tellRamp(h HomeTank, p ramp.Problem) {
	if p.Limits.Wait > 0 {
		gate := tolerance.DefaultGate()
		t.warn(noteOf("filter_gate", quantity.Exactly(gate.TAN), quantity.Exactly(gate.Nitrite)))
	}
	if p.Limits.Wait > 0 && t.up { // common practice, no source
		t.warn(noteOf("filter_going_up"))
	}
	if p.Limits.PH == nil {
		t.caution(noteOf("ph_of_ramp_not_known", quantity.Exactly(quantity.PH(p.Limits.PHPerDay))))
	}
	if h.GreatestShare == nil {
		t.assume(noteOf("share_assumed", quantity.Exactly(usualShare)))
	}
	if h.Filter == nil {
		t.assume(noteOf("filter_assumed"))
	}
	if e := h.EvaporationPerDay; e != nil {
		drift := t.to.sa * float64(e.Value/h.Volume.Value)
		t.warn(noteOf("top_off_between", *e, salinity(drift)))
	}
}

// stockBatch is the source water for which the recipe of the stock is given, L.
const stockBatch = 10.0

// tellStock says how to make the one strong water of a ramp and how to pour it in. Strong water
// sinks before it mixes; all of it is common practice, no source.
func (t *task) tellStock(p ramp.Problem, salt float64) error {
	if salt == 0 {
		return nil
	}
	rho, noDensity := density(state{sa: p.Source, t: t.from.t})
	reading, err := t.shown(state{sa: p.Saltiest, t: t.from.t})
	if err := errors.Join(noDensity, err); err != nil {
		return err
	}
	dose := kilograms(stockBatch * rho * (p.Saltiest - p.Source) / (1000 - p.Saltiest))
	n := noteOf("ramp_stock", dose, litres(stockBatch), practical(p.Saltiest))
	if reading != nil {
		n = noteOf("ramp_stock", dose, litres(stockBatch), *reading)
	}
	t.warn(n)
	return nil
}
