package followup

import (
	"math"
	"math/rand"
	"testing"

	"saltlock/chem/quantity"
)

// Whatever is read, the answer is finite and says what to do.
func TestAnyLog(t *testing.T) {
	r := quarantined(t)
	_, legs := begin(t, r)
	rng := rand.New(rand.NewSource(3))
	for range 60 {
		var log []LogEntry
		for range 1 + rng.Intn(5) {
			e := entry(40 * rng.Float64() * rng.Float64())
			switch rng.Intn(4) {
			case 0:
				e = e.reads(40*rng.Float64(), 0.01+rng.Float64())
			case 1:
				e = e.holds(0.1+30*rng.Float64(), 0)
			case 2:
				e = e.counts(1+rng.Intn(80), "10 s", t)
			case 3:
				e = e.reads(12*rng.Float64(), 0).holds(4+10*rng.Float64(), 0.01)
			}
			log = append(log, e)
		}
		c := follow(t, r, legs, log...)
		numbers := []float64{float64(c.DropVolume.Value), float64(c.DropVolume.U), float64(c.Gap.Value), float64(c.PracticalSalinity.U)}
		if c.Volume != nil { // unknown while a volume is doubted
			numbers = append(numbers, float64(c.Volume.Value))
		}
		if c.DripRatio != nil {
			numbers = append(numbers, float64(c.DripRatio.Value), float64(c.DripRatio.U))
		}
		for _, x := range numbers {
			if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
				t.Fatalf("%+v gives %+v", log, c)
			}
		}
		if c.Now.Code == "" {
			t.Errorf("%+v: nothing to do is said", log)
		}
	}
}

func TestEntriesAreChecked(t *testing.T) {
	r := quarantined(t).WithDefaults()
	level := entry(1)
	level.Level = read[quantity.Length](t, "20 cm")
	count := entry(1)
	count.Drops = new(3)
	for name, e := range map[string]LogEntry{
		"nothing": entry(1), "before the start": entry(-1).holds(6, 0), "a level without a shape": level, "drops in no time": count,
		"brine": entry(1).reads(60, 0), "no water": entry(1).holds(0, 0),
	} {
		if e.Check(r) == nil {
			t.Errorf("%s is taken", name)
		}
	}
}
