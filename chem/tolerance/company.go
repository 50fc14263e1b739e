package tolerance

import (
	"slices"

	"saltlock/chem/quantity"
)

// Company is what animals that live together allow for one more.
type Company struct {
	salinity    Band[quantity.Salinity]
	temperature Band[quantity.Celsius]
	ph          Band[quantity.PH]
	known       bool // whether the preferred salinity of each is known
	members     []Member
}

// NewCompany returns what the members allow for one more: the salinity that all of them
// prefer, and the temperature and pH that sources give.
func NewCompany(members []Member) (Company, error) {
	c := Company{known: len(members) > 0, members: members}
	for _, m := range members {
		s, _, err := m.Taxon.StageFor(m.Stage)
		if err != nil {
			return Company{}, err
		}
		p := s.Preferred.band()
		c.known = c.known && p.Min != nil && p.Max != nil
		c.salinity = narrower(c.salinity, p)
		c.temperature = narrower(c.temperature, s.Temperature.band())
		c.ph = narrower(c.ph, s.PH.band())
	}
	return c, nil
}

// Takes reports whether some life stage of a taxon prefers a salinity that all members
// prefer as well, and no known temperature, pH or temper speaks against it.
func (c Company) Takes(t Taxon) bool {
	if together(append(slices.Clone(c.members), Member{Taxon: t})).Apart {
		return false
	}
	for _, s := range t.Stages {
		p := s.Preferred.band()
		if c.known && p.Min != nil && p.Max != nil && !crossed(narrower(c.salinity, p)) &&
			!crossed(narrower(c.temperature, s.Temperature.band())) && !crossed(narrower(c.ph, s.PH.band())) {
			return true
		}
	}
	return false
}

// narrower is the intersection of two bands; a bound that one does not know is the other's.
func narrower[Q quantity.Quantity](a, b Band[Q]) Band[Q] {
	if a.Min == nil || b.Min != nil && b.Min.Value > a.Min.Value {
		a.Min = b.Min
	}
	if a.Max == nil || b.Max != nil && b.Max.Value < a.Max.Value {
		a.Max = b.Max
	}
	return a
}

// crossed reports whether nothing is left of a band.
func crossed[Q quantity.Quantity](b Band[Q]) bool {
	return b.Min != nil && b.Max != nil && b.Min.Value > b.Max.Value
}
