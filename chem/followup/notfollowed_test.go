package followup

import (
	"math"
	"testing"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
)

// Readings as planned are on course on every route. If two readings are off, the rest is
// planned again from there. It is long because it has a case for each route.
func TestReadingsOfOtherRoutes(t *testing.T) {
	start := new(time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC))
	base := func(to string) transfer.Request {
		return transfer.Request{From: water(t, "2 ppt", "26 C"), To: water(t, to, "26 C"), Animals: []transfer.Animal{animal(tolerance.Hardy)}, Start: start,
			Container: transfer.Container{Capacity: read[quantity.Volume](t, "20 L"), Aerated: new(true)}, Line: &transfer.Line{DropVolume: read[quantity.Volume](t, "0.05 mL")}}
	}
	over, staged, combined := base("10 ppt"), base("30 ppt"), base("30 ppt")
	over.Container.Overflow = new(true)
	staged.Route = new(transfer.Staged)
	combined.HomeTank, combined.Route = &transfer.HomeTank{Volume: *read[quantity.Volume](t, "200 L")}, new(transfer.Combined)
	for name, r := range map[string]transfer.Request{"overflow": over, "staged": staged, "combined": combined} {
		p := plan(t, r)
		if name != "overflow" {
			off := func(hours, below float64) LogEntry {
				return LogEntry{Time: new(start.Add(time.Duration(hours * float64(time.Hour)))), Temperature: read[quantity.Celsius](t, "26 C"),
					Salinity: &quantity.Reading{Value: salinityAt(&p, hours)/quantity.GramsPerPractical - below, U: 0.2, Scale: quantity.PracticalScale}}
			}
			late := float64(p.Curve[len(p.Curve)/2].Time.Value)
			log := []LogEntry{off(late, 1), off(late+2, 1)}
			one, err := Follow(t.Context(), r, []Leg{NewLeg(0, r, p)}, log[:1])
			if err != nil || one.Verdict != OnCourse || one.Now.Code != "now_read_once_more" {
				t.Errorf("%s, read low once: %v, %s, %v", name, err, one.Verdict, one.Now)
			}
			two, err := Follow(t.Context(), r, one.Legs, log)
			if err != nil || two.Verdict != Corrected || len(two.Legs) != 2 || math.Abs(two.Legs[1].At-late-2) > 1e-6 {
				t.Errorf("%s, read low twice: %v, %s, %v", name, err, two.Verdict, two.Warnings)
			}
		}
		for _, i := range []int{len(p.Curve) / 3, len(p.Curve) * 2 / 3} {
			at := p.Curve[i]
			entry := LogEntry{Time: new(start.Add(time.Duration(float64(at.Time.Value) * float64(time.Hour)))),
				Salinity: &quantity.Reading{Value: float64(at.PracticalSalinity.Value), U: 0.05, Scale: quantity.PracticalScale}, Temperature: &at.Temperature}
			c, err := Follow(t.Context(), r, []Leg{NewLeg(0, r, p)}, []LogEntry{entry})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if c.Verdict != OnCourse || len(c.Readings) != 1 || math.Abs(c.Readings[0].Deviation) > 0.5 {
				t.Errorf("%s at %.2f h: %s, %+v, %v", name, float64(at.Time.Value), c.Verdict, c.Readings, c.Warnings)
			}
		}
	}
}
