package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	saltlock "saltlock/clients/go"
)

const help = `I can tell "how much salt for 120 gal at 1.010", "what is 1.010 SG at 25 C", "what salinity for a figure 8 puffer" and "plan scats from 2 ppt to 10 ppt at 26 C in a 20 L bucket with an air stone".`

// answer replies to a message: what the service says, then what was taken for
// granted and what was not understood.
func (b *bot) answer(ctx context.Context, text string) reply {
	if len(text) > longest {
		return reply{Text: fmt.Sprintf("That is too long for me (over %d characters). %s", longest, help)}
	}
	q := read(text)
	ask := map[string]func(context.Context, *question) (reply, error){"salt": b.salt, "plan": b.plan, "species": b.species, "reading": b.reading}[q.kind]
	if ask == nil {
		return reply{Text: "I did not understand that. " + help}
	}
	r, err := ask(ctx, &q)
	if err != nil {
		r = refused(err)
	}
	lines := append([]string{r.Text}, q.taken...)
	if len(q.left) > 0 {
		lines = append(lines, "I did not understand: "+strings.Join(q.left, " ")+".")
	}
	r.Text = strings.Join(lines, "\n")
	return r
}

// told is the most reasons of a refusal that a chat shows.
const told = 3

// refused tells the reasons of the service, or that it cannot be reached.
func refused(err error) reply {
	problem, ok := errors.AsType[*saltlock.ProblemError](err)
	switch {
	case !ok:
		return reply{Text: "The calculator does not answer just now; ask again in a minute."}
	case len(problem.Faults()) == 0:
		return reply{Text: problem.Title + "."}
	}
	var lines []string
	for _, f := range problem.Faults()[:min(told, len(problem.Faults()))] {
		lines = append(lines, strings.ReplaceAll(f.Where, "_", " ")+": "+f.Reason)
	}
	return reply{Text: strings.Join(lines, "\n")}
}

// first returns the first of some texts, and keeps that there were more.
func (q *question) first(of []string, what string) *string {
	if len(of) == 0 {
		return nil
	}
	if len(of) > 1 {
		q.taken = append(q.taken, "Of several "+what+" I took "+of[0]+".")
	}
	return &of[0]
}

func (b *bot) salt(ctx context.Context, q *question) (reply, error) {
	target := q.first(q.salinities, "salinities")
	if target == nil {
		return reply{Text: `To what salinity? Say it as "1.010 SG" or "13 ppt".`}, nil
	}
	a, err := b.client.GetSaltMixWithResponse(ctx, &saltlock.GetSaltMixParams{Target: *target,
		Volume: q.first(q.volumes, "volumes"), Temperature: q.first(q.temperatures, "temperatures")})
	if err != nil {
		return reply{}, err
	}
	return reply{Text: a.JSON200.Summary}, nil
}

func (b *bot) reading(ctx context.Context, q *question) (reply, error) {
	a, err := b.client.GetConversionWithResponse(ctx, &saltlock.GetConversionParams{
		Reading: *q.first(q.salinities, "readings"), Temperature: q.first(q.temperatures, "temperatures")})
	if err != nil {
		return reply{}, err
	}
	return reply{Text: a.JSON200.Summary}, nil
}

func (b *bot) species(ctx context.Context, q *question) (reply, error) {
	if q.name == "" {
		return reply{Text: "For which animal?"}, nil
	}
	a, err := b.client.ListSpeciesWithResponse(ctx, &saltlock.ListSpeciesParams{Q: &q.name, Limit: new(5)})
	if err != nil {
		return reply{}, err
	}
	return reply{Text: a.JSON200.Summary}, nil
}

// usualWarmth is where a plan says no temperature.
const usualWarmth = "25 C"

func (b *bot) plan(ctx context.Context, q *question) (reply, error) {
	if len(q.salinities) < 2 {
		return reply{Text: `From which salinity to which? Say it as "from 2 ppt to 10 ppt".`}, nil
	}
	warmth := q.first(q.temperatures, "temperatures")
	if warmth == nil {
		warmth = new(usualWarmth)
		q.taken = append(q.taken, "I took both waters to be at "+usualWarmth+".")
	}
	p := &saltlock.GetTransferPlanParams{FromSalinity: q.salinities[0], FromTemperature: *warmth, ToSalinity: q.salinities[1], ToTemperature: *warmth,
		ContainerCapacity: q.first(q.volumes, "volumes")}
	if q.air {
		p.ContainerAerated = new(true)
	} else if p.ContainerCapacity != nil {
		q.taken = append(q.taken, `You did not speak of an air stone; say "with an air stone" if there is one.`)
	}
	if q.name != "" {
		id, said, err := b.find(ctx, q.name)
		if err != nil || id == "" {
			return reply{Text: said}, err
		}
		p.Species = &id
		q.taken = append(q.taken, said)
	}
	a, err := b.client.GetTransferPlanWithResponse(ctx, p)
	if err != nil {
		return reply{}, err
	}
	r := reply{Text: a.JSON200.Summary}
	if len(a.JSON200.Curve) > 1 {
		picture, err := saltlock.NewGetTransferPlanRequest(b.public, p)
		if err != nil {
			return r, err
		}
		picture.URL.Path += ".png"
		r.ImageURL = picture.URL.String()
	}
	return r, nil
}

// find returns the id of the animal of a name and what to say of it; no id where
// there is none.
func (b *bot) find(ctx context.Context, name string) (id, said string, err error) {
	a, err := b.client.ListSpeciesWithResponse(ctx, &saltlock.ListSpeciesParams{Q: &name, Limit: new(3)})
	if err != nil {
		return "", "", err
	}
	found := a.JSON200.Species
	if len(found) == 0 {
		return "", "I know no animal called " + name + ". " + a.JSON200.Summary, nil
	}
	said = "I took " + name + " to be " + found[0].ScientificName + "."
	for i, other := range found[1:] {
		said += []string{" Others of that name: ", ", "}[min(i, 1)] + other.ScientificName
	}
	return found[0].Id, strings.TrimSuffix(said, ".") + ".", nil
}
