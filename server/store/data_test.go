package store

import (
	"bytes"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// embedded reads the species table that is built in.
func embedded(t testing.TB) []tolerance.Taxon {
	t.Helper()
	taxa, err := readTable(bytes.NewReader(speciesCSV), bytes.NewReader(sourcesCSV))
	if err != nil {
		t.Fatal(err)
	}
	return taxa
}

// Every row is marked, and the counts are those last reviewed: a change of one
// is a change of the data and belongs in species/README.md.
func TestMarks(t *testing.T) {
	rows, survival, preferred := map[tolerance.Mark]int{}, map[tolerance.Mark]int{}, map[tolerance.Mark]int{}
	taxa := embedded(t)
	for _, x := range taxa {
		for _, s := range x.Stages {
			rows[s.Confidence]++
			if s.Salinity != nil && !s.Salinity.Empty() {
				survival[s.Salinity.Mark]++
			}
			if s.PreferredSalinity != nil {
				preferred[s.PreferredSalinity.Mark]++
			}
		}
	}
	t.Logf("%d taxa; rows %v; survived %v; preferred %v", len(taxa), rows, survival, preferred)
	want := map[tolerance.Mark]int{tolerance.Published: 114, tolerance.CommonPractice: 108, tolerance.Memory: 11}
	if !maps.Equal(rows, want) {
		t.Errorf("rows by mark: %v, want %v", rows, want)
	}
	for _, marks := range []map[tolerance.Mark]int{rows, survival, preferred} {
		if marks[""] > 0 {
			t.Errorf("%d values without a mark", marks[""])
		}
	}
}

// Nothing that rests on memory, or on a source that nobody read, passes for published.
func TestNothingRecalledIsPublished(t *testing.T) {
	check := func(t *testing.T, id string, m tolerance.Mark, s *tolerance.Source) {
		t.Helper()
		if m == tolerance.Published && (s == nil || s.Seen == "" || strings.HasPrefix(s.Key, "memory")) {
			t.Errorf("%s: published from %+v", id, s)
		}
	}
	for _, x := range embedded(t) {
		for _, s := range x.Stages {
			for _, v := range []*tolerance.Sourced[quantity.AbsoluteSalinity]{s.Salinity, s.PreferredSalinity} {
				if v != nil {
					check(t, x.ID, v.Mark, v.Source)
				}
			}
			if s.Temperature != nil {
				check(t, x.ID, s.Temperature.Mark, s.Temperature.Source)
			}
			if s.PH != nil {
				check(t, x.ID, s.PH.Mark, s.PH.Source)
			}
			recalled := s.Salinity != nil && s.Salinity.Mark == tolerance.Memory ||
				s.PreferredSalinity != nil && s.PreferredSalinity.Mark == tolerance.Memory
			if recalled && s.Confidence != tolerance.Memory {
				t.Errorf("%s %s: recalled, yet %s", x.ID, s.Stage, s.Confidence)
			}
		}
	}
}

// Common names may mean several taxa; these do, and whoever adds another says so here.
func TestSharedCommonNames(t *testing.T) {
	owners := map[string][]string{}
	for _, x := range embedded(t) {
		for _, n := range x.CommonNames {
			owners[strings.ToLower(n)] = append(owners[strings.ToLower(n)], x.ID)
		}
	}
	var shared []string
	for n, ids := range owners {
		if len(ids) > 1 {
			shared = append(shared, n)
		}
	}
	slices.Sort(shared)
	if want := []string{"bumblebee goby", "ghost shrimp"}; !slices.Equal(shared, want) {
		t.Errorf("common names of several taxa: %q, want %q", shared, want)
	}
}

func TestIDs(t *testing.T) {
	plain := regexp.MustCompile(`^[a-z]+(-[a-z]+)+$`)
	seen := map[string]bool{}
	for _, x := range embedded(t) {
		if !plain.MatchString(x.ID) || seen[x.ID] {
			t.Errorf("id %q is not plain, or stands there twice", x.ID)
		}
		seen[x.ID] = true
	}
}

func TestDataVersion(t *testing.T) {
	if v := DataVersion(); !regexp.MustCompile(`^20\d\d\.\d\d-[0-9a-f]{6}$`).MatchString(v) {
		t.Errorf("DataVersion() = %q", v)
	}
}

// The shared water of every pair of taxa, against the bounds of the two.
func TestCompareEveryPair(t *testing.T) {
	taxa := embedded(t)
	counts := map[tolerance.Status]int{}
	for i, a := range taxa {
		for _, b := range taxa[i:] {
			c, err := tolerance.Compare([]tolerance.Member{{Taxon: a}, {Taxon: b}}, nil)
			if err != nil {
				t.Fatal(err)
			}
			counts[c.Status]++
			sa, _, _ := a.StageFor("")
			sb, _, _ := b.StageFor("")
			ua, ub := sa.Usable(), sb.Usable()
			apart := below(ua.Max, ub.Min) || below(ub.Max, ua.Min)
			if apart != (len(c.Salinity.Conflicts) > 0) {
				t.Errorf("%s with %s: %d conflicts, though apart is %t", a.ID, b.ID, len(c.Salinity.Conflicts), apart)
			}
			if c.Salinity.Status == tolerance.Shared && (apart || ua.Min == nil || ua.Max == nil || ub.Min == nil || ub.Max == nil) {
				t.Errorf("%s with %s: shared, though apart or unknown", a.ID, b.ID)
			}
		}
	}
	t.Logf("pairs by status: %v", counts)
}

func below(a, b *quantity.Estimate[quantity.AbsoluteSalinity]) bool {
	return a != nil && b != nil && a.Value < b.Value
}

// A stenohaline fish of fresh water and one of the sea share none, and each
// bound is named. Source: the table; the tetra is fresh water by FishBase's
// habitat words, sea water for clownfish is common practice.
func TestFreshAndMarineShareNoWater(t *testing.T) {
	byID := map[string]tolerance.Taxon{}
	for _, x := range embedded(t) {
		byID[x.ID] = x
	}
	c, err := tolerance.Compare([]tolerance.Member{{Taxon: byID["paracheirodon-innesi"]}, {Taxon: byID["amphiprion-ocellaris"]}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if c.Status != tolerance.NoneShared || len(c.Salinity.Conflicts) != 1 || len(c.LeaveOut) != 2 {
		t.Fatalf("status %s, conflicts %+v, leave out %v", c.Status, c.Salinity.Conflicts, c.LeaveOut)
	}
	if x := c.Salinity.Conflicts[0]; x.Higher.ID != "amphiprion-ocellaris" || x.Lower.ID != "paracheirodon-innesi" || !x.Proven {
		t.Errorf("conflict %+v: wrong way round or unproven", x)
	}
}
