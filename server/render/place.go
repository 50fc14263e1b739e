package render

import (
	"regexp"
	"strings"

	"golang.org/x/text/language"
)

// Place writes the place of a fault in words, such as: from salinity.
func (v Voice) Place(where string) string {
	said := strings.Trim(placeInWords.Replace(where), " ")
	if said == "" {
		said = "request" // all of it
	}
	if v.Language != language.German {
		return said
	}
	name, ok := germanPlaces[said]
	if !ok {
		name, ok = germanPlaces[strings.TrimPrefix(countedPlace.ReplaceAllString(said, " "), "animals ")]
	}
	if !ok {
		v.miss()
		return said
	}
	return name
}

var (
	placeInWords = strings.NewReplacer("/", " ", "_", " ", ".", " ")
	countedPlace = regexp.MustCompile(` [0-9]+ `)
)
