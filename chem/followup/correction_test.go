package followup

import (
	"math"
	"math/rand"
	"reflect"
	"testing"

	"saltlock/chem/transfer"
)

// Who follows the corrected plan arrives at the tolerance without ever passing
// the hourly limit, whether the drops were too small or too large.
func TestCorrectionIsCarriedOut(t *testing.T) {
	r := quarantined(t)
	p, legs := begin(t, r)
	base, err := transfer.NewBaseline(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, real := range []float64{0.6, 1.6} {
		k := newKeeper(t, r, p, real, 1)
		sa, litres := k.until(t, 0.7)
		c := follow(t, r, legs, entry(0.7).reads(sa, 0.02).holds(litres, 0.02))
		if c.Verdict != Corrected || len(c.Legs) != 2 {
			t.Fatalf("drops %g times as large: %s, ratio %v", real, c.Verdict, c.DripRatio)
		}
		if again := follow(t, r, c.Legs, entry(0.7).reads(sa, 0.02).holds(litres, 0.02)); again.Now.Code != c.Now.Code || len(again.Legs) != 2 || !reflect.DeepEqual(again.Plan, c.Plan) {
			t.Errorf("asked again it says %v, %d legs", again.Now, len(again.Legs))
		}
		k.phases, k.clock = c.Plan.Phases, c.Legs[1].At // after the hold, if a limit was broken
		first, before := entry(0.7).reads(sa, 0.02).holds(litres, 0.02), sa
		for h := 0.75; len(k.phases) > 0; h += 0.05 {
			now, _ := k.until(t, h)
			if rate := (now - before) / 0.05; rate > 1.03*base.PerHour(now) {
				t.Errorf("drops %g times as large: %.3f g/kg/h after the correction", real, rate)
			}
			before = now
		}
		if left := base.To - before; left > base.Tolerance || left < base.Tolerance-0.3 { // to be sure it goes a little further
			t.Errorf("drops %g times as large: %.3f g/kg are left at the end, want %.3f", real, left, base.Tolerance)
		}
		sa, litres = k.until(t, k.clock+0.1)
		if end := follow(t, r, c.Legs, first, entry(k.clock).reads(sa, 0.02).holds(litres, 0.02)); end.Verdict != Arrived || math.Abs(float64(end.Gap.Value)-(base.To-sa)) > 0.1 {
			t.Errorf("at the end: %s, gap %v", end.Verdict, end.Gap)
		}
	}
}

// A keeper who looks in every hour and a half with middling instruments, and
// follows each correction, arrives, without many corrections and without passing
// the hourly limit by more than the drip is uncertain by.
func TestWholeTransferIsFollowed(t *testing.T) {
	r := quarantined(t)
	base, err := transfer.NewBaseline(r)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewSource(5))
	for _, real := range []float64{0.6, 0.8, 1, 1.25, 1.6} {
		p, legs := begin(t, r)
		k := newKeeper(t, r, p, real, 1)
		var log []LogEntry
		c := Course{Verdict: NotBegun, Legs: legs}
		before, corrections := float64(base.From), 0
		for h := 0.75; c.Verdict != Arrived; h += 1.5 {
			if h > 40 || c.Verdict == NoWayOn {
				t.Fatalf("drops %g times as large: %s after %.2f h, %+v", real, c.Verdict, h, c.Warnings)
			}
			for at := h - 1.5; at < h && corrections > 0; at += 0.1 {
				now, _ := k.until(t, at)
				if rate := (now - before) / 0.1; rate > 1.2*base.PerHour(now) {
					t.Errorf("drops %g times as large: %.3f g/kg/h at %.2f h", real, rate, at)
				}
				before = now
			}
			sa, litres := k.until(t, h)
			before = sa
			log = append(log, entry(h).reads(max(0, sa+0.2*rng.NormFloat64()), 0.2).holds(litres+0.1*rng.NormFloat64(), 0.1))
			if c = follow(t, r, c.Legs, log...); c.Verdict == Corrected {
				k.phases = c.Plan.Phases
				corrections++
			}
		}
		if left := base.To - before; left > base.AtOnce || corrections > 4 {
			t.Errorf("drops %g times as large: %.2f g/kg left after %d corrections", real, left, corrections)
		}
		t.Logf("drops %g times as large: %d corrections, arrived with %.2f g/kg left after %.2f h", real, corrections, base.To-before, k.clock)
	}
}

// A drip as planned needs no correction, and a wrong count is distinguished from wrong drops.
func TestOnCourseAndCounts(t *testing.T) {
	r := quarantined(t)
	p, legs := begin(t, r)
	k := newKeeper(t, r, p, 1, 1)
	sa, litres := k.until(t, 0.7)
	c := follow(t, r, legs, entry(0.7).reads(sa, 0.1).holds(litres, 0.05))
	if c.Verdict != OnCourse || c.Now.Code != "now_go_on" || len(c.Legs) != 1 || !reflect.DeepEqual(*c.Plan, p) {
		t.Errorf("as told: %s, %s, ratio %v", c.Verdict, c.Now.Code, c.DripRatio)
	}
	told := float64(p.Phases[0].Drip.Value)
	k = newKeeper(t, r, p, 0.6, 1)
	var log []LogEntry
	for _, h := range []float64{0.3, 0.6, 0.9} {
		sa, litres = k.until(t, h)
		log = append(log, entry(h).reads(sa, 0.1).holds(litres, 0.05).counts(int(told*60*0.6+0.5), "60 s", t))
	}
	c = follow(t, r, legs, log...)
	if ratio, drop := float64(c.DripRatio.Value), float64(c.DropVolume.Value)/0.05e-3; math.Abs(ratio-0.6) > 0.03 || math.Abs(drop-1) > 0.1 {
		t.Errorf("the valve slipped: ratio %.3f, drops %.3f of those told", ratio, drop)
	}
}
