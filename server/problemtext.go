package server

import (
	"slices"
	"strings"

	"github.com/labstack/echo/v4"
	"github.com/munnerz/goautoneg"

	"saltlock/api"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/render"
)

func refusesMove(rule string) bool { return transfer.Unwise(rule) }

const problemMedia = "application/problem+json"

// asksInText reports whether an answer, be it a refusal, was asked for as text, and
// in which voice. The request may be wrong in anything else.
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

// problemText writes a problem for people: what is the matter, then each fault on
// a line. Where the request is at fault a line begins with the name of what is
// wrong in it, as whoever wrote the request spelled it; a plan that is refused
// needs no names, since its sentences say what to change.
func problemText(v render.Voice, p api.Problem) string {
	lines := []string{p.Title}
	if !strings.HasSuffix(p.Title, "?") {
		lines[0] += "."
	}
	if p.Type == "/problems/"+noPlan.Name {
		lines[0] = v.Say("refused_way")
		if p.Errors != nil && slices.ContainsFunc(*p.Errors, func(f api.Fault) bool { return refusesMove(f.Rule) }) {
			lines[0] = v.Say("refused_unwise")
		} else if p.Errors != nil && (*p.Errors)[0].Rule == "too_salty_for_plans" {
			lines[0] = v.Say("refused_urgent")
		}
	}
	switch {
	case p.Errors != nil && p.Type == "/problems/"+noPlan.Name:
		lines = append(lines, refusalLines(v, *p.Errors)...)
	case p.Errors != nil:
		for _, f := range *p.Errors {
			lines = append(lines, f.Where+": "+f.Reason)
		}
	case p.Detail != nil:
		lines = append(lines, *p.Detail)
	}
	return strings.Join(lines, "\n") + "\n"
}

// refusalLineLimit is how many lines of a refusal people read, its first included.
const refusalLineLimit = 5

// otherwise are the offers that begin with Or, after the offer before them.
var otherwise = []quantity.Code{"combined_would_do", "ramp_would_do", "a_day_would_do", "needs_smaller_drop", "needs_larger_container", "come_more_often"}

// refusalLines say what is in the way of a plan, and the ways around it. Of very many
// the last are counted; the full answer has them all.
func refusalLines(v render.Voice, faults []api.Fault) []string {
	var lines []string
	for _, f := range faults {
		if len(lines) > 0 && slices.ContainsFunc(otherwise, func(c quantity.Code) bool { return string(c) == f.Rule }) {
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
