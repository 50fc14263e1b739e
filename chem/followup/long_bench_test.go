package followup

import (
	"fmt"
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
