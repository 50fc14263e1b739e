package transfer

import (
	"cmp"
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// Preference says what a drip should take least of.
type Preference string

// The preferences.
const (
	PreferTime   Preference = "time"
	PreferVisits Preference = "visits"
	PreferWater  Preference = "water"
)

// Alternative is a drip that takes least of one thing, and what it costs in the others.
type Alternative struct {
	Prefer   Preference                           `json:"prefer"`
	Duration quantity.Estimate[quantity.Duration] `json:"duration"`
	Visits   int                                  `json:"visits"` // to set the valve, pour off and release
	Settings int                                  `json:"settings"`
	PourOffs int                                  `json:"pour_offs"`
	Water    quantity.Estimate[quantity.Volume]   `json:"water"` // drawn from the source
	Chosen   bool                                 `json:"chosen"`
}

// worthAVisit is how much longer a drip may last to spare its keeper a visit,
// where the request prefers nothing.
const worthAVisit = 1.02

// morePours is how many pour-offs beyond the fewest are tried to spare water.
const morePours = 2

// choose solves the drip in several ways and returns the one asked for, and
// the best of them for each preference; nil, with faults, if there is none.
//
// Without a preference it is the fastest with the fewest pour-offs, or one that
// spares a visit for a few minutes. To pour off more often than the container
// forces can be faster still, since a valve left alone then drips faster for
// what is in it; but it is more work, and so for the keeper to choose.
func (t *task) choose(v vat) (*solved, []Alternative, error) {
	chosen, ways, err := t.ways(v)
	if err != nil || ways == nil {
		return nil, nil, err
	}
	if ways, err = t.alive(ways, v); err != nil || ways == nil {
		return nil, nil, err
	}
	list := make([]Alternative, 0, 3)
	best := map[Preference]*solved{
		PreferTime:   least(ways, func(s *solved) float64 { return s.rounded }),
		PreferVisits: least(ways, func(s *solved) float64 { return float64(s.visits()) }),
		PreferWater:  least(ways, (*solved).drawn),
	}
	if p := t.request.Prefer; p != nil {
		chosen = best[*p]
	} else if !slices.Contains(ways, chosen) {
		chosen = best[PreferTime]
	}
	for _, p := range []Preference{PreferTime, PreferVisits, PreferWater} {
		a := t.alternative(p, best[p], v)
		a.Chosen = best[p] == chosen
		list = append(list, a)
	}
	return chosen, list, nil
}

// ways solves the drip in several ways, and chooses among those without a
// preference; nil, with faults, if there is none.
func (t *task) ways(v vat) (chosen *solved, ways []*solved, err error) {
	plain, err := t.solve(v)
	if err != nil || plain == nil {
		return nil, nil, err
	}
	chosen, ways = plain, []*solved{plain} // the one with all settings first
	v.quick = true                         // what is compared with it
	most := plain.settings()
	if v.visits != nil {
		most = v.settings // visits make more settings harder to place, and fewer may be faster
	}
	for n := 1; n < most; n++ {
		fewer := v
		fewer.settings = n
		fewer.quick = v.visits == nil || n > usualSettings
		s, err := t.quietly(fewer)
		if err != nil {
			return nil, nil, err
		}
		if s == nil {
			continue
		}
		ways = append(ways, s)
	}
	fastest := least(ways, func(s *solved) float64 { return s.rounded })
	for _, s := range ways[1:] { // fewest settings first
		if s.rounded <= fastest.rounded*worthAVisit {
			chosen = s
			chosen.exact = min(plain.exact, fastest.exact, s.exact)
			break
		}
	}
	if t.partial && t.keep == nil && t.request.Prefer == nil {
		return chosen, ways, nil // a stretch of a longer way lists no alternatives
	}
	lower, err := t.lower(v, plain)
	return chosen, append(ways, lower...), err
}

// least returns the way that takes least of something, the faster of equals.
func least(ways []*solved, of func(*solved) float64) *solved {
	return slices.MinFunc(ways, func(a, b *solved) int {
		return cmp.Or(cmp.Compare(of(a), of(b)), cmp.Compare(a.rounded, b.rounded))
	})
}

// quietly solves a variant of the drip, and tells nobody of it.
func (t *task) quietly(v vat) (*solved, error) {
	faults, warnings, assumptions := len(t.faults), len(t.warnings), len(t.assumptions)
	s, err := t.solve(v)
	t.faults, t.warnings, t.assumptions = t.faults[:faults], t.warnings[:warnings], t.assumptions[:assumptions]
	return s, err
}

// lower solves the drip for a container that is filled less high and poured off
// more often: the less stands in it, the less new water a given change takes.
func (t *task) lower(v vat, than *solved) ([]*solved, error) {
	var ways []*solved
	if t.runsOver() {
		return nil, nil
	}
	ratio := than.drip.gap / than.drip.tolerance * v.start / v.least // that the fills close together, from the least volume
	for n := than.pours() + 1; n <= min(than.pours()+morePours, mostPours); n++ {
		low := v
		low.brim = min(v.brim, v.least*math.Pow(1.02*ratio, 1/float64(n+1)))
		if low.brim <= v.start*(1+2*tabled) {
			continue
		}
		s, err := t.quietly(low)
		if err != nil {
			return nil, err
		}
		if s != nil {
			ways = append(ways, s)
		}
	}
	return ways, nil
}

func (t *task) alternative(p Preference, s *solved, v vat) Alternative {
	return Alternative{Prefer: p, Duration: hours(s.rounded), Visits: s.visits(), Settings: s.settings(), PourOffs: s.pours(),
		Water: litres(s.drawn() / v.dropMass * v.drop)}
}

// settings counts how often the valve is set.
func (s *solved) settings() int {
	return s.count(func(x stage) bool { return x.set })
}

// pours counts how often water is poured off.
func (s *solved) pours() int {
	return s.count(func(x stage) bool { return x.pour })
}

// visits counts how often the keeper must come, the release included.
func (s *solved) visits() int {
	return s.count(func(x stage) bool { return x.set || x.pour }) + 1
}

func (s *solved) count(is func(stage) bool) int {
	n := 0
	for _, x := range s.stages {
		if is(x) {
			n++
		}
	}
	return n
}

// drawn is the mass of new water that the drip takes.
func (s *solved) drawn() float64 {
	mass := 0.0
	for _, x := range s.stages {
		mass += x.flow * x.hours()
	}
	return mass
}
