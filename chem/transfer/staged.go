package transfer

import (
	"context"
	"errors"
	"math"

	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Defaults for a move through holding tanks; proposed here.
const (
	mostStages                        = 8
	betweenStages                     = 48  // h in a holding tank at least: a day to feed in, and one without food before the next change
	usualHolding      quantity.Volume = 100 // L, for which salt is given if the tanks are not described
	longestWait                       = 24  // h, after which change before the plan no longer counts
	holdingTanksRange                 = 20
)

// staged plans a move of several days through holding tanks, in the fewest stages that the limit
// of 24 hours allows, all of one size.
//
// More than a day passes from the release of one stage to the start of the next, so that no 24
// hours see two of them.
func (t *task) staged(ctx context.Context) (Plan, error) {
	ends := t.stageEnds()
	n := len(ends)
	if err := t.checkHolding(n); err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	w := &way{task: t, stages: n, change: t.largestStage(), plan: Plan{Curve: []CurvePoint{}, Checkpoints: []Checkpoint{}}}
	w.clearDay()
	from := t.request.From
	for k := 1; k <= n; k++ {
		to := t.between(ends[k-1])
		if k == n {
			to = t.request.To
		}
		if err := w.stage(ctx, k, from, to); err != nil || len(t.faults) > 0 {
			return Plan{}, err
		}
		from = to
	}
	if !t.restsInTub() {
		gate := tolerance.DefaultGate()
		t.warn(noteOf("mature_filters_first", n-1, quantity.Exactly(gate.TAN), quantity.Exactly(gate.Nitrite)))
	}
	return w.finished(), nil
}

// largestStage is the most that one stage changes, g/kg.
func (t *task) largestStage() float64 {
	most, before := 0.0, 0.0
	for _, end := range t.stageEnds() {
		most, before = max(most, (end-before)*t.gap), end
	}
	return most
}

// checkHolding refuses a move through holding tanks that nobody can carry out.
func (t *task) checkHolding(stages int) error {
	h := t.holding()
	if err := errors.Join(within(tankRange, "holding_tanks.volume", h.Volume), checkTanks(h.Count)); err != nil {
		return err
	}
	switch {
	case stages == 1 && t.withinDay():
		t.refuse("route", noteOf("stages_not_needed", salinity(t.gap), salinity(t.rules.perDay)), routeTo(Auto))
	case stages > mostStages:
		t.refuse("route", noteOf("too_many_stages", stages, mostStages))
		t.offerLongRoutes()
	case h.Count != nil && *h.Count < stages-1 && !t.restsInTub():
		t.refuse("holding_tanks.count", noteOf("needs_more_holding_tanks", stages, stages-1, *h.Count), tanksTo(stages-1))
	}
	source, err := sourceOf("holding_tanks.source", h.Source)
	if lowest := min(t.from.sa, t.to.sa); stages > 1 && source > (lowest+t.lowestStage())*(1+inside) {
		t.refuse("holding_tanks.source", noteOf("stage_below_the_source", practical(source), practical(lowest+t.lowestStage())))
	}
	if h.Volume == nil && !t.restsInTub() {
		t.assume(noteOf("holding_volume_assumed", quantity.Exactly(usualHolding)))
	}
	return err
}

func checkTanks(count *int) error {
	if count == nil || *count >= 0 && *count <= holdingTanksRange {
		return nil
	}
	return &quantity.RangeError{Name: "holding_tanks.count", Value: float64(*count), Lo: 0, Hi: holdingTanksRange, Unit: "tanks"}
}

// lowestStage is how far above the lower water the lowest of the holding tanks is, g/kg.
func (t *task) lowestStage() float64 {
	ends := t.stageEnds()
	if t.up {
		return ends[0] * t.gap
	}
	return (1 - ends[len(ends)-2]) * t.gap
}

// holding is what is described of the holding tanks.
func (t *task) holding() HoldingTanks {
	if h := t.request.HoldingTanks; h != nil {
		return *h
	}
	return HoldingTanks{}
}

func (h HoldingTanks) volume() float64 {
	if h.Volume != nil {
		return float64(h.Volume.Value)
	}
	return float64(usualHolding)
}

// wait is how long animals live in a water after so much change in 24 hours.
func (t *task) wait(change float64) float64 {
	if t.restsInTub() {
		return restingDay
	}
	return max(betweenStages, t.rules.hold*change/t.rules.perDay)
}

// way is a move through holding tanks while it is planned.
type way struct {
	task       *task
	stages     int
	change     float64 // of each, g/kg
	plan       Plan
	at, recent float64 // h when the next stage starts; g/kg of change that then still counts
	saved      float64 // h that the optimum before rounding to drops saves
	least      float64 // h of drip that no schedule within the limits beats
}

// clearDay waits until the change before the plan leaves room for a stage.
func (w *way) clearDay() {
	t := w.task
	w.recent = float64(t.request.RecentChange.Value)
	if w.change <= t.leftOfDay()*(1+inside) {
		return
	}
	w.at = t.visits.released(max(longestWait, t.rules.hold*w.recent/t.rules.perDay))
	w.plan.hold(0, w.at, practical(t.from.sa), noteOf("wait_for_the_day", hours(w.at), salinity(w.recent)))
	w.recent = 0
}

// stage plans one stage and the time in the holding tank after it.
func (w *way) stage(ctx context.Context, k int, from, to Water) error {
	t := w.task
	leg, err := t.part(from, to, w.at, w.recent)
	if err != nil {
		return err
	}
	if k < w.stages {
		leg.request.SourceTank = nil // it drips from water made for the holding tank
	}
	q, err := t.walk(ctx, leg)
	if err != nil || len(t.faults) > 0 {
		return err
	}
	w.saved += float64(q.Duration.Value - q.ExactDuration.Value)
	w.least += float64(q.LeastDuration.Value)
	w.plan.Duration = hours(w.at + float64(q.Duration.Value))
	s := Stage{Number: k, Route: q.Route, Start: hours(w.at), Change: salinity(leg.gap), Salinity: practical(leg.to.sa), Warmth: celsius(leg.to.t)}
	if s.Reading, err = leg.shown(leg.to); err != nil {
		return err
	}
	q.later(w.at)
	for i := range q.Phases {
		q.Phases[i].Stage = &s.Number
	}
	w.still(float64(q.Phases[0].Start.Value), leg.from, len(q.Curve) == 0)
	w.plan.join(q)
	w.still(float64(q.Release.Time.Value), leg.to, k < w.stages || len(q.Curve) == 0)
	if k < w.stages {
		if err := w.rest(&s, leg, q); err != nil {
			return err
		}
	}
	w.plan.Stages = append(w.plan.Stages, s)
	return nil
}

// rest plans the holding tank that a stage leads into, and the time there.
func (w *way) rest(s *Stage, leg *task, q Plan) error {
	t := w.task
	if err := w.fillTank(s, leg, q.Draw); err != nil {
		return err
	}
	from := float64(q.Release.Time.Value)
	lasting := t.visits.released(from+t.wait(leg.gap+w.recent)) - from
	s.Hold = new(hours(lasting))
	gate := tolerance.DefaultGate()
	stay := noteOf("hold_in_tank", s.Number, hours(lasting), quantity.Exactly(gate.TAN), quantity.Exactly(gate.Nitrite))
	if t.restsInTub() {
		stay = noteOf("rest_in_tub", hours(lasting))
	}
	w.plan.hold(from, lasting, s.Salinity, stay)
	w.plan.Phases[len(w.plan.Phases)-1].Stage = &s.Number
	w.at, w.recent = from+lasting, 0
	code := quantity.Code("look_before_next_stage")
	if t.restsInTub() {
		code = "look_before_fresh"
	}
	look := Checkpoint{Time: hours(w.at), Why: noteOf(code, s.reads()), Volume: new(litres(t.stopVolume())),
		PracticalSalinity: s.Salinity, Temperature: s.Warmth, Reading: s.Reading}
	w.plan.Checkpoints = append(w.plan.Checkpoints, look)
	w.still(w.at, leg.to, true)
	if t.restsInTub() {
		return nil // both parts are within one day's change, after which the hold comes
	}
	w.plan.limit(atLeast("hold", quantity.Duration(t.rules.hold*leg.gap/t.rules.perDay), quantity.Duration(lasting), lasting > betweenStages, quantity.Proposed))
	return nil
}

// fillTank says what to make the water of a holding tank from.
func (w *way) fillTank(s *Stage, leg *task, draw *Draw) error {
	h := w.task.holding()
	water := h.volume()
	if w.task.restsInTub() {
		tub, ok := w.task.tub()
		if !ok {
			s.Condition = new(noteOf("fill_tub_unmeasured", s.reads()))
			return nil
		}
		water = tub * (1 + renewedInTub)
	}
	if draw != nil {
		s.Drawn = &draw.Volume
		water += float64(draw.Volume.Value)
	}
	var err error
	if s.Salt, s.SaltInto, err = h.made(water, leg.to); err != nil {
		return err
	}
	s.Water = new(litres(water))
	s.Condition = new(noteOf("fill_holding_tank", s.Number, *s.Water, s.reads(), *s.Salt, *s.SaltInto))
	if w.task.restsInTub() && s.Drawn != nil {
		s.Condition = new(noteOf("fill_tub_and_drip", *s.Water, s.reads(), *s.Salt, *s.SaltInto, *s.Drawn))
	} else if w.task.restsInTub() {
		s.Condition = new(noteOf("fill_tub", *s.Water, s.reads(), *s.Salt, *s.SaltInto))
	} else if s.Drawn != nil {
		s.Condition = new(noteOf("fill_holding_tank_and_drip", s.Number, *s.Water, s.reads(), *s.Salt, *s.SaltInto, *s.Drawn))
	}
	w.plan.cite(mixing.SaltBalanceMethod)
	return nil
}

// made is the salt for so many litres of a water, and the source water to dissolve it in. A source
// just as salty needs none.
func (h HoldingTanks) made(volume float64, of state) (salt *quantity.Estimate[quantity.Mass], source *quantity.Estimate[quantity.Volume], err error) {
	at, err := sourceOf("holding_tanks.source", h.Source)
	if err != nil || of.sa <= at*(1+inside) {
		return new(kilograms(0)), new(litres(volume)), err
	}
	b, err := mixing.Salt(mixing.SaltRequest{Target: quantity.Reading{Value: of.sa, Scale: quantity.AbsoluteScale},
		Volume: new(litres(volume)), Temperature: new(celsius(of.t)), Source: h.Source})
	return &b.Salt, &b.SourceWater, err
}

// reads is what the keeper should read in the water of a stage.
func (s Stage) reads() quantity.Reading { return shownBy(s.Reading, s.Salinity) }

// still adds a point of a tank's water to the curve.
func (w *way) still(at float64, s state, wanted bool) {
	if wanted {
		w.plan.Curve = append(w.plan.Curve, CurvePoint{Time: hours(at), Volume: litres(w.task.stopVolume()), PracticalSalinity: practical(s.sa), Temperature: celsius(s.t)})
	}
}

// finished fills in the totals of the whole move. The limit of 24 hours keeps any schedule from
// being faster.
func (w *way) finished() Plan {
	t, p := w.task, w.plan
	days := math.Ceil(max(0, t.gap-t.tolerance)/t.rules.perDay*(1-inside)) - 1
	p.ExactDuration = hours(float64(p.Duration.Value) - w.saved)
	p.LeastDuration = hours(max(w.least, 24*days))
	if p.LeastDuration.Value > 0 {
		p.BoundRatio = new(float64(p.Duration.Value / p.LeastDuration.Value))
	}
	p.cite(StageMethod)
	return p
}
