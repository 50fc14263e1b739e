package followup

import (
	"math"
	"testing"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
)

// What reads as planned is on course on every route, also on those whose rest
// is not planned anew.
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
		for _, i := range []int{len(p.Curve) / 3, len(p.Curve) * 2 / 3} {
			at := p.Curve[i]
			entry := LogEntry{Time: new(start.Add(time.Duration(float64(at.Time.Value) * float64(time.Hour)))),
				Salinity: &quantity.Reading{Value: float64(at.PracticalSalinity.Value), U: 0.05, Scale: quantity.PracticalScale}, Temperature: &at.Temperature}
			c, err := Follow(t.Context(), r, []Leg{NewLeg(0, r, p)}, []LogEntry{entry})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if c.Verdict != OnCourse || len(c.Readings) != 1 || math.Abs(c.Readings[0].Deviation) > 0.5 || says(c.Warnings, "way_not_corrected") == (name == "overflow") {
				t.Errorf("%s at %.2f h: %s, %+v, %v", name, float64(at.Time.Value), c.Verdict, c.Readings, c.Warnings)
			}
		}
	}
}
