package store

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// match says how a text is understood. It never guesses: a name identifies a species only if no
// other species has it.
func (x *index) match(text string) Match {
	query := split(text)
	from, to := x.asked(query)
	words := x.compounds(query[from:to])
	m := Match{Asked: askedText(text, from, to, len(query)), Candidates: []Candidate{}}
	if len(words) == 0 {
		m.Outcome = NotThere
		return m
	}
	if names, by := x.called(words); len(names) > 0 {
		m.Outcome = Several
		if x.alone(names, by) {
			m.Outcome = Exact
		}
		x.offerCalled(&m, names, by)
		return m
	}
	if names := x.partly(words); len(names) > 0 {
		m.Outcome = Several
		x.offer(&m, names)
		return m
	}
	if taxa := x.family[strings.Join(words, "")]; len(taxa) > 0 {
		m.Outcome = Several
		for _, t := range taxa {
			x.offerTaxon(&m, t, x.taxa[t].Family)
		}
		return m
	}
	if names := x.spelled(words); len(names) > 0 {
		m.Outcome = Spelling
		x.offer(&m, names)
		for _, n := range names {
			if !x.names[n].latin {
				x.offer(&m, x.ending(x.names[n].words))
			}
		}
		return m
	}
	m.Outcome, m.near = NotThere, x.near(words)
	return m
}

// askedText is what was looked for, as typed.
func askedText(text string, from, to, all int) string {
	if words := typed(text); to-from < all && len(words) == all {
		return strings.Join(words[from:to], " ")
	}
	return strings.TrimSpace(text)
}

// offerCalled offers the species named by the words; if only the trade or one place uses that
// name, the species whose names end with the words come first.
func (x *index) offerCalled(m *Match, names []int, words []string) {
	loose := func(n int) bool { return x.names[n].loose }
	x.offer(m, slices.DeleteFunc(slices.Clone(names), loose))
	if m.Outcome != Exact {
		x.offer(m, x.ending(words))
	}
	x.offer(m, names)
}

// called returns the names that the words are as a whole: with the same letters, with the initial
// of a genus, without a "fish" at the end, or without the endings of German adjectives; and the
// words that matched.
func (x *index) called(words []string) (names []int, by []string) {
	if len(words) == 0 {
		return nil, nil
	}
	key := strings.Join(words, "")
	if names := x.byKey[key]; len(names) > 0 {
		return names, words
	}
	if len(words) > 1 && len(words[0]) == 1 {
		if names := x.byAbbr[words[0]+" "+strings.Join(words[1:], "")]; len(names) > 0 {
			return names, words
		}
	}
	if bare := cutFish(words); len(bare) > 0 {
		if names := x.byKey[strings.Join(bare, "")]; len(names) > 0 {
			return names, bare
		}
	}
	if len(words) > 1 {
		if names := x.byFish[key]; len(names) > 0 {
			return names, words
		}
		return x.german[germanKey(words)], words
	}
	return nil, nil
}

// cutFish takes a "fish" off the end of the words; nil if there is none, or if too little is left.
func cutFish(words []string) []string {
	last := words[len(words)-1]
	short, cut := strings.CutSuffix(last, "fish")
	switch {
	case !cut:
		return nil
	case short == "":
		return words[:len(words)-1]
	case len(short) < shortestStart:
		return nil
	}
	return append(slices.Clone(words[:len(words)-1]), short)
}

// partly returns the names that the words are part of, beginning with those that end with them. A
// word spelled as meant and found only inside a name of one species is not part of it: a turtle
// snail is no turtle.
func (x *index) partly(words []string) []int {
	found := x.ending(words)
	if bare := cutFish(words); len(bare) > 0 {
		found = append(found, x.ending(bare)...)
	}
	if last := len(words) - 1; last > 0 && kindWords[words[last]] {
		found = append(found, x.ending(words[:last])...)
	}
	heads := len(found)
	found = append(found, x.holding(words)...)
	if heads == 0 && !slices.ContainsFunc(words, func(w string) bool { return !lexicon[w] }) &&
		!slices.ContainsFunc(found, func(n int) bool { return x.names[n].taxon != x.names[found[0]].taxon }) {
		return nil
	}
	return found
}

// kindWords end names that are as clear without them.
var kindWords = map[string]bool{"eel": true, "snail": true}

// alone reports whether names belong to one species and no other has them.
func (x *index) alone(names []int, words []string) bool {
	taxon, usual := x.names[names[0]].taxon, false
	for _, n := range names {
		if x.names[n].taxon != taxon || x.names[n].shared {
			return false
		}
		usual = usual || x.names[n].usual
	}
	return usual || !slices.ContainsFunc(x.ending(words), func(n int) bool { return x.names[n].taxon != taxon })
}

// ending returns the common names that end with the words.
func (x *index) ending(words []string) []int {
	last, ok := x.known[words[len(words)-1]]
	if !ok {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(x.words[last].names), func(n int) bool { return x.names[n].latin || !x.names[n].endsWith(words) })
}

// holding returns the names that hold all words, or words beginning with them; those with the
// fewest other words first.
func (x *index) holding(words []string) []int {
	var found []int
	held := make([]uint8, len(x.names)) // how many of the words each name has
	for i, q := range words {
		if i > math.MaxUint8-1 {
			return nil
		}
		found = found[:0]
		for _, w := range x.begunBy(q) {
			for _, n := range w.names {
				if int(held[n]) == i {
					held[n]++
					found = append(found, n)
				}
			}
		}
	}
	slices.Sort(found)
	slices.SortStableFunc(found, func(a, b int) int {
		return cmp.Or(x.names[a].begun(words)-x.names[b].begun(words), cmp.Compare(len(x.names[a].key), len(x.names[b].key)))
	})
	return found
}

// begunBy returns the words that a text is, or begins. A word spelled as meant begins no other,
// except itself with "fish" after it.
func (x *index) begunBy(text string) []word {
	from, same := slices.BinarySearchFunc(x.words, text, func(w word, t string) int { return cmp.Compare(w.text, t) })
	to := from
	for to < len(x.words) && strings.HasPrefix(x.words[to].text, text) {
		to++
	}
	switch {
	case len(text) >= shortestStart && !x.knows(text) && !lexicon[text]:
		return x.words[from:to]
	case len(text) >= shortestStart:
		return slices.DeleteFunc(slices.Clone(x.words[from:to]), func(w word) bool { return w.text != text && w.text != text+"fish" })
	case same:
		return x.words[from : from+1]
	}
	return nil
}

// offer adds the species of names to those that a text may mean.
func (x *index) offer(m *Match, names []int) {
	for _, n := range names {
		x.offerTaxon(m, x.names[n].taxon, x.names[n].text)
	}
}

func (x *index) offerTaxon(m *Match, taxon int, by string) {
	if slices.Contains(m.taxa, taxon) {
		return
	}
	m.taxa = append(m.taxa, taxon)
	if t := &x.taxa[taxon]; len(m.Candidates) < mostCandidates {
		m.Candidates = append(m.Candidates, Candidate{ID: t.ID, Name: t.Name(), ScientificName: t.ScientificName, By: by})
	}
}
