package transfer

import (
	"math"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// On arrival the hours in a bag decide the order of things, not the salinity. Carbon
// dioxide keeps the pH of the bag low and its ammonia harmless; opened and aerated, the
// same water turns poisonous. So the animals leave it at once, into water that is
// matched to the bag, and are planned for from there. Common practice, no source; that
// floating 15 to 30 min bears 4 to 5 °C is Lim et al. 2003.
const (
	restAfterBag = 24.0 // h, dim and unfed
	floatAbove   = 2.0  // °C, between the closed bag and a tank that stands ready
)

// judgeBag tells whether the animals are in bag water that harms them.
func (t *task) judgeBag() error {
	from := t.request.From
	if from.HoursInBag == nil {
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
	bag, err := lifesupport.BagVerdict(tan, &from.HoursInBag.Value, ph, quantity.AbsoluteSalinity(t.from.sa), quantity.Celsius(t.from.t))
	t.foul = bag.Drip == lifesupport.DripRefused || tooMuchNitrite(from)
	t.nitriteAlone = t.foul && bag.Drip != lifesupport.DripRefused
	return err
}

// tooMuchNitrite tells whether a water is known to hold more nitrite than is harmless.
func tooMuchNitrite(w Water) bool {
	return w.Nitrite != nil && w.Nitrite.Value > lifesupport.HarmlessNitrite*(1+inside)
}

// judgeNitrite warns of a tank that holds nitrite, and refuses new water with it.
func (t *task) judgeNitrite() {
	harmless := quantity.Exactly(lifesupport.HarmlessNitrite)
	if tooMuchNitrite(t.request.From) {
		t.warn(noteOf("nitrite_where_they_are", *t.request.From.Nitrite, harmless))
	}
	if tooMuchNitrite(t.request.To) {
		t.refuse("to.nitrite", noteOf("nitrite_in_new_water", *t.request.To.Nitrite, harmless))
	}
}

// outOfBag is the plan for animals in foul water, whatever was asked for: nothing else
// can wait, and nothing else is a step. It ends where a plan of the salinity begins.
func (t *task) outOfBag() Plan {
	in, warmth := practical(t.from.sa), celsius(t.from.t)
	act := func(kind PhaseKind, start, lasting float64, n quantity.Note) Phase {
		return Phase{Kind: kind, Start: hours(start), Duration: hours(lasting), FromSalinity: in, ToSalinity: in, Instruction: n}
	}
	rest := noteOf("bag_rest", hours(restAfterBag), in)
	if t.fedSoon() {
		rest = noteOf("bag_rest_fed", hours(restAfterBag), in)
	}
	why := noteOf("bag_is_foul", *t.request.From.HoursInBag)
	if t.nitriteAlone {
		why = noteOf("bag_has_nitrite", *t.request.From.Nitrite, quantity.Exactly(lifesupport.HarmlessNitrite))
	}
	p := Plan{
		Route: OutOfBag, Reason: why, Search: Complete,
		Duration: hours(restAfterBag), ExactDuration: hours(restAfterBag), LeastDuration: hours(restAfterBag),
		Gap: quantity.Of[quantity.AbsoluteSalinity](t.gap, t.doubt), Tolerance: salinity(t.tolerance),
		Phases:      []Phase{act(Prepare, 0, 0, noteOf("bag_prepare", in, warmth)), act(Move, 0, 0, noteOf("bag_open")), act(Rest, 0, restAfterBag, rest)},
		Checkpoints: t.bagLooks(), Curve: []CurvePoint{}, Limits: []Limit{},
		Release: Release{Time: hours(0), Gap: salinity(0), Rest: hours(restAfterBag)},
		Methods: []string{lifesupport.BagWaterMethod},
	}
	if t.request.From.TAN != nil {
		p.Methods = append(p.Methods, seawater.AmmoniaMethod)
	}
	t.cautions, t.assumptions, t.warnings = []quantity.Note{}, []quantity.Note{}, []quantity.Note{}
	if apart := math.Abs(t.warmth - t.from.t); apart >= countedDifference {
		t.warn(noteOf("bag_then_warmth", celsius(t.warmth), kelvinsPerHour(t.rules.temperature), hours(apart/t.rules.temperature)))
	}
	if t.request.HomeTank != nil {
		t.warn(noteOf("bag_no_tank"))
	}
	t.caution(noteOf("bag_float", kelvins(floatAbove)))
	t.caution(noteOf("bag_water_away"))
	t.caution(noteOf("bag_test"))
	t.handle()
	t.caution(noteOf("vet_for_the_sick"))
	t.caution(noteOf("never_release_to_nature"))
	p.Cautions, p.Assumptions, p.Warnings = t.cautions, t.assumptions, t.warnings
	return p
}

// bagLooks is when to look at animals that came out of foul water.
func (t *task) bagLooks() []Checkpoint {
	var looks []Checkpoint
	for _, at := range []float64{1, 3, 8, restAfterBag} {
		looks = append(looks, Checkpoint{Time: hours(at), Why: noteOf("bag_look"), PracticalSalinity: practical(t.from.sa), Temperature: celsius(t.from.t)})
	}
	return looks
}
