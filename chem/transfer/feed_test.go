package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// From a jug, no charge changes the salinity by more than one step may, none is more than 10 L,
// together they are what is drawn, and one is in the jug at the start of each run. It is long
// because all of this is checked on the same plans.
func TestCharges(t *testing.T) {
	tried := 0
	for _, r := range []Request{
		sixLitres(t, "20 L", "3.282 g/kg", 3), sixLitres(t, "18 L", "0.5 g/kg", 4), sixLitres(t, "60 L", "1 g/kg", 2), crossing(t, "12 ppt", "4 ppt", Animal{}),
	} {
		if r.Limits != nil {
			r.Limits.AtOnce = read[quantity.AbsoluteSalinity](t, "2 g/kg")
			r.Tolerance = read[quantity.AbsoluteSalinity](t, "1.5 g/kg")
		}
		for _, over := range []bool{false, true} {
			r.Container.Overflow = &over
			p, err := NewPlan(t.Context(), r)
			if err != nil || p.Draw == nil {
				continue
			}
			tried++
			step := float64(limitOf(t, p, "at_once").Limit.Value)
			sum := 0.0
			for _, c := range p.Draw.Charges {
				sum += float64(c.Volume.Value)
				if change := float64(c.Change.Value); change > step*(1+1e-9) || change <= 0 || c.Volume.Value > mostCharge*(1+1e-9) {
					t.Errorf("%.3f L change the salinity by %.4f g/kg, %.4f may be", float64(c.Volume.Value), change, step)
				}
			}
			if all := float64(p.Draw.Volume.Value); p.Draw.Feed != FromJug || math.Abs(sum/all-1) > 1e-6 {
				t.Errorf("from %s, charges of %.6f L of %.6f", p.Draw.Feed, sum, all)
			}
			fills := map[float64]bool{}
			for _, c := range p.Draw.Charges {
				fills[math.Round(float64(c.Time.Value)*1e6)] = true
			}
			for i, x := range p.Phases {
				starts := x.Kind == Fill && (i == 0 || p.Phases[i-1].Kind == PourOff) || x.Kind == RunOver && i == 0
				if starts && !fills[math.Round(float64(x.Start.Value)*1e6)] {
					t.Errorf("no charge at %.4f h, where a run starts", float64(x.Start.Value))
				}
			}
		}
	}
	if tried < 4 {
		t.Errorf("only %d drips", tried)
	}
}

// A stuck valve by hand: 6 L at 0 towards 10 g/kg in a container of 20 L, with room for
// 14; one step is 2 g/kg. Filling, 6 L·10/(6+x) is 8 g/kg after 1.5 L. From a tank of 30 L
// the container fills, to a gap of 3 g/kg, and 16 L run over: 3·e^(−16/20) are left.
func TestStuckValveByHand(t *testing.T) {
	m := moment{gap: 10, mass: 6, room: 14, full: 20, source: 30}
	x := m.stick(2)
	if math.Abs(x.crossed-1.5) > 1e-12 || math.Abs(x.floor-16) > 1e-12 || math.Abs(x.end-3*math.Exp(-0.8)) > 1e-12 {
		t.Errorf("%+v", x)
	}
	if x := m.stick(8); math.Abs(m.after(x.crossed)-2) > 1e-9 || x.crossed <= m.room {
		t.Errorf("8 g/kg after %.4f kg, where %.4f are left", x.crossed, m.after(x.crossed))
	}
	m.source = 1.5
	if x := m.stick(2); !math.IsInf(x.crossed, 1) || x.floor != 0 || math.Abs(x.end-8) > 1e-12 {
		t.Errorf("with a jug of 1.5 L: %+v", x)
	}
}

// What a stuck valve does is said for jug and tank alike: from a jug it stays within one step and
// off the floor; from a large tank it does not.
func TestFailure(t *testing.T) {
	r := sixLitres(t, "20 L", "1.5 g/kg", 3)
	r.Limits.AtOnce = read[quantity.AbsoluteSalinity](t, "2 g/kg")
	for feed, within := range map[Feed]bool{FromJug: true, FromTank: false} {
		r.Feed = &feed
		r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "100 L")}
		d := plan(t, r).Draw
		f := d.Failure
		if d.Feed != feed || f == nil || f.Rate.Value <= 0 || (f.TimeToAtOnce == nil) != within || f.Floor == nil || (f.Floor.Value == 0) != within {
			t.Errorf("from a %s: %+v", feed, f)
		}
	}
	r.SourceTank = nil
	if f := plan(t, r).Draw.Failure; *r.Feed == FromTank && f.Floor != nil {
		t.Errorf("%v run onto the floor from a tank of unknown volume", f.Floor)
	}
}
