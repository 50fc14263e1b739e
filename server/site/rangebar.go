package site

import (
	"fmt"

	"html/template"
	"strings"

	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// band is a range of an answer; a missing bound is unknown.
type band struct {
	Min, Max *quantity.Measure
	Mark     string
	Source   *struct {
		ShortName string `json:"short_name"`
		Citation  string
		URL       string
	}
}

// Known reports whether anything is known of it.
func (b *band) Known() bool { return b != nil && (b.Min != nil || b.Max != nil) }

// marks say in words how well founded a value is.
var marks = map[string]string{
	"published": "published", "definition": "follows from the words fresh or sea water", "common-practice": "common practice, no source",
	"memory": "recalled, not checked", "proposed": "our default, no source",
}

// standing says how well founded the range is.
func (b *band) standing(l tongue) string {
	if !b.Known() {
		return ""
	}
	said := l.says(marks[b.Mark])
	if b.Source != nil && b.Source.ShortName != "" {
		if said != "" {
			said += ", "
		}
		said += l.voice().Name(b.Source.ShortName)
	}
	return said
}

// words are the range as text: 5 to 20 ppt.
func (b *band) words(v render.Voice) string {
	end := func(m *quantity.Measure) string {
		if v.Comma {
			return strings.Replace(plain(m.Value), ".", ",", 1)
		}
		return plain(m.Value)
	}
	switch {
	case !b.Known():
		return v.Say("band_unknown")
	case b.Min == nil:
		return v.Say("band_up_to", end(b.Max)+" "+b.Max.Unit)
	case b.Max == nil:
		return v.Say("band_from", end(b.Min)+" "+b.Min.Unit)
	}
	return v.Say("range", end(b.Min), end(b.Max)+" "+b.Max.Unit)
}

func plain(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.1f", x), "0"), ".")
}

// A range bar is drawn over the salinities that animals live in, ppt.
const (
	barLeft, barRight = 10.0, 390.0
	barEnd            = 40.0
)

func barX(ppt float64) float64 {
	return barLeft + min(max(ppt, 0), barEnd)/barEnd*(barRight-barLeft)
}

// rangeBar draws what an animal survives and where to keep it, on a scale from fresh water to the
// sea, with a gate at each end of the range to keep it in.
func rangeBar(v render.Voice, survived, preferred *band) template.HTML {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="range" viewBox="0 0 400 44" role="img" aria-label="%s"><rect class="track" x="10" y="9" width="380" height="10" rx="5"/>`,
		template.HTMLEscapeString(v.Say("band_bar", preferred.words(v), survived.words(v))))
	if survived.Known() {
		from, to := survived.ends()
		fmt.Fprintf(&b, `<rect class="lives" x="%.1f" y="9" width="%.1f" height="10"/>`, barX(from), barX(to)-barX(from))
	}
	if preferred.Known() {
		from, to := preferred.ends()
		fmt.Fprintf(&b, `<rect class="likes" x="%.1f" y="5" width="%.1f" height="18"/>`, barX(from), max(3, barX(to)-barX(from)))
		for _, end := range []*quantity.Measure{preferred.Min, preferred.Max} {
			if end != nil {
				fmt.Fprintf(&b, `<rect class="edge" x="%.1f" y="2" width="4" height="24"/>`, barX(end.Value)-2)
			}
		}
	}
	for _, tick := range []float64{0, 10, 20, 30, 40} {
		fmt.Fprintf(&b, `<path class="tick" d="M%.1f 26v4"/><text x="%.1f" y="42" text-anchor="middle">%.0f</text>`, barX(tick), barX(tick), tick)
	}
	b.WriteString("</svg>")
	return template.HTML(b.String())
}

// ends are where the range is drawn; an open end runs off the scale.
func (b *band) ends() (from, to float64) {
	to = barEnd
	if b.Min != nil {
		from = b.Min.Value
	}
	if b.Max != nil {
		to = b.Max.Value
	}
	return from, to
}
