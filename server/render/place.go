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
		said = where // the whole request
	}
	if v.Language != language.German {
		return said
	}
	name, ok := germanPlaces[strings.TrimPrefix(countedPlace.ReplaceAllString(said, " "), "animals ")]
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

// germanPlaces are the fields of a move, of an entry of its log and of the water's questions.
var germanPlaces = map[string]string{
	// What a plan asks.
	"from salinity": "Salzgehalt des jetzigen Wassers", "from temperature": "Temperatur des jetzigen Wassers",
	"to salinity": "Salzgehalt des neuen Wassers", "to temperature": "Temperatur des neuen Wassers",
	"from ph": "pH des jetzigen Wassers", "to ph": "pH des neuen Wassers",
	"from alkalinity": "Karbonathärte des jetzigen Wassers", "to alkalinity": "Karbonathärte des neuen Wassers",
	"from tan": "Ammonium des jetzigen Wassers", "to tan": "Ammonium des neuen Wassers",
	"from nitrite": "Nitrit des jetzigen Wassers", "to nitrite": "Nitrit des neuen Wassers",
	"from hours in bag": "Stunden im Beutel",
	"species":           "Art", "stage": "Stadium", "condition": "Zustand", "sensitivity": "Empfindlichkeit",
	"count": "Zahl der Tiere", "mass": "Gewicht eines Tiers", "length": "Länge eines Tiers",
	"container capacity": "Größe des Behälters", "container start volume": "Wasser im Behälter am Anfang",
	"container fill limit": "Füllgrenze des Behälters", "container aerated": "Sprudelstein",
	"home tank volume": "Volumen ihres Beckens", "home tank source": "Wasser für die Wechsel",
	"visits every": "Abstand der Termine", "visits quiet from": "Anfang der Ruhezeit", "visits quiet until": "Ende der Ruhezeit",
	"start": "Beginn", "tolerance": "letzter Schritt",
	// What an entry of the log tells, and the questions of the water ask.
	"time": "Zeitpunkt", "salinity": "Salzgehalt", "temperature": "Temperatur", "volume": "Volumen", "level": "Wasserstand",
	"drops": "Tropfen", "drops in": "Zeit für die Tropfen", "tan": "Ammonium", "nitrite": "Nitrit", "behaviour": "Verhalten", "event": "Ereignis",
	"reading": "Messwert", "target": "Ziel", "source": "Ausgangswasser",
}
