package store

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"saltlock/chem/tolerance"
)

// How well a query word fits a word of a name. The figures only rank.
const (
	sameWord    = 1.0
	startOfWord = 0.9  // "scat" of "scatophagus"
	plusFish    = 0.85 // "pufferfish" for "puffer"
	misspelled  = 0.7
	partOfWord  = 0.6
	wholeName   = 1.0 // the query is a name, but for blanks
	nearlyWhole = 0.9 // or with a slip or two

	leastScore    = 0.3
	shareOfBest   = 0.75 // a hit weaker than this share of the best one is noise; above misspelled
	sureScore     = 0.8  // below it every word was a guess
	nearScore     = 0.2  // from which on noise is named as a near miss
	nearIDs       = 5
	shortestFuzzy = 4 // shorter words are not taken for misspelled ones
	shortestShort = 3 // words in a name that people call by its initials
)

// index finds taxa by what a person types. It is built once and only read.
type index struct {
	taxa   []tolerance.Taxon // by id
	listed map[string]Listed // by id
	words  []word
	names  []name
}

// word is a distinct word of the names and the taxa that have it.
type word struct {
	text string
	taxa []int
}

// name is one name of a taxon.
type name struct {
	taxon    int
	words    []string
	squeezed string // without blanks, so that "bumble bee" is "bumblebee"
	initials string // "gsp"; empty for a name of few words
}

// newName prepares a name for the search.
func newName(taxon int, words []string) name {
	n := name{taxon: taxon, words: words, squeezed: strings.Join(words, "")}
	if len(words) >= shortestShort {
		for _, w := range words {
			_, size := utf8.DecodeRuneInString(w)
			n.initials += w[:size]
		}
	}
	return n
}

// newIndex indexes taxa that are in the order of their ids.
func newIndex(taxa []tolerance.Taxon) (*index, error) {
	x := &index{taxa: taxa, listed: map[string]Listed{}}
	postings := map[string][]int{}
	for i, t := range taxa {
		var err error
		if x.listed[t.ID], err = newListed(t); err != nil {
			return nil, err
		}
		names := append([]string{t.ScientificName, t.Family}, t.CommonNames...)
		for _, n := range append(names, t.Synonyms...) {
			ws := split(n)
			x.names = append(x.names, newName(i, ws))
			for _, w := range ws {
				if have := postings[w]; len(have) == 0 || have[len(have)-1] != i {
					postings[w] = append(have, i)
				}
			}
		}
	}
	for text, taxa := range postings {
		x.words = append(x.words, word{text, taxa})
	}
	slices.SortFunc(x.words, func(a, b word) int { return cmp.Compare(a.text, b.text) })
	return x, nil
}

// find returns the taxa that a text may mean, best first; all for an empty one.
func (x *index) find(text string) []tolerance.Taxon {
	found, _, _ := x.search(text)
	return found
}

// search returns the taxa that a text may mean and a few that came near it,
// both best first; all taxa for an empty text. It is clear where the first fits
// well, and better than the second.
func (x *index) search(text string) (found, near []tolerance.Taxon, clear bool) {
	if text == "" {
		return x.taxa, nil, false
	}
	query := x.asked(split(text))
	scores := x.scores(query)
	cover := x.wholes(query, scores)
	least := max(leastScore, shareOfBest*slices.Max(append(scores, 0)))
	var ranked []int
	for i, s := range scores {
		if s >= nearScore {
			ranked = append(ranked, i)
		}
	}
	// The order of equals is that of the ids.
	slices.SortStableFunc(ranked, func(a, b int) int {
		return cmp.Or(cmp.Compare(scores[b], scores[a]), cmp.Compare(cover[b], cover[a]))
	})
	for _, i := range ranked {
		switch {
		case scores[i] >= least:
			found = append(found, x.taxa[i])
		case len(near) < nearIDs:
			near = append(near, x.taxa[i])
		}
	}
	clear = len(found) > 0 && scores[ranked[0]] >= sureScore && (len(found) == 1 || scores[ranked[0]] > scores[ranked[1]] || cover[ranked[0]] > cover[ranked[1]])
	return found, near, clear
}

// near returns the ids that an unknown id may have meant.
func (x *index) near(id string) []string {
	var ids []string
	if id == "" {
		return nil
	}
	found, near, _ := x.search(id)
	if len(found) == 0 {
		found = near
	}
	for _, t := range found {
		if len(ids) == nearIDs {
			break
		}
		ids = append(ids, t.ID)
	}
	return ids
}

// asked takes the words of a question out of a query, as in "what salinity for
// a figure 8 puffer", unless they are part of a name or nothing else is left.
func (x *index) asked(query []string) []string {
	named := slices.DeleteFunc(slices.Clone(query), func(q string) bool { return question[q] && !x.has(q) })
	if len(named) == 0 {
		return query
	}
	return named
}

// has tells whether a word stands in any name.
func (x *index) has(text string) bool {
	_, ok := slices.BinarySearchFunc(x.words, text, func(w word, t string) int { return cmp.Compare(w.text, t) })
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

// scores rates every taxon by the mean fit of the query's words, rare words
// counting more.
func (x *index) scores(query []string) []float64 {
	scores := make([]float64, len(x.taxa))
	var total float64
	for _, q := range query {
		fits, matched := x.fits(q)
		weight := math.Log(1 + float64(len(x.taxa))/float64(max(matched, 1)))
		total += weight
		for i, f := range fits {
			scores[i] += weight * f
		}
	}
	for i := range scores {
		scores[i] /= max(total, 1)
	}
	return scores
}

// fits returns how well a query word fits each taxon, and how many it fits.
func (x *index) fits(q string) (fits []float64, matched int) {
	fits = make([]float64, len(x.taxa))
	for _, w := range x.words {
		f := fit(q, w.text)
		if f == 0 {
			continue
		}
		for _, t := range w.taxa {
			if fits[t] == 0 {
				matched++
			}
			fits[t] = max(fits[t], f)
		}
	}
	return fits, matched
}

// wholes raises the scores of taxa that have the whole query for a name, and
// returns the share of a name that the query covers at best.
func (x *index) wholes(query []string, scores []float64) (cover []float64) {
	cover = make([]float64, len(x.taxa))
	whole := strings.Join(query, "")
	if whole == "" {
		return cover
	}
	for _, n := range x.names {
		switch d := distance(whole, n.squeezed, len(whole)/6); {
		case d == 0 || whole == n.initials:
			scores[n.taxon], cover[n.taxon] = max(scores[n.taxon], wholeName), 1
		case d > 0:
			scores[n.taxon], cover[n.taxon] = max(scores[n.taxon], nearlyWhole), max(cover[n.taxon], nearlyWhole)
		case scores[n.taxon] >= leastScore && containsAll(n.words, query):
			cover[n.taxon] = max(cover[n.taxon], float64(len(query))/float64(len(n.words)))
		}
	}
	return cover
}

// containsAll says whether every word of the query fits one of the words.
func containsAll(words, query []string) bool {
	for _, q := range query {
		if !slices.ContainsFunc(words, func(w string) bool { return fit(q, w) > 0 }) {
			return false
		}
	}
	return true
}

// fit rates how well a query word fits a word of a name.
func fit(q, w string) float64 {
	switch {
	case q == w:
		return sameWord
	case len(q) >= 3 && strings.HasPrefix(w, q):
		return startOfWord
	case len(w) >= 3 && q == w+"fish":
		return plusFish
	case len(q) >= shortestFuzzy && distance(q, w, allowed(q)) > 0:
		return misspelled
	case len(q) >= shortestFuzzy && strings.Contains(w, q):
		return partOfWord
	}
	return 0
}

// allowed returns how many slips a word may hold.
func allowed(q string) int {
	if len(q) < 7 {
		return 1
	}
	return 2
}
