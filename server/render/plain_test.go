package render

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"saltlock/server/internal/plainwords"
)

// Every sentence of the catalogue is short and plain, however its plurals come out. A
// quantity counts as two words, its number and its unit; a range of two as four.
func TestSentencesArePlain(t *testing.T) {
	var all []string
	for _, code := range slices.Sorted(maps.Keys(english)) {
		p, err := parse(english[code])
		if err != nil {
			t.Fatal(err)
		}
		for _, sentence := range plainwords.Sentences(p.sample()) {
			all = append(all, sentence)
			for _, why := range plainwords.Faults(sentence) {
				t.Errorf("%s: %d words, %s: %s", code, plainwords.Words(sentence), why, sentence)
			}
		}
	}
	t.Logf("%d sentences, the longest of %d words, the median %d", len(all), plainwords.Longest(all), plainwords.Median(all))
	if median := plainwords.Median(all); median > plainwords.MostMedian {
		t.Errorf("the median is %d words", median)
	}
}

// sample fills a pattern with things of the usual length.
func (p pattern) sample() string {
	var b strings.Builder
	for _, x := range p {
		switch {
		case x.place == nil:
			b.WriteString(x.text)
		case x.place.kind == aCount:
			long := ""
			for _, c := range x.place.cases {
				if text := c.text.sample(); plainwords.Words(text) >= plainwords.Words(long) {
					long = text
				}
			}
			b.WriteString(strings.ReplaceAll(long, "#", "3"))
		case x.place.kind == aName:
			b.WriteString("Name")
		case x.place.kind == aNumber:
			b.WriteString("3")
		case x.place.span:
			b.WriteString("3 to 4 L")
		default:
			b.WriteString("3 L")
		}
	}
	return b.String()
}
