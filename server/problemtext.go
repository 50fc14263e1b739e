package server

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/labstack/echo/v4"
	"github.com/munnerz/goautoneg"

	"saltlock/api"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/contract"
	"saltlock/server/render"
)

const problemMedia = "application/problem+json"

// asksInText reports whether the answer, even a refusal, was asked for as text, and in which
// voice. The rest of the request may be wrong.
func asksInText(c echo.Context) (render.Voice, bool) {
	q := c.QueryParams()
	voice := voiceOf(q)
	format, accept := q.Get("format"), c.Request().Header.Get(echo.HeaderAccept)
	inText := format == "text" && !strings.Contains(accept, problemMedia) ||
		format == "" && goautoneg.Negotiate(accept, []string{problemMedia, echo.MIMEApplicationJSON, echo.MIMETextPlain}) == echo.MIMETextPlain
	if !inText {
		voice = render.Voice{Language: voice.Language}
	}
	return customs(voice, q.Get("decimal")), inText
}

// problemText writes a problem for people: what is the matter, then each fault on a line. If the
// request is at fault, a line begins with the wrong field in words. A refused plan needs none,
// since its sentences say what to change.
func problemText(v render.Voice, p api.Problem) string {
	lines := []string{p.Title}
	if !strings.HasSuffix(p.Title, "?") {
		lines[0] += "."
	}
	switch p.Type {
	case "/problems/" + contract.InvalidRequest.Name:
		lines[0] = v.Say("question_to_correct", counted(p))
	case "/problems/" + contract.OutOfRange.Name:
		lines[0] = v.Say("question_out_of_range")
	case "/problems/" + noPlan.Name:
		lines[0] = v.Say(headline(p.Errors))
	}
	switch {
	case p.Errors != nil && p.Type == "/problems/"+noPlan.Name:
		lines = append(lines, refusalLines(v, *p.Errors)...)
	case p.Errors != nil:
		for _, f := range *p.Errors {
			lines = append(lines, faultLine(v, f))
		}
	case p.Detail != nil:
		lines = append(lines, *p.Detail)
	}
	return strings.Join(lines, "\n") + "\n"
}

// counted is how many faults a problem has, with those that it only counts.
func counted(p api.Problem) int {
	n := 0
	if p.Errors != nil {
		n = len(*p.Errors)
	}
	if p.MoreErrors != nil {
		n += *p.MoreErrors
	}
	return n
}

// faultLine is a fault as a line for people: which field, in words, then what is wrong with it.
func faultLine(v render.Voice, f api.Fault) string {
	place := placed(v, f)
	first, size := utf8.DecodeRuneInString(place)
	line := string(unicode.ToUpper(first)) + place[size:] + ": " + f.Reason
	if !strings.HasSuffix(line, ".") && !strings.HasSuffix(line, "?") {
		line += "."
	}
	return line
}

// placed is the place of a fault in words. A name that nobody knows stays as it was written.
func placed(v render.Voice, f api.Fault) string {
	if f.Rule == "unknown" {
		return render.Voice{}.Place(f.Where)
	}
	return v.Place(f.Where)
}

// headline says, of a refused plan, whether the move is unwise, or only the way of doing it, or
// whether something must be known first.
func headline(faults *[]api.Fault) quantity.Code {
	if faults == nil || len(*faults) == 0 {
		return "refused_way"
	}
	against := slices.DeleteFunc(slices.Clone(*faults), func(f api.Fault) bool { return slices.Contains(toBeKnown, f.Rule) })
	switch {
	case slices.ContainsFunc(*faults, func(f api.Fault) bool { return transfer.Unwise(f.Rule) }):
		return "refused_unwise"
	case (*faults)[0].Rule == "too_salty_for_plans":
		return "refused_urgent"
	case len(against) == 0:
		return "refused_asks"
	}
	return "refused_way"
}

// toBeKnown are the rules that a plan breaks for want of something its keeper may have.
var toBeKnown = []string{"species_decides_temperature", "no_air_stone", "container_not_named", "no_air_stone_bell", "container_not_named_bell", "container_not_measured", "overflow_needs_volume", "acidity_would_help"}

// refusalLineLimit is how many lines of a refusal people read, including the first.
const refusalLineLimit = 5

// otherwise are the offers that can share a line with the offer before them.
var otherwise = []string{"combined_would_do", "ramp_would_do", "a_day_would_do", "needs_smaller_drop", "needs_larger_container", "come_more_often"}

// ofTheWay are the rules on how a move is made. They are left out of the text for people if it is
// not to be made at all.
var ofTheWay = []string{"over_24_hours", "day_used_up", "gap_over_at_once", "no_air_stone", "container_not_named", "no_air_stone_bell", "container_not_named_bell", "container_not_measured"}

// refusalLines say what is in the way of a plan, and the ways around it. If there are very many,
// the last are only counted; the full answer has them all.
func refusalLines(v render.Voice, faults []api.Fault) []string {
	if headline(&faults) == "refused_unwise" {
		faults = slices.DeleteFunc(slices.Clone(faults), func(f api.Fault) bool { return slices.Contains(ofTheWay, f.Rule) })
	}
	var lines []string
	crowded := len(faults) > refusalLineLimit-1
	for _, f := range faults {
		if crowded && len(lines) > 0 && slices.Contains(otherwise, f.Rule) {
			lines[len(lines)-1] += " " + f.Reason
		} else {
			lines = append(lines, f.Reason)
		}
	}
	if most := refusalLineLimit - 1; len(lines) > most {
		more := len(lines) - (most - 1)
		lines = append(lines[:most-1], v.Say("refused_more", more))
	}
	return lines
}
