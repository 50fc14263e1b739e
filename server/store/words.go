package store

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// plainLetters writes accented letters as people type them without such keys.
var plainLetters = strings.NewReplacer("'", "", "’", "", "´", "", "`", "", "ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss",
	"á", "a", "à", "a", "â", "a", "ã", "a", "é", "e", "è", "e", "ê", "e", "ë", "e", "í", "i", "ì", "i", "î", "i", "ï", "i",
	"ó", "o", "ò", "o", "ô", "o", "õ", "o", "ú", "u", "ù", "u", "û", "u", "ñ", "n", "ç", "c")

// split cuts a text into lower-case singular words.
func split(text string) []string {
	text = strings.ToLower(text)
	if strings.ContainsFunc(text, func(r rune) bool { return r >= utf8.RuneSelf || r == '\'' || r == '`' }) {
		text = plainLetters.Replace(text)
	}
	ws := typed(text)
	for i, w := range ws {
		if n := strings.Index("123456789", w); len(w) == 1 && n >= 0 {
			w = digits[n] // "figure 8" is written out in the table
		}
		ws[i] = singular(w)
	}
	return ws
}

// typed cuts a text into its words as they are.
func typed(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("'’´`", r)
	})
}

var digits = []string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}

// irregular are plurals that look like Latin words, which would keep their "is".
var irregular = map[string]string{"gouramis": "gourami", "kois": "koi", "killis": "killi"}

// germanEnds are the endings of German plurals of words that names end with.
var germanEnds = []struct{ plural, singular string }{
	{"fische", "fisch"}, {"welse", "wels"}, {"barsche", "barsch"}, {"krebse", "krebs"}, {"aale", "aal"}, {"froesche", "frosch"},
	{"garnelen", "garnele"}, {"schnecken", "schnecke"}, {"krabben", "krabbe"}, {"grundeln", "grundel"}, {"barben", "barbe"},
	{"schmerlen", "schmerle"}, {"linge", "ling"}, {"springer", "springer"}, {"haie", "hai"}, {"muraenen", "muraene"}, {"nadeln", "nadel"},
}

// singular takes the plural ending off a word. Names and queries both go through it, so a Latin
// word that loses its ending is still found.
func singular(w string) string {
	if one, ok := irregular[w]; ok {
		return one
	}
	for _, e := range germanEnds {
		if stem, ok := strings.CutSuffix(w, e.plural); ok {
			return stem + e.singular
		}
	}
	switch {
	case len(w) > 4 && (strings.HasSuffix(w, "ies") || strings.HasSuffix(w, "lie")):
		return strings.TrimSuffix(strings.TrimSuffix(w, "s"), "ie") + "y" // mollies, mollie
	case len(w) > 5 && (strings.HasSuffix(w, "shes") || strings.HasSuffix(w, "ches")):
		return w[:len(w)-2]
	case len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") &&
		!strings.HasSuffix(w, "us") && !strings.HasSuffix(w, "is"):
		return w[:len(w)-1]
	}
	return w
}

// distance counts the slips between two words (a letter too many, too few,
// wrong, or two swapped), or returns -1 for more than most.
//
// It is the optimal string alignment distance.
func distance(a, b string, most int) int {
	if len(a)-len(b) > most || len(b)-len(a) > most {
		return -1
	}
	// Names are short; without this, most of a search went into making slices.
	var short [3][64]int
	before, prev, row := short[0][:], short[1][:], short[2][:]
	if len(b) >= len(row) {
		before, prev, row = make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	}
	before, prev, row = before[:len(b)+1], prev[:len(b)+1], row[:len(b)+1]
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			d := min(prev[j-1]+change, prev[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, before[j-2]+1)
			}
			row[j] = d
			least = min(least, d)
		}
		if least > most {
			return -1
		}
		before, prev, row = prev, row, before
	}
	if prev[len(b)] > most {
		return -1
	}
	return prev[len(b)]
}
