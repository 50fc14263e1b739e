package transfer

import (
	"errors"
	"math"
	"strconv"

	"saltlock/chem/instrument"
	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
)

// state is a water on plain numbers: g/kg, °C, J/kg.
type state struct{ sa, t, h float64 }

// task is a request turned into numbers: what change, under which rules, to within what.
type task struct {
	request   Request
	from, to  state
	gap       float64    // between their salinities
	doubt     float64    // standard uncertainty of the gap, as far as it is given
	doubts    [2]float64 // of the salinities it lies between
	up        bool
	rules     rules
	tolerance float64
	visits    *timetable                     // nil if someone can always come
	keep      *keep                          // nil if nobody counts the animals
	course    *lifesupport.Course            // of the temperature in an unheated container
	ph        func(salinity float64) float64 // of a tank on a ramp that is part of a longer move
	partial   bool                           // a stretch of a longer move
	returning returning
	outside   bool            // some are in water outside what they tolerate
	stay      []quantity.Note // about a water that they should not stay in
	warmth    float64         // of the new water as given, °C; to has the matched one
	foul      bool            // the animals are in bag water that harms them
	// nitriteAlone says that it does so by its nitrite and not by its ammonia.
	nitriteAlone bool
	trying       bool    // only whether there is a plan matters
	last         float64 // gap of the last leg, if there are several
	budget       *budget
	faults       []Fault

	heat                            TemperatureSteps // to the temperature of the new water
	phApart                         quantity.PH      // of the two waters, where they go over in one step
	poisonBehind                    bool             // their own water harms them by its ammonia, or will as its pH rises
	warnings, assumptions, cautions []quantity.Note
}

// newTask resolves the waters and the rules. Its error is about values that no formula covers;
// what is against the animals is kept as faults.
func newTask(r Request) (*task, error) {
	t := &task{request: r, budget: newBudget(), warnings: []quantity.Note{}, assumptions: []quantity.Note{}, cautions: []quantity.Note{}}
	from, fromSalinity, noFrom := t.resolve("from", r.From)
	to, toSalinity, noTo := t.resolve("to", r.To)
	others := errors.Join(noTo, inRange(r))
	if sp, salty := tooHigh(noFrom); salty && others == nil {
		return nil, tooSalty(sp)
	}
	if err := errors.Join(noFrom, others); err != nil {
		return nil, err
	}
	t.from, t.to, t.warmth = from, to, to.t
	if err := t.matchWarmth(); err != nil {
		return nil, err
	}
	t.gap, t.up = math.Abs(to.sa-from.sa), to.sa > from.sa
	t.doubts = [2]float64{float64(fromSalinity.U), float64(toSalinity.U)}
	t.doubt = math.Hypot(t.doubts[0], t.doubts[1])
	if err := t.chooseRules(); err != nil {
		return nil, err
	}
	if err := t.judgeBag(); err != nil {
		return nil, err
	}
	t.checkAnimals()
	visits, noVisits := t.timetable()
	t.visits = visits
	return t, errors.Join(noVisits, t.chooseTolerance())
}

// What is planned for: 42 g/kg, 0 and 40 °C are the ends of most formulas for the keeper's
// instruments, and waters warm or cool a little as they mix.
var (
	PlannedSalinity    = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 42}
	PlannedTemperature = quantity.Range[quantity.Celsius]{Lo: 0.5, Hi: 39.5}
)

// resolve reads one of the two waters. A specific gravity without temperatures is assumed to be
// read on the keeper's own hydrometer, and ppm on the keeper's own pen.
func (t *task) resolve(name string, w Water) (state, quantity.Estimate[quantity.AbsoluteSalinity], error) {
	var none quantity.Estimate[quantity.AbsoluteSalinity]
	if err := PlannedTemperature.Check(name+".temperature", w.Temperature.Value); err != nil {
		return state{}, none, err
	}
	set := instrument.Setup{}
	if own := t.request.Instrument; own != nil && w.Salinity.Convention == nil && (w.Salinity.Scale == quantity.SpecificGravityScale || w.Salinity.Scale == quantity.PenScale) {
		set = *own
		t.assume(noteOf("read_on_own_instrument", w.Salinity))
	}
	sa, _, err := quantity.Propagate[quantity.AbsoluteSalinity](func(x []float64) (float64, error) {
		r, at := w.Salinity, quantity.Celsius(x[1])
		r.Value = x[0]
		sa, err := instrument.AbsoluteSalinity(r, &at, set)
		return float64(sa), err
	}, 0, quantity.Input{Name: "salinity", Value: w.Salinity.Value, U: w.Salinity.U},
		quantity.Input{Name: "temperature", Value: float64(w.Temperature.Value), U: float64(w.Temperature.U)})
	if err != nil {
		return state{}, none, instrument.Named(name+".salinity", err)
	}
	if err := PlannedSalinity.Check(name+".salinity", sa.Value); err != nil {
		return state{}, none, err
	}
	h, err := seawater.SpecificEnthalpy(sa.Value, w.Temperature.Value)
	return state{float64(sa.Value), float64(w.Temperature.Value), float64(h)}, sa, err
}

// matchWarmth assumes that the new water is first brought to the animals' temperature, since two
// changes at once are harder than one: they are warmed or cooled later. Water that runs from a
// tank cannot be matched, and then both change together.
func (t *task) matchWarmth() error {
	if t.request.fromTank() || t.request.SourceTank != nil || math.Abs(t.to.t-t.from.t) < countedDifference {
		return nil
	}
	h, err := seawater.SpecificEnthalpy(quantity.AbsoluteSalinity(t.to.sa), quantity.Celsius(t.from.t))
	t.to = state{t.to.sa, t.from.t, float64(h)}
	return err
}

// later is by how much the animals must still be warmed once they have moved.
func (t *task) later() float64 { return t.warmth - t.to.t }

// sayWarmth says how to match the new water, and how the animals reach its own temperature. Out of
// a clean bag, floating bridges small differences: Lim2003.
func (t *task) sayWarmth(p *Plan, route Route) {
	apart := t.later()
	if t.settlesIn() || t.sayStrays() || math.Abs(apart) < countedDifference {
		return
	}
	if name, _, winters := t.wakes(); winters {
		t.warn(noteOf("winters_there", name, celsius(t.from.t)))
	}
	if route == Direct && t.request.From.HoursInBag != nil && math.Abs(apart) <= mostFloated {
		t.heat.First = append(t.heat.First, noteOf("float_then_move"))
		for i := range p.Checkpoints {
			p.Checkpoints[i].Temperature = celsius(t.warmth)
		}
		return
	}
	code := quantity.Code("warm_after_move")
	if route == Ramped {
		t.warn(noteOf("ramp_water_like_tank", celsius(t.from.t)))
		code = "warm_after_ramp"
	} else {
		t.heat.First = append(t.heat.First, noteOf("match_new_water", celsius(t.from.t)))
	}
	t.heat.Last = append(t.heat.Last, noteOf(code, celsius(t.warmth), kelvinsPerHour(t.rules.temperature), kelvins(t.rules.temperatureOfDay), hours(t.warmsIn(math.Abs(apart)))))
}

// warmsIn is how long a temperature difference takes under the limits of an hour and a day, h.
func (t *task) warmsIn(apart float64) float64 {
	days := max(0, math.Ceil(apart/t.rules.temperatureOfDay)-1)
	return 24*days + (apart-days*t.rules.temperatureOfDay)/t.rules.temperature
}

// warmer is by how much the new water is warmer.
func (t *task) warmer() float64 { return t.to.t - t.from.t }

// counts reports whether that is a change of its own.
func (t *task) counts() bool { return math.Abs(t.warmer()) >= countedDifference }

// salinityAt is the salinity in the container at a gap; rounding may not take it below 0.
func (t *task) salinityAt(gap float64) float64 {
	if t.up {
		return max(0, t.to.sa-gap)
	}
	return max(0, t.to.sa+gap)
}

// at returns the water in the container when the gap has come down to a value. Salt and enthalpy
// mix alike, so both are on the line between the two waters.
func (t *task) at(gap float64) (state, error) {
	if t.gap == 0 {
		return t.from, nil
	}
	s := state{sa: t.salinityAt(gap), h: t.to.h + (t.from.h-t.to.h)*gap/t.gap}
	celsius, err := seawater.TemperatureFromEnthalpy(quantity.SpecificEnthalpy(s.h), quantity.AbsoluteSalinity(s.sa))
	s.t = float64(celsius)
	return s, err
}

// checkAnimals refuses any step for animals that must not be moved.
func (t *task) checkAnimals() {
	mate := t.shareMedicine()
	sick := quantity.Code("no_step_while_sick")
	if t.gap < alike {
		sick = "no_move_while_sick"
	}
	refusals := map[Condition]quantity.Note{Sick: noteOf(sick), JustShipped: noteOf("no_step_just_shipped")}
	for i, a := range t.request.Animals {
		if n, refused := refusals[*a.Condition]; refused && (*a.Condition != JustShipped || t.request.From.HoursInBag == nil && !t.basks()) {
			t.refuse("animals."+strconv.Itoa(i)+".condition", n)
		}
		switch *a.Condition {
		case Medicated:
			if mate == "" {
				t.refuseMedicine("animals." + strconv.Itoa(i) + ".condition")
			} else if i == 0 { // one fault, whose medicine is in the water of all
				t.refuseMedicine(mate)
			}
		case Moulting:
			t.refuse("animals."+strconv.Itoa(i)+".condition", a.moults())
		}
		if class, known := a.class(); known && a.Known == nil && (class == tolerance.StenohalineMarine || class == tolerance.StenohalineFresh && t.up) {
			t.warn(noteOf("stenohaline_stays_in_its_band"))
		}
	}
}

// checkDay refuses more change than a day allows: that is too much for a bucket. The whole change
// counts, even if the drip takes longer than a day.
func (t *task) checkDay() {
	recent := float64(t.request.RecentChange.Value)
	if left := max(t.rules.perDay-recent, 0); t.gap > left*(1+inside) {
		if t.gap <= t.rules.perDay*(1+inside) {
			t.refuse("to.salinity", noteOf("day_used_up", salinity(recent), salinity(t.rules.perDay), salinity(t.gap)))
		} else if t.request.From.HoursInBag != nil {
			t.refuse("to.salinity", noteOf("over_24_hours_from_bag", salinity(t.gap), salinity(t.rules.perDay), practical(t.from.sa), celsius(t.from.t)))
		} else {
			t.refuse("to.salinity", noteOf("over_24_hours", salinity(t.gap), salinity(t.rules.perDay)))
		}
		t.offerLongRoutes()
	}
	if t.doubt > t.rules.atOnce {
		t.warn(noteOf("gap_uncertain", quantity.Of[quantity.AbsoluteSalinity](t.gap, t.doubt), salinity(t.rules.atOnce)))
	}
}

// chooseTolerance chooses the gap that may remain at the release.
func (t *task) chooseTolerance() error {
	u := 0.0
	if own := t.request.Instrument; own != nil {
		e, err := instrument.DefaultUncertainty(*own, quantity.AbsoluteSalinity(t.to.sa), quantity.Celsius(t.to.t))
		if err != nil && !t.offScale(err) {
			return onInstrument(err)
		}
		u = float64(e)
	}
	atOnce := t.rules.atOnce
	if u > atOnce {
		t.warn(noteOf("instrument_cannot_verify", salinity(u), salinity(atOnce)))
	}
	if given := t.request.Tolerance; given != nil {
		if t.tolerance = float64(given.Value); t.tolerance > atOnce*(1+inside) {
			t.refuse("tolerance", noteOf("tolerance_over_at_once", salinity(t.tolerance), salinity(atOnce)), toleranceTo(roundedDown(atOnce)))
		}
		return nil
	}
	t.tolerance = min(max(atOnce/2, u), atOnce)
	if t.crossesCritical() {
		t.tolerance = min(t.tolerance, max(mostIntoCritical, u))
	}
	if t.gap > t.tolerance && t.gap <= t.tolerance*quantity.GramsPerPractical*(1+inside) { // as asPrinted: a drip of that little is none
		t.tolerance = t.gap
	}
	t.assume(noteOf("tolerance_assumed", salinity(t.tolerance)))
	return nil
}

// refuseWith is refuse for a reason that reads as an offer; plain words it for when the offer has
// no plan.
func (t *task) refuseWith(where string, n, plain quantity.Note, changes ...Change) {
	f := Fault{Where: where, Note: n, Offer: changes, plain: &plain}
	if len(changes) == 0 {
		f.plain = nil
	}
	t.faults = append(t.faults, f)
}

// refuse keeps a reason against every plan, the field whose change would remove it, and what to
// change it to if that is known.
func (t *task) refuse(where string, n quantity.Note, changes ...Change) {
	t.faults = append(t.faults, Fault{Where: where, Note: n, Offer: changes})
}

// none notes, when only trying, that there is no plan.
func (t *task) none() error {
	t.faults = append(t.faults, Fault{Where: "route"})
	return nil
}

func (t *task) warn(n quantity.Note)    { t.warnings = quantity.AppendNote(t.warnings, n) }
func (t *task) assume(n quantity.Note)  { t.assumptions = quantity.AppendNote(t.assumptions, n) }
func (t *task) caution(n quantity.Note) { t.cautions = quantity.AppendNote(t.cautions, n) }

func noteOf(code quantity.Code, params ...any) quantity.Note {
	return quantity.Note{Code: code, Params: params}
}
