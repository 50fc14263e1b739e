package store

import (
	"cmp"
	"slices"
	"strings"

	"saltlock/chem/tolerance"
)

// index finds taxa by what a person types. It is built once and then only read.
type index struct {
	taxa   []tolerance.Taxon // by id
	byID   map[string]int
	names  []name
	byKey  map[string][]int // names by their words without blanks
	byAbbr map[string][]int // Latin names by initial and epithet
	byFish map[string][]int // names by their key without a last "fish"
	german map[string][]int // German names without the endings of their adjectives
	spells map[string]bool  // every word of a name, as it is written there
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
func newIndex(taxa []tolerance.Taxon) *index {
	x := &index{taxa: taxa, byID: map[string]int{}, byKey: map[string][]int{}, byAbbr: map[string][]int{},
		byFish: map[string][]int{}, german: map[string][]int{}, spells: map[string]bool{}, family: map[string][]int{}, known: map[string]int{}}
	named := make([][]name, len(taxa))
	for i, t := range taxa {
		named[i] = namesOf(i, t)
		for _, n := range named[i] {
			for _, w := range n.words {
				x.spells[w] = true
			}
		}
	}
	for i, t := range taxa {
		x.byID[t.ID] = i
		for _, f := range split(t.Family) {
			x.family[f] = append(x.family[f], i)
		}
		for _, n := range named[i] {
			n.words = x.compounds(n.words)
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
	if n.german && len(n.words) > 1 {
		stems := germanKey(n.words)
		x.german[stems] = append(x.german[stems], at)
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

// longName is the length, in letters, from which a name is clear without its "fish".
const longName = 10
