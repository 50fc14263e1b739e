package store

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"saltlock/chem/tolerance"
)

// index finds taxa by what a person types. It is built once and only read.
type index struct {
	taxa   []tolerance.Taxon // by id
	listed map[string]Listed // by id
	byID   map[string]int
	names  []name
	byKey  map[string][]int // names by their words without blanks
	byAbbr map[string][]int // Latin names by initial and epithet
	byFish map[string][]int // names by their key without a last "fish"
	family map[string][]int // taxa
	words  []word           // of all names, sorted
	known  map[string]int   // where a word stands among words
}

// word is a word of names.
type word struct {
	text    string
	letters uint32
	names   []int // that have it, each once
}

// newIndex indexes taxa that are in the order of their ids.
func newIndex(taxa []tolerance.Taxon) (*index, error) {
	x := indexNames(taxa)
	for _, t := range taxa {
		var err error
		if x.listed[t.ID], err = newListed(t); err != nil {
			return nil, err
		}
	}
	return x, nil
}

// indexNames is newIndex without what lists show.
func indexNames(taxa []tolerance.Taxon) *index {
	x := &index{taxa: taxa, listed: map[string]Listed{}, byID: map[string]int{}, byKey: map[string][]int{}, byAbbr: map[string][]int{},
		byFish: map[string][]int{}, family: map[string][]int{}, known: map[string]int{}}
	for i, t := range taxa {
		x.byID[t.ID] = i
		for _, f := range split(t.Family) {
			x.family[f] = append(x.family[f], i)
		}
		for _, n := range namesOf(i, t) {
			x.add(n)
		}
	}
	slices.SortFunc(x.words, func(a, b word) int { return cmp.Compare(a.text, b.text) })
	for i, w := range x.words {
		x.known[w.text] = i
	}
	return x
}

// add indexes a name.
func (x *index) add(n name) {
	at := len(x.names)
	x.names = append(x.names, n)
	x.byKey[n.key] = append(x.byKey[n.key], at)
	if short, cut := strings.CutSuffix(n.key, "fish"); cut && len(n.words) > 1 || cut && len(short) >= longName {
		x.byFish[short] = append(x.byFish[short], at)
	}
	if n.latin && len(n.words) > 1 {
		abbr := n.words[0][:1] + " " + strings.Join(n.words[1:], "")
		x.byAbbr[abbr] = append(x.byAbbr[abbr], at)
	}
	for i, w := range n.words {
		if slices.Contains(n.words[:i], w) {
			continue
		}
		place, ok := x.known[w]
		if !ok {
			place = len(x.words)
			x.known[w] = place
			x.words = append(x.words, word{text: w, letters: lettersOf(w)})
		}
		x.words[place].names = append(x.words[place].names, at)
	}
}

// longName is from how many letters on a name says enough without its "fish".
const longName = 10

// match says how a text is understood. It never guesses: a name picks a species
// only if it is one of that species and not also what others are called.
func (x *index) match(text string) Match {
	words := split(text)
	if len(x.called(words)) == 0 {
		words = x.asked(words)
	}
	m := Match{Asked: askedText(text, words), Candidates: []Candidate{}}
	if len(words) == 0 {
		m.Outcome = NotThere
		return m
	}
	if names := x.called(words); len(names) > 0 {
		alone := x.alone(names, words)
		m.Outcome = Several
		if alone {
			m.Outcome = Exact
		}
		x.offer(&m, names)
		if !alone {
			x.offer(&m, x.ending(words))
			x.offer(&m, x.holding(words, true))
		}
		return m
	}
	if names := x.holding(words, false); len(names) > 0 {
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

// askedText is what was looked for, as it was typed unless words were taken out.
func askedText(text string, words []string) string {
	if len(split(text)) == len(words) {
		return strings.TrimSpace(text)
	}
	return strings.Join(words, " ")
}

// called returns the names that the words are, as a whole: by the same letters,
// by the initial of a genus, or but for a "fish" at the end.
func (x *index) called(words []string) []int {
	if len(words) == 0 {
		return nil
	}
	key := strings.Join(words, "")
	if names := x.byKey[key]; len(names) > 0 {
		return names
	}
	if len(words) > 1 && len(words[0]) == 1 {
		if names := x.byAbbr[words[0]+" "+strings.Join(words[1:], "")]; len(names) > 0 {
			return names
		}
	}
	if short, cut := strings.CutSuffix(key, "fish"); cut && len(short) >= shortestStart {
		return x.byKey[short]
	}
	if len(words) > 1 {
		return x.byFish[key]
	}
	return nil
}

// alone says that names are of one species, and what no other is called.
func (x *index) alone(names []int, words []string) bool {
	taxon := x.names[names[0]].taxon
	for _, n := range names {
		if x.names[n].taxon != taxon || x.names[n].shared {
			return false
		}
	}
	return !slices.ContainsFunc(x.ending(words), func(n int) bool { return x.names[n].taxon != taxon })
}

// ending returns the common names that end in the words.
func (x *index) ending(words []string) []int {
	last, ok := x.known[words[len(words)-1]]
	if !ok {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(x.words[last].names), func(n int) bool { return x.names[n].latin || !x.names[n].endsWith(words) })
}

// holding returns the names that hold all words, or words that they begin
// unless whole ones are asked for; those with the fewest others first.
func (x *index) holding(words []string, whole bool) []int {
	var found []int
	held := make([]uint8, len(x.names)) // how many of the words each name has
	for i, q := range words {
		if i > math.MaxUint8-1 {
			return nil
		}
		found = found[:0]
		for _, w := range x.begunBy(q, whole) {
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

// begunBy returns the words that a text is, or begins.
func (x *index) begunBy(text string, whole bool) []word {
	from, same := slices.BinarySearchFunc(x.words, text, func(w word, t string) int { return cmp.Compare(w.text, t) })
	to := from
	for to < len(x.words) && strings.HasPrefix(x.words[to].text, text) {
		to++
	}
	switch {
	case !whole && len(text) >= shortestStart:
		return x.words[from:to]
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

// asked takes the words of a question out of a query, as in "what salinity for
// a figure 8 puffer", unless they are part of a name or nothing else is left.
func (x *index) asked(query []string) []string {
	named := slices.DeleteFunc(slices.Clone(query), func(q string) bool { return question[q] && !x.knows(q) })
	if len(named) == 0 {
		return query
	}
	return named
}

// knows says that a word is one of a name.
func (x *index) knows(w string) bool {
	_, ok := x.known[w]
	return ok
}

// question holds the words, in the singular, that people put around a name.
var question = func() map[string]bool {
	words := map[string]bool{}
	for _, w := range split(`what which how much is are the a an for of in at to my i we do does can should
		salinity salt sg specific gravity ppt level need want like live keep kept best water tank please`) {
		words[w] = true
	}
	return words
}()
