package site

import (
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// clock is the keeper's wall clock, if the plan has a start.
type clock struct{ start time.Time }

func clockOf(q planQuery) clock {
	start, err := time.Parse(time.RFC3339, q.Get("start"))
	if err != nil {
		return clock{}
	}
	if zone, err := time.LoadLocation(q.Get("time_zone")); err == nil && q.Has("time_zone") {
		start = start.In(zone)
	}
	return clock{start}
}

// time is a time of the plan, to the minute.
func (k clock) time(hours float64) time.Time {
	return k.start.Add(time.Duration(math.Round(hours*60)) * time.Minute)
}

// at is a time of the plan in words.
func (k clock) at(v render.Voice, hours float64) string {
	after := quantity.Duration(hours)
	if k.start.IsZero() {
		if hours > 0 {
			return v.Say("page_after", after)
		}
		return v.Say("page_at_start")
	}
	t := k.time(hours)
	if hours > 0 {
		return v.Say("page_after_of", v.Weekday(t), onClock(t), after)
	}
	return v.Say("page_at_start_of", v.Weekday(t), onClock(t))
}

// until is a time of the plan on the clock alone, with its day.
func (k clock) until(v render.Voice, hours float64) string {
	t := k.time(hours)
	return v.Say("page_until", v.Weekday(t), onClock(t))
}

// onClock is the time of day, with its zone if the zone has a name.
func onClock(t time.Time) string {
	if zone, _ := t.Zone(); strings.ContainsAny(zone, "+-") || zone == "" {
		return t.Format("15:04")
	}
	return t.Format("15:04 MST")
}

// hour is a time of the plan on the clock, and whether that is the next day.
func (k clock) hour(v render.Voice, hours float64) string {
	t := k.start.Add(time.Duration(math.Round(hours*12)) * 5 * time.Minute)
	if t.Day() != k.start.Day() {
		return v.Say("page_hour_next_day", t.Format("15:04"))
	}
	return t.Format("15:04")
}

// stamp is a time of the plan for programs; empty without a start.
func (k clock) stamp(hours float64) string {
	if k.start.IsZero() {
		return ""
	}
	return k.time(hours).UTC().Format(time.RFC3339)
}

// steps sorts looks and acts by time. Daily changes of a tank become a table, and what comes after
// the release a list of its own.
func (r *result) steps(v render.Voice, a *planned, k clock) {
	release, daily := a.ends()
	byTime := map[float64]*planStep{}
	step := func(hours float64) *planStep {
		key := math.Round(hours * 60)
		if byTime[key] == nil {
			byTime[key] = &planStep{When: k.at(v, hours), At: k.stamp(hours)}
		}
		return byTime[key]
	}
	for _, l := range a.Look {
		if daily && l.Why.Code == "look_after_change" {
			continue
		}
		s := step(l.Time.Value)
		s.Texts = append(s.Texts, l.Why.Text)
		if l.Reading != nil {
			s.Reads = strings.TrimSpace(v.Quantity(l.Reading.Measure) + " " + l.Reading.Convention)
		}
	}
	part := 0
	for _, ph := range a.Phases {
		if daily && ph.Kind == "water_change" {
			r.Days = append(r.Days, dayOf(v, k, ph))
			continue
		}
		s := step(ph.Start.Value)
		if ph.Stage > part {
			part = ph.Stage
			s.Texts = append(s.Texts, v.Say("stage_starts", part, len(a.Stages)))
		}
		s.begins(v, a, ph)
		r.refills(v, k, a.Draw, ph)
	}
	r.warm(v.Say("page_temperature_first"), a.Warmth.First)
	r.inOrder(byTime, math.Round(release*60))
	r.warm(v.Say("page_temperature_last"), a.Warmth.Last)
}

// warm adds what is done about the temperature.
func (r *result) warm(when string, notes []note) {
	for _, n := range notes {
		r.Steps = append(r.Steps, planStep{When: when, Texts: []string{n.Text}})
	}
}

// ends are when the animals are released, in hours, which may be never, and whether changes of
// their tank are so many that they become a table.
func (a *planned) ends() (release float64, daily bool) {
	release = math.Inf(1)
	changes := 0
	for _, ph := range a.Phases {
		if ph.Kind == "release" || ph.Kind == "move" && a.Route == "direct" {
			release = ph.Start.Value
		}
		if ph.Kind == "water_change" {
			changes++
		}
	}
	return release, changes > 3
}

// dayOf is a change of water as a row of the table.
func dayOf(v render.Voice, k clock, ph phase) day {
	change := v.Quantity(ph.TakeOut)
	if math.Abs(ph.PutIn.Value-ph.TakeOut.Value) > 0.01*ph.TakeOut.Value { // else a hand cannot tell them apart
		change += ", " + v.Quantity(ph.PutIn)
	}
	return day{k.day(v, ph.Start.Value), change, v.Quantity(ph.NewWater), v.Quantity(ph.Salt), v.Quantity(ph.ToSalinity)}
}

// begins adds what is done as a phase begins.
func (s *planStep) begins(v render.Voice, a *planned, ph phase) {
	if ph.drips() && ph.Start.Value == 0 && ph.FromVolume.Value > 0 {
		s.Texts = append(s.Texts, v.Say("page_into_container", ph.FromVolume))
	}
	jug, hose := a.Draw.hands(v, ph)
	s.Texts = append(append(append(s.Texts, jug...), ph.Instruction.Text), hose...)
}

// inOrder adds steps by their minutes to those up to the release, and to those after it.
func (r *result) inOrder(byTime map[float64]*planStep, release float64) {
	for _, minute := range slices.Sorted(maps.Keys(byTime)) {
		if minute > release {
			r.After = append(r.After, *byTime[minute])
		} else {
			r.Steps = append(r.Steps, *byTime[minute])
		}
	}
}

// fewRefills is how many refills of a jug a step lists one by one.
const fewRefills = 2

// hands is what hands do as a drip begins: to the jug and to the hose.
func (d *draw) hands(v render.Voice, ph phase) (jug, hose []string) {
	if d == nil || !ph.drips() {
		return nil, nil
	}
	full, refills := d.charges(ph)
	for _, c := range full {
		jug = append(jug, v.Say("jug_fill", c.Volume))
	}
	most := quantity.Measure{Unit: "L"}
	for _, c := range refills {
		most.Value = max(most.Value, c.Volume.Value)
		if len(refills) <= fewRefills {
			jug = append(jug, v.Say("jug_refill", c.Volume, quantity.Measure{Value: c.Time.Value - ph.Start.Value, Unit: "h"}))
		}
	}
	if len(refills) > fewRefills {
		jug = append(jug, v.Say("jug_refills", most, len(refills)))
	}
	for i, h := range d.Intakes {
		switch {
		case math.Abs(h.Time.Value-ph.Start.Value) > 1e-6:
		case i == 0:
			hose = append(hose, v.Say("intake", h.Depth, h.Least, h.Greatest))
		case math.Abs(d.Intakes[i-1].Depth.Value-d.Intakes[i-1].Least.Value-h.Depth.Value) > 1e-6: // else it hangs right where it was
			hose = append(hose, v.Say("intake_now", h.Depth, h.Least, h.Greatest))
		}
	}
	return jug, hose
}

// charges are those of a phase: at its beginning, and while it runs.
func (d *draw) charges(ph phase) (full, refills []charge) {
	for _, c := range d.Charges {
		switch since := c.Time.Value - ph.Start.Value; {
		case math.Abs(since) < 1e-6:
			full = append(full, c)
		case since > 0 && since < ph.Duration.Value-1e-6:
			refills = append(refills, c)
		}
	}
	return full, refills
}

// refills lists the times of refills that a step does not list one by one.
func (r *result) refills(v render.Voice, k clock, d *draw, ph phase) {
	if d == nil || !ph.drips() {
		return
	}
	full, refills := d.charges(ph)
	if len(refills) <= fewRefills {
		return
	}
	for _, c := range append(full, refills...) {
		r.Charges = append(r.Charges, fact{k.at(v, c.Time.Value), v.Quantity(c.Volume)})
	}
}

// day is the day of a change, from the first.
func (k clock) day(v render.Voice, hours float64) string {
	if k.start.IsZero() {
		return v.Say("page_day", int(math.Floor(hours/24+1e-6)))
	}
	return v.Weekday(k.time(hours))
}
