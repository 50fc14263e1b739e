package transfer

import (
	"slices"
	"strconv"
)

// Copper, formalin and most wormers kill invertebrates, so they leave a medicine at once, into
// water matched to theirs; only the change of salinity waits. Common practice, no source.

const restAfterMedicine = 24.0 // h, before the salinity changes

// underMedicine reports whether all animals are invertebrates in water with a medicine.
func (t *task) underMedicine() bool {
	return !slices.ContainsFunc(t.request.Animals, func(a Animal) bool { return !a.poisoned() })
}

// shareMedicine takes animals as medicated whose tank mates are: what is dosed for one is in the
// water of all. It returns the field that says so, if none of the animals is itself.
func (t *task) shareMedicine() (mate string) {
	medicated := func(a Animal) bool { return a.Condition != nil && *a.Condition == Medicated }
	i := slices.IndexFunc(t.request.HomeMates, medicated)
	if i < 0 {
		return ""
	}
	if !slices.ContainsFunc(t.request.Animals, medicated) {
		mate = "home_mates." + strconv.Itoa(i) + ".condition"
	}
	t.request.Animals = slices.Clone(t.request.Animals)
	for k := range t.request.Animals {
		t.request.Animals[k].Condition = new(Medicated)
	}
	return mate
}

// poisoned reports whether the animal is an invertebrate in water with a medicine.
func (a Animal) poisoned() bool {
	return *a.Condition == Medicated && a.Known != nil && a.Known.Of != nil && invertebrate(a.Known.Of)
}

// outOfMedicine is the plan for them.
func (t *task) outOfMedicine() (Plan, error) {
	p, err := t.direct()
	if err != nil {
		return p, err
	}
	p.noReturn()
	in := practical(t.from.sa)
	if t.gap <= t.tolerance*(1+inside) {
		in = practical(t.to.sa)
	} else {
		p.Phases = append(p.Phases, Phase{Kind: Rest, Start: hours(0), Duration: hours(restAfterMedicine), FromSalinity: in, ToSalinity: in,
			Instruction: noteOf("rest_after_medicine", hours(restAfterMedicine), in, practical(t.to.sa))})
		p.Release = Release{Time: hours(0), Gap: salinity(0), Rest: hours(restAfterMedicine)}
	}
	p.Phases[0].ToSalinity, p.Limits = in, []Limit{}
	p.Phases[0].Instruction = noteOf("move_out_of_medicine", in, celsius(t.nearEdge()))
	p.Checkpoints = t.looksAt(in, 1, 3, 8, restAfterMedicine)
	return p, nil
}

// refuseMedicine refuses a step of animals in water with a medicine, unless they only leave it.
func (t *task) refuseMedicine(where string) {
	if !t.underMedicine() {
		t.refuse(where, noteOf("no_step_while_medicated"))
	}
}
