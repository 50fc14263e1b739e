// Package plainwords counts what text for people must keep to. It serves tests alone.
package plainwords

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// What a reader with wet hands takes in at once.
const (
	MostWords     = 22 // in a sentence
	MostMedian    = 12 // of words in a sentence
	MostOfRefusal = 5  // lines
)

// Sentences takes a text apart: at the end of each line, and after a full stop, a
// question mark or an exclamation mark. The number of a step and its time are no sentences.
func Sentences(text string) []string {
	var all []string
	for line := range strings.SplitSeq(text, "\n") {
		line = stepNumber.ReplaceAllString(strings.TrimSpace(line), "")
		for _, s := range strings.Split(ends.ReplaceAllString(line, "$1\n"), "\n") {
			if s = strings.TrimSpace(s); Words(s) > 0 {
				all = append(all, s)
			}
		}
	}
	return all
}

var (
	stepNumber = regexp.MustCompile(`^(?:\d+\. )?(?:After [0-9a-z ]+: )?`)
	ends       = regexp.MustCompile(`([.?!][”)]?) +`)
)

// Words counts what stands between blanks and has a letter or a digit. An amount in
// brackets repeats the amount before it in other units and is not read as well.
func Words(sentence string) int {
	n := 0
	for w := range strings.FieldsSeq(sameAgain.ReplaceAllString(sentence, "")) {
		if strings.ContainsFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
			n++
		}
	}
	return n
}

var sameAgain = regexp.MustCompile(` \([-0-9.,±/ ]*(?:to [-0-9.]+ )?(?:gal|fl oz|lb|oz|in|°F(?: an hour)?|gal/in)\)`)

// Median is the middle of the counts of words.
func Median(sentences []string) int {
	if len(sentences) == 0 {
		return 0
	}
	counts := make([]int, len(sentences))
	for i, s := range sentences {
		counts[i] = Words(s)
	}
	slices.Sort(counts)
	return counts[len(counts)/2]
}

// Longest is the greatest count of words.
func Longest(sentences []string) int {
	n := 0
	for _, s := range sentences {
		n = max(n, Words(s))
	}
	return n
}

// rules are what no sentence holds, and why.
var rules = []struct {
	pattern *regexp.Regexp
	why     string
}{
	{regexp.MustCompile(`^(It|They|This|That|Then)\b`), "begins with a word that points back: name the thing"},
	{regexp.MustCompile(`\b[a-z]+(?:_[a-z0-9]+)+\b`), "holds a name of the contract: say it in words"},
	{regexp.MustCompile(`\b[a-z_]+=`), "holds a name of the contract: say it in words"},
	{regexp.MustCompile(`(?i)\b(?:(?:mes|olig|poly|eu|hyper)ohaline|polyhaline|euhaline|hyperhaline|limnetic)\b`), "holds the name of a zone: say brackish, fresh or sea water"},
	{regexp.MustCompile(`\b[A-Z][A-Za-z]+(?:19|20)\d\d[a-z]?\b`), "holds the key of a source: write its name and year"},
	{regexp.MustCompile(`[0-9}] K(?:/h)?(?:[ .,;:)]|$)`), "holds kelvins: write °C (°F)"},
	{regexp.MustCompile(`\w\(s\)`), "holds a plural in brackets"},
}

// units are written as the contract has them.
var units = strings.NewReplacer("gal_imp", "gal", "fl_oz", "fl oz")

// Faults says what a sentence breaks.
func Faults(sentence string) []string {
	var found []string
	for _, r := range rules {
		if r.pattern.MatchString(units.Replace(sentence)) {
			found = append(found, r.why)
		}
	}
	if Words(sentence) > MostWords {
		found = append(found, "is too long: make it two")
	}
	return found
}
