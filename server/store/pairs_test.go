package store

import (
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Every pair of life stages of all taxa, against a search over salinities a
// twentieth of a gram apart: what both prefer, what both survive, and what
// both may be planned for.
func TestCompareEveryPair(t *testing.T) {
	type kind struct {
		taxon tolerance.Taxon
		stage tolerance.Stage
	}
	var kinds []kind
	for _, x := range embedded(t) {
		for _, s := range x.Stages {
			kinds = append(kinds, kind{x, s})
		}
	}
	type band = tolerance.Band[quantity.AbsoluteSalinity]
	of := func(s *tolerance.Sourced[quantity.AbsoluteSalinity]) band {
		if s == nil {
			return band{}
		}
		return s.Band
	}
	counts := map[tolerance.Status]int{}
	for i, a := range kinds {
		for _, b := range kinds[i:] {
			c, err := tolerance.Compare([]tolerance.Member{{Taxon: a.taxon, Stage: a.stage.Stage}, {Taxon: b.taxon, Stage: b.stage.Stage}}, nil)
			if err != nil {
				t.Fatal(err)
			}
			counts[c.Status]++
			for _, q := range []struct {
				name string
				a, b band
				got  tolerance.Common[quantity.AbsoluteSalinity, quantity.AbsoluteSalinity]
			}{
				{"preferred", of(a.stage.PreferredSalinity), of(b.stage.PreferredSalinity), c.PreferredSalinity},
				{"survived", of(a.stage.Salinity), of(b.stage.Salinity), c.SurvivedSalinity},
				{"planned", a.stage.Usable(), b.stage.Usable(), c.Salinity},
			} {
				known := q.a.Min != nil && q.a.Max != nil && q.b.Min != nil && q.b.Max != nil
				shared := searched(q.a, q.b)
				switch {
				case known && shared != (q.got.Status == tolerance.Shared), !shared != (len(q.got.Conflicts) > 0),
					!known && q.got.Status == tolerance.Shared:
					t.Errorf("%s %s with %s %s, %s: status %s with %d conflicts, though a search says %t",
						a.taxon.ID, a.stage.Stage, b.taxon.ID, b.stage.Stage, q.name, q.got.Status, len(q.got.Conflicts), shared)
				}
			}
		}
	}
	t.Logf("%d life stages, pairs by status: %v", len(kinds), counts)
}

// searched looks for a salinity that no known bound of either forbids.
func searched(a, b tolerance.Band[quantity.AbsoluteSalinity]) bool {
	for i := range 200*20 + 1 {
		s := quantity.AbsoluteSalinity(i) / 20
		if !forbids(a, s) && !forbids(b, s) {
			return true
		}
	}
	return false
}

func forbids(b tolerance.Band[quantity.AbsoluteSalinity], s quantity.AbsoluteSalinity) bool {
	return b.Min != nil && s < b.Min.Value || b.Max != nil && s > b.Max.Value
}
