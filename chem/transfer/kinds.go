package transfer

import (
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// What a rule needs to know of an animal beyond its ranges. Nothing is known of one that is not in
// the species table, so every caution that may protect it stays.

// is reports whether some animal is, or might be, of a kind.
func (t *task) is(kind func(*tolerance.Taxon) bool) bool {
	return slices.ContainsFunc(t.request.Animals, func(a Animal) bool { return a.Known == nil || a.Known.Of == nil || kind(a.Known.Of) })
}

// surely reports whether some animal is known to be of a kind.
func (t *task) surely(kind func(*tolerance.Taxon) bool) bool {
	return slices.ContainsFunc(t.request.Animals, func(a Animal) bool { return a.Known != nil && a.Known.Of != nil && kind(a.Known.Of) })
}

// Families that a net or a lift into air harms. Common practice, no source.
var (
	puffers   = []string{"Tetraodontidae", "Diodontidae"}
	seahorses = []string{"Syngnathidae"}
	spiny     = []string{"Ariidae", "Plotosidae", "Pimelodidae", "Doradidae", "Bagridae", "Mochokidae", "Loricariidae", "Siluridae", "Batrachoididae", "Callichthyidae", "Pangasiidae", "Schilbeidae", "Clariidae"}
	landCrabs = []string{"Coenobitidae", "Gecarcinidae"}
)

func ofFamily(families ...[]string) func(*tolerance.Taxon) bool {
	return func(t *tolerance.Taxon) bool { return slices.Contains(slices.Concat(families...), t.Family) }
}

func ofGroup(g tolerance.Group) func(*tolerance.Taxon) bool {
	return func(t *tolerance.Taxon) bool { return t.Group == g }
}

// invertebrate reports whether it is an animal without a backbone.
func invertebrate(t *tolerance.Taxon) bool {
	return slices.Contains([]tolerance.Group{tolerance.GroupCrustacean, tolerance.GroupMollusc, tolerance.GroupCnidarian, tolerance.GroupRotifer, tolerance.GroupChelicerate}, t.Group)
}

func needsLand(t *tolerance.Taxon) bool { return t.Behaviour.Land() }

// young reports whether some animal is a larva or a fry.
func (t *task) young() bool {
	return slices.ContainsFunc(t.request.Animals, func(a Animal) bool {
		return a.Stage != nil && (*a.Stage == tolerance.Larva || *a.Stage == tolerance.Fry)
	})
}

// fedSoon reports whether some animal must not fast: seahorses and pipefish take live food within
// hours, larvae and fry all the time.
func (t *task) fedSoon() bool { return t.young() || t.surely(ofFamily(seahorses)) }

// handle says how to carry the animals when they are moved, and what they can do to the person who
// carries them.
func (t *task) handle(moved bool) {
	for _, a := range t.request.Animals {
		for i := 0; a.Known != nil && i < len(a.Known.Hazards); i++ {
			t.caution(a.Known.Hazards[i])
		}
	}
	if t.surely(ofGroup(tolerance.GroupReptile)) {
		t.caution(noteOf("hazard_salmonella"))
	}
	if moved {
		t.cover()
	}
	switch {
	case t.plants() || !moved:
	case t.surely(needsLand):
		t.caution(noteOf("carry_moist"))
	case t.unknown():
		t.caution(noteOf("move_under_water"))
	default:
		t.handleByFamily()
	}
}

// cover says of the first animal that jumps or climbs out that the container is covered.
func (t *task) cover() {
	for _, a := range t.request.Animals {
		if a.Known == nil || a.Known.Of == nil || a.Stage != nil && (*a.Stage == tolerance.Larva || *a.Stage == tolerance.Fry) {
			continue
		}
		if lid := a.Known.Of.Behaviour.Lid; lid != nil && lid.Kind == "yes" {
			t.caution(noteOf("cover_it", a.Known.Name))
			return
		}
	}
}

// handleByFamily says how to carry those that a net or air harms.
func (t *task) handleByFamily() {
	if t.surely(ofFamily(puffers)) {
		t.caution(noteOf("carry_puffer"))
	}
	if t.surely(ofFamily(spiny)) {
		t.caution(noteOf("carry_spiny"))
	}
	if t.surely(ofFamily(seahorses)) {
		t.caution(noteOf("carry_seahorse"))
	}
	if t.surely(medusa) {
		t.caution(noteOf("carry_jellyfish"))
	}
}

// unknown reports whether some animal is not in the table.
func (t *task) unknown() bool {
	return slices.ContainsFunc(t.request.Animals, func(a Animal) bool { return a.Known == nil || a.Known.Of == nil })
}

// basks reports whether all that is moved are terrapins and the like: they breathe air, swim, and
// dry off in the sun.
func (t *task) basks() bool {
	return !t.is(func(x *tolerance.Taxon) bool { return x.Group != tolerance.GroupReptile })
}

// moults says of an animal that is given as moulting why it is not moved, or that it has no shell.
func (a Animal) moults() quantity.Note {
	if a.Known != nil && a.Known.Of != nil && a.Known.Of.Group != tolerance.GroupCrustacean && a.Known.Of.Group != tolerance.GroupChelicerate {
		return noteOf("has_no_shell", a.Known.Name)
	}
	return noteOf("no_step_while_moulting")
}

// plants reports whether all that is moved are plants or algae.
func (t *task) plants() bool {
	return !t.is(func(x *tolerance.Taxon) bool {
		return x.Group != tolerance.GroupPlant && x.Group != tolerance.GroupAlgae
	})
}

// careful are the notes about the animals themselves that a plan begins with.
func (t *task) careful() []quantity.Note {
	var notes []quantity.Note
	if t.surely(medusa) {
		notes = append(notes, noteOf("no_bubbles"))
	}
	if t.surely(needsLand) && !t.plants() && !t.basks() {
		notes = append(notes, noteOf("land_box"))
	}
	if t.surely(func(x *tolerance.Taxon) bool { return x.Group == tolerance.GroupMollusc && !x.Bivalve() }) {
		notes = append(notes, noteOf("closed_snail"))
	}
	return notes
}
