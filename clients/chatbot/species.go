package main

import (
	"context"

	saltlock "saltlock/clients/go"
)

// species answers what water an animal needs.
func (b *bot) species(ctx context.Context, m *message) reply {
	m.take(needs)
	name := m.name()
	if name == "" {
		return m.unanswered("Say which animal, such as: what salinity for a figure 8 puffer")
	}
	s, unknown, err := b.find(ctx, m, name)
	switch {
	case err != nil:
		return m.refused(err)
	case unknown != "":
		return m.unanswered(unknown)
	}
	// By its scientific name it is found alone, and the summary is of it.
	r, err := b.service.ListSpeciesWithResponse(ctx, &saltlock.ListSpeciesParams{
		Q: &s.ScientificName, Limit: new(1), Decimal: mark[saltlock.ListSpeciesParamsDecimal](m)})
	if err != nil {
		return m.refused(err)
	}
	return reply{Text: m.said(r.JSON200.Summary)}
}

// animals reads which they are, and finds the species by any of its names; it
// says so in words if there is none.
func (b *bot) animals(ctx context.Context, m *message, p *saltlock.GetTransferPlanParams) (unknown string, err error) {
	name, err := m.animals(p)
	if name == "" || err != nil {
		return "", err // without any the service says what it needs of them
	}
	s, unknown, err := b.find(ctx, m, name)
	if s != nil {
		p.Species = &s.Id
	}
	return unknown, err
}

// find finds the species that a person names. Only the service knows which name
// is of one species alone; of any other it says what it may mean, and nothing of
// water, which here is handed on.
func (b *bot) find(ctx context.Context, m *message, name string) (s *saltlock.SpeciesSummary, unknown string, err error) {
	r, err := b.service.ListSpeciesWithResponse(ctx, &saltlock.ListSpeciesParams{Q: &name, Limit: new(5)})
	if err != nil {
		return nil, "", err
	}
	if r.JSON200.Match == nil || r.JSON200.Match.Outcome != saltlock.NameOutcomeExact || len(r.JSON200.Species) != 1 {
		return nil, r.JSON200.Summary, nil
	}
	s = &r.JSON200.Species[0]
	m.took = append(m.took, "“"+name+"” as "+called(*s)+" ("+s.ScientificName+")")
	return s, "", nil
}

// called is the name that people use.
func called(s saltlock.SpeciesSummary) string {
	if len(s.CommonNames) > 0 {
		return s.CommonNames[0]
	}
	return s.ScientificName
}

var needs = piece(`(?:need|needs|want|wants|like|likes)\b`)
