package store

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"os"
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

// marksOf counts the marks of every value of the table, by kind of value.
func marksOf(taxa []tolerance.Taxon) map[string]map[tolerance.Mark]int {
	counts := map[string]map[tolerance.Mark]int{}
	add := func(kind string, m tolerance.Mark) {
		if counts[kind] == nil {
			counts[kind] = map[tolerance.Mark]int{}
		}
		counts[kind][m]++
	}
	for _, x := range taxa {
		for _, t := range slices.Concat(x.Hazards, x.Law) {
			add("hazard or law", t.Mark)
		}
		for _, t := range x.Habitat {
			add("habitat", t.Mark)
		}
		for _, t := range x.Behaviour.Temper {
			add("temper", t.Mark)
		}
		if g := x.Behaviour.SmallestGroup; g != nil {
			add("smallest group", g.Mark)
		}
		for _, t := range []*tolerance.Trait{x.Behaviour.LeavesWater, x.Behaviour.Lid, x.Behaviour.Moving} {
			if t != nil {
				add("land, lid, how to move", t.Mark)
			}
		}
		if l := x.LifeCycle; l != nil && l.Kind != "" {
			add("life cycle", l.Mark)
		}
		if l := x.LifeCycle; l != nil && l.Larva != nil {
			add("water of larvae", l.Larva.Mark)
		}
		if x.Migration != nil {
			add("migration", x.Migration.Mark)
		}
		if x.Conservation != nil {
			add("listing of 2018", x.Conservation.Mark)
		}
		for _, s := range x.Stages {
			add("row", s.Confidence)
			if s.Survived != nil && !s.Survived.Empty() {
				add("survived salinity", s.Survived.Mark)
				if s.Survived.MaxMark != "" {
					add("survived maximum by other evidence", s.Survived.MaxMark)
				}
			}
			if s.Preferred != nil {
				add("preferred salinity", s.Preferred.Mark)
			}
			if s.Temperature != nil && !s.Temperature.Empty() {
				add("temperature", s.Temperature.Mark)
			}
			if s.WintersAt != nil {
				add("winters at", s.WintersAt.Mark)
			}
			if s.PH != nil && !s.PH.Empty() {
				add("pH", s.PH.Mark)
			}
			if s.MaxLength != nil {
				add("largest length", s.MaxLength.Mark)
			}
			if s.GreatestChangeSurvived != nil {
				add("greatest change survived", s.GreatestChangeSurvived.Mark)
			}
		}
	}
	return counts
}

// Every value is marked, and the counts are those last reviewed: a changed count is a change of
// the data and belongs in species/README.md.
func TestMarks(t *testing.T) {
	taxa := embedded(t)
	counts := marksOf(taxa)
	t.Logf("%d taxa", len(taxa))
	if len(taxa) < 430 {
		t.Errorf("%d taxa, want at least 430", len(taxa))
	}
	for _, kind := range slices.Sorted(maps.Keys(counts)) {
		t.Logf("%-18s %v", kind, counts[kind])
		for m, n := range counts[kind] {
			if !slices.Contains(tolerance.Marks(), m) {
				t.Errorf("%d values of %s are marked %q", n, kind, m)
			}
		}
	}
	readme, err := os.ReadFile("species/README.md")
	if err != nil {
		t.Fatal(err)
	}
	for kind, n := range counts {
		line := "| " + kind + " |"
		for _, m := range []tolerance.Mark{tolerance.Published, tolerance.ByDefinition, tolerance.CommonPractice, tolerance.Memory} {
			if n[m] == 0 {
				line += " |"
			} else {
				line += fmt.Sprintf(" %d |", n[m])
			}
		}
		if kind != "row" && !strings.Contains(string(readme), line+"\n") {
			t.Errorf("species/README.md does not have the counts %s", line)
		}
	}
	want := map[tolerance.Mark]int{tolerance.Published: 197, tolerance.CommonPractice: 204, tolerance.Memory: 84}
	if !maps.Equal(counts["row"], want) {
		t.Errorf("rows by mark: %v, want %v", counts["row"], want)
	}
}

// If stages differ, each has its own row; a row for all stages is the only one, so that no stage
// has two answers.
func TestAllStagesStandAlone(t *testing.T) {
	for _, x := range embedded(t) {
		for _, s := range x.Stages {
			if s.Stage == tolerance.AllStages && len(x.Stages) > 1 {
				t.Errorf("%s has a row for all stages and others", x.ID)
			}
		}
	}
}

// Nothing that rests on memory, or on a source that nobody read, counts as published.
func TestNothingRecalledIsPublished(t *testing.T) {
	check := func(t *testing.T, id string, m tolerance.Mark, s *tolerance.Source) {
		t.Helper()
		if m == tolerance.Published && (s == nil || s.Seen == "" || strings.HasPrefix(s.Key, "memory")) {
			t.Errorf("%s: published from %+v", id, s)
		}
	}
	for _, x := range embedded(t) {
		for _, w := range slices.Concat(x.Hazards, x.Law) {
			check(t, x.ID, w.Mark, w.Source)
		}
		for _, s := range x.Stages {
			for _, v := range []*tolerance.Sourced[quantity.Salinity]{s.Survived, s.Preferred} {
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
			if l := s.MaxLength; l != nil {
				check(t, x.ID, l.Mark, l.Source)
			}
			if c := s.GreatestChangeSurvived; c != nil {
				check(t, x.ID, c.Mark, c.Source)
			}
			recalled := s.Survived != nil && s.Survived.Mark == tolerance.Memory ||
				s.Preferred != nil && s.Preferred.Mark == tolerance.Memory
			if recalled && s.Confidence != tolerance.Memory {
				t.Errorf("%s %s: recalled, yet %s", x.ID, s.Stage, s.Confidence)
			}
		}
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

// A stenohaline freshwater fish and a stenohaline sea fish share no water, and each bound is
// named. Source: the table; the tetra is fresh water by FishBase's habitat words, sea water for
// clownfish is common practice.
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

// The path of every species from every stage starts where the animals are,
// goes forward in time, stays within what each later stage prefers, and is one
// that a request can hold.
func TestEverySpeciesGrows(t *testing.T) {
	paths := 0
	for _, x := range embedded(t) {
		for _, from := range append([]tolerance.LifeStage{""}, tolerance.LifeStages()...) {
			g, err := tolerance.Grow(x, tolerance.GrowthRequest{Stage: from})
			if _, unknown := errors.AsType[*tolerance.UnknownPreferenceError](err); unknown {
				continue
			}
			if _, none := errors.AsType[*tolerance.StageError](err); none {
				continue
			}
			if err != nil {
				t.Errorf("%s from %q: %v", x.ID, from, err)
				continue
			}
			paths++
			for i, p := range g.Path {
				var r quantity.Reading
				var d quantity.Estimate[quantity.Duration]
				if err := errors.Join(r.Bind(g.TargetCurve[i].Salinity), d.Bind(g.TargetCurve[i].Time)); err != nil || r.Value != float64(p.Salinity.Value) {
					t.Errorf("%s from %q: %v as text is %v, %v", x.ID, from, p.Salinity, g.TargetCurve[i], err)
				}
				if s := p.Practical.Value; s < p.Preferred.Min.Value || s > p.Preferred.Max.Value {
					t.Errorf("%s from %q: %g g/kg is not what the %s prefers", x.ID, from, float64(s), p.Stage)
				}
				if i > 0 && p.Time.Value <= g.Path[i-1].Time.Value {
					t.Errorf("%s from %q: the %s does not come later", x.ID, from, p.Stage)
				}
			}
		}
	}
	if paths < 200 {
		t.Errorf("only %d paths", paths)
	}
}
