package transfer

import (
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Care is what surrounds a plan: what to have ready before, what to look at after, and what to do
// if something fails. Common practice, no source; that deaths come late is from McKinnon1976, on
// shrimps.

// addCare fills the lists of a plan.
func (t *task) addCare(p *Plan) {
	if *t.request.Route == OutOfBag {
		return
	}
	if t.plants() {
		p.Before, p.After, p.If = []quantity.Note{noteOf("ready_waters"), noteOf("ready_instruments")}, []quantity.Note{noteOf("look_after_plants")}, []quantity.Note{}
		if p.Has(Fill) || p.Has(RunOver) {
			p.If = []quantity.Note{noteOf("if_clamp_moved")}
		}
		return
	}
	p.Before, p.After, p.If = t.before(*p), t.after(), t.contingencies(*p)
}

// before is the list to go through before anything is touched.
func (t *task) before(p Plan) []quantity.Note {
	list := []quantity.Note{noteOf("ready_waters"), noteOf("ready_instruments")}
	if p.Has(Fill) || p.Has(RunOver) {
		list = append(list, noteOf("ready_trial_drip"), noteOf("ready_container"), noteOf("ready_air"), noteOf("ready_night"))
	} else if !p.Has(WaterChange) {
		list = append(list, noteOf("ready_air"))
	}
	return append(list, noteOf("ready_refuge"))
}

// after is when to look after the release, and when to call a vet.
func (t *task) after() []quantity.Note {
	list := []quantity.Note{}
	switch {
	case t.is(func(x *tolerance.Taxon) bool { return x.Group != tolerance.GroupFish }):
		list = append(list, noteOf("look_after_release_long"))
	default:
		list = append(list, noteOf("look_after_release"))
	}
	if t.fedSoon() {
		list = append(list, noteOf("feed_soon"))
	} else {
		list = append(list, noteOf("feed_next_day"))
	}
	list = append(list, noteOf("test_after_release"), noteOf("newcomers_apart"))
	if t.surely(ofFamily(seahorses)) {
		return append(list, noteOf("vet_when_seahorse"))
	}
	if t.surely(ofFamily(puffers)) {
		return append(list, noteOf("vet_when_puffer"))
	}
	return append(list, noteOf("vet_when"))
}

// contingencies are what may fail while nobody watches, each with the first thing to do.
func (t *task) contingencies(p Plan) []quantity.Note {
	if !p.Has(Fill) && !p.Has(RunOver) {
		return []quantity.Note{}
	}
	list := []quantity.Note{noteOf("if_clamp_moved"), noteOf("if_power_fails"), noteOf("if_power_returns")}
	if p, ok := t.longestAlone(p); ok {
		list = append(list, noteOf("if_drip_fast", p.Duration, litres(fastShare*float64(p.ToVolume.Value-p.FromVolume.Value))))
	}
	if t.surely(ofGroup(tolerance.GroupCrustacean)) {
		list = append(list, noteOf("if_it_moults"))
	}
	return list
}

const (
	fastShare = 0.2 // by which a counted drip may run fast unseen
	aloneFor  = 3.0 // h without a visit from which the plan says so
)

// longestAlone is the longest phase of a drip that nobody watches.
func (t *task) longestAlone(p Plan) (longest Phase, ok bool) {
	for _, x := range p.Phases {
		if x.Kind == Fill && x.FromVolume != nil && x.ToVolume != nil && x.Duration.Value > longest.Duration.Value && x.Duration.Value >= aloneFor {
			longest, ok = x, true
		}
	}
	return longest, ok
}
