package store

import (
	_ "embed" // for the lexicon
	"regexp"
	"slices"
	"strings"

	"saltlock/chem/tolerance"
)

// name is one name of a taxon in the index.
type name struct {
	taxon   int
	text    string   // as people write it
	words   []string // in lower case and the singular
	key     string   // the words without blanks, so that "bumble bee" is "bumblebee"
	letters uint32   // letters of the key
	shared  bool     // others have this name too, so it identifies nobody
	loose   bool     // used by the trade or in one place, by a qualifier that is not "part"
	usual   bool     // it identifies its species though other species' names end with it
	latin   bool
	german  bool
}

// qualifier is what the table writes after a name to say how it is used.
var qualifier = regexp.MustCompile(` \(([^)]*)\)$`)

// namesOf returns every name of a taxon.
func namesOf(taxon int, t tolerance.Taxon) []name {
	var all []name
	add := func(text string, latin bool) {
		n := name{taxon: taxon, text: text, latin: latin}
		if said := qualifier.FindStringSubmatchIndex(text); said != nil {
			n.text, n.shared = text[:said[0]], text[said[2]:said[3]] != "colour form"
		}
		n.loose = n.shared
		for _, s := range t.SharedNames {
			n.shared = n.shared || strings.EqualFold(s, n.text)
		}
		n.usual = slices.Contains(t.UsualNames, n.text)
		n.words = split(n.text)
		n.key = strings.Join(n.words, "")
		n.letters = lettersOf(n.key)
		all = append(all, n)
	}
	add(strings.TrimSuffix(t.ScientificName, " spp."), true)
	for _, s := range t.Synonyms {
		add(s, true)
	}
	for _, s := range t.CommonNames {
		add(s, false)
	}
	for _, s := range t.GermanNames {
		add(s, false)
		all[len(all)-1].german = true
	}
	return all
}

// endsWith reports whether a name ends with some words, which are then its kind: "sailfin molly"
// is a molly, though "guppy grass" is no guppy.
func (n name) endsWith(words []string) bool {
	if len(n.words) <= len(words) {
		return false
	}
	for i, w := range words {
		if n.words[len(n.words)-len(words)+i] != w {
			return false
		}
	}
	return true
}

// begun counts the words that are only the beginning of one in the name.
func (n name) begun(words []string) (count int) {
	for _, q := range words {
		if !slices.Contains(n.words, q) {
			count++
		}
	}
	return count
}

// shortestStart is how many letters a beginning needs.
const shortestStart = 3

//go:embed species/lexicon.txt
var lexiconText string

// lexicon holds words that are spelled as meant.
var lexicon = func() map[string]bool {
	words := map[string]bool{}
	for line := range strings.Lines(lexiconText) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		for _, w := range split(line) {
			words[w] = true
		}
	}
	return words
}()
