package main

import (
	"cmp"
	"context"
	"strconv"
	"strings"

	saltlock "saltlock/clients/go"
)

// plan answers how to move animals, with the curve as a picture.
func (b *bot) plan(ctx context.Context, m *message) reply {
	p := &saltlock.GetTransferPlanParams{FromSalinity: m.source, ToSalinity: m.target, ContainerCapacity: cmp.Or(m.bucket, m.volume), ContainerStartVolume: m.start,
		Decimal: mark[saltlock.GetTransferPlanParamsDecimal](m), Lang: lang[saltlock.GetTransferPlanParamsLang](m)}
	if p.ToSalinity == "" && m.sea {
		p.ToSalinity = m.water()
	}
	if unclear := m.unclear(); len(unclear) > 0 {
		return m.answered(unclear[0].said)
	}
	if len(m.known()) == 0 && len(m.animals) > 0 { // an unknown name is also an animal's
		return m.answered(m.animals[0].said)
	}
	if known := m.known(); len(known) > 1 && known[0].is.Id != known[1].is.Id {
		return m.answered(m.say(askOne))
	}
	m.crew(p)
	if ask, err := b.missing(ctx, m, p); err != nil {
		return m.refused(err)
	} else if ask != "" {
		return m.answered(ask)
	}
	p.FromTemperature, p.ToTemperature = m.warmth[0], m.warmth[len(m.warmth)-1]
	if len(m.warmth) == 1 {
		m.note(asBoth, m.warmth[0])
	}
	return b.drawn(ctx, m, p)
}

// drawn answers with the plan and its picture.
func (b *bot) drawn(ctx context.Context, m *message, p *saltlock.GetTransferPlanParams) reply {
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
	answer := m.answered(text)
	if len(r.JSON200.Curve) > 0 { // a move in one step has none
		answer.ImageURL, err = b.picture(p)
	}
	if err != nil {
		return m.refused(err)
	}
	return answer
}

// missing asks for what a plan needs. If the animals are known, the service says what water they
// need, instead of an example that may be wrong for them.
func (b *bot) missing(ctx context.Context, m *message, p *saltlock.GetTransferPlanParams) (ask string, err error) {
	switch {
	case m.words != "" && (p.FromSalinity == "" || p.ToSalinity == ""):
		ask = m.say(askWater, m.words)
	case p.FromSalinity == "":
		ask = m.say(askFrom)
	case p.ToSalinity == "":
		ask = m.say(askTo)
	case len(m.warmth) == 0:
		return m.say(askWarmth), nil
	}
	known := m.known()
	if ask == "" || len(known) == 0 {
		return ask, nil
	}
	ask, _, _ = strings.Cut(ask, ", such as") // the water in its example may be wrong for them
	if p.ToSalinity == "" {
		return ask + "\n" + known[0].said, nil
	}
	r, err := b.suits(ctx, m, known[0], p.ToSalinity)
	if err != nil {
		return "", err
	}
	if s := r.Suits; s != nil && s.Salinity != nil && *s.Salinity == saltlock.VerdictOutside {
		return r.Summary, nil
	}
	return ask, nil
}

// picture is the URL of the plan's curve, which the chat fetches itself.
func (b *bot) picture(p *saltlock.GetTransferPlanParams) (string, error) {
	r, err := saltlock.NewGetTransferPlanRequest(b.public, p)
	if err != nil {
		return "", err
	}
	r.URL.Path += ".png"
	return r.URL.String(), nil
}

// crew takes over what is said about the animals to move, and their species.
func (m *message) crew(p *saltlock.GetTransferPlanParams) {
	if known := m.known(); len(known) > 0 {
		p.Species = &known[0].is.Id
		m.note(asAnimal, known[0].name, called(*known[0].is)+" ("+known[0].is.ScientificName+")")
	}
	if newcomer.MatchString(m.text) {
		p.Condition = new(saltlock.JustShipped)
	}
	p.Mass, p.Origin, p.Stage, p.ContainerAerated = m.mass, m.origin, m.stage, m.aerated
	if n, err := strconv.Atoi(m.count); err == nil {
		p.Count = &n
	}
}
