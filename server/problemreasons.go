package server

import (
	"strings"

	"saltlock/api"
	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
	"saltlock/server/contract"
	"saltlock/server/render"
)

// fromNow is the unit of a time compared with the clock.
const fromNow = "h from now"

// saying writes the sentences of notes in a voice.
func saying(v render.Voice) func(*quantity.Note) {
	return func(n *quantity.Note) { v.Fill([]*quantity.Note{n}) }
}

// titleOf is the title of a kind of problem; not ok if there is only an English one.
func titleOf(v render.Voice, k kind) (title string, ok bool) {
	switch k {
	case noPlan:
		return v.Say("problem_no_plan"), true
	case whichSpecies:
		return v.Say("problem_which_species"), true
	case notFound:
		return v.Say("problem_not_found"), true
	case contract.InvalidRequest:
		return v.Say("problem_to_correct"), true
	case contract.OutOfRange:
		return v.Say("problem_out_of_range"), true
	case unreachable:
		return v.Say("problem_unreachable"), true
	case conflict:
		return v.Say("problem_conflict"), true
	case keyMissing:
		return v.Say("problem_key_missing"), true
	case keyWrong:
		return v.Say("problem_key_wrong"), true
	}
	return "", false
}

func rangeReason(v render.Voice, e *quantity.RangeError) string {
	if e.Unit == fromNow {
		return timeReason(v, e)
	}
	given, lo, hi := ranged(v, e)
	if e.Name == "temperature" && e.Unit == "°C" && e.Value > e.Hi {
		return v.Say("out_of_range_hot", given, lo, hi)
	}
	if meant, ok := quantity.MeantGravity(e.Value); ok && e.Unit == string(quantity.SpecificGravityScale) {
		return v.Say("out_of_range_gravity", given, quantity.Reading{Value: meant, Scale: quantity.SpecificGravityScale})
	}
	return v.Say("out_of_range", given, lo, hi)
}

func preferenceReason(v render.Voice, e *tolerance.PreferenceError) string {
	given, lo, hi := ranged(v, &e.RangeError)
	return v.Say("beyond_preference", given, lo, hi, string(e.Stage), e.ID)
}

// ranged writes a value and the range it is outside; the unit appears once, in the range.
func ranged(v render.Voice, e *quantity.RangeError) (given, lo, hi string) {
	unit := " " + map[string]string{"K": "°C", "K/h": "°C/h"}[e.Unit]
	switch {
	case e.Unit == "1":
		unit = ""
	case unit == " ":
		unit += e.Unit
	}
	number := func(x float64) string { return v.Number(quantity.Measure{Value: x}) }
	return number(e.Value) + unit, number(e.Lo), number(e.Hi) + unit
}

func stageReason(v render.Voice, e *tolerance.StageError) string {
	known := make([]string, len(e.Have))
	for i, s := range e.Have {
		known[i] = v.Name(string(s))
	}
	return v.Say("stage_unknown", e.ID, string(e.Stage), strings.Join(known, ", "))
}

func timeReason(v render.Voice, e *quantity.RangeError) string {
	switch {
	case e.Value > e.Hi && e.Hi == 0:
		return v.Say("time_in_future")
	case e.Value > e.Hi:
		return v.Say("time_too_late", quantity.Duration(e.Hi))
	}
	return v.Say("time_too_early", quantity.Duration(-e.Lo))
}

func unreachableReason(v render.Voice, e *mixing.UnreachableError) string {
	why := e.Note
	saying(v)(&why)
	return v.Say("salinity_out_of_reach", quantity.Exactly(e.Target), quantity.Exactly(e.Lo), quantity.Exactly(e.Hi), why.Text)
}

// offerOf names the fields of an offer as the request does; nil if there is no offer.
func offerOf(offer []transfer.Change, place func(string) string) *[]api.Change {
	if len(offer) == 0 {
		return nil
	}
	var changes []api.Change
	for _, c := range offer {
		changes = append(changes, api.Change{Where: place(c.Where), Value: c.Value})
	}
	return &changes
}
