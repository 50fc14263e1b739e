package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

func (p Plan) count(kind PhaseKind) int {
	n := 0
	for _, x := range p.Phases {
		if x.Kind == kind {
			n++
		}
	}
	return n
}

// walkCombined carries out the water changes, then the drip from where they lead.
func walkCombined(t testing.TB, r Request, p Plan) {
	t.Helper()
	changes, drip := p, p
	n := p.count(WaterChange)
	changes.Phases, drip.Phases = p.Phases[:n], p.Phases[n+1:]
	end := p.Phases[n]
	if end.Kind != Hold {
		t.Fatalf("after the water changes comes %s, want a hold", end.Kind)
	}
	meeting := Water{Salinity: quantity.Reading{Value: float64(end.FromSalinity.Value), Scale: quantity.PracticalScale}, Temperature: r.From.Temperature}
	home := r
	home.To = meeting
	carryOut(t, home, changes)
	home = r
	home.From = meeting
	for drip.Curve[0].Time.Value < drip.Phases[0].Start.Value {
		drip.Curve = drip.Curve[1:]
	}
	simulate(t, home, drip)
	rolling(t, r, p)
	if start := drip.Phases[0].Start.Value; start < changes.Phases[n-1].Start.Value+24 {
		t.Errorf("the drip starts at %v, less than a day after the last change", start)
	}
}

// Of 14.066 g/kg the tank takes what exceeds the 6 of one day, and the drip the rest.
func TestCombined(t *testing.T) {
	r := crossing(t, "2 ppt", "16 ppt", animal(tolerance.Moderate))
	r.HomeTank = &HomeTank{Volume: *read[quantity.Volume](t, "200 L")}
	p := plan(t, r)
	if p.Route != Combined || p.Reason.Code != "combined_over_24_hours" {
		t.Fatalf("route %s for %s, want combined", p.Route, p.Reason.Code)
	}
	walkCombined(t, r, p)
	n := p.count(WaterChange)
	if got := float64(p.Phases[n].FromSalinity.Value); math.Abs(got-(16-6*35/35.16504)) > 0.02 {
		t.Errorf("the tank comes to %.4f ppt, want %.4f", got, 16-6*35/35.16504)
	}
	for _, name := range []string{"per_day", "per_week", "filter_step", "per_hour", "hold"} {
		limitOf(t, p, name)
	}
	if p.TotalSalt == nil || p.Draw == nil || p.SetAside == nil || !says(p.Warnings, "filter_gate") || !says(p.Cautions, "drip_from_one_charge") || !says(p.Cautions, "no_animals_near_the_salt") {
		t.Errorf("salt %v, draw %v, warnings %v, cautions %v", p.TotalSalt, p.Draw, p.Warnings, p.Cautions)
	}
}

// mate is an animal that lives from lo to hi, ppt.
func mate(lo, hi float64) Animal {
	a := animal(tolerance.Hardy)
	least, most := quantity.Of[quantity.Salinity](lo, 0), quantity.Of[quantity.Salinity](hi, 0)
	band := tolerance.Sourced[quantity.Salinity]{Band: tolerance.Band[quantity.Salinity]{Min: &least, Max: &most}, Mark: tolerance.Memory}
	a.Known = &Known{Name: "a mate", Stage: tolerance.Stage{Preferred: &band, Survived: &band, SensitivityClass: tolerance.Hardy}}
	return a
}

// If the tank's other animals cannot go all the way, the tank goes as far as they can, or no
// further than needed; if that is not near enough, the plan is refused.
func TestCombinedMindsTankMates(t *testing.T) {
	r := crossing(t, "2 ppt", "16 ppt", animal(tolerance.Moderate))
	r.HomeTank = &HomeTank{Volume: *read[quantity.Volume](t, "200 L")}
	for _, c := range []struct{ lo, hi, meets float64 }{{0, 11, 10.0754}, {0, 14, 10.0754}, {12, 15, 12 * 35.16504 / 35}} {
		r.HomeMates = []Animal{mate(c.lo, c.hi)}
		p := plan(t, r)
		if p.Reason.Code != "combined_for_tank_mates" {
			t.Errorf("reason %s", p.Reason.Code)
		}
		if got := float64(p.Phases[p.count(WaterChange)].FromSalinity.Value) * 35.16504 / 35; math.Abs(got-c.meets) > 0.02 {
			t.Errorf("with mates from %g to %g the tank comes to %.4f g/kg, want %g", c.lo, c.hi, got, c.meets)
		}
	}
	r.HomeMates = []Animal{mate(0, 9)}
	refused(t, r, "home_mates.0.species", "target_above_as_dip")

	alone := crossing(t, "2 ppt", "16 ppt", animal(tolerance.Moderate)) // no container: their tank is to become the new water
	alone.HomeTank, alone.Line, alone.Container = r.HomeTank, nil, Container{}
	if p := plan(t, alone); p.Route != Ramped {
		t.Errorf("without a container: route %s, want ramp", p.Route)
	}
}

func TestCombinedRefuses(t *testing.T) {
	r := crossing(t, "2 ppt", "6 ppt", animal(tolerance.Moderate))
	r.HomeTank, r.Route = &HomeTank{Volume: *read[quantity.Volume](t, "200 L")}, new(Combined)
	refused(t, r, "route", "ramp_not_needed")
	r.To = water(t, "16 ppt", "25 C")
	r.From.HoursInBag, r.From.TAN = read[quantity.Duration](t, "3 h"), read[quantity.AmmoniaNitrogen](t, "0.01 mg/L N")
	refused(t, r, "from.hours_in_bag", "bag_is_no_home_tank")
	used := crossing(t, "2 ppt", "6 ppt", animal(tolerance.Moderate))
	used.RecentChange = read[quantity.AbsoluteSalinity](t, "4 g/kg")
	refused(t, used, "recent_change", "a_day_would_do")
	long := crossing(t, "2 ppt", "16 ppt", animal(tolerance.Moderate))
	for where, code := range map[string]string{"to.salinity": "over_24_hours", "holding_tanks.volume": "holding_tanks_would_do"} {
		refused(t, long, where, code)
	}
	refused(t, long, "home_tank.volume", "combined_would_do")
	refused(t, long, "home_tank.volume", "ramp_would_do")
	long.Route, long.HomeTank = new(Drip), r.HomeTank // described, but the keeper wants the bucket
	refused(t, long, "route", "combined_would_do")
}

// Change in the day before a ramp counts in its first day and week.
func TestRampAfterChange(t *testing.T) {
	r := rampRequest(t, "5 ppt", "15 ppt", "0.2 ppt", tolerance.Moderate) // 1 a day, 2.7 a week
	r.RecentChange = read[quantity.AbsoluteSalinity](t, "0.6 g/kg")
	p := plan(t, r)
	first := func(days int) (sum float64) {
		for _, x := range p.Phases {
			if x.Start.Value < quantity.Duration(24*days) {
				sum += math.Abs(float64(x.ToSalinity.Value-x.FromSalinity.Value)) * 35.16504 / 35
			}
		}
		return sum
	}
	if got := first(1); got > 0.4+1e-9 {
		t.Errorf("the first day changes %.3f g/kg after 0.6 of the 1 that a day may", got)
	}
	if got := first(6); got > 2.1+1e-9 {
		t.Errorf("the first six days change %.3f g/kg after 0.6 of the 2.7 that seven may", got)
	}
	carryOut(t, r, p)
}
