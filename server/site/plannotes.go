package site

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// faster are ways that a plan names without having planned them.
func (q planQuery) faster(a *planned) []way {
	var list []way
	for _, n := range a.Warnings {
		switch n.Code {
		case "stream_is_faster":
			list = append(list, way{q.says("By a stream"), n.Text, q.with("step", "all", "#", "line_greatest_drip")})
		case "cups_are_faster":
			list = append(list, way{q.says("By measured cups, poured in by hand"), n.Text, q.with("route", "cups")})
		}
	}
	return list
}

// notes puts the sentences of a plan where they are needed.
func (r *result) notes(a *planned) {
	for _, n := range a.If {
		r.If = append(r.If, n.Text)
	}
	for _, n := range a.Warnings {
		if !slices.Contains(toldAlready, n.Code) {
			r.First = append(r.First, n.Text)
		}
	}
	for _, n := range a.After {
		r.Afterwards = append(r.Afterwards, n.Text)
	}
	for _, n := range a.Cautions {
		switch {
		case slices.Contains(stopCodes, n.Code):
			r.Stop = append(r.Stop, n.Text)
		case n.Code == "limit_looser":
			r.First = append([]string{n.Text}, r.First...)
		case slices.Contains(firstCodes, n.Code):
			r.First = append(r.First, n.Text)
		case strings.HasPrefix(n.Code, "stuck_valve") || strings.HasPrefix(n.Code, "failed_valve") || n.Code == "without_air" || n.Code == "without_air_bell":
			r.If = append(r.If, n.Text)
		case !slices.Contains(toldAlready, n.Code):
			r.Cautions = append(r.Cautions, n.Text)
		}
	}
	for _, n := range a.Assumptions {
		r.Guessed = append(r.Guessed, n.Text)
	}
}

// The sentences that stand apart: on when to stop, on what comes once they are over, and
// on the pace of a drip. What the page says already in words of its own is not repeated.
var (
	stopCodes   = []string{"vet_for_the_sick"}
	firstCodes  = []string{"marks_pace", "marks_jug"}
	toldAlready = []string{"stop_on_distress", "one_filling_leaves", "visits_take_longer", "drops_set_the_time", "stream_is_faster", "cups_are_faster"}
)

// facts are the numbers a person asks for first.
func (r *result) facts(v render.Voice, a *planned, k clock) {
	r.Begin = a.begin(v)
	r.FoulBag = a.Route == "out_of_bag"
	r.NoReturn = r.FoulBag || slices.ContainsFunc(a.Cautions, func(n note) bool { return n.Code == "no_way_back" || n.Code == "no_way_back_at_signs" })
	r.Bells = slices.ContainsFunc(a.Warnings, func(n note) bool { return n.Code == "no_bubbles" })
	r.Drips = slices.ContainsFunc(a.Phases, phase.drips)
	add := func(name, value string) { r.Facts = append(r.Facts, fact{name, value}) }
	switch {
	case a.Ramp != nil && a.Draw == nil:
		add("How long", v.Say("page_days", a.Ramp.Days))
	case a.Release != nil && a.Release.Time.Value > 0:
		add("How long", v.Quantity(a.Release.Time))
	}
	switch end := a.end(); {
	case end == 0:
	case !k.start.IsZero():
		add("Done at", k.until(v, end))
	case end < 24:
		add("If you start at 9:00, done at", clock{atNine}.hour(v, end))
	}
	if a.Ramp != nil {
		add("Water changes", strconv.Itoa(a.Ramp.Changes))
		add("New water for the changes", v.Quantity(a.Ramp.Water))
		add("Salt for the changes", v.Quantity(a.Ramp.Salt))
	}
	if a.Draw != nil && (a.Ramp != nil || len(a.Stages) > 0) { // else it is what the hands do first
		add("New water", v.Quantity(a.Draw.Volume))
		if a.Draw.Salt.Value > 0 {
			add("Salt in it", v.Quantity(a.Draw.Salt))
		}
	}
	if a.Parts != nil {
		add("New water", v.Say("page_parts", v.Number(*a.Parts)))
	}
	if a.SetAside != nil {
		add("Old water to keep", v.Quantity(a.SetAside.Volume))
	}
}

// atNine stands in for the start of a move that has none, to show how far into the day it takes.
var atNine = time.Date(2026, time.January, 1, 9, 0, 0, 0, time.UTC)

// end is when the animals have arrived, in hours; 0 if that takes no time.
func (a *planned) end() float64 {
	if a.Release != nil && a.Release.Time.Value > 0 {
		return a.Release.Time.Value
	}
	if a.Ramp != nil && len(a.Phases) > 0 {
		last := a.Phases[len(a.Phases)-1]
		return last.Start.Value + last.Duration.Value
	}
	return 0
}

// begin is the one thing that the hands do first: as a rule they make the new water. Out
// of a bag, or where no new water is made, it is how the first step begins.
func (a *planned) begin(v render.Voice) string {
	first := phase{}
	if len(a.Phases) > 0 {
		first = a.Phases[0]
	}
	at, known := measureOf(a.Inputs.To.Salinity)
	switch {
	case len(a.Stages) > 0 && a.Stages[0].Salt.Value > 0:
		tank := a.Stages[0]
		return v.Say("page_first_water_at", tank.Water, tank.Salinity, tank.Salt)
	case first.Kind == "water_change" && first.Salt.Value > 0:
		return v.Say("page_first_water_at", first.PutIn, first.NewWater, first.Salt)
	case a.Parts != nil:
		return v.Say("page_first_parts", v.Number(*a.Parts))
	case a.Draw != nil && a.Draw.Salt.Value > 0 && known:
		return v.Say("page_first_water_at", a.Draw.Volume, at, a.Draw.Salt)
	case a.Draw != nil:
		return v.Say("page_first_water", a.Draw.Volume)
	}
	sentence, _, more := strings.Cut(first.Instruction.Text, ". ")
	if more {
		sentence += "."
	}
	return sentence
}

// measureOf reads a quantity as an answer repeats it.
func measureOf(text string) (quantity.Measure, bool) {
	number, unit, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(number, 64)
	return quantity.Measure{Value: x, Unit: unit}, err == nil
}

// prepare is what to have ready before the first step: the amounts and tools of this
// plan, and what the planner has its keeper go through before any.
func (r *result) prepare(v render.Voice, a *planned) {
	add := func(text string) { r.Things = append(r.Things, text) }
	if a.Ramp != nil && a.Ramp.Salt.Value > 0 {
		add(v.Say("page_salt_for_changes", a.Ramp.Salt))
	}
	if a.Draw != nil {
		if a.Draw.Salt.Value > 0 {
			add(v.Say("page_new_water_salted", a.Draw.Volume, a.Draw.Salt))
		} else {
			add(v.Say("page_new_water", a.Draw.Volume))
		}
	}
	if a.SetAside != nil {
		add(v.Say("page_old_water", a.SetAside.Volume))
	}
	if r.Drips && r.Bells {
		add("a bowl with a gentle current and no air stone, air line with a clamp or valve")
	} else if r.Drips {
		add("a container, an air pump with its stone, air line with a clamp or valve")
	}
	if a.Draw != nil && len(a.Draw.Charges) > 0 || a.Parts != nil {
		add("a jug for the new water, a measuring cup, a watch, and a bucket for what is poured off")
	}
	if len(a.Before) > 0 && !r.FoulBag {
		add("your instrument for the salinity, a thermometer, tests for ammonia and nitrite")
		if r.Bells {
			add("a ladle to stir by, for when the power fails")
		} else {
			add("a battery air pump, for when the power fails")
		}
	}
	for _, n := range a.Before {
		r.Checks = append(r.Checks, n.Text)
	}
	if len(a.Before) == 0 { // common practice, no source
		if r.Bells {
			add("a pump for a gentle current, a thermometer, tests for ammonia and nitrite")
		} else {
			add("an air pump with its stone, a thermometer, tests for ammonia and nitrite")
		}
		add("a vet's telephone number")
	}
}

// story is what the picture of the plan shows, in words.
func (a *planned) story(v render.Voice) string {
	c := render.Chart{Panels: []render.Panel{{Name: v.Say("panel_salinity"), Unit: "ppt"}, {Name: v.Say("panel_volume"), Unit: "L"}, {Name: v.Say("panel_nh3"), Unit: "mg/L N"}, {Name: v.Say("panel_o2"), Unit: "mg/L"}}}
	for _, at := range a.Curve {
		for i, m := range []quantity.Measure{at.Salinity, at.Volume, at.NH3, at.Oxygen} {
			if m.Unit != "" {
				c.Panels[i].Points = append(c.Panels[i].Points, render.Point{X: at.Time.Value, Y: m.Value})
			}
		}
	}
	for _, ph := range a.Phases {
		if ph.Kind == "pour_off" || ph.Kind == "release" {
			c.Marks = append(c.Marks, render.Mark{X: ph.Start.Value, Name: v.Name(ph.Kind)})
		}
	}
	return v.Story(c)
}
