package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log"
	"net/http"
	"strings"
	"unicode/utf8"

	saltlock "saltlock/clients/go"
)

// reply is what the chat shows.
type reply struct {
	Text     string `json:"text"`
	ImageURL string `json:"image_url,omitempty"`
}

const help = `I answer four questions:
how much salt for 120 gal at 1.010
what is 1.010 SG at 25 C
what salinity for a figure 8 puffer
plan 4 young spotted scats of 1 g from 2 ppt to 10 ppt at 26 C in a 20 L bucket with 6 L and an air stone`

// answer answers one message, each question in it by itself.
func (b *bot) answer(ctx context.Context, text string) reply {
	if n := utf8.RuneCountInString(text); n > longestText {
		return reply{Text: fmt.Sprintf("Your message has %d characters; I read no more than %d, so I have read none of it. %s", n, longestText, help)}
	}
	if strings.TrimSpace(text) == "" {
		return reply{Text: "Your message is empty. " + help}
	}
	if ill.MatchString(text) { // no figure that somebody might act on
		return reply{Text: illness}
	}
	comma, mixed := decimal(text)
	if mixed {
		return reply{Text: "Some of your numbers have a comma and some a point, so I did not understand which marks the decimals. Write them all one way."}
	}
	var whole reply
	var texts []string
	for _, part := range questions(sgFirst.ReplaceAllString(text, "$1 SG")) {
		r := b.question(ctx, &message{rest: part, comma: comma})
		if whole.ImageURL != "" && r.ImageURL != "" { // a reply has room for one
			r.Text += "\nIts picture: " + r.ImageURL
		}
		texts = append(texts, r.Text)
		whole.ImageURL = cmp.Or(whole.ImageURL, r.ImageURL)
	}
	whole.Text = strings.Join(texts, "\n\n")
	return whole
}

// illness is all that the bot says where an animal is not well.
const illness = "You write of an animal that is not well or under medicine. Do not change its salinity now. " +
	"See that the air stone runs, test ammonia and nitrite, and ask a vet. Plan the move again when it is well."

func (b *bot) question(ctx context.Context, m *message) reply {
	m.us = gallons.MatchString(m.rest)
	switch {
	case m.take(howMuch) != nil:
		return b.salt(ctx, m)
	case m.begins(plan):
		return b.plan(ctx, m)
	case m.begins(whatFor):
		return b.species(ctx, m)
	}
	if g := m.take(what); g != nil {
		return b.convert(ctx, m, g)
	}
	return reply{Text: "I did not understand that. " + help}
}

// convert answers what a reading means on the other scales.
func (b *bot) convert(ctx context.Context, m *message, g []string) reply {
	p := &saltlock.GetConversionParams{Temperature: m.temperature(), Decimal: mark[saltlock.GetConversionParamsDecimal](m)}
	m.take(into) // the answer has every scale
	if p.Temperature == nil {
		p.Temperature = new("25 C")
		m.took = append(m.took, "no temperature, and took 25 °C: say how warm the sample is")
	}
	switch {
	case g[1] != "":
		p.Reading = m.scaled(g[0:3])
	case g[3] != "":
		p.Reading = m.scaled(g[2:5])
	default:
		p.Reading = m.reading(anyReading)
	}
	if p.Reading == "" {
		return m.unanswered("Say the reading and how warm the water is, such as: what is 1.010 SG at 25 C")
	}
	r, err := b.service.GetConversionWithResponse(ctx, p)
	if err != nil {
		return m.refused(err)
	}
	return reply{Text: m.said(r.JSON200.Summary)}
}

// salt answers how much salt a volume of water takes.
func (b *bot) salt(ctx context.Context, m *message) reply {
	p := &saltlock.GetSaltMixParams{Temperature: m.temperature(), Volume: m.volume(forVolume), Target: m.reading(target), Decimal: mark[saltlock.GetSaltMixParamsDecimal](m)}
	if s := m.reading(source); s != "" {
		p.Source = &s
	}
	switch {
	case p.Volume == nil:
		return m.unanswered("Say for how much water, such as: for 120 gal")
	case p.Target == "":
		return m.unanswered("Say how salty it shall be, such as: at 1.010, or: at 10 ppt")
	}
	r, err := b.service.GetSaltMixWithResponse(ctx, p)
	if err != nil {
		return m.refused(err)
	}
	text, err := m.inGallons(r.JSON200.Summary, func() ([]byte, error) {
		p.Units, p.Format = new(saltlock.GetSaltMixParamsUnitsUs), new(saltlock.GetSaltMixParamsFormatText)
		r, err := b.service.GetSaltMixWithResponse(ctx, p)
		if err != nil {
			return nil, err
		}
		return r.Body, nil
	})
	if err != nil {
		return m.refused(err)
	}
	return reply{Text: m.said(text)}
}

// plan answers how to move animals, with the curve as a picture.
func (b *bot) plan(ctx context.Context, m *message) reply {
	from := m.temperature() // before the salinities, of which “to 10” could be one
	to := m.temperature()
	p := &saltlock.GetTransferPlanParams{FromSalinity: m.reading(source), ToSalinity: m.waterTo(), Decimal: mark[saltlock.GetTransferPlanParamsDecimal](m)}
	p.ContainerCapacity, p.ContainerStartVolume = m.volume(bucket), m.volume(startVolume)
	words := m.take(vague)
	if g := m.take(airStone); g != nil {
		p.ContainerAerated = new(g[1] == "") // not without one
	}
	if unknown, err := b.animals(ctx, m, p); err != nil {
		return m.refused(err)
	} else if unknown != "" {
		return m.unanswered(unknown)
	}
	switch {
	case words != nil:
		return m.unanswered(fmt.Sprintf("“%s” can be many waters. Measure it, and say for instance: %s 5 ppt", words[2], strings.Replace(strings.ToLower(words[1]), "into", "to", 1)))
	case p.FromSalinity == "":
		return m.unanswered("Say from which water, such as: from 2 ppt")
	case p.ToSalinity == "":
		return m.unanswered("Say to which water, such as: to 10 ppt")
	case from == nil:
		return m.unanswered("Say how warm the waters are, such as: at 26 C")
	}
	if to == nil {
		to = from
		m.took = append(m.took, *from+" as the temperature of both waters")
	}
	p.FromTemperature, p.ToTemperature = *from, *to
	r, err := b.service.GetTransferPlanWithResponse(ctx, p)
	if err != nil {
		return m.refused(err)
	}
	text, err := m.inGallons(r.JSON200.Summary, func() ([]byte, error) {
		q := *p
		q.Units, q.Format = new(saltlock.GetTransferPlanParamsUnitsUs), new(saltlock.GetTransferPlanParamsFormatText)
		r, err := b.service.GetTransferPlanWithResponse(ctx, &q)
		if err != nil {
			return nil, err
		}
		return r.Body, nil
	})
	if err != nil {
		return m.refused(err)
	}
	answer := reply{Text: m.said(text)}
	if len(r.JSON200.Curve) > 0 { // a move in one step has none
		answer.ImageURL, err = b.picture(p)
	}
	if err != nil {
		return m.refused(err)
	}
	return answer
}

// inGallons is an answer with US units first, asked for again, where the message
// counts in gallons; the summary of JSON has one order for everybody.
func (m *message) inGallons(summary string, again func() ([]byte, error)) (string, error) {
	if !m.us {
		return summary, nil
	}
	text, err := again()
	if err != nil {
		return "", err
	}
	m.comma = false // in text the service uses the mark asked for
	return string(text), nil
}

// picture is the URL of the plan's curve, which a chat fetches itself.
func (b *bot) picture(p *saltlock.GetTransferPlanParams) (string, error) {
	r, err := saltlock.NewGetTransferPlanRequest(b.public, p)
	if err != nil {
		return "", err
	}
	r.URL.Path += ".png"
	return r.URL.String(), nil
}

// said puts behind an answer what was read into the message, and what was not read at all.
func (m *message) said(answer string) string {
	lines := []string{strings.TrimSpace(answer)}
	if len(m.took) > 0 {
		lines = append(lines, "I read "+strings.Join(m.took, ", ")+".")
	}
	if m.comma { // the service puts the mark asked for into tables and pictures, not into a summary
		lines = append(lines, "In my numbers the point marks the decimals.")
	}
	if unread := m.unread(); unread != "" {
		lines = append(lines, "I did not understand: "+unread)
	}
	return strings.Join(lines, "\n")
}

func (m *message) unanswered(ask string) reply { return reply{Text: m.said(ask)} }

// hints say in a chat's words what the service misses.
var hints = map[string]string{
	"container_capacity":     "in a 20 L bucket",
	"container_start_volume": "with 6 L",
	"container_aerated":      "with an air stone",
	"species":                "4 young spotted scats",
	"stage":                  "young, or adult",
	"mass":                   "of 1 g",
	"target":                 "at 10 ppt",
}

// mostReasons is how many faults a person reads in a chat.
const mostReasons = 3

// refused words the first faults that the service found, and how to say it better.
func (m *message) refused(err error) reply {
	var problem *saltlock.ProblemError
	if !errors.As(err, &problem) || problem.Status >= 500 || problem.Status == http.StatusTooManyRequests || len(problem.Faults()) == 0 {
		log.Print(err)
		return reply{Text: "The calculator does not answer just now. Ask again in a minute."}
	}
	var lines []string
	faults := problem.Faults()
	for _, f := range faults[:min(len(faults), mostReasons)] {
		line := strings.ReplaceAll(f.Where, "_", " ") + ": " + f.Reason
		if hint := hints[f.Where]; hint != "" {
			line += " (say: " + hint + ")"
		}
		lines = append(lines, line)
	}
	if more := len(faults) - mostReasons; more > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", more))
	}
	return m.unanswered(strings.Join(lines, "\n"))
}
