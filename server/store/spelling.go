package store

import (
	"slices"
	"strings"
)

// mostSlips is how many slips a whole name may have.
const mostSlips = 3

// spelled returns the names that words are close to in spelling, provided no other name is one
// slip closer. A word spelled as meant is not a slip of another: a "blue lamprey" does not mean a
// "blue lampeye".
func (x *index) spelled(words []string) []int {
	key := strings.Join(words, "")
	letters := lettersOf(key)
	unknown := make([]bool, len(words))
	for i, w := range words {
		unknown[i] = !x.knows(w) && !lexicon[w]
	}
	if !slices.Contains(unknown, true) {
		return nil
	}
	var found []int
	least := mostSlips + 1
	for i := range x.names {
		n := &x.names[i]
		if longer := len(n.key) - len(key); longer > least || -longer > least || apart(letters, n.letters) > 2*least {
			continue
		}
		switch d := slips(words, unknown, n, least); {
		case d < 0:
		case d < least:
			found, least = append(found[:0], i), d
		case d == least:
			found = append(found, i)
		}
	}
	return found
}

// slips counts the slips between words and a name; -1 for more than most.
func slips(words []string, unknown []bool, n *name, most int) int {
	if len(words) != len(n.words) {
		key := strings.Join(words, "")
		return distance(key, n.key, min(most, 1)) // a blank too many or too few counts as a slip
	}
	total := 0
	for i, w := range words {
		if w == n.words[i] {
			continue
		}
		if !unknown[i] {
			return -1
		}
		d := distance(w, n.words[i], min(most-total, allowed(w)))
		if d < 0 || d > 1 && w[0] != n.words[i][0] {
			return -1
		}
		total += d
	}
	return total
}

// allowed returns how many slips a word may have.
func allowed(w string) int {
	switch {
	case len(w) < 4:
		return 0
	case len(w) < 7:
		return 1
	}
	return 2
}

// lettersOf marks which letters a word has.
func lettersOf(w string) (letters uint32) {
	for i := range len(w) {
		letters |= 1 << (w[i] & 31)
	}
	return letters
}

// apart counts the letters that only one of two words has.
func apart(a, b uint32) (n int) {
	for d := a ^ b; d != 0; d &= d - 1 {
		n++
	}
	return n
}

// near returns the species whose names have most in common with the words, to be named when the
// species asked for is not in the table.
func (x *index) near(words []string) []int {
	common := map[int]float64{} // by name
	for _, q := range words {
		most, letters := allowed(q), lettersOf(q)
		for i := range x.words {
			w := &x.words[i]
			fit := 0.0
			switch {
			case q == w.text:
				fit = 1
				if lexicon[q] || len(w.names) > fewNames {
					fit = 0.9 // two tetras are not near each other just for being tetras
				}
			case len(q) >= shortestFuzzy && !lexicon[q] && !x.knows(q) && apart(letters, w.letters) <= 2*most && distance(q, w.text, most) > 0:
				fit = 0.8
			default:
				continue
			}
			for _, n := range w.names {
				common[n] += fit
			}
		}
	}
	best := map[int]float64{} // by taxon
	for at, fit := range common {
		n := &x.names[at]
		score := fit / float64(max(len(words), len(n.words)))
		if len(words) == 1 && fit < 1 {
			score = fit // one misspelled word may match any in a name
		}
		if score >= leastInCommon {
			best[n.taxon] = max(best[n.taxon], score)
		}
	}
	ranked := make([]int, 0, len(best))
	for t := range best {
		ranked = append(ranked, t)
	}
	slices.SortFunc(ranked, func(a, b int) int {
		if best[a] != best[b] {
			if best[a] > best[b] {
				return -1
			}
			return 1
		}
		return a - b
	})
	return ranked[:min(mostCandidates, len(ranked))]
}

// leastInCommon is the least share of its words that a name must share to count as near, and
// fewNames is in how many names a word may be to count in full.
const (
	leastInCommon = 0.5
	fewNames      = 6
)

// shortestFuzzy is how long a word must be to count as misspelled.
const shortestFuzzy = 4
