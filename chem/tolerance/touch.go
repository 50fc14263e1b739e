package tolerance

import (
	"strings"
)

// touch says what animals do to each other whatever their size: sting, bite what cannot flee, fight
// over the same place. Common practice, no source.
func (t *Together) touch(a, b Taxon) {
	_, nips := a.Behaviour.mark("fin-nipper")
	_, fights := a.Behaviour.mark("aggressive")
	prey, eats := a.Behaviour.mark("predator-of-fish")
	first := a.ID < b.ID // of what both do
	switch cnidarian := b.Group == GroupCnidarian; {
	case a.Group == GroupCnidarian && cnidarian:
		if first {
			t.Reasons = append(t.Reasons, noteOf("company_stings_each", a.Name(), b.Name(), words(CommonPractice)))
		}
	case a.Family == "Actiniidae" && !b.anemonefish():
		t.Reasons = append(t.Reasons, noteOf("company_stings", a.Name(), b.Name(), words(CommonPractice)))
	case cnidarian && nips && fights:
		t.apart(noteOf("company_bites", a.Name(), b.Name(), words(CommonPractice)))
	case a.Group == GroupReptile && eats && b.Group == GroupFish:
		t.apart(noteOf("company_bites", a.Name(), b.Name(), words(prey)))
	case first && rivals(a, b):
		t.Reasons = append(t.Reasons, noteOf("company_rivals", a.Name(), b.Name(), words(CommonPractice)))
	}
}

// anemonefish reports whether it lives in anemones.
func (t Taxon) anemonefish() bool {
	return t.Family == "Pomacentridae" && t.Behaviour.Is("one-pair")
}

// rivals reports whether two species fight as if they were one: surgeonfish of a genus, and
// anemonefish.
func rivals(a, b Taxon) bool {
	genus := func(t Taxon) string { g, _, _ := strings.Cut(t.ID, "-"); return g }
	return a.anemonefish() && b.anemonefish() || a.Family == "Acanthuridae" && a.Family == b.Family && genus(a) == genus(b)
}
