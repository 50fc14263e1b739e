package transfer

import (
	"math"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// On arrival the hours in a bag decide the order of things, not the salinity. Carbon dioxide keeps
// the pH of the bag low and its ammonia harmless; once opened and aerated, the same water turns
// poisonous. So the animals leave it at once, into water matched to the bag, and are planned for
// from there. Common practice, no source; that floating for 15 to 30 min bridges 4 to 5 °C is from
// Lim et al. 2003.
const (
	restAfterBag = 24.0 // h, dim and unfed
	shortTrip    = 4.0  // h in a bag, up to which its water may be clean: a test would tell
	floatAbove   = 2.0  // °C, between the closed bag and the tank
)

// judgeBag reports whether the animals are in bag water that harms them.
func (t *task) judgeBag() error {
	from := t.request.From
	if from.HoursInBag == nil {
		return nil
	}
	if t.basks() { // what breathes air and dries off leaves its bag at once, whatever the water
		t.request.From.HoursInBag = nil
		t.warn(noteOf("bask_out_of_bag"))
		return nil
	}
	ph, err := lifesupport.HighestPH(t.acidity(from, t.from), t.acidity(t.request.To, t.to))
	if err != nil {
		return err
	}
	var tan *quantity.AmmoniaNitrogen
	if from.TAN != nil {
		tan = &from.TAN.Value
	}
	drip, err := lifesupport.BagVerdict(tan, &from.HoursInBag.Value, ph, quantity.AbsoluteSalinity(t.from.sa), quantity.Celsius(t.from.t))
	t.foul = drip == lifesupport.DripRefused || tooMuchNitrite(from)
	t.nitriteAlone = t.foul && drip != lifesupport.DripRefused
	return err
}

// tooMuchNitrite reports whether a water is known to hold more nitrite than is harmless.
func tooMuchNitrite(w Water) bool {
	return w.Nitrite != nil && w.Nitrite.Value > lifesupport.HarmlessNitrite*(1+inside)
}

// judgeNitrite refuses new water with nitrite, and any way that leaves them in such water of their
// own. They leave that at once, if the change is one step.
func (t *task) judgeNitrite() {
	harmless := quantity.Exactly(lifesupport.HarmlessNitrite)
	switch from := t.request.From; {
	case !tooMuchNitrite(from) || t.aboveGate(): // which was refused
	case t.request.Underway:
		t.warn(noteOf("nitrite_where_they_are", *from.Nitrite, harmless))
	case t.goesNow():
		t.poisonBehind = true
		t.warn(noteOf("own_water_has_nitrite", *from.Nitrite, harmless))
	default:
		t.leaveNitrite(*from.Nitrite)
	}
	if tooMuchNitrite(t.request.To) {
		t.refuse("to.nitrite", noteOf("nitrite_in_new_water", *t.request.To.Nitrite, harmless))
	}
}

// outOfBag is the plan for animals in foul water, whatever was asked for: they cannot wait for
// anything else, and nothing else helps. It ends where a plan of the salinity begins. The function
// is long because it is the whole plan.
func (t *task) outOfBag() (Plan, error) {
	t.cautions, t.assumptions, t.warnings = []quantity.Note{}, []quantity.Note{}, []quantity.Note{}
	unfit, err := t.judgeTankOfBag()
	if err != nil {
		return Plan{}, err
	}
	t.judgeCompany()
	t.judgeWarmth()
	t.sayRoom()
	for _, n := range t.careful() {
		t.warn(n)
	}
	in := practical(t.cleanSalinity())
	if name, edge := t.bearable(); edge != t.from.sa {
		t.warn(noteOf("bag_outside_band", name, practical(t.from.sa), in))
	}
	if t.larval() && in != practical(t.from.sa) {
		t.warn(noteOf("larvae_by_day", larvaDeadline))
	}
	act := func(kind PhaseKind, start, lasting float64, n quantity.Note) Phase {
		return Phase{Kind: kind, Start: hours(start), Duration: hours(lasting), FromSalinity: in, ToSalinity: in, Instruction: n}
	}
	phases := []Phase{act(Prepare, 0, 0, t.bagPrepare(in)), act(Move, 0, 0, noteOf("bag_open"))}
	if n, lasting := t.bagWarmth(); lasting > 0 {
		phases = append(phases, act(Rest, 0, lasting, n))
	}
	phases = append(phases, act(Rest, 0, restAfterBag, t.bagRest(in)))
	p := Plan{
		Route: OutOfBag, Reason: t.bagReason(), Search: Complete,
		Duration: hours(restAfterBag), ExactDuration: hours(restAfterBag), LeastDuration: hours(restAfterBag),
		Gap: quantity.Of[quantity.AbsoluteSalinity](t.gap, t.doubt), Tolerance: salinity(t.tolerance),
		Phases:      phases,
		Checkpoints: t.bagLooks(), Curve: []CurvePoint{}, Limits: []Limit{},
		Release: Release{Time: hours(0), Gap: salinity(0), Rest: hours(restAfterBag)},
		Methods: []string{lifesupport.BagWaterMethod},
	}
	if t.request.From.TAN != nil {
		p.Methods = append(p.Methods, seawater.AmmoniaMethod)
	}
	if t.request.HomeTank != nil {
		t.warn(noteOf("bag_no_tank"))
	}
	t.sayTankOfBag(unfit, in)
	t.caution(noteOf("bag_water_away"))
	t.caution(noteOf("bag_test"))
	if !t.plants() {
		t.caution(noteOf("bag_aftercare"))
	}
	t.handle(true)
	t.caution(noteOf("vet_for_the_sick"))
	t.caution(noteOf("never_release_to_nature"))
	p.Cautions, p.Assumptions, p.Warnings, p.Temperature = t.cautions, t.assumptions, t.warnings, t.temperatureSteps()
	return p, nil
}

// bagReason says why they leave the bag.
func (t *task) bagReason() quantity.Note {
	if !t.foul {
		return noteOf("bag_harms_by_temperature", celsius(t.from.t))
	}
	if t.nitriteAlone {
		return noteOf("bag_has_nitrite", *t.request.From.Nitrite, quantity.Exactly(lifesupport.HarmlessNitrite))
	}
	if tan := t.request.From.TAN; tan != nil {
		return noteOf("bag_has_ammonia", *tan)
	}
	if t.request.From.HoursInBag.Value <= shortTrip {
		return noteOf("bag_may_be_foul", *t.request.From.HoursInBag)
	}
	return noteOf("bag_is_foul", *t.request.From.HoursInBag)
}

// bagPrepare says which water to make ready.
func (t *task) bagPrepare(in quantity.Estimate[quantity.Salinity]) quantity.Note {
	if near := t.nearEdge(); t.tankFits(near) {
		return noteOf("bag_prepare_tank", practical(t.to.sa), celsius(t.warmth))
	} else if near != t.from.t {
		code := quantity.Code("bag_prepare_nearer")
		if t.edge() == t.from.t {
			code = "bag_prepare_nearer_new"
		}
		if in != practical(t.from.sa) {
			return noteOf("bag_prepare_other", in, celsius(near))
		}
		return noteOf(code, in, celsius(near), kelvins(math.Abs(near-t.from.t)))
	}
	if in != practical(t.from.sa) {
		return noteOf("bag_prepare_other", in, celsius(t.from.t))
	}
	return noteOf("bag_prepare", in, celsius(t.from.t))
}

// bagLeadsThere reports whether the clean water is no different from the new water.
func (t *task) bagLeadsThere() bool {
	return math.Abs(t.to.sa-t.cleanSalinity()) <= t.tolerance*(1+inside)
}

// tankFits reports whether they can go straight into the new water itself.
func (t *task) tankFits(near float64) bool {
	return t.bagLeadsThere() && math.Abs(t.warmth-near) < countedDifference && !t.toBeJudged()
}

// toBeJudged reports whether anything known about the new water may harm them.
func (t *task) toBeJudged() bool {
	to := t.request.To
	return to.TAN != nil || to.Nitrite != nil || to.PH != nil || to.Conditioned != nil && !*to.Conditioned
}

// thenWarmth says how the clean water comes from a temperature to its own: no heater cools it.
func (t *task) thenWarmth(from float64) quantity.Note {
	n := noteOf("bag_then_warmth", celsius(t.warmth), kelvinsPerHour(t.rules.temperature), hours(t.warmsIn(math.Abs(t.warmth-from))), kelvins(t.rules.temperatureOfDay))
	if t.warmth < from {
		n.Code = "bag_then_cool"
	}
	return n
}

// bagWarmth says how the clean water reaches its temperature if that begins at once, for animals
// outside the range they live in. For others it waits, and is a warning.
func (t *task) bagWarmth() (quantity.Note, float64) {
	near, edge := t.nearEdge(), t.edge()
	if side := t.harmed(); side < 0 {
		t.warn(noteOf("bag_chilled", celsius(t.from.t)))
	} else if side > 0 {
		t.warn(noteOf("bag_overheated", celsius(t.from.t)))
	}
	if math.Abs(near-t.from.t) >= math.Abs(edge-t.from.t) { // the change at once already takes them there
		if math.Abs(t.warmth-near) >= countedDifference {
			t.heat.Last = append(t.heat.Last, t.thenWarmth(near))
		}
		return quantity.Note{}, 0
	}
	apart, lasting := math.Abs(t.warmth-edge), math.Abs(edge-near)/RateToEdge
	if apart < countedDifference {
		return noteOf("bag_to_edge", celsius(edge), kelvinsPerHour(RateToEdge), hours(lasting)), lasting
	}
	after := t.warmsIn(apart)
	return noteOf("bag_to_edge_and_on", celsius(edge), kelvinsPerHour(RateToEdge), hours(lasting),
		celsius(t.warmth), kelvinsPerHour(t.rules.temperature), hours(after), kelvins(t.rules.temperatureOfDay)), lasting + after
}

// bagRest says how they rest, and what comes then.
func (t *task) bagRest(in quantity.Estimate[quantity.Salinity]) quantity.Note {
	rest, there := hours(restAfterBag), t.bagLeadsThere()
	switch {
	case t.plants():
		return noteOf("bag_rest_plants", rest, in)
	case t.edge() != t.from.t:
		return noteOf("bag_rest_unfed", rest, in)
	case t.fedSoon() && there:
		return noteOf("bag_rest_fed_there", rest)
	case t.fedSoon():
		return noteOf("bag_rest_fed", rest, in)
	case there:
		return noteOf("bag_rest_there", rest)
	}
	return noteOf("bag_rest", rest, in)
}

// bagLooks is when to look at animals that came out of foul water.
func (t *task) bagLooks() []Checkpoint {
	var looks []Checkpoint
	for _, at := range []float64{1, 3, 8, restAfterBag} {
		looks = append(looks, Checkpoint{Time: hours(at), Why: noteOf("bag_look"), PracticalSalinity: practical(t.cleanSalinity()), Temperature: celsius(t.from.t)})
	}
	return looks
}
