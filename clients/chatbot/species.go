package main

import (
	"context"
	"strings"

	saltlock "saltlock/clients/go"
)

// animal is a possible name of an animal, and what the service says about it.
type animal struct {
	name  string
	meant bool                     // whether the words around it show that it is an animal
	is    *saltlock.SpeciesSummary // nil if the service knows no single species by the name
	said  string                   // the service's answer
	alike bool                     // whether names in the table resemble it, or its last word is one
	near  bool                     // whether it may mean several species, or one with another spelling
}

// mostNames is how many names of a message are looked up.
const mostNames = 12

// lookUp asks the service about everything that may be an animal. Only the service knows which
// name belongs to one species alone; for any other it says what it may mean.
func (b *bot) lookUp(ctx context.Context, m *message) error {
	for i, a := range m.names() {
		if i == mostNames { // the one left out could be the one that cannot stand it
			m.animals = append(m.animals, animal{name: a.name, said: m.say(askFewer), meant: true})
			break
		}
		r, err := b.search(ctx, m, a.name)
		if err != nil {
			return err
		}
		a.said, a.alike = r.Summary, len(r.Near) > 0
		a.near = r.Match.Outcome != saltlock.NameOutcomeNone
		if r.Match.Outcome == saltlock.NameOutcomeExact && len(r.Species) == 1 {
			a.is = &r.Species[0]
		}
		if kind := strings.LastIndexByte(a.name, ' ') + 1; kind > 0 && len(a.name)-kind > 2 && !a.near { // a puffer that is not in the table is still a puffer
			if r, err = b.search(ctx, m, a.name[kind:]); err != nil {
				return err
			}
			a.alike = a.alike || r.Match.Outcome != saltlock.NameOutcomeNone
		}
		m.animals = append(m.animals, a)
	}
	if len(m.known()) == 0 && before.MatchString(m.text) {
		m.animals = append(m.animals, m.before...)
	}
	return nil
}

func (b *bot) search(ctx context.Context, m *message, name string) (*saltlock.SpeciesListAnswer, error) {
	r, err := b.service.ListSpeciesWithResponse(ctx, &saltlock.ListSpeciesParams{Q: &name, Limit: new(5),
		Lang: lang[saltlock.ListSpeciesParamsLang](m), Decimal: mark[saltlock.ListSpeciesParamsDecimal](m)})
	if err != nil {
		return nil, err
	}
	if r.JSON200.Match == nil {
		r.JSON200.Match = &saltlock.NameMatch{Outcome: saltlock.NameOutcomeNone}
	}
	return r.JSON200, nil
}

// known are the animals of which the service knows the species.
func (m *message) known() []animal { return m.those(func(a animal) bool { return a.is != nil }) }

// unclear are words that the service takes for an animal's name, or that stand where one would be,
// without knowing which.
func (m *message) unclear() []animal {
	return m.those(func(a animal) bool { return a.is == nil && (a.near || a.meant) })
}

func (m *message) those(are func(animal) bool) []animal {
	var all []animal
	for _, a := range m.animals {
		if are(a) {
			all = append(all, a)
		}
	}
	return all
}

// species answers what water the animals need, or whether the water named suits them.
func (b *bot) species(ctx context.Context, m *message) reply {
	var lines []string
	animals := append(m.known(), m.unclear()...)
	if len(animals) == 0 {
		animals = m.animals
	}
	for _, a := range animals {
		said := a.said
		if water := m.water(); water != "" && a.is != nil {
			r, err := b.suits(ctx, m, a, water)
			if err != nil {
				return m.refused(err)
			}
			said = r.Summary
		}
		lines = append(lines, said)
	}
	if len(lines) == 0 {
		return m.answered(m.say(askAnimal))
	}
	return m.answered(strings.Join(lines, "\n"))
}

// suits asks what a water means for an animal.
func (b *bot) suits(ctx context.Context, m *message, a animal, water string) (*saltlock.ConversionAnswer, error) {
	p := m.conversion(water)
	p.Species, p.Stage = &a.is.Id, m.stage
	r, err := b.service.GetConversionWithResponse(ctx, p)
	if err != nil {
		return nil, err
	}
	return r.JSON200, nil
}

// unfit says why a water must not be made for the animals named, or that it is not clear which
// they are; empty if all may be kept in it.
func (b *bot) unfit(ctx context.Context, m *message, water string) (string, error) {
	var lines []string
	for _, a := range m.those(func(a animal) bool { return a.is == nil && (a.near || a.meant || a.alike) }) {
		lines = append(lines, a.said)
	}
	for _, a := range m.known() {
		r, err := b.suits(ctx, m, a, water)
		if err != nil {
			return "", err
		}
		if s := r.Suits; s != nil && (s.Salinity == nil || *s.Salinity != saltlock.VerdictPreferred) {
			lines = append(lines, r.Summary)
		}
	}
	return strings.Join(lines, "\n"), nil
}

// called is the name that people use.
func called(s saltlock.SpeciesSummary) string {
	if len(s.CommonNames) > 0 {
		return s.CommonNames[0]
	}
	return s.ScientificName
}
