package transfer

import (
	"math"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
)

// What is in a water besides salt is judged before any route. A drip is held to its ammonia
// throughout; a step or a ramp into poisonous water is no better.

// harmlessPH is the range in which the pH of a water alone harms no fish. From memory: the
// European Inland Fisheries Advisory Commission, 1969, found 5 to 9 not directly lethal, and harm
// from 9 to 9.5 if it lasts.
var harmlessPH = [2]quantity.PH{5, 9.5}

// buffered is the salinity, g/kg, from which marine salt alone holds the pH of a water near 8:
// proposed here.
const buffered = 2.0

// slowPH is the difference of pH from which a change should take a day: FAO589.
const slowPH quantity.PH = 0.5

// checkPoison refuses new water that harms them, and any route that leaves them in harmful water
// of their own. They leave that at once, if the change is one step.
func (t *task) checkPoison() error {
	most, ofNew := t.mostAmmonia(), lifesupport.HarmfulAmmonia
	if given := t.request.Limits.NH3; given != nil {
		ofNew = given.Value
	}
	then, err := t.unionized(t.request.To, t.to)
	if err != nil {
		return err
	}
	var now quantity.AmmoniaNitrogen
	if from := t.request.From; from.PH != nil || !t.request.Underway { // a drip under way has its own triage
		if now, err = t.unionized(from, t.from); err != nil {
			return err
		}
	}
	switch {
	case then > ofNew:
		t.refuse("to.tan", noteOf("new_water_poisonous", quantity.Exactly(then), quantity.Exactly(ofNew)))
		if t.request.To.PH == nil {
			t.refuse("to.ph", noteOf("new_water_ph_assumed", quantity.Exactly(lifesupport.UnknownPHInAir)))
		}
	case t.aboveGate() && (now <= most || t.request.From.PH == nil):
		t.refuseFoulTank()
	case now > most && t.goesNow():
		t.poisonBehind = true
		t.warn(noteOf("own_water_poisonous", quantity.Exactly(now), quantity.Exactly(most)))
		if t.request.From.PH == nil {
			t.warn(noteOf("own_ph_assumed", quantity.Exactly(lifesupport.UnknownPHInAir)))
		}
	case now > most:
		t.leaveAmmonia(now, most)
		if t.request.From.PH == nil {
			t.refuse("from.ph", noteOf("own_ph_assumed", quantity.Exactly(lifesupport.UnknownPHInAir)))
		}
	default:
		err = t.checkRisingPH(most)
	}
	t.checkPH()
	return err
}

// refuseFoulTank has the water of their tank changed before any ramp begins there.
func (t *task) refuseFoulTank() {
	gate := tolerance.DefaultGate()
	where := "from.tan"
	if t.request.From.TAN == nil {
		where = "from.nitrite"
	}
	t.refuse(where, noteOf("tank_above_gate", practical(t.from.sa), celsius(t.from.t), quantity.Exactly(gate.TAN), quantity.Exactly(gate.Nitrite)))
}

// checkRisingPH refuses any way that leaves them in water of their own that is harmless only as
// long as its pH is low: an air stone, or a drip of the new water, ends that.
func (t *task) checkRisingPH(most quantity.AmmoniaNitrogen) error {
	from, to := t.request.From, t.request.To
	if from.PH == nil || to.PH == nil || to.PH.Value <= from.PH.Value {
		return nil
	}
	risen := from
	risen.PH = to.PH
	then, err := t.unionized(risen, t.from)
	switch {
	case err != nil || then <= most:
		return err
	case t.goesNow():
		t.poisonBehind = true
		t.warn(noteOf("own_water_turns", *to.PH, quantity.Exactly(then), quantity.Exactly(most)))
	default:
		t.leaveBeforePHRises(*to.PH, then, most)
	}
	return nil
}

// aboveGate reports whether a ramp of their own tank would begin with more ammonia or nitrite in it
// than its filter may have before the next step.
func (t *task) aboveGate() bool {
	r, gate := t.request, tolerance.DefaultGate()
	if r.Underway || *r.Route != Ramped && *r.Route != Combined && (r.HomeTank == nil || *r.Route != Auto) {
		return false
	}
	return r.From.TAN != nil && r.From.TAN.Value > gate.TAN || r.From.Nitrite != nil && r.From.Nitrite.Value > gate.Nitrite
}

// movesOver reports whether the animals go over in one step.
func (t *task) movesOver() bool { return t.gap <= t.rules.atOnce*(1+inside) && t.oneMove() }

// oneMove reports whether a small difference is left to one move.
func (t *task) oneMove() bool {
	route := *t.request.Route
	return route == Direct || route == Auto && t.request.HomeTank == nil && t.request.Line == nil && t.request.Tolerance == nil
}

// unionized is the ammonia of a water that does harm, as nitrogen; 0 if nobody measured it. A pH
// that is not given is assumed to be that of a hard water in air.
func (t *task) unionized(w Water, s state) (quantity.AmmoniaNitrogen, error) {
	if w.TAN == nil {
		return 0, nil
	}
	ph := lifesupport.UnknownPHInAir
	if w.PH != nil {
		ph = w.PH.Value
	}
	sp, err := seawater.Salinity(quantity.AbsoluteSalinity(s.sa))
	if err != nil {
		return 0, err
	}
	share, err := seawater.UnionizedAmmonia(ph, sp, quantity.Celsius(s.t), seawater.NBSScale)
	return w.TAN.Value * quantity.AmmoniaNitrogen(share), err
}

// checkPH refuses new water so acid or alkaline that it harms animals not known from such water,
// and says when the pH of the two waters differs too much to mix at once.
func (t *task) checkPH() {
	to := t.request.To.PH
	if to == nil {
		return
	}
	for _, a := range t.request.Animals {
		least, most := harmlessPH[0], harmlessPH[1]
		if a.Known != nil {
			least, most = knownPH(a.Known.Stage, least, most)
		}
		if to.Value < least || to.Value > most {
			t.refuse("to.ph", noteOf("new_water_ph", *to, quantity.Exactly(least), quantity.Exactly(most)))
			return
		}
	}
	if from := t.request.From.PH; from != nil {
		if apart := quantity.PH(math.Abs(float64(to.Value - from.Value))); apart > slowPH*(1+inside) {
			t.sayPHApart(apart, to.Value > from.Value)
		}
	}
}

// sayPHApart says how far apart the pH of two waters is. A drip spreads that over hours, so only
// the ammonia counts, which turns poisonous as the pH rises: FAO589 asks for time, not for another
// route. Out of ammonia into salted water nobody waits, as out of a foul bag: its salt buffers it,
// acid water of that salinity is not to be had, and the rise harms less. Common practice, no source.
func (t *task) sayPHApart(apart quantity.PH, rises bool) {
	switch {
	case t.movesOver() && t.poisonBehind && rises && t.to.sa >= buffered:
		t.warn(noteOf("ph_rises_at_once", quantity.Exactly(apart)))
	case t.movesOver():
		t.phApart = apart
		t.warn(noteOf("ph_apart", quantity.Exactly(apart), quantity.Exactly(slowPH)))
	case rises:
		t.warn(noteOf("ph_rises_with_it", quantity.Exactly(apart)))
	}
}

// knownPH widens two bounds by what records say of a stage.
func knownPH(s tolerance.Stage, least, most quantity.PH) (quantity.PH, quantity.PH) {
	if s.PH == nil {
		return least, most
	}
	if s.PH.Min != nil {
		least = min(least, s.PH.Min.Value)
	}
	if s.PH.Max != nil {
		most = max(most, s.PH.Max.Value)
	}
	return least, most
}
