package transfer

import (
	"math"
	"testing"
)

// Each alternative takes least of what it is named for, one is chosen, and
// asking for it plans it.
func TestAlternatives(t *testing.T) {
	for _, r := range []Request{
		sixLitres(t, "20 L", "3.282 g/kg", 4), sixLitres(t, "18 L", "0.5 g/kg", 4), sixLitres(t, "12 L", "1 g/kg", 3),
	} {
		p, err := NewPlan(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Alternatives) != 3 {
			t.Fatalf("%d alternatives, want 3", len(p.Alternatives))
		}
		time, visits, water := p.Alternatives[0], p.Alternatives[1], p.Alternatives[2]
		for _, a := range p.Alternatives {
			if a.Visits < visits.Visits {
				t.Errorf("%s takes %d visits, the fewest are %d", a.Prefer, a.Visits, visits.Visits)
			}
			if a.Water.Value < water.Water.Value*(1-1e-9) {
				t.Errorf("%s draws %.3f L, the least is %.3f", a.Prefer, float64(a.Water.Value), float64(water.Water.Value))
			}
			if a.Duration.Value < time.Duration.Value {
				t.Errorf("%s takes %.3f h, the least is %.3f", a.Prefer, float64(a.Duration.Value), float64(time.Duration.Value))
			}
		}
		for _, prefer := range []Preference{PreferTime, PreferVisits, PreferWater} {
			r.Prefer = &prefer
			p, err := NewPlan(t.Context(), r)
			if err != nil {
				t.Fatal(err)
			}
			kept(t, p)
			chosen := 0
			for _, a := range p.Alternatives {
				if !a.Chosen {
					continue
				}
				chosen++
				if math.Abs(float64(a.Water.Value/p.Draw.Volume.Value)-1) > 1e-9 || a.Duration != p.Duration || a.Settings != p.Settings || a.PourOffs != p.PourOffs {
					t.Errorf("asked for least %s: chosen %+v, planned %v with %d settings", prefer, a, p.Duration, p.Settings)
				}
			}
			if chosen == 0 {
				t.Errorf("asked for least %s: none is chosen", prefer)
			}
		}
	}
}
