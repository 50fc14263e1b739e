package tolerance

import "testing"

// No ramp is faster than what the class may bear in a day of acute change, and
// no week brings less than a day.
func TestRamps(t *testing.T) {
	for _, c := range Classes() {
		ramp, err := DefaultRamp(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, up := range []bool{true, false} {
			acute, err := DefaultLimits(c, up, UnknownOrigin)
			if err != nil {
				t.Fatal(err)
			}
			if ramp.PerDay > acute.Per24Hours {
				t.Errorf("%s: a ramp of %g a day, but %g in 24 hours", c, float64(ramp.PerDay), float64(acute.Per24Hours))
			}
		}
		if !(ramp.PerDay > 0 && ramp.PerDay <= ramp.PerWeekSalty && ramp.PerWeekSalty <= ramp.PerWeek) {
			t.Errorf("%s: out of order: %+v", c, ramp)
		}
	}
	if _, err := DefaultRamp("brave"); err == nil {
		t.Error("an unknown class has a ramp")
	}
}
