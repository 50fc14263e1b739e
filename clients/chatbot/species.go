package main

import (
	"context"
	"fmt"
	"regexp"
	"strings"

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
// tells in words if there is none.
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

// find finds the species that a person names. The service also finds what shares
// but a word with the name; of such a one no water may be told as if it were meant,
// so it is offered only.
func (b *bot) find(ctx context.Context, m *message, name string) (s *saltlock.SpeciesSummary, unknown string, err error) {
	r, err := b.service.ListSpeciesWithResponse(ctx, &saltlock.ListSpeciesParams{Q: &name, Limit: new(5)})
	if err != nil {
		return nil, "", err
	}
	var meant, others []string
	for i, found := range r.JSON200.Species {
		switch {
		case !answersTo(found, name):
			others = append(others, called(found))
		case s == nil:
			s = &r.JSON200.Species[i]
		default:
			meant = append(meant, called(found))
		}
	}
	if s != nil {
		m.took = append(m.took, "“"+name+"” as "+called(*s)+" ("+s.ScientificName+")")
		if len(meant) > 0 {
			m.took[len(m.took)-1] += ", though it could be " + strings.Join(meant, " or ")
		}
		return s, "", nil
	}
	for _, near := range r.JSON200.NearMisses {
		others = append(others, near.Name)
	}
	unknown = fmt.Sprintf("I did not understand which animal “%s” is", name)
	if len(others) > 0 {
		return nil, unknown + "; names near it: " + strings.Join(others[:min(len(others), 5)], ", ") + ".", nil
	}
	return nil, unknown + ", and I know no name near it.", nil
}

// called is the name that people use.
func called(s saltlock.SpeciesSummary) string {
	if len(s.CommonNames) > 0 {
		return s.CommonNames[0]
	}
	return s.ScientificName
}

var (
	wordOfName = regexp.MustCompile(`[\pL\pN]+`)
	needs      = piece(`(?:need|needs|want|wants|like|likes)\b`)
	// spelled are ciphers that stand in names as words.
	spelled = map[string]string{"8": "eight"}
)

// answersTo tells whether every word of a name is in one of the species' names.
func answersTo(s saltlock.SpeciesSummary, name string) bool {
	asked := words(name)
	for _, own := range append(append([]string{s.ScientificName}, s.CommonNames...), s.Synonyms...) {
		has, all := words(own), len(asked) > 0
		for w := range asked {
			all = all && has[w]
		}
		if all {
			return true
		}
	}
	return false
}

// words are the words of a name, in the singular.
func words(name string) map[string]bool {
	set := map[string]bool{}
	for _, w := range wordOfName.FindAllString(strings.ToLower(name), -1) {
		if s, ok := spelled[w]; ok {
			w = s
		}
		w = strings.TrimSuffix(w, "s")
		if stem, ok := strings.CutSuffix(w, "ie"); ok { // mollies
			w = stem + "y"
		}
		set[strings.TrimSuffix(w, "fish")] = true
	}
	delete(set, "")
	return set
}
