package transfer

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// curve makes a target curve of pairs of time and salinity.
func curve(t testing.TB, pairs ...string) []TargetPoint {
	t.Helper()
	var points []TargetPoint
	for i := 0; i < len(pairs); i += 2 {
		p := TargetPoint{Time: *read[quantity.Duration](t, pairs[i])}
		if err := p.Salinity.Bind(pairs[i+1]); err != nil {
			t.Fatal(err)
		}
		points = append(points, p)
	}
	return points
}

// A ramp along a curve never goes ahead of it, lags it by no more than a day's
// change while no other limit binds, and ends in the new water.
func TestRampFollowsCurve(t *testing.T) {
	for _, c := range []struct {
		from, to string
		points   []TargetPoint
	}{
		{"6 ppt", "15 ppt", curve(t, "0 h", "6 ppt", "200 days", "15 ppt")},
		{"6 ppt", "15 ppt", curve(t, "100 days", "8 ppt", "200 days", "15 ppt")}, // from where the tank is
		{"15 ppt", "2 ppt", curve(t, "0 h", "15 ppt", "300 days", "2 ppt")},
	} {
		r := rampRequest(t, c.from, c.to, "0.2 ppt", tolerance.Moderate)
		r.HomeTank.TargetCurve = c.points
		p, err := NewPlan(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		kept(t, p)
		carryOut(t, r, p)
		task, err := newTask(r.WithDefaults())
		if err != nil {
			t.Fatal(err)
		}
		along, err := task.along(c.points)
		if err != nil {
			t.Fatal(err)
		}
		sign := math.Copysign(1, task.to.sa-task.from.sa)
		for _, ph := range p.Phases {
			day := float64(ph.Start.Value) / 24
			end := float64(ph.ToSalinity.Value) * 35.16504 / 35
			if lag := sign * (along(day) - end); lag < -1e-6 || lag > 1+1e-6 {
				t.Errorf("%s to %s: on day %g the tank comes to %.3f, %.3f behind the curve", c.from, c.to, day, end, lag)
			}
		}
		if last := p.Duration.Value / 24; last < quantity.Duration(float64(c.points[len(c.points)-1].Time.Value)/24-30) {
			t.Errorf("%s to %s: over after %g days", c.from, c.to, float64(last))
		}
	}
}

func TestRampRefusesCurve(t *testing.T) {
	for _, c := range []struct {
		points []TargetPoint
		where  string
	}{
		{curve(t, "0 h", "6 ppt", "100 days", "12 ppt"), "home_tank.target_curve.1.salinity"},                                          // ends elsewhere
		{curve(t, "0 h", "6 ppt", "50 days", "12 ppt", "60 days", "8 ppt", "100 days", "15 ppt"), "home_tank.target_curve.2.salinity"}, // turns back
		{curve(t, "50 days", "6 ppt", "50 days", "15 ppt"), "home_tank.target_curve.1.time"},
	} {
		r := rampRequest(t, "6 ppt", "15 ppt", "0.2 ppt", tolerance.Moderate)
		r.HomeTank.TargetCurve = c.points
		_, err := NewPlan(t.Context(), r)
		conflict, ok := errors.AsType[*instrument.ConflictError](err)
		if !ok || conflict.Name != c.where {
			t.Errorf("%v: %v, want a conflict at %s", c.points, err, c.where)
		}
	}
	r := rampRequest(t, "6 ppt", "15 ppt", "0.2 ppt", tolerance.Moderate)
	r.HomeTank.TargetCurve = curve(t, "0 h", "6 ppt", "2000 days", "15 ppt")
	if limit, ok := errors.AsType[*quantity.RangeError](second(NewPlan(t.Context(), r))); !ok || limit.Name != "home_tank.target_curve.1.time" {
		t.Errorf("a curve of 2000 days: %v", limit)
	}
}

// A length replaces the mass, with more doubt than a scale leaves.
func TestLengthStandsInForMass(t *testing.T) {
	measured := scats(t, 2, "1 g")
	measured.Animals[0].Mass, measured.Animals[0].Length = nil, read[quantity.Length](t, "3 cm")
	measured.Animals[0].Known = &Known{Name: "scat", Stage: tolerance.Stage{Stage: tolerance.Juvenile, SensitivityClass: tolerance.Hardy}, Shape: tolerance.ShortAndDeep}
	p, err := NewPlan(t.Context(), measured)
	if err != nil {
		t.Fatal(err)
	}
	mass, err := tolerance.MassFromLength(tolerance.ShortAndDeep, *measured.Animals[0].Length)
	if err != nil {
		t.Fatal(err)
	}
	weighed := measured
	weighed.Animals = []Animal{measured.Animals[0]}
	weighed.Animals[0].Length, weighed.Animals[0].Mass = nil, &mass
	q, err := NewPlan(t.Context(), weighed)
	if err != nil || p.LifeSupport == nil || *p.LifeSupport != *q.LifeSupport {
		t.Errorf("by length %+v, by the mass it stands for %+v, %v", p.LifeSupport, q.LifeSupport, err)
	}
	said := false
	for _, n := range p.Assumptions {
		said = said || n.Code == "mass_from_length"
	}
	if !said {
		t.Error("the plan does not tell that a length stands in for the mass")
	}
}

// A length replaces nothing if no relation is known, next to a mass, or beyond all fish.
func TestLengthThatStandsInForNothing(t *testing.T) {
	measured, mass := scats(t, 2, "1 g"), read[quantity.Mass](t, "1 g")
	measured.Animals[0].Mass, measured.Animals[0].Length = nil, read[quantity.Length](t, "3 cm")
	measured.Animals[0].Known = &Known{Name: "scat", Stage: tolerance.Stage{Stage: tolerance.Juvenile, SensitivityClass: tolerance.Hardy}, Shape: tolerance.ShortAndDeep}
	unshaped := measured
	unshaped.Animals = []Animal{measured.Animals[0]}
	unshaped.Animals[0].Known = &Known{Name: "crab"}
	if missing, ok := errors.AsType[*instrument.MissingError](second(NewPlan(t.Context(), unshaped))); !ok || missing.Name != "animals.0.mass" {
		t.Errorf("a length of an animal without a relation: %v", missing)
	}
	both := measured
	both.Animals = []Animal{measured.Animals[0]}
	both.Animals[0].Mass = mass
	if conflict, ok := errors.AsType[*instrument.ConflictError](second(NewPlan(t.Context(), both))); !ok || conflict.Name != "animals.0.length" {
		t.Errorf("length and mass: %v", conflict)
	}
	long := measured
	long.Animals = []Animal{measured.Animals[0]}
	long.Animals[0].Length = read[quantity.Length](t, "9 m")
	if limit, ok := errors.AsType[*quantity.RangeError](second(NewPlan(t.Context(), long))); !ok || limit.Name != "animals.0.length" {
		t.Errorf("a length of nine metres: %v", limit)
	}
}
