package store

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Query selects species. Its zero value selects all.
type Query struct {
	Text      string                                        // any name or part of one, misspelled or plural
	Group     tolerance.Group                               // empty: any
	Family    string                                        // scientific, in any case; empty: any
	LivesAt   *quantity.Estimate[quantity.AbsoluteSalinity] // some stage prefers or tolerates it
	KeepsWith []tolerance.Member                            // whose company at least one stage can join
	Sort      Sort
	Limit     int // zero: no limit
	Offset    int
}

// Sort is an order of species.
type Sort string

// The orders. The zero value counts as ByMatch.
const (
	ByMatch          Sort = "match" // best match first; without a text by scientific name
	ByScientificName Sort = "scientific_name"
	ByCommonName     Sort = "common_name" // the first one
	ByFamily         Sort = "family"
	ByMaxLength      Sort = "max_length" // smallest first, unknown last
)

// Page is a part of what a Query selects.
type Page struct {
	Species []tolerance.Summary `json:"species"`
	Total   int                 `json:"total"` // of all pages
	Offset  int                 `json:"offset"`
	// Match is how the text was understood; nil without one.
	Match *Match `json:"match,omitempty"`
	// Near are species whose names have something in common with one that is not in the table.
	Near []Candidate `json:"near"`
	// NearMisses are Near, and the candidates of a spelling. Deprecated.
	NearMisses []NearMiss `json:"near_misses"`
	Facets     Facets     `json:"facets"`
	// Only is the species that the text names; nil if it names none, or several.
	Only *tolerance.Taxon `json:"-"`
}

// NearMiss is a species that a misspelled or unknown name may have meant.
type NearMiss struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Facets count the species found on all pages, for the filters of a site.
type Facets struct {
	Group            []Facet `json:"group"`
	Family           []Facet `json:"family"`
	SensitivityClass []Facet `json:"sensitivity_class"` // a species counts once for each class of its stages
}

// Facet is a value and how many of the species found have it.
type Facet struct {
	Value string `json:"value"`
	Count int    `json:"count"`
}

// Species returns one page of the species that a query selects.
func (db *DB) Species(ctx context.Context, q Query) (Page, error) {
	if err := ctx.Err(); err != nil {
		return Page{}, err
	}
	company, err := tolerance.NewCompany(q.KeepsWith)
	if err != nil {
		return Page{}, err
	}
	p := Page{Species: []tolerance.Summary{}, Offset: q.Offset, Near: []Candidate{}, NearMisses: []NearMiss{}}
	found := db.index.meant(q.Text, &p)
	var selected []*tolerance.Taxon
	for _, t := range found {
		fits, err := q.selects(*t, company)
		if err != nil {
			return Page{}, err
		}
		if fits {
			selected = append(selected, t)
		}
	}
	q.Sort.sort(selected)
	p.Total, p.Facets = len(selected), facetsOf(selected)
	if p.Match != nil && p.Match.Outcome == Exact && len(selected) == 1 {
		p.Only = selected[0]
	}
	for _, t := range selected[min(q.Offset, len(selected)):] {
		if q.Limit > 0 && len(p.Species) == q.Limit {
			break
		}
		p.Species = append(p.Species, t.Summary())
	}
	return p, nil
}

// meant returns the species that a text may mean, all of them if it is empty, and notes on the
// page how it was understood. Names that are only similar in spelling do not count: nobody has
// said that they are meant.
func (x *index) meant(text string, p *Page) []*tolerance.Taxon {
	var found []*tolerance.Taxon
	if text == "" {
		for i := range x.taxa {
			found = append(found, &x.taxa[i])
		}
		return found
	}
	m := x.match(text)
	p.Match = &m
	if m.Outcome == Exact || m.Outcome == Several {
		for _, t := range m.taxa {
			found = append(found, &x.taxa[t])
		}
		return found
	}
	near := m.Candidates
	for _, t := range m.near {
		c := Candidate{ID: x.taxa[t].ID, Name: x.taxa[t].Name(), ScientificName: x.taxa[t].ScientificName, By: x.taxa[t].Name()}
		p.Near, near = append(p.Near, c), append(near, c)
	}
	for _, c := range near {
		p.NearMisses = append(p.NearMisses, NearMiss{c.ID, c.Name})
	}
	return nil
}

// sort puts species in order; equals keep their order.
func (s Sort) sort(list []*tolerance.Taxon) {
	by := map[Sort]func(a, b *tolerance.Taxon) int{
		ByScientificName: func(a, b *tolerance.Taxon) int { return cmp.Compare(a.ScientificName, b.ScientificName) },
		ByCommonName: func(a, b *tolerance.Taxon) int {
			return cmp.Compare(strings.ToLower(a.Name()), strings.ToLower(b.Name()))
		},
		ByFamily:    func(a, b *tolerance.Taxon) int { return cmp.Compare(a.Family, b.Family) },
		ByMaxLength: func(a, b *tolerance.Taxon) int { return cmp.Compare(sizeOf(a), sizeOf(b)) },
	}[s]
	if by != nil {
		slices.SortStableFunc(list, by)
	}
}

// sizeOf is the largest length on record; an unknown one sorts last.
func sizeOf(t *tolerance.Taxon) float64 {
	l := t.Longest()
	if l == nil {
		return math.Inf(1)
	}
	return float64(l.Length.Value)
}

// facetsOf counts the values of the species, most frequent first.
func facetsOf(list []*tolerance.Taxon) Facets {
	group, family, class := map[string]int{}, map[string]int{}, map[string]int{}
	for _, t := range list {
		group[string(t.Group)]++
		family[t.Family]++
		for i, s := range t.Stages {
			if !slices.ContainsFunc(t.Stages[:i], func(o tolerance.Stage) bool { return o.SensitivityClass == s.SensitivityClass }) {
				class[string(s.SensitivityClass)]++
			}
		}
	}
	return Facets{Group: counted(group), Family: counted(family), SensitivityClass: counted(class)}
}

func counted(counts map[string]int) []Facet {
	facets := make([]Facet, 0, len(counts))
	for v, n := range counts {
		facets = append(facets, Facet{v, n})
	}
	slices.SortFunc(facets, func(a, b Facet) int {
		return cmp.Or(cmp.Compare(b.Count, a.Count), cmp.Compare(a.Value, b.Value))
	})
	return facets
}

// selects reports whether a taxon passes every filter but the text.
func (q Query) selects(t tolerance.Taxon, company tolerance.Company) (bool, error) {
	if q.Group != "" && t.Group != q.Group || q.Family != "" && !strings.EqualFold(t.Family, q.Family) {
		return false, nil
	}
	if len(q.KeepsWith) > 0 && !company.Takes(t) {
		return false, nil
	}
	if q.LivesAt == nil {
		return true, nil
	}
	for _, s := range t.Stages {
		j, err := s.Judge(tolerance.Water{Salinity: q.LivesAt})
		if err != nil {
			return false, err
		}
		if j.Verdict == tolerance.Preferred || j.Verdict == tolerance.Tolerated {
			return true, nil
		}
	}
	return false, nil
}

// Taxa returns every species of the table, by id.
func (db *DB) Taxa() []tolerance.Taxon { return db.index.taxa }

// Taxon returns the species with this id, or with a name that no other species has. Any other text
// is an *UnclearError, which names what may be meant.
func (db *DB) Taxon(ctx context.Context, name string) (tolerance.Taxon, error) {
	if err := ctx.Err(); err != nil {
		return tolerance.Taxon{}, err
	}
	if i, ok := db.index.byID[name]; ok {
		return db.index.taxa[i], nil
	}
	var p Page
	if found := db.index.meant(name, &p); p.Match != nil && p.Match.Outcome == Exact {
		return *found[0], nil
	}
	e := &UnclearError{Name: name, Outcome: NotThere, Candidates: p.Near}
	if p.Match != nil && p.Match.Outcome != NotThere {
		e.Outcome, e.Candidates = p.Match.Outcome, p.Match.Candidates
	}
	return tolerance.Taxon{}, e
}
