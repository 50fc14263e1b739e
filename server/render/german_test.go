package render

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/language"

	"saltlock/chem/quantity"
	"saltlock/server/internal/plainwords"
)

// German says all that English says, so that no answer mixes them.
func TestGermanIsComplete(t *testing.T) {
	for _, code := range slices.Sorted(maps.Keys(english)) {
		if german[code] == "" {
			t.Errorf("%s has no sentence in German: %s", code, english[code])
		}
	}
	for code := range german {
		if english[code] == "" {
			t.Errorf("%s is said in German alone", code)
		}
	}
}

// whatEnglishLeaves are words that a sentence in German has not, unless somebody forgot
// to translate a part of it.
var whatEnglishLeaves = regexp.MustCompile(`(?i)\b(?:the|and|with|of|is|are|it|to|for|from|water|tank|drip|bucket|salinity|at most|hour|day|days)\b`)

// Sentences in German are as plain as those in English.
func TestGermanIsPlain(t *testing.T) {
	var all []string
	for _, code := range slices.Sorted(maps.Keys(german)) {
		p, err := parse(german[code])
		if err != nil {
			t.Fatal(err)
		}
		for _, sentence := range plainwords.Sentences(strings.ReplaceAll(p.sample(), "3 to 4 L", "3 bis 4 L")) {
			all = append(all, sentence)
			if n := plainwords.Words(sentence); n > plainwords.MostWords {
				t.Errorf("%s: %d words: make it two: %s", code, n, sentence)
			}
			if left := whatEnglishLeaves.FindString(sentence); left != "" {
				t.Errorf("%s: %q is English: %s", code, left, sentence)
			}
		}
	}
	t.Logf("%d sentences, the longest of %d words, the median %d", len(all), plainwords.Longest(all), plainwords.Median(all))
	if median := plainwords.Median(all); median > plainwords.MostMedian {
		t.Errorf("the median is %d words", median)
	}
}

// Numbers, units, times and names as a reader of German writes them.
func TestGermanWords(t *testing.T) {
	v := Voice{Language: language.German, Units: Metric, Comma: true, Animals: map[string]Animal{"spotted scat": {"Gemeiner Argusfisch", "Scatophagus argus"}}}
	for _, c := range []struct {
		got, want string
	}{
		{v.Word(quantity.Volume(1.5)), "1,5 L"},
		{v.Word(quantity.DripRate(4)), "4 Tropfen pro Sekunde"},
		{v.Word(quantity.DripRate(0.5)), "30 Tropfen pro Minute"},
		{v.Word(quantity.Duration(51)), "2 Tage 3 h"},
		{v.Say("wait_for_the_day", quantity.Duration(48), quantity.AbsoluteSalinity(2)), "Lass sie 2 Tage, wo sie sind, bis die frühere Änderung von 2 g/kg einen Tag her ist."},
		{v.Say("close_until_next_visit", quantity.Duration(48)), "Schließe das Ventil und komm nach 2 Tagen wieder."},
		{v.Say("why_late", "15:04"), "Du kamst um 15:04 Uhr zu spät. Noch weiß niemand, wie weit das Tropfen ist."},
		{v.Say("why_late", "Mon 15:04"), "Du kamst am Mo um 15:04 Uhr zu spät. Noch weiß niemand, wie weit das Tropfen ist."},
		{v.Say("now_hold", "Mon 15:04"), "Lass die Klemme zu bis Mo, 15:04 Uhr."},
		{v.Say("why_clamp", "Sun 09:00"), "Am So um 09:00 Uhr wurde die Klemme berührt; vielleicht tropft es jetzt anders."},
		{v.Say("plan_restarts", "1 March 2027, 09:00 UTC"), "Hier ist der Plan ab 1. März 2027, 09:00 UTC. Alle seine Zeiten zählen von da an."},
		{v.Name("gasping"), "schnappt nach Luft"},
		{v.Name("spotted scat"), "Scatophagus argus"},
		{v.Name("spotted scat (juvenile)"), "Scatophagus argus (jung)"},
		{v.Animal("spotted scat"), "Gemeiner Argusfisch"},
		{v.Name("Coen and Wenner, 2005"), "Coen und Wenner, 2005"},
		{v.Name("Lin and others, 2004"), "Lin u. a., 2004"},
		{v.Name("a study of mudskippers, 2015"), "Studie zu Schlammspringern, 2015"},
		{v.Name("0.5 to 4 ppt"), "0,5 bis 4 ppt"},
		{v.Reading(quantity.Reading{Value: 1.0235, Scale: quantity.SpecificGravityScale}), "Dichte 1,0235"},
		{v.Reading(quantity.Reading{Value: 0.0005, Scale: quantity.SpecificGravityScale}), "0,0005"},
	} {
		if c.got != c.want {
			t.Errorf("got  %s\nwant %s", c.got, c.want)
		}
	}
}

// Where a sentence is missing, the voice says so, and what it says is English.
func TestMissedSentence(t *testing.T) {
	own := catalogue[language.German]["release"]
	delete(catalogue[language.German], "release")
	defer func() { catalogue[language.German]["release"] = own }()
	v, missed := Voice{Language: language.German}.Attentive()
	if v.Say("look_after_2_hours"); *missed {
		t.Error("a sentence that is there was missed")
	}
	if said := v.Say("release", quantity.Salinity(10), quantity.AbsoluteSalinity(2)); !*missed || !regexp.MustCompile("^Move the animals").MatchString(said) {
		t.Errorf("missed: %v, said: %s", *missed, said)
	}
}
