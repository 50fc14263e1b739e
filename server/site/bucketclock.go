package site

import (
	"strings"
	"time"
)

// Clock is a time on the clock that the transfer goes by, with its day where that is not
// the day on which the page was asked for.
func (v *bucketView) Clock(t time.Time) string {
	at, today := t.In(v.zone), v.Asked.In(v.zone)
	text := onClock(at)
	if at.YearDay() != today.YearDay() || at.Year() != today.Year() {
		return v.tongue.voice().Say("page_until", v.tongue.voice().Weekday(at), text)
	}
	return text
}

// Zone is how scripts name that clock; empty where it may be that of the phone.
func (v *bucketView) Zone() string {
	switch {
	case v.Inputs.TimeZone != "":
		return v.Inputs.TimeZone
	case v.zone == time.UTC:
		return ""
	}
	return v.Inputs.Start.Format("-07:00")
}

// Movable reports whether the start can still be moved: nothing is logged yet.
func (v *bucketView) Movable() bool { return len(v.Log) == 0 && v.End == nil }

// Preparing reports whether the new water is still to be made, as far as is known: the plan
// was just saved, or begins later.
func (v *bucketView) Preparing() bool {
	return v.Movable() && v.Result != nil && v.Result.Begin != "" && v.Now.Act.Code != "now_look_first" &&
		(v.Start.After(v.Asked) || v.Start.Sub(v.CreatedAt).Abs() < 2*time.Second)
}

// Unzoned reports whether nobody said a start or a clock, so that the phone at the bucket may.
func (v *bucketView) Unzoned() bool {
	return v.Movable() && v.Zone() == "" && v.Start.Sub(v.CreatedAt).Abs() < 2*time.Second
}

// NextAct is the next act without its time, which the page has beside it.
func (v *bucketView) NextAct() string {
	_, act, timed := strings.Cut(v.Now.Next.Text, ": ")
	if !timed || v.Now.Next.Code != "next_at" {
		return ""
	}
	return act
}
