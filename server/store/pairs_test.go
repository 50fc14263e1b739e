package store

import (
	"math"
	"slices"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Every pair of life stages of all taxa, against a search over
// salinities: what both prefer, what both survive, and what
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
	type band = tolerance.Band[quantity.Salinity]
	of := func(s *tolerance.Sourced[quantity.Salinity]) band {
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
				got  tolerance.Common[quantity.Salinity, quantity.Salinity]
			}{
				{"preferred", of(a.stage.Preferred), of(b.stage.Preferred), c.PreferredRange},
				{"survived", of(a.stage.Survived), of(b.stage.Survived), c.SurvivedRange},
				{"planned", planned(a.stage), planned(b.stage), c.UsableRange},
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

// planned is the band a stage may be planned for, on the practical scale.
func planned(s tolerance.Stage) tolerance.Band[quantity.Salinity] {
	bound := func(e *quantity.Estimate[quantity.AbsoluteSalinity]) *quantity.Estimate[quantity.Salinity] {
		if e == nil {
			return nil
		}
		sp := quantity.Exactly(quantity.Salinity(math.Round(float64(e.Value)/quantity.GramsPerPractical*1e6) / 1e6))
		return &sp
	}
	return tolerance.Band[quantity.Salinity]{Min: bound(s.Usable().Min), Max: bound(s.Usable().Max)}
}

// searched looks for a salinity that no known bound of either excludes. If there is any, one of
// the bounds is one.
func searched(a, b tolerance.Band[quantity.Salinity]) bool {
	tries := []quantity.Salinity{0}
	for _, e := range []*quantity.Estimate[quantity.Salinity]{a.Min, a.Max, b.Min, b.Max} {
		if e != nil {
			tries = append(tries, e.Value)
		}
	}
	return slices.ContainsFunc(tries, func(s quantity.Salinity) bool { return !forbids(a, s) && !forbids(b, s) })
}

func forbids(b tolerance.Band[quantity.Salinity], s quantity.Salinity) bool {
	return b.Min != nil && s < b.Min.Value || b.Max != nil && s > b.Max.Value
}
