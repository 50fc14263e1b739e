package server

import (
	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/server/render"
	"saltlock/server/store"
)

// fromNow is the unit of a time that was compared with the clock.
const fromNow = "h from now"

func rangeReason(e *quantity.RangeError) string {
	var v render.Voice
	if e.Unit == fromNow {
		return timeReason(e)
	}
	unit := " " + map[string]string{"K": "°C", "K/h": "°C/h"}[e.Unit]
	switch {
	case e.Unit == "1":
		unit = ""
	case unit == " ":
		unit += e.Unit
	}
	number := func(x float64) string { return v.Number(quantity.Measure{Value: x}) }
	return v.Say("out_of_range", number(e.Value)+unit, number(e.Lo), number(e.Hi)+unit)
}

func timeReason(e *quantity.RangeError) string {
	var v render.Voice
	switch {
	case e.Value > e.Hi && e.Hi == 0:
		return v.Say("time_in_future")
	case e.Value > e.Hi:
		return v.Say("time_too_late", quantity.Duration(e.Hi))
	}
	return v.Say("time_too_early", quantity.Duration(-e.Lo))
}

func unreachableReason(e *mixing.UnreachableError) string {
	var v render.Voice
	return v.Say("salinity_out_of_reach", quantity.Exactly(e.Target), quantity.Exactly(e.Lo), quantity.Exactly(e.Hi), e.Why)
}

func notFoundReason(e *store.NotFoundError) string {
	return "there is no " + e.Kind + " " + e.ID
}
