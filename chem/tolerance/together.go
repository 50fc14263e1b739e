package tolerance

import "saltlock/chem/quantity"

// Together is what temper, predation and numbers mean for a community. They decide before the
// water does. All of it is common practice. What is not known about a species is left out,
// which does not mean that all is well.
type Together struct {
	Apart   bool            `json:"apart"` // some of them must not live together, whatever the water
	Reasons []quantity.Note `json:"reasons"`
}

// How many times as long as another a fish must be to eat it, proposed here: for a predator,
// and for one that eats only much smaller fish.
const (
	predatorRatio  = 2
	tinyPreyRatio  = 8
	smallPreyRatio = 2 // the least ratio at which an eater of tiny fish may eat young ones
)

// together judges every pair of different species, and each species' own number.
func together(members []Member) Together {
	t := Together{Reasons: []quantity.Note{}}
	for _, a := range members {
		for _, b := range members {
			if a.Taxon.ID != b.Taxon.ID {
				t.pair(a.Taxon, b.Taxon)
			}
		}
	}
	for i, m := range members {
		first := true
		for _, other := range members[:i] {
			first = first && other.Taxon.ID != m.Taxon.ID
		}
		if first {
			n, said := numberOf(members, m.Taxon.ID)
			t.own(m.Taxon, n, said)
		}
	}
	return t
}

// Forbidding returns what forbids keeping animals together, whatever the water and however
// short the time; nothing if they may live together as far as is known.
func Forbidding(members []Member) []quantity.Note {
	var notes []quantity.Note
	for _, n := range together(members).Reasons {
		if forbids[n.Code] {
			notes = append(notes, n)
		}
	}
	return notes
}

// numberOf is how many of a species there are at least, and whether all numbers were stated.
func numberOf(members []Member, id string) (n int, said bool) {
	said = true
	for _, m := range members {
		if m.Taxon.ID == id {
			n += max(1, m.Count)
			said = said && m.Count > 0
		}
	}
	return n, said
}

// apart notes what forbids keeping two species together.
func (t *Together) apart(n quantity.Note) {
	t.Apart = true
	// What forbids their company comes before mere cautions.
	at := 0
	for at < len(t.Reasons) && forbids[t.Reasons[at].Code] {
		at++
	}
	t.Reasons = append(t.Reasons[:at], append([]quantity.Note{n}, t.Reasons[at:]...)...)
}

// forbids holds the codes that keep species apart.
var forbids = map[quantity.Code]bool{"company_species_only": true, "company_eats_small": true, "company_eats_fish": true, "company_bites": true,
	"company_one_alone": true}

// pair says what one species may do to another. It is long because it has a case for each
// word of temper.
func (t *Together) pair(a, b Taxon) {
	mind := func(n quantity.Note) { t.Reasons = append(t.Reasons, n) }
	if m, ok := a.Behaviour.mark("species-only"); ok && !t.says("company_species_only", a.Name()) {
		t.apart(noteOf("company_species_only", a.Name(), words(m)))
	}
	t.touch(a, b)
	if m, ok := a.Behaviour.mark("predator-of-shrimp-and-snails"); ok && (b.Group == GroupCrustacean || b.Group == GroupMollusc) {
		switch {
		case a.Group == GroupCrustacean || a.Group == GroupMollusc:
			mind(noteOf("company_picks_at", a.Name(), b.Name(), words(m)))
		case !outgrows(a, b, 1):
			t.apart(noteOf("company_eats_small", a.Name(), b.Name(), words(m)))
		}
	}
	if b.Group != GroupFish {
		return
	}
	if m, ok := a.Behaviour.mark("predator-of-fish"); ok {
		la, lb := a.Longest(), b.Longest()
		switch {
		case la == nil || lb == nil:
			mind(noteOf("company_may_eat", a.Name(), b.Name(), words(m)))
		case !outgrows(a, b, predatorRatio):
			t.apart(noteOf("company_eats_fish", a.Name(), b.Name(), la.Length, lb.Length, words(m)))
		}
	}
	if m, ok := a.Behaviour.mark("predator-of-small-fish"); ok && a.Longest() != nil && b.Longest() != nil {
		la, lb := a.Longest().Length, b.Longest().Length
		switch {
		case !outgrows(a, b, tinyPreyRatio):
			t.apart(noteOf("company_eats_fish", a.Name(), b.Name(), la, lb, words(m)))
		case !outgrows(a, b, smallPreyRatio):
			mind(noteOf("company_size", a.Name(), b.Name(), la, lb, words(m)))
		}
	}
	m, nips := a.Behaviour.mark("fin-nipper")
	_, fights := a.Behaviour.mark("aggressive")
	_, peaceful := b.Behaviour.mark("peaceful")
	switch {
	case nips && fights:
		t.apart(noteOf("company_bites", a.Name(), b.Name(), words(m)))
	case nips:
		mind(noteOf("company_nips", a.Name(), b.Name(), words(m)))
	case fights && peaceful:
		mind(noteOf("company_aggressive", a.Name(), b.Name(), words(CommonPractice)))
	}
}

// outgrows reports whether b is known to grow so large that a, which would have to be ratio
// times as long, cannot eat it.
func outgrows(a, b Taxon, ratio float64) bool {
	la, lb := a.Longest(), b.Longest()
	return la != nil && lb != nil && float64(la.Length.Value) < ratio*float64(lb.Length.Value)
}

// own says whether there are too few or too many of a species.
func (t *Together) own(x Taxon, n int, said bool) {
	g := x.Behaviour.SmallestGroup
	if g == nil {
		return
	}
	switch {
	case said && n < g.Count:
		t.Reasons = append(t.Reasons, noteOf("company_group", x.Name(), g.Count, n, words(g.Mark)))
	case !said && n < g.Count:
		t.Reasons = append(t.Reasons, noteOf("company_group_unsaid", x.Name(), g.Count, words(g.Mark)))
	}
	if m, pair := x.Behaviour.mark("one-pair"); pair && n > 2 {
		t.Reasons = append(t.Reasons, noteOf("company_one_pair", x.Name(), words(m)))
	}
	if m, fights := x.Behaviour.mark("aggressive"); fights && g.Count == 1 && n > 1 {
		if x.Behaviour.Is("species-only") {
			t.apart(noteOf("company_one_alone", x.Name(), words(m)))
		} else {
			t.Reasons = append(t.Reasons, noteOf("company_own_kind", x.Name(), words(m)))
		}
	}
}

// Company returns how a species gets on with its own kind and with others, whoever these are:
// with whom, alone, or in how large a group it is to be kept. The list is empty, not nil, where
// nothing is on record.
func (t Taxon) Company() []quantity.Note {
	c := Together{Reasons: []quantity.Note{}}
	many := 3 // more than a pair
	if g := t.Behaviour.SmallestGroup; g != nil && g.Count > 1 {
		many = 1
	}
	c.own(t, many, false)
	if m, ok := t.Behaviour.mark("species-only"); ok && !c.Apart {
		c.apart(noteOf("company_species_only", t.Name(), words(m)))
	}
	return c.Reasons
}

// says reports whether a code was already noted for a species.
func (t *Together) says(code quantity.Code, name string) bool {
	for _, n := range t.Reasons {
		if n.Code == code && n.Params[0] == name {
			return true
		}
	}
	return false
}

// mark returns how well founded a word of temper is, if the species has it.
func (b Behaviour) mark(temper string) (Mark, bool) {
	for _, t := range b.Temper {
		if t.Kind == temper {
			return t.Mark, true
		}
	}
	return "", false
}
