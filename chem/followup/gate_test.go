package followup

import (
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
)

func (e LogEntry) tests(t testing.TB, tan, nitrite string) LogEntry {
	t.Helper()
	e.TAN = read[quantity.AmmoniaNitrogen](t, tan)
	e.Nitrite = read[quantity.NitriteNitrogen](t, nitrite)
	return e
}

// The limits are those of the reference, section 7: total ammonia at most 0.25 mg/L N and
// nitrite at most 0.2 mg/L N on two days, before a ramp takes its next step. It is long because
// the tests of a filter follow one another.
func TestFilterHoldsBackARamp(t *testing.T) {
	r := transfer.Request{From: water(t, "2 ppt", "26 C"), To: water(t, "12 ppt", "26 C"), Animals: []transfer.Animal{animal(tolerance.Hardy)}, Start: &firstDrop,
		Route: new(transfer.Ramped), HomeTank: &transfer.HomeTank{Volume: *read[quantity.Volume](t, "200 L")}}
	r.From.PH, r.To.PH = read[quantity.PH](t, "7.8"), read[quantity.PH](t, "7.8") // at which 0.5 mg/L N is not toxic yet
	p, legs := begin(t, r)
	const day = 24.
	second := float64(p.Phases[1].Start.Value)
	low := entry(second-4).tests(t, "0.2 mg/L N", "0.6 mg/L NO2") // 0.18 mg/L N
	if c := follow(t, r, legs, low); c.Verdict != OnCourse {
		t.Errorf("low tests: %s, %v", c.Verdict, c.Now)
	}
	log := []LogEntry{entry(second-4).tests(t, "0.5 mg/L N", "0.1 mg/L N")}
	c := follow(t, r, legs, log...)
	if c.Verdict != Paused || c.Now.Code != "now_wait_for_filter" || c.Plan != nil {
		t.Errorf("ammonia high: %s, %v", c.Verdict, c.Now)
	}
	log = append(log, entry(second-4+day).tests(t, "0.2 mg/L N", "0.3 mg/L N"))
	if c = follow(t, r, c.Legs, log...); c.Verdict != Paused || c.Now.Code != "act_change_some" || c.Why[0].Code != "why_nitrite_toxic" {
		t.Errorf("then nitrite high: %s, %v", c.Verdict, c.Why)
	}
	log = append(log, entry(second-4+2*day).tests(t, "0.2 mg/L N", "0.2 mg/L N"))
	if c = follow(t, r, c.Legs, log...); c.Verdict != Paused || c.Now.Code != "now_test_again" {
		t.Errorf("low once: %s, %v", c.Verdict, c.Now)
	}
	log = append(log, entry(second-3+2*day).tests(t, "0.2 mg/L N", "0.2 mg/L N"))
	if c = follow(t, r, c.Legs, log...); c.Verdict != Paused {
		t.Errorf("twice on one day: %s, %v", c.Verdict, c.Now)
	}
	// Meanwhile nothing was changed, and the tank reads as it did then.
	before := salinityAt(&p, second-4)
	ready := entry(second-4+3*day).tests(t, "0.1 mg/L N", "0.1 mg/L N").reads(before, 0.3)
	log = append(log, ready)
	if c = follow(t, r, c.Legs, log...); c.Verdict != Corrected || len(c.Legs) != 2 || c.Legs[1].At != second-4+3*day || c.Readings[0].Suspect {
		t.Fatalf("low on two days: %s, %v, %d legs", c.Verdict, c.Why, len(c.Legs))
	}
	if got := float64(c.Plan.Phases[0].FromSalinity.Value) * quantity.GramsPerPractical; got < before-0.4 || got > before+0.4 {
		t.Errorf("it goes on from %.2f g/kg, want %.2f", got, before)
	}
	if c = follow(t, r, c.Legs, append(log, entry(second-3+3*day).tests(t, "0.1 mg/L N", "0.1 mg/L N"))...); c.Verdict != OnCourse {
		t.Errorf("and then: %s, %v", c.Verdict, c.Now)
	}
	r.HomeTank.Filter = new(bool)
	_, legs = begin(t, r)
	if c := follow(t, r, legs, log[0]); c.Verdict != OnCourse {
		t.Errorf("without a filter: %s, %v", c.Verdict, c.Now)
	}
}
