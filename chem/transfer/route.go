package transfer

import (
	"context"
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// route chooses how to go, and says why. A route that is asked for is used.
//
// On auto, a gap within the tolerance is a step, and so is one within the limit at once, unless
// the request describes a drip line or a tolerance, which means that a drip is wanted. A larger
// gap is dripped as long as the 24-hour limit allows it, counting change before the plan.
//
// A gap over the limit of 24 hours is too much for a bucket alone. If the tank the animals live in
// is described, its water is changed around them. The ramp goes all the way if that tank is to
// become the new water, which is assumed unless a container or the tank that feeds a drip is
// described, and if its other animals can live in that; otherwise it goes to within the limit of a
// day, and the rest is dripped. If only holding tanks are described, the move goes in stages
// through them. If nothing is, the drip is tried all the same, and refused with what would work.
func (t *task) route() (Route, quantity.Note) {
	atOnce, gap := salinity(t.rules.atOnce), salinity(t.gap)
	within := t.gap <= t.rules.atOnce*(1+inside)
	switch {
	case t.larval():
		return Direct, noteOf("larvae_go_directly", practical(t.to.sa))
	case t.smolting():
		return Direct, noteOf("smolts_go_directly", practical(t.to.sa))
	case t.basks():
		return Direct, noteOf("set_over_to_bask")
	case t.returning == rescued:
		return Direct, noteOf("rescue_in_one_move", gap)
	case t.underMedicine():
		return Direct, noteOf("out_of_medicine")
	case t.halfWay():
		return Direct, noteOf("rescue_half_way", gap)
	case t.rescuedByDays():
		return Ramped, noteOf("rescue_by_days", gap, salinity(comingHome))
	case t.settlesIn():
		return Ramped, noteOf("up_by_days", gap, salinity(comingHome))
	case t.restsInTub() && *t.request.Route == Auto && t.request.HomeTank != nil && !t.toAnotherTank() && t.livesInTank():
		return Ramped, noteOf("ramp_before_fresh", gap)
	case t.restsInTub() && slices.Contains([]Route{Auto, Direct, Drip, ByCups}, *t.request.Route):
		return Staged, noteOf("rest_before_fresh", gap, practical(restNearFresh), hours(restingDay))
	case *t.request.Route == Direct && !within:
		t.refuse("route", noteOf("gap_over_at_once", gap, atOnce), routeTo(Auto))
		return Direct, quantity.Note{}
	case *t.request.Route == Direct:
		return Direct, noteOf("direct_as_asked", gap, atOnce)
	case *t.request.Route == Ramped:
		return Ramped, noteOf("ramp_as_asked", gap)
	case *t.request.Route == Combined:
		return Combined, noteOf("combined_as_asked", gap)
	case *t.request.Route == Staged:
		return Staged, noteOf("staged_as_asked", gap)
	case within && t.gap < alike && t.phApart > 0:
		return Direct, noteOf("waters_alike_but_ph")
	case within && t.gap < alike:
		return Direct, noteOf("waters_alike")
	case within && t.gap <= t.tolerance*(1+inside):
		return Direct, noteOf("direct_within_tolerance", gap, salinity(t.tolerance))
	case *t.request.Route == ByCups:
		return ByCups, noteOf("cups_as_asked", gap)
	case *t.request.Route == Drip:
		return Drip, noteOf("drip_as_asked", gap)
	case !t.withinDay():
		return t.longRoute()
	case !within:
		return Drip, noteOf("drip_over_at_once", gap, atOnce)
	case t.request.Line != nil || t.request.Tolerance != nil:
		return Drip, noteOf("drip_as_described", gap, atOnce)
	}
	return Direct, noteOf("direct_within_at_once", gap, atOnce)
}

// alike is how far apart, in g/kg, two waters may be and still read the same on any instrument.
const alike = 0.05

// withinDay reports whether the whole gap may be crossed in 24 hours that also hold the change
// before the plan.
func (t *task) withinDay() bool {
	return t.gap <= t.leftOfDay()*(1+inside)
}

// leftOfDay is how much change 24 hours still allow.
func (t *task) leftOfDay() float64 {
	return max(t.rules.perDay-float64(t.request.RecentChange.Value), 0)
}

// longRoute chooses for a gap over the limit of 24 hours.
func (t *task) longRoute() (Route, quantity.Note) {
	gap, day := salinity(t.gap), salinity(t.rules.perDay)
	days, home := t.gap > t.rules.perDay*(1+inside), t.request.HomeTank != nil
	switch {
	case home && days && !t.matesTake(t.to.sa):
		return Combined, noteOf("combined_for_tank_mates", gap, day)
	case home && days && t.toAnotherTank():
		return Combined, noteOf("combined_over_24_hours", gap, day)
	case home && !t.toAnotherTank():
		return Ramped, noteOf("ramp_over_24_hours", gap, day)
	case t.request.HoldingTanks != nil:
		return Staged, noteOf("staged_over_24_hours", gap, day)
	}
	return Drip, quantity.Note{}
}

// toAnotherTank reports whether the request describes something only a drip needs, so that the
// home tank is not to become the new water.
func (t *task) toAnotherTank() bool {
	return t.request.Container != Container{} || t.request.SourceTank != nil
}

// offerLongRoutes says which routes would cover a gap over the limit of 24 hours, and what to give
// for each; none to a water that the animals should not be in, however slowly they came there.
func (t *task) offerLongRoutes() {
	if !t.belongThere() || t.mayNotMove() {
		return
	}
	stages := len(t.stageEnds())
	if t.fewestStages() == 1 {
		t.offer("recent_change", noteOf("a_day_would_do"), recentTo(0))
	}
	home, tanks := "home_tank.volume", "holding_tanks.volume"
	if t.request.HomeTank != nil {
		home = "route"
	}
	if t.request.HoldingTanks != nil {
		tanks = "route"
	}
	if stages > 1 && stages <= mostStages && t.returning == notReturning {
		each := t.largestStage()
		offer := []Change{routeTo(Staged)}
		if t.request.HoldingTanks == nil {
			offer = append(offer, tanksOf(float64(usualHolding)))
		}
		t.offer(tanks, noteOf("holding_tanks_would_do", stages, salinity(each), hours(t.wait(each))), offer...)
	}
	if !t.livesInTank() {
		return
	}
	both, slowly := []Change{}, []Change{} // if the tank is not given, only its keeper knows it
	if t.request.HomeTank != nil {
		both, slowly = append(both, routeTo(Combined)), append(slowly, routeTo(Ramped))
	}
	if stages > 1 {
		t.offer(home, noteOf("combined_would_do", practical(t.salinityAt(t.rules.perDay))), both...)
	}
	t.offer(home, noteOf("ramp_would_do"), slowly...)
}

// mayNotMove reports whether some animals must not be moved today, so that no route is offered.
func (t *task) mayNotMove() bool {
	return slices.ContainsFunc(t.request.Animals, func(a Animal) bool {
		return *a.Condition == Sick || *a.Condition == Medicated || *a.Condition == Moulting
	})
}

// livesInTank reports whether the animals have a tank to change around them: they are not in a
// bag, nor just out of one.
func (t *task) livesInTank() bool {
	return t.request.From.HoursInBag == nil && !slices.ContainsFunc(t.request.Animals, func(a Animal) bool { return *a.Condition == JustShipped })
}

// belongThere reports whether the animals may live in the new water, as far as is known: a
// stenohaline one without its species may not.
func (t *task) belongThere() bool {
	return !slices.ContainsFunc(t.request.Animals, func(a Animal) bool {
		class, _ := a.class()
		stays := a.Known == nil && (class == tolerance.StenohalineFresh || class == tolerance.StenohalineMarine)
		return stays || !a.takes(t.to.sa)
	})
}

// carry plans one route. It is long because it lists the routes.
func (t *task) carry(ctx context.Context, route Route) (Plan, error) {
	switch route {
	case Direct:
		switch {
		case t.larval():
			return t.moveLarvae()
		case t.smolting():
			return t.moveSmolts()
		case t.basks(): // common practice, no source
			return t.freely(noteOf("move_to_bask", practical(t.to.sa), celsius(t.from.t)))
		case t.returning == rescued:
			return t.rescue()
		case t.underMedicine():
			return t.outOfMedicine()
		case t.halfWay():
			return t.rescueHalfWay()
		}
		t.checkDay()
		return t.direct()
	case Ramped:
		if t.byDays() {
			return t.changesByDays()
		}
		return t.ramped(ctx)
	case Combined:
		return t.combined(ctx)
	case Staged:
		return t.staged(ctx)
	case ByMarks:
		t.checkDay()
		if len(t.faults) > 0 && t.request.Container == (Container{}) {
			return Plan{}, nil
		}
		return t.byMarks()
	case ByCups:
		t.checkDay()
		if len(t.faults) > 0 && t.request.Container == (Container{}) {
			return Plan{}, nil
		}
		return t.byCups(ctx)
	}
	t.checkDay()
	if len(t.faults) > 0 && t.request.Container == (Container{}) {
		return Plan{}, nil // a container would not change that
	}
	return t.dripped(ctx)
}

// fewestStages is how many days' changes the gap needs.
func (t *task) fewestStages() int {
	return max(1, int(math.Ceil(t.gap/t.rules.perDay*(1-inside))))
}
