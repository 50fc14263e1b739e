package tolerance

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"saltlock/chem/quantity"
)

// taxon makes a taxon of one stage.
func taxon(id string, s Stage) Taxon {
	return Taxon{ID: id, ScientificName: id, Stages: []Stage{s}}
}

// compare compares stages named a, b, c …
func compare(t *testing.T, stages ...Stage) Compatibility {
	t.Helper()
	var ms []Member
	for i, s := range stages {
		ms = append(ms, Member{Taxon: taxon(string(rune('a'+i)), s)})
	}
	c, err := Compare(ms, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func ids(refs []Ref) string {
	s := ""
	for _, r := range refs {
		s += r.ID
	}
	return s
}

func leavers(list []Leaving) string {
	s := ""
	for _, l := range list {
		s += l.ID
	}
	return s
}

func TestCompareStatus(t *testing.T) {
	fresh, marine := stage(StenohalineFresh, 0, unknown, 0, 0.5), stage(StenohalineMarine, unknown, 35, 30, 35)
	brackish := stage(Hardy, 0, 35, 5, 20)
	for _, c := range []struct {
		name         string
		stages       []Stage
		want         Status
		lower, upper string // who sets it
		leaveOut     string
	}{
		{"one alone", []Stage{brackish}, Shared, "a", "a", ""},
		{"equals", []Stage{brackish, brackish}, Shared, "ab", "ab", ""},
		{"fresh with marine, both stenohaline", []Stage{fresh, marine}, NoneShared, "b", "a", "ab"},
		{"a euryhaline fish with marine ones", []Stage{brackish, marine, marine}, Shared, "bc", "abc", ""},
		{"one fresh among marine", []Stage{marine, fresh, marine}, NoneShared, "ac", "b", "b"},
		{"two fresh against two marine: no single one", []Stage{marine, fresh, fresh, marine}, NoneShared, "ad", "bc", ""},
		{"a maximum unknown, nothing for it", []Stage{stage(Hardy, 0, unknown, unknown, unknown), brackish}, UnknownShared, "ab", "b", ""},
		{"only preferences apart", []Stage{stage(Hardy, 0, unknown, 0, 5), stage(Hardy, unknown, 35, 10, 35)}, UnknownShared, "b", "a", ""},
		{"survival apart", []Stage{stage(Hardy, 0, 5, unknown, unknown), stage(Hardy, 10, 35, unknown, unknown)}, NoneShared, "b", "a", "ab"},
		{"nothing known of one", []Stage{{SensitivityClass: Hardy, Stage: AllStages}, brackish}, UnknownShared, "b", "b", ""},
	} {
		got := compare(t, c.stages...)
		if got.Status != c.want || ids(got.Salinity.Lower.SetBy) != c.lower || ids(got.Salinity.Upper.SetBy) != c.upper || leavers(got.LeaveOut) != c.leaveOut {
			t.Errorf("%s: %s, lower by %s, upper by %s, leave out %q; want %s, %s, %s, %q", c.name, got.Status,
				ids(got.Salinity.Lower.SetBy), ids(got.Salinity.Upper.SetBy), leavers(got.LeaveOut), c.want, c.lower, c.upper, c.leaveOut)
		}
	}
}

// Temperature can rule a community out although the salinity suits it.
func TestCompareTemperature(t *testing.T) {
	bounds := func(lo, hi float64) *Sourced[quantity.Celsius] {
		l, h := quantity.Of[quantity.Celsius](lo, 0), quantity.Of[quantity.Celsius](hi, 0)
		return &Sourced[quantity.Celsius]{Band: Band[quantity.Celsius]{Min: &l, Max: &h}}
	}
	cold, warm := stage(Hardy, 0, 35, 0, 35), stage(Hardy, 0, 35, 0, 35)
	cold.Temperature, warm.Temperature = bounds(2, 9), bounds(24, 28)
	c := compare(t, cold, warm)
	if c.Status != NoneShared || c.UsableRange.Status != Shared || c.Temperature.Status != NoneShared {
		t.Fatalf("status %s, salinity %s, temperature %s", c.Status, c.UsableRange.Status, c.Temperature.Status)
	}
	x := c.Temperature.Conflicts[0]
	if x.Higher.ID != "b" || x.Lower.ID != "a" || x.Gap.Value != 15 || !x.Proven {
		t.Errorf("conflict %+v, want b above a by 15 K", x)
	}
	if c.Remarks[0].Code != "no_common_temperature" {
		t.Errorf("remarks %+v do not name the temperature", c.Remarks)
	}
}

// The status and the conflicts against a search over every pair and every whole salinity, for
// random communities with whole bounds, some unknown. It is long because the search is next
// to what it checks.
func TestCompareBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		stages := make([]Stage, 1+r.IntN(5))
		for i := range stages {
			stages[i] = randomStage(r)
		}
		c := compare(t, stages...)
		suits, known, pairs := false, true, 0
		for s := 0.0; s <= 40; s++ {
			all := true
			for _, st := range stages {
				u := st.usable()
				all = all && (u.Min == nil || s >= float64(u.Min.Value)) && (u.Max == nil || s <= float64(u.Max.Value))
			}
			suits = suits || all
		}
		proven := false
		for _, a := range stages {
			known = known && a.Usable().Min != nil && a.Usable().Max != nil
			for _, b := range stages {
				lo, hi := a.usable().Min, b.usable().Max
				if lo != nil && hi != nil && lo.Value > hi.Value {
					pairs++
					proven = proven || (a.usable().softMin == "" || b.usable().Max.Value < a.usable().firmBelow) && b.usable().softMax == ""
				}
			}
		}
		want := UnknownShared
		switch {
		case proven:
			want = NoneShared
		case suits && known:
			want = Shared
		}
		if suits != (pairs == 0) || c.UsableRange.Status != want || len(c.UsableRange.Conflicts) != pairs {
			t.Fatalf("%v: status %s with %d conflicts, want %s with %d (a salinity suits all: %t)",
				describe(stages), c.UsableRange.Status, len(c.UsableRange.Conflicts), want, pairs, suits)
		}
	}
}

// randomStage makes a stage with ordered whole bounds, the preferred ones inside.
func randomStage(r *rand.Rand) Stage {
	b := []float64{float64(r.IntN(41)), float64(r.IntN(41)), float64(r.IntN(41)), float64(r.IntN(41))}
	slices.Sort(b)
	for i := range b {
		if r.IntN(4) == 0 {
			b[i] = unknown
		}
	}
	return stage(Classes()[r.IntN(len(Classes()))], b[0], b[3], b[1], b[2])
}

func describe(stages []Stage) string {
	s := ""
	for _, st := range stages {
		b := func(e *quantity.Estimate[quantity.Salinity]) string {
			if e == nil {
				return "?"
			}
			return fmt.Sprint(e.Value)
		}
		s += fmt.Sprintf("[%s %s–%s, prefers %s–%s]", st.SensitivityClass, b(st.Survived.Min), b(st.Survived.Max),
			b(st.Preferred.Min), b(st.Preferred.Max))
	}
	return s
}

func TestCompareJudgesWater(t *testing.T) {
	members := []Member{{Taxon: taxon("a", stage(Hardy, 0, 35, 5, 20))}, {Taxon: taxon("b", stage(Hardy, 0, 35, 15, 30))}}
	for _, c := range []struct {
		sa   float64
		want Verdict
	}{{16, Preferred}, {10, Tolerated}, {36, Outside}} {
		got, err := Compare(members, &Water{Salinity: gkg(c.sa)})
		if err != nil || got.Verdict != c.want {
			t.Errorf("%g g/kg: %s, %v, want %s", c.sa, got.Verdict, err, c.want)
		}
		for _, m := range got.Members {
			if m.Judgement == nil || len(m.Judgement.Reasons) == 0 {
				t.Errorf("%g g/kg: no reason for %s", c.sa, m.ID)
			}
		}
		if len(got.Notes()) < len(got.Members) {
			t.Errorf("%g g/kg: Notes leaves out the reasons", c.sa)
		}
	}
}

func TestStageFor(t *testing.T) {
	of := func(stages ...LifeStage) Taxon {
		var x Taxon
		for _, s := range stages {
			x.Stages = append(x.Stages, Stage{Stage: s})
		}
		return x
	}
	for _, c := range []struct {
		name    string
		taxon   Taxon
		ask     LifeStage
		want    LifeStage
		assumed bool
		ok      bool
	}{
		{"adult by default", of(Larva, Juvenile, Adult), "", Adult, true, true},
		{"the row for all needs no assumption", of(AllStages), "", AllStages, false, true},
		{"else the oldest", of(Larva, Juvenile), "", Juvenile, true, true},
		{"only larvae", of(Larva), "", Larva, true, true},
		{"as asked", of(Larva, Juvenile, Adult), Larva, Larva, false, true},
		{"all answers for each", of(AllStages), Juvenile, AllStages, false, true},
		{"not known", of(Juvenile), Adult, "", false, false},
	} {
		got, assumed, err := c.taxon.StageFor(c.ask)
		if got.Stage != c.want || assumed != c.assumed || (err == nil) != c.ok {
			t.Errorf("%s: %q, %t, %v", c.name, got.Stage, assumed, err)
		}
	}
}

func TestCompareNamesEveryFault(t *testing.T) {
	young := taxon("a", Stage{Stage: Juvenile})
	_, err := Compare([]Member{{Taxon: young, Stage: Adult}, {Taxon: young, Stage: Larva}}, nil)
	var faults interface{ Unwrap() []error }
	if !errors.As(err, &faults) || len(faults.Unwrap()) != 2 {
		t.Fatalf("error %v, want two", err)
	}
	var s *StageError
	if !errors.As(err, &s) || s.ID != "a" || !slices.Equal(s.Have, []LifeStage{Juvenile}) {
		t.Errorf("error %v does not name what is known", err)
	}
	if _, err := Compare(nil, nil); !errors.Is(err, ErrNoMembers) {
		t.Errorf("nobody to compare: %v", err)
	}
}

// Each bound, and what it would be without those who set it, against a search
// over all members.
func TestBoundsBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 3000 {
		stages := make([]Stage, 1+r.IntN(5))
		for i := range stages {
			stages[i] = randomStage(r)
		}
		c := compare(t, stages...)
		var mins []float64
		for _, s := range stages {
			if lo := s.usable().Min; lo != nil {
				mins = append(mins, float64(lo.Value))
			}
		}
		slices.Sort(mins)
		if (c.Salinity.Lower == nil) != (len(mins) == 0) {
			t.Fatalf("lower bound %+v of %v", c.Salinity.Lower, mins)
		}
		if len(mins) == 0 {
			continue
		}
		top := mins[len(mins)-1]
		others := slices.DeleteFunc(slices.Clone(mins), func(m float64) bool { return m == top })
		got := c.Salinity.Lower
		if float64(got.Value.Value) != top || len(got.SetBy) != len(mins)-len(others) || (got.Without == nil) != (len(others) == 0) {
			t.Fatalf("lower bound %+v of %v", got, mins)
		}
		if got.Without != nil && (float64(got.Without.Value) != others[len(others)-1] || float64(got.By.Value) != top-others[len(others)-1]) {
			t.Fatalf("without %v by %v, of %v", got.Without.Value, got.By.Value, mins)
		}
	}
}

// Who can be left out, against asking again without each.
func TestLeaveOutBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		stages := make([]Stage, 2+r.IntN(4))
		for i := range stages {
			stages[i] = randomStage(r)
		}
		c := compare(t, stages...)
		want, wantPreferred := "", ""
		for i := range stages {
			rest := compare(t, slices.Concat(stages[:i], stages[i+1:])...)
			if c.Status == NoneShared && rest.Status != NoneShared {
				want += string(rune('a' + i))
			}
			if c.PreferredSalinity.Status == NoneShared && rest.PreferredSalinity.Status != NoneShared {
				wantPreferred += string(rune('a' + i))
			}
		}
		if leavers(c.LeaveOut) != want || leavers(c.LeaveOutPreferred) != wantPreferred {
			t.Fatalf("leave out %q, want %q; preferred %q, want %q", leavers(c.LeaveOut), want, leavers(c.LeaveOutPreferred), wantPreferred)
		}
	}
}
