package render

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"saltlock/chem/quantity"
)

// Story says in words what a picture shows, for those who cannot see it: how each panel begins and
// ends and how far it goes, what must be kept, and what is done when.
func (v Voice) Story(c Chart) string {
	var told []string
	for _, p := range c.Panels {
		if len(p.Points) > 0 {
			told = append(told, v.panelStory(p))
		}
	}
	for i, m := range c.Marks {
		if slices.ContainsFunc(c.Marks[:i], func(before Mark) bool { return before.Name == m.Name }) {
			continue
		}
		var times []string
		for _, same := range c.Marks[i:] {
			if same.Name == m.Name {
				times = append(times, v.mark(c, same.X))
			}
		}
		first, size := utf8.DecodeRuneInString(m.Name)
		told = append(told, string(unicode.ToUpper(first))+m.Name[size:]+": "+strings.Join(times, ", "))
	}
	return strings.Join(told, ". ") + "."
}

// mark is when something is done, as the axis counts it.
func (v Voice) mark(c Chart, hours float64) string {
	if c.Clock != nil {
		return c.Clock(hours)
	}
	return v.Say("story_after", quantity.Measure{Value: hours, Unit: "h"})
}

func (v Voice) panelStory(p Panel) string {
	amount := func(y float64) string { return v.Quantity(quantity.Measure{Value: y, Unit: p.Unit}) }
	first, last := p.Points[0].Y, p.Points[len(p.Points)-1].Y
	lo, hi := first, first
	for _, at := range p.Points {
		lo, hi = min(lo, at.Y), max(hi, at.Y)
	}
	name := p.Name
	if strings.Contains(name, ",") {
		name += ","
	}
	told := v.Say("story_panel", name, amount(first), amount(last))
	if slack := 0.02 * (hi - lo); lo < min(first, last)-slack || hi > max(first, last)+slack {
		told = v.Say("story_panel_wide", name, amount(first), amount(last), amount(lo), amount(hi))
	}
	for _, g := range p.Goals {
		ends := amount(g.Lo)
		if g.Lo != g.Hi {
			ends = v.fromTo(ends, amount(g.Hi))
		}
		told += "; " + g.Name + ": " + ends
	}
	return told
}
