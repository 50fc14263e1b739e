package site

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// clock is the wall clock of the keeper, where the plan has a start.
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

// at is a time of the plan in words.
func (k clock) at(v render.Voice, hours float64) string {
	after := "At the start"
	if hours > 0 {
		after = "After " + v.Quantity(quantity.Measure{Value: hours, Unit: "h"})
	}
	if k.start.IsZero() {
		return after
	}
	t := k.start.Add(time.Duration(math.Round(hours*60)) * time.Minute)
	return t.Format("Mon 2 Jan, 15:04 MST") + " · " + strings.ToLower(after[:1]) + after[1:]
}

// stamp is a time of the plan for programs; empty where it has no start.
func (k clock) stamp(hours float64) string {
	if k.start.IsZero() {
		return ""
	}
	return k.start.UTC().Add(time.Duration(math.Round(hours*60)) * time.Minute).Format(time.RFC3339)
}

// steps puts looks and acts into the order of time. Daily changes of a tank become a
// table, what comes after the release a list of its own.
func (r *result) steps(v render.Voice, a *planned, k clock) {
	for _, c := range a.Charges {
		r.Charges = append(r.Charges, fact{k.at(v, c.Time.Value), v.Quantity(c.Volume)})
	}
	release := math.Inf(1)
	changes := 0
	for _, ph := range a.Phases {
		if ph.Kind == "release" {
			release = ph.Start.Value
		}
		if ph.Kind == "water_change" {
			changes++
		}
	}
	byTime := map[float64]*planStep{}
	step := func(hours float64) *planStep {
		key := math.Round(hours * 60)
		if byTime[key] == nil {
			byTime[key] = &planStep{When: k.at(v, hours), At: k.stamp(hours)}
		}
		return byTime[key]
	}
	for _, l := range a.Look {
		if changes > 3 && l.Why.Code == "look_after_change" {
			continue
		}
		s := step(l.Time.Value)
		s.Texts = append(s.Texts, l.Why.Text)
		if l.Reading != nil {
			s.Reads = strings.TrimSpace(v.Quantity(l.Reading.Measure) + " " + l.Reading.Convention)
		}
	}
	for _, ph := range a.Phases {
		if changes > 3 && (ph.Kind == "water_change" || ph.Kind == "hold") {
			if ph.Kind == "water_change" {
				change := v.Quantity(ph.TakeOut)
				if math.Abs(ph.PutIn.Value-ph.TakeOut.Value) > 0.01*ph.TakeOut.Value { // else a hand cannot tell them apart
					change += ", " + v.Quantity(ph.PutIn)
				}
				r.Days = append(r.Days, day{k.day(ph.Start.Value), change, v.Quantity(ph.NewWater), v.Quantity(ph.Salt), v.Quantity(ph.ToSalinity)})
			}
			continue
		}
		s := step(ph.Start.Value)
		s.Texts = append(s.Texts, ph.Instruction.Text)
	}
	var times []float64
	for t := range byTime {
		times = append(times, t)
	}
	slices.Sort(times)
	for _, t := range times {
		if t > math.Round(release*60) {
			r.After = append(r.After, *byTime[t])
		} else {
			r.Steps = append(r.Steps, *byTime[t])
		}
	}
}

// day is the day of a change, from the first.
func (k clock) day(hours float64) string {
	if k.start.IsZero() {
		return "Day " + strconv.Itoa(int(math.Floor(hours/24+1e-6))+1)
	}
	return k.start.Add(time.Duration(math.Round(hours*60)) * time.Minute).Format("Mon 2 Jan")
}
