package transfer

import (
	"context"
	"errors"
	"math"
	"slices"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// NewPlan returns how to move the animals of a request. Its error is an *InfeasibleError if
// something rules out every plan that was asked for; it then names each field whose change would
// help.
//
//	From, To  0 to 42 g/kg, 0.5 to 39.5 °C
//
// See route for how auto chooses.
//
// A drip takes the least time, counting a quarter of an hour for each visit, unless the request
// prefers something else. It counts until the tolerance is reached; the rest before the release
// comes on top.
//
// Standard uncertainty: the plan is exact for the numbers given. The keeper's drops, level marks
// and instruments are not; the checkpoints are for that.
// Check value: from 0.2 to 10 ppt in 6 L and more, at 2 g/kg/h to within 3.282
// g/kg without pouring off, takes 9.85 h with one setting of the valve, 5.64 with two,
// 4.70 with three, and never under 3.28 (ρ' = (1+ρ²)/2 with Πρ = 3, worked by hand).
//
// Source: conservation of salt, water and enthalpy. The limits are proposals;
// see tolerance.DefaultLimits.
func NewPlan(ctx context.Context, r Request) (Plan, error) {
	r = r.WithDefaults()
	p, err := newPlan(ctx, r, newBudget(), false)
	SpareBells(r, p.Notes())
	refused, ok := errors.AsType[*InfeasibleError](err)
	if ok && !r.Underway {
		if refused.Faults, err = tested(ctx, r, refused.Faults); err != nil {
			return p, err
		}
		err = refused
	}
	if ok {
		SpareBells(r, refused.Notes())
	}
	return p, err
}

// newPlan is NewPlan for a request with its defaults and a budget. It does not test its offers. If
// it is only trying, it stops at the first plan and makes no offers. It is long because it is the
// order in which everything is decided.
func newPlan(ctx context.Context, r Request, work *budget, trying bool) (Plan, error) {
	t, err := newTask(r)
	if err != nil {
		return Plan{}, err
	}
	t.budget, t.trying = work, trying
	if _, strange := t.strays(); t.foul || t.request.From.HoursInBag != nil && (strange != 0 || t.harmed() != 0) {
		return t.outOfBag()
	}
	against, err := t.judge()
	if err != nil {
		return Plan{}, err
	}
	if against { // what harms them is neither planned nor offered in a smaller version
		return Plan{}, t.refusal()
	}
	if warmed, why, wait := t.warmedFirst(); wait {
		p, err := newPlan(ctx, warmed, work, trying)
		if err == nil {
			p.heatBefore(t, why)
		}
		return p, err
	}
	route, reason := t.route()
	if route == Drip && t.unmeasured() {
		route = ByMarks
	}
	p, err := t.carry(ctx, route)
	if _, lacks := errors.AsType[*instrument.MissingError](err); lacks && len(t.faults) > 0 {
		err = nil // reasons that no container removes are said before one is asked for
	}
	if err != nil {
		return Plan{}, err
	}
	if len(t.faults) > 0 {
		for i := len(t.stay) - 1; i >= 0; i-- {
			t.faults = slices.Insert(t.faults, 0, Fault{Where: "stay", Note: t.stay[i]})
		}
		return Plan{}, t.refusal()
	}
	full, err := capacity(r.Container)
	if err != nil {
		return Plan{}, err
	}
	t.sayWarmth(&p, route)
	t.sayRoom()
	p.Temperature = t.temperatureSteps()
	if t.harmfulBehind() {
		p.noReturn()
	}
	t.addCautions(p, full)
	t.addCare(&p)
	p.Route, p.Reason = route, reason
	if p.Search == "" {
		p.Search = Complete // nothing was left to search for
	}
	if err := t.sayNight(ctx, &p); err != nil {
		return Plan{}, err
	}
	p.Gap, p.Tolerance = quantity.Of[quantity.AbsoluteSalinity](t.gap, t.doubt), salinity(t.tolerance)
	p.Cautions, p.Assumptions, p.Warnings = t.cautions, t.assumptions, t.warnings
	return p, nil
}

// judge reports whether something rules out every route for these animals between these waters.
func (t *task) judge() (against bool, err error) {
	told := len(t.faults)
	t.checkWarmth()
	t.checkStrangers()
	if err := t.checkPoison(); err != nil {
		return false, err
	}
	harmless := len(t.faults)
	t.checkLarvae()
	if len(t.faults) == harmless && !t.larval() {
		t.checkBands("animals", t.request.Animals)
	}
	t.checkDip()
	t.checkLand()
	t.judgeNitrite()
	if c := t.request.To.Conditioned; c != nil && !*c {
		t.refuse("to.conditioned", noteOf("dechlorinate_before"))
	}
	if len(t.faults) > told {
		return true, nil
	}
	t.judgeCompany()
	t.judgeWarmth()
	t.judgeStart()
	t.judgeTarget()
	t.youngGoDown()
	for _, n := range t.careful() {
		t.warn(n)
	}
	waits := []quantity.Code{"no_step_while_medicated", "no_step_while_moulting", "has_no_shell", "moults_in_ammonia", "moults_in_nitrite", "moults_before_ph_rises"} // whatever the route
	return slices.ContainsFunc(t.faults, func(f Fault) bool { return slices.Contains(waits, f.Note.Code) }), nil
}

// direct plans a move in one step.
func (t *task) direct() (Plan, error) {
	brim, noCapacity := capacity(t.request.Container)
	looks, noLooks := t.checkpoints(nil, t.visits, 0)
	if err := errors.Join(noCapacity, noLooks); err != nil {
		return Plan{}, err
	}
	p := Plan{
		Duration: hours(0), ExactDuration: hours(0), LeastDuration: hours(0),
		Phases: []Phase{{Kind: Move, Start: hours(0), Duration: hours(0), FromSalinity: practical(t.from.sa), ToSalinity: practical(t.to.sa),
			Instruction: t.moveOver()}},
		Checkpoints: looks,
		Curve:       []CurvePoint{},
		Limits:      t.stepLimits(t.gap),
		Release:     Release{Time: hours(0), Gap: salinity(t.gap), Rest: hours(t.rest(t.gap))},
		Methods:     []string{StepMethod, LimitMethod},
	}
	if brim > 0 {
		p.SetAside = &SetAside{Volume: litres(brim), Until: hours(24)}
	}
	if apart := math.Abs(t.warmer()); t.counts() {
		t.heat.First = append(t.heat.First, noteOf("equalise_temperature_first", celsius(t.to.t), kelvins(apart), kelvinsPerHour(t.rules.temperature), hours(apart/t.rules.temperature)))
	}
	return p, nil
}

// moveOver says how they go over in one step.
func (t *task) moveOver() quantity.Note {
	bag := t.request.From.HoursInBag != nil
	switch {
	case t.phApart > 0 && (bag || t.poisonBehind):
		return noteOf("move_near_ph", practical(t.to.sa), celsius(t.to.t), *t.request.From.PH)
	case t.phApart > 0:
		return noteOf("mix_then_move", practical(t.to.sa))
	case bag:
		return noteOf("move_over_from_bag", practical(t.to.sa))
	case t.gap < alike:
		return noteOf("move_over_alike", practical(t.to.sa))
	}
	return noteOf("move_over", salinity(t.gap), practical(t.to.sa))
}

// rest is how long a step stays clear of other change: as long as a drip under the hourly limit
// would take for it.
func (t *task) rest(step float64) float64 {
	return step / min(t.rules.perHour(t.salinityAt(step)), t.rules.perHour(t.to.sa))
}

// shown is what the keeper's own instrument shows in a water; nil without an instrument, and if
// the water is beyond its scale, which the plan says.
func (t *task) shown(s state) (*quantity.Reading, error) {
	if t.request.Instrument == nil {
		return nil, nil
	}
	r, err := instrument.Show(quantity.AbsoluteSalinity(s.sa), quantity.Celsius(s.t), *t.request.Instrument)
	if t.offScale(err) {
		return nil, nil
	}
	return &r, onInstrument(err)
}

// offScale reports whether an instrument cannot show a water, and warns of it.
func (t *task) offScale(err error) bool {
	if _, off := errors.AsType[*quantity.RangeError](err); !off {
		return false
	}
	kind := instrument.None
	if named := t.request.Instrument.Kind; named != nil {
		kind = *named
	}
	name := string(kind)
	if kind == instrument.ConductivityMeter { // conductivity is also what it measures
		name = "conductivity_meter"
	}
	t.warn(noteOf("instrument_off_scale", name))
	return true
}

// onInstrument names the instrument in an error about values that do not fit it.
func onInstrument(err error) error {
	if conflict, ok := errors.AsType[*instrument.ConflictError](err); ok {
		return &instrument.ConflictError{Name: "instrument." + conflict.Name, Other: "instrument.kind", Why: conflict.Why, Note: conflict.Note}
	}
	return err
}
