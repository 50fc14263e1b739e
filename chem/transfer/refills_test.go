package transfer

import (
	"math"
	"testing"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// smallJug is a drip whose jug needs refilling: a step may be 1 g/kg.
func smallJug(t testing.TB, over bool) Request {
	t.Helper()
	r := sixLitres(t, "20 L", "0.8 g/kg", 4)
	r.Limits.AtOnce = read[quantity.AbsoluteSalinity](t, "1 g/kg")
	r.Container.Overflow = &over
	return r
}

// Refilling the jug is a visit: a plan counts every time at which its phases or its charges need
// someone, and no plan with another preference has fewer than the one that prefers few.
func TestRefillsCountAsVisits(t *testing.T) {
	refilled := 0
	for _, over := range []bool{false, true} {
		visits := map[Preference]int{}
		for _, prefer := range []Preference{PreferTime, PreferVisits, PreferWater} {
			r := smallJug(t, over)
			r.Prefer = &prefer
			p := plan(t, r)
			if visits[prefer] = p.Visits; p.Visits != p.visits() {
				t.Errorf("overflow %v, least %s: %d visits are told, %d are asked for", over, prefer, p.Visits, p.visits())
			}
			refilled += max(0, p.Visits-p.Settings-p.PourOffs-1)
			for _, a := range p.Alternatives {
				if a.Prefer == PreferVisits && a.Visits >= p.Visits {
					t.Errorf("overflow %v, least %s: %d visits are offered as fewer than %d", over, prefer, a.Visits, p.Visits)
				}
			}
		}
		if least := visits[PreferVisits]; least > visits[PreferTime] || least > visits[PreferWater] {
			t.Errorf("overflow %v: visits by preference %v", over, visits)
		}
	}
	if refilled == 0 {
		t.Error("no jug is refilled between the acts")
	}
}

// A drip in so few steps that one filling each would do needs a visit at each, and uses it
// to set the valve: from a gap of 8 in steps of 2 to 0.8 takes four fillings.
func TestFewestVisitsRefillAtASetting(t *testing.T) {
	r := smallJug(t, false)
	r.Limits.AtOnce = read[quantity.AbsoluteSalinity](t, "2 g/kg")
	r.Prefer = new(PreferVisits)
	p := plan(t, r)
	step := float64(p.Gap.Value-p.Tolerance.Value) / 2
	if least := int(math.Ceil(step*(1-1e-9))) + 1; p.Visits != least {
		t.Errorf("%d visits, %d fillings and the end would do", p.Visits, least)
	}
}

// With hours of the night in which nobody comes, plan and alternatives count until the
// animals can be released, and none of those is better by what was asked for.
func TestAlternativesOnVisits(t *testing.T) {
	listed := 0
	for _, every := range []string{"1 h", "3 h"} {
		r := crossing(t, "2 ppt", "10 ppt", animal(tolerance.Hardy))
		r.Container = Container{Capacity: read[quantity.Volume](t, "20 L"), StartVolume: read[quantity.Volume](t, "6 L"), Aerated: new(true)}
		r.Start = new(time.Date(2026, 12, 1, 18, 0, 0, 0, time.UTC))
		r.Visits = &Visits{Every: read[quantity.Duration](t, every), QuietFrom: new(Clock(22*60 + 30)), QuietUntil: new(Clock(7 * 60))}
		p := plan(t, r)
		worth := func(release quantity.Estimate[quantity.Duration], visits int) float64 {
			return float64(release.Value) + 0.25*float64(visits)
		}
		for _, a := range p.Alternatives {
			listed++
			if a.Release == nil || worth(*a.Release, a.Visits) < worth(p.Release.Time, p.Visits)*(1-worthListing) {
				t.Errorf("every %s: %+v beside %v with %d visits", every, a, p.Release.Time, p.Visits)
			}
			if at := r.Clock(float64(a.Release.Value)); at.Hour() < 7 || at.Hour() > 22 {
				t.Errorf("every %s: a release at %s", every, at)
			}
		}
	}
	if listed == 0 {
		t.Error("nothing is listed")
	}
}
