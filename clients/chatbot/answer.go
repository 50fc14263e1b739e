package main

import (
	"context"
	"errors"
	"log"
	"strings"

	saltlock "saltlock/clients/go"
)

// reply is what the chat shows.
type reply struct {
	Text     string `json:"text"`
	ImageURL string `json:"image_url,omitempty"`
}

const help = `I answer two questions:
how much salt for 120 gal at 1.010
plan 4 young spotted scats of 1 g from 2 ppt to 10 ppt at 26 C in a 20 L bucket with 6 L and an air stone`

// answer answers one message.
func (b *bot) answer(ctx context.Context, text string) reply {
	m := &message{rest: text}
	switch {
	case m.take(howMuch) != nil:
		return b.salt(ctx, m)
	case m.take(plan) != nil:
		return b.plan(ctx, m)
	}
	return reply{Text: "I did not understand that. " + help}
}

// salt answers how much salt a volume of water takes.
func (b *bot) salt(ctx context.Context, m *message) reply {
	p := &saltlock.GetSaltMixParams{Temperature: m.temperature(), Volume: m.volume(forVolume), Target: m.reading(target)}
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
	return reply{Text: m.said(r.JSON200.Summary)}
}

// plan answers how to move animals, with the curve as a picture.
func (b *bot) plan(ctx context.Context, m *message) reply {
	p := &saltlock.GetTransferPlanParams{FromSalinity: m.reading(source), ToSalinity: m.reading(target)}
	t := m.temperature()
	p.ContainerCapacity, p.ContainerStartVolume = m.volume(bucket), m.volume(startVolume)
	if m.take(airStone) != nil {
		p.ContainerAerated = new(true)
	}
	if err := b.animals(ctx, m, p); err != nil {
		return m.refused(err)
	}
	switch {
	case p.FromSalinity == "":
		return m.unanswered("Say from which water, such as: from 2 ppt")
	case p.ToSalinity == "":
		return m.unanswered("Say to which water, such as: to 10 ppt")
	case t == nil:
		return m.unanswered("Say how warm the waters are, such as: at 26 C")
	}
	p.FromTemperature, p.ToTemperature = *t, *t
	m.took = append(m.took, *t+" for both waters")
	r, err := b.service.GetTransferPlanWithResponse(ctx, p)
	if err != nil {
		return m.refused(err)
	}
	answer := reply{Text: m.said(r.JSON200.Summary)}
	if len(r.JSON200.Curve) > 0 { // a move in one step has none
		answer.ImageURL, err = b.picture(p)
	}
	if err != nil {
		return m.refused(err)
	}
	return answer
}

// animals reads which they are, and finds the species by any of its names.
func (b *bot) animals(ctx context.Context, m *message, p *saltlock.GetTransferPlanParams) error {
	name, err := m.animals(p)
	if name == "" || err != nil {
		return err // without any the service says what it needs of them
	}
	found, err := b.service.ListSpeciesWithResponse(ctx, &saltlock.ListSpeciesParams{Q: &name, Limit: new(1)})
	if err != nil {
		return err
	}
	if len(found.JSON200.Species) == 0 {
		m.rest = name + " " + m.rest
		return nil
	}
	s := found.JSON200.Species[0]
	p.Species = &s.Id
	m.took = append(m.took, "“"+name+"” as "+s.ScientificName)
	return nil
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
		lines = append(lines, "I took "+strings.Join(m.took, ", ")+".")
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

// refused tells every fault that the service found, and how to say it better.
func (m *message) refused(err error) reply {
	var problem *saltlock.ProblemError
	if !errors.As(err, &problem) || len(problem.Faults()) == 0 {
		log.Print(err)
		return reply{Text: "The calculator does not answer just now. Ask again in a minute."}
	}
	var lines []string
	for _, f := range problem.Faults() {
		line := strings.ReplaceAll(f.Where, "_", " ") + ": " + f.Reason
		if hint := hints[f.Where]; hint != "" {
			line += " (say: " + hint + ")"
		}
		lines = append(lines, line)
	}
	return m.unanswered(strings.Join(lines, "\n"))
}
