package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// A plan by marks is carried out in litres, which it does not know. At each mark the salinity is
// as stated, and between marks nothing changes faster than the class allows. It is long because
// both are checked on the way.
func TestByMarks(t *testing.T) {
	for _, c := range []struct {
		from, to string
		class    tolerance.Class
		start    float64 // L
	}{
		{"2 ppt", "10 ppt", tolerance.Hardy, 6},
		{"10 ppt", "2 ppt", tolerance.Hardy, 0.7},
		{"5 ppt", "0.2 ppt", tolerance.Moderate, 31}, // over the break at 2 g/kg
		{"35 ppt", "33.2 ppt", tolerance.Delicate, 12},
		{"5 ppt", "7.5 ppt", tolerance.Invertebrate, 3},
	} {
		r := Request{Animals: []Animal{ofFresh(animal(c.class))}, From: water(t, c.from, "25 C"), To: water(t, c.to, "25 C"), Container: Container{Aerated: new(true)}, Route: new(Drip)}
		p, err := NewPlan(t.Context(), r)
		if err != nil || p.Route != ByMarks {
			t.Errorf("%s to %s: %s, %v, want it by marks", c.from, c.to, p.Route, err)
			continue
		}
		tub, new := poured(t, r.From, c.start), poured(t, r.To, 1)
		limits, err := tolerance.DefaultLimits(c.class, r.To.Salinity.Value > r.From.Salinity.Value, *r.Animals[0].Origin)
		if err != nil {
			t.Fatal(err)
		}
		taken := 0.0
		for _, phase := range p.Phases {
			switch phase.Kind {
			case PourOff:
				_, _, held := tub.water(t)
				tub = tub.keeping(c.start * float64(phase.ToPart.Value) / held)
			case Fill:
				added := c.start * float64(phase.ToPart.Value-phase.FromPart.Value)
				taken += added / c.start
				flow := added * new.mass / float64(phase.Duration.Value) // kg/h
				const steps = 50
				for range steps {
					before, _, _ := tub.water(t)
					tub = tub.dripped(new, flow, float64(phase.Duration.Value)/steps)
					after, _, _ := tub.water(t)
					rate := math.Abs(float64(after-before)) * steps / float64(phase.Duration.Value)
					if most := float64(max(limits.PerHourAt(before), limits.PerHourAt(after))); rate > most*1.001 {
						t.Errorf("%s to %s: %.3g g/kg/h at %.3g g/kg, %.3g is the most", c.from, c.to, rate, float64(after), most)
					}
				}
				if sa, _, _ := tub.water(t); math.Abs(float64(sa)-float64(phase.ToSalinity.Value)*quantity.GramsPerPractical) > 0.02 {
					t.Errorf("%s to %s: %.4g g/kg at %g, %s is told", c.from, c.to, float64(sa), float64(phase.ToPart.Value), phase.ToSalinity)
				}
			}
		}
		sa, _, _ := tub.water(t)
		goal := poured(t, r.To, 1).salinity()
		if left := math.Abs(float64(sa) - goal); left > float64(p.Tolerance.Value)*1.01 || taken > float64(p.NewWaterParts.Value)*1.001 {
			t.Errorf("%s to %s: %.3g g/kg are left of %s, and %.3g parts taken of %s", c.from, c.to, left, p.Tolerance, taken, p.NewWaterParts)
		}
		for _, l := range p.Limits {
			if l.Margin.Value < -1e-6 {
				t.Errorf("%s to %s: %s is broken by %g", c.from, c.to, l.Name, -l.Margin.Value)
			}
		}
	}
}

// keeping pours off all but a share.
func (p pail) keeping(share float64) pail {
	return pail{p.mass * share, p.salt * share, p.heat * share}
}

// What a plan by marks still needs is refused with what to do.
func TestByMarksRefuses(t *testing.T) {
	for _, c := range []struct {
		where, code string
		change      func(r *Request)
	}{
		{"container.aerated", "container_not_named", func(r *Request) { r.Container.Aerated = nil }},
		{"container.start_volume", "overflow_needs_volume", func(r *Request) { r.Container.Overflow = new(true) }},
		{"tolerance", "overflow_never_ends", func(r *Request) { r.Tolerance = new(quantity.Exactly[quantity.AbsoluteSalinity](0)) }},
		{"tolerance", "marks_out_of_reach", func(r *Request) { r.Tolerance = new(quantity.Exactly[quantity.AbsoluteSalinity](1e-5)) }},
		{"to.salinity", "over_24_hours", func(r *Request) { r.To = water(t, "20 ppt", "25 C") }},
	} {
		r := Request{Animals: []Animal{animal(tolerance.Hardy)}, From: water(t, "2 ppt", "25 C"), To: water(t, "10 ppt", "25 C"), Container: Container{Aerated: new(true)}, Route: new(Drip)}
		c.change(&r)
		refused(t, r, c.where, c.code)
	}
}
