package followup

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"saltlock/chem/quantity"
)

// longLog is a quiet drip that was read so many times, evenly over four fifths of it.
func longLog(tb testing.TB, n int) ([]Leg, []LogEntry) {
	tb.Helper()
	r := quarantined(tb)
	r.Container.StartVolume = read[quantity.Volume](tb, "6.00(15) L")
	p, legs := begin(tb, r)
	k, rng := newKeeper(tb, r, p, 1, 1), rand.New(rand.NewSource(2))
	var log []LogEntry
	for i := range n {
		h := 0.8 * float64(p.Duration.Value) * float64(i+1) / float64(n)
		sa, litres := k.until(tb, h)
		log = append(log, entry(h).reads(max(0, sa+0.2*rng.NormFloat64()), 0.2).holds(litres+0.1*rng.NormFloat64(), 0.1))
	}
	return legs, log
}

// A probe that reads ten thousand times in a few hours errs by four standard deviations now and
// then. No such reading is taken for a drip that nobody closed in the second since the last one.
func TestTenThousandReadingsInAFewHours(t *testing.T) {
	legs, log := longLog(t, 10_000)
	r := quarantined(t)
	p, _ := begin(t, r)
	k := newKeeper(t, r, p, 1, 1)
	sa, litres := k.until(t, log[len(log)-1].hours(r))
	c, err := Follow(t.Context(), r, legs, log)
	if err != nil {
		t.Fatal(err)
	}
	said := float64(c.PracticalSalinity.Value) * quantity.GramsPerPractical
	if c.Verdict != OnCourse || len(c.Found) > 0 || len(c.Broken) > 0 || math.Abs(said-sa) > 0.1 || math.Abs(float64(c.Volume.Value)-litres) > 0.1 {
		t.Errorf("%s, %d found, %d broken, %.2f g/kg for %.2f, %.2f L for %.2f", c.Verdict, len(c.Found), len(c.Broken), said, sa, c.Volume.Value, litres)
	}
}

// BenchmarkFollow weighs logs of growing length; the time per reading stays.
func BenchmarkFollow(b *testing.B) {
	for _, n := range []int{100, 1000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			legs, log := longLog(b, n)
			r := quarantined(b)
			for b.Loop() {
				if _, err := Follow(b.Context(), r, legs, log); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "µs/reading")
		})
	}
}
