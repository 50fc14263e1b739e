package store

import (
	"encoding/csv"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"time"
)

// asked is a row of testdata/species/names.csv.
type asked struct{ name, kind, id string }

// askedNames reads the names that people ask for.
func askedNames(t testing.TB) []asked {
	t.Helper()
	f, err := os.Open("../../testdata/species/names.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var all []asked
	for _, row := range rows[1:] {
		all = append(all, asked{row[0], row[1], row[2]})
	}
	return all
}

// offered are the ids that a match may mean.
func (m Match) offered(x *index) []string {
	var ids []string
	for _, t := range m.taxa {
		ids = append(ids, x.taxa[t].ID)
	}
	return ids
}

// Four hundred trade names and misspellings, half of them of what is not in the
// table: none is answered with another animal. (The names are from memory.)
func TestNamesAsAsked(t *testing.T) {
	x := newIndex(embedded(t))
	counts := map[string]map[Outcome]int{}
	found := 0
	for _, a := range askedNames(t) {
		m := x.match(a.name)
		ids := m.offered(x)
		if counts[a.kind] == nil {
			counts[a.kind] = map[Outcome]int{}
		}
		counts[a.kind][m.Outcome]++
		switch a.kind {
		case "name":
			if m.Outcome != Exact || ids[0] != a.id {
				t.Errorf("%q: %s %v, want %s", a.name, m.Outcome, ids, a.id)
			}
		case "shared":
			if m.Outcome != Several || !slices.Contains(ids, a.id) {
				t.Errorf("%q: %s %v, want several with %s", a.name, m.Outcome, ids, a.id)
			}
		case "misspelled":
			switch {
			case m.Outcome == Exact, m.Outcome == Spelling && !slices.Contains(ids, a.id):
				t.Errorf("%q: %s %v, want no other than %s", a.name, m.Outcome, ids, a.id)
			case m.Outcome == Spelling:
				found++
			default:
				t.Logf("%q: %s, near %d", a.name, m.Outcome, len(m.near))
			}
		case "absent":
			if m.Outcome == Exact || m.Outcome == Spelling {
				t.Errorf("%q: %s %v, though it is not in the table", a.name, m.Outcome, m.Candidates)
			}
		default:
			t.Errorf("%q is of the unknown kind %q", a.name, a.kind)
		}
	}
	t.Log(counts)
	absent, all := 0, 0
	for kind, by := range counts {
		for _, n := range by {
			all += n
			if kind == "absent" {
				absent += n
			}
		}
	}
	if all < 400 || absent < 200 {
		t.Errorf("%d names, %d of what is not in the table; want at least 400 and 200", all, absent)
	}
	if misspelled := 40; found < misspelled*8/10 {
		t.Errorf("of %d misspelled names %d found theirs", misspelled, found)
	}
}

// With each taxon removed in turn, none of its names identifies another, nor counts as a slip of
// another's.
func TestLeaveOneOut(t *testing.T) {
	taxa := embedded(t)
	names := 0
	for i, gone := range taxa {
		x := newIndex(slices.Concat(taxa[:i:i], taxa[i+1:]))
		for _, n := range namesOf(i, gone) {
			names++
			if m := x.match(n.text); m.Outcome == Exact || m.Outcome == Spelling {
				t.Errorf("without %s: %q is %s of %v", gone.ID, n.text, m.Outcome, m.Candidates)
			}
		}
	}
	t.Logf("%d names of %d taxa", names, len(taxa))
}

// Every name finds its taxon: alone if no other has the name, otherwise among several.
func TestEveryNameFinds(t *testing.T) {
	taxa := embedded(t)
	x := newIndex(taxa)
	outcomes := map[Outcome]int{}
	for i, want := range taxa {
		for _, n := range namesOf(i, want) {
			m := x.match(n.text)
			outcomes[m.Outcome]++
			if !slices.Contains(m.offered(x), want.ID) || m.Outcome != Exact && m.Outcome != Several {
				t.Errorf("%q of %s: %s %v", n.text, want.ID, m.Outcome, m.offered(x))
			}
			if n.latin && len(n.words) > 1 && !n.shared && !want.Collective && m.Outcome != Exact {
				t.Errorf("%q of %s: %s, though a Latin name means one", n.text, want.ID, m.Outcome)
			}
		}
		if strings.ContainsAny(want.Name(), "()") {
			t.Errorf("%s is called %q", want.ID, want.Name())
		}
	}
	t.Log(outcomes)
}

// One letter dropped from a long name never picks another, and mostly asks for the right one.
func TestSlipsOfNames(t *testing.T) {
	taxa := embedded(t)
	x := newIndex(taxa)
	right, asked := 0, 0
	for i, want := range taxa {
		for _, n := range namesOf(i, want) {
			if len(n.text) < 8 || n.shared {
				continue
			}
			slip := n.text[:len(n.text)/2] + n.text[len(n.text)/2+1:]
			m := x.match(slip)
			asked++
			switch ids := m.offered(x); {
			case m.Outcome == Exact && ids[0] != want.ID:
				t.Errorf("%q for %q picks %v", slip, n.text, ids)
			case slices.Contains(ids, want.ID):
				right++
			}
		}
	}
	t.Logf("%d of %d", right, asked)
	if right < asked*9/10 {
		t.Errorf("%d of %d slips lead to their name, less than nine in ten", right, asked)
	}
}

// The answer is the same for an id, a name, or an unclear name.
func TestTaxonByName(t *testing.T) {
	db := openAt(t, t.TempDir()+"/x.db")
	for _, c := range []struct {
		name, id string
		outcome  Outcome
	}{
		{"scatophagus-argus", "scatophagus-argus", Exact},
		{"Scatophagus argus", "scatophagus-argus", Exact},
		{"spotted scats", "scatophagus-argus", Exact},
		{"scat", "", Several},
		{"spoted scat", "", Spelling},
		{"congo tetra", "", NotThere},
		{"", "", NotThere},
		{"?!", "", NotThere},
	} {
		x, err := db.Taxon(t.Context(), c.name)
		if c.id != "" {
			if err != nil || x.ID != c.id {
				t.Errorf("%q: %s, %v, want %s", c.name, x.ID, err, c.id)
			}
			continue
		}
		e, ok := err.(*UnclearError)
		if !ok || e.Outcome != c.outcome || (c.name == "scat" || c.name == "spoted scat") && len(e.Candidates) == 0 {
			t.Errorf("%q: %v, want %s", c.name, err, c.outcome)
		}
	}
}

func FuzzMatch(f *testing.F) {
	x := newIndex(embedded(f))
	for _, a := range askedNames(f) {
		f.Add(a.name)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m := x.match(text)
		if (m.Outcome == NotThere) != (len(m.taxa) == 0) || m.Outcome == Exact && len(m.taxa) != 1 {
			t.Errorf("%q: %s of %d", text, m.Outcome, len(m.taxa))
		}
	})
}

// BenchmarkNames searches for every name of testdata/species/names.csv in turn. It reports the
// median and the slowest hundredth of all searches, and the slowest hundredth of the names, each
// at its quickest: on a busy machine the first two show what the neighbours do.
func BenchmarkNames(b *testing.B) {
	db := openAt(b, b.TempDir()+"/x.db")
	names := askedNames(b)
	var times []time.Duration
	quickest := map[string]time.Duration{}
	for i := 0; b.Loop(); i++ {
		began := time.Now()
		name := names[i%len(names)].name
		if _, err := db.Species(b.Context(), Query{Text: name, Limit: 50}); err != nil {
			b.Fatal(err)
		}
		took := time.Since(began)
		times = append(times, took)
		if least, asked := quickest[name]; !asked || took < least {
			quickest[name] = took
		}
	}
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2].Nanoseconds()), "p50-ns")
	b.ReportMetric(float64(times[len(times)*99/100].Nanoseconds()), "p99-ns")
	names99 := slices.Sorted(maps.Values(quickest))
	b.ReportMetric(float64(names99[len(names99)*99/100].Nanoseconds()), "p99-of-names-ns")
}
