package server

import (
	"slices"
	"strings"

	"github.com/labstack/echo/v4"
	"github.com/munnerz/goautoneg"

	"saltlock/api"
	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// unwise are the refusals of a move itself; all others are of the way of doing it.
var unwise = []quantity.Code{"no_step_while_sick", "no_step_while_medicated", "no_step_just_shipped", "no_step_while_moulting", "target_below_band", "target_above_band"}

func refusesMove(rule string) bool {
	return slices.ContainsFunc(unwise, func(c quantity.Code) bool { return string(c) == rule })
}

const problemMedia = "application/problem+json"

// asksInText tells whether an answer, be it a refusal, was asked for as text, and
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
	return voice, inText
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
		}
	}
	switch {
	case p.Errors != nil:
		for _, f := range *p.Errors {
			if p.Type == "/problems/"+noPlan.Name {
				lines = append(lines, f.Reason)
			} else {
				lines = append(lines, f.Where+": "+f.Reason)
			}
		}
	case p.Detail != nil:
		lines = append(lines, *p.Detail)
	}
	return strings.Join(lines, "\n") + "\n"
}
