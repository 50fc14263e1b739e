package mixing

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// carried repeats the steps of a change on masses alone and returns the
// salinity they end at and the litres in the tank.
func carried(t *testing.T, r WaterChangeRequest, w WaterChange) (sa, volume float64) {
	t.Helper()
	sa = resolved(t, r.Salinity)
	volume = float64(r.Volume.Value)
	for _, s := range w.Steps {
		fresh := float64(s.NewWaterSalinity.Absolute.Value)
		rest := (volume - float64(s.TakeOut.Value)) * kilogram(t, sa, 25)
		added := float64(s.PutIn.Value) * kilogram(t, fresh, 25)
		sa = (rest*sa + added*fresh) / (rest + added)
		volume = (rest + added) / kilogram(t, sa, 25)
		if !near(sa, float64(s.AbsoluteSalinity.Value), 1e-11) {
			t.Errorf("a step ends at %.15g g/kg, told %.15g", sa, s.AbsoluteSalinity.Value)
		}
	}
	return sa, volume
}

// Steps carried out as stated end at the target and at the starting level, take the stated
// salt, and keep the limits. It is long because all of this is checked on the same changes.
func TestChange(t *testing.T) {
	for _, c := range []struct {
		name                                    string
		salinity, target, change, fresh, source string
		most, share                             string
		steps                                   int
		end                                     string
	}{
		{"exchange up", "8 ppt", "10 ppt", "", "35 ppt", "", "", "", 1, "10 ppt"},
		{"exchange down", "20 ppt", "15 ppt", "", "0.2 ppt", "", "", "", 1, "15 ppt"},
		{"exchange in steps of salinity", "8 ppt", "14 ppt", "", "35 ppt", "", "2 g/kg", "", 4, "14 ppt"},
		{"exchange in steps of share", "8 ppt", "20 ppt", "", "35 ppt", "", "", "20 %", 3, "20 ppt"},
		{"exchange for water made from tap water", "8 ppt", "10 ppt", "", "35 ppt", "0.3 ppt", "", "", 1, "10 ppt"},
		{"weekly hold", "15 ppt", "", "50 L", "", "", "", "", 1, "15 ppt"},
		{"weekly rise", "15 ppt", "17 ppt", "50 L", "", "0.3 ppt", "", "", 1, "17 ppt"},
		{"weekly rise in steps", "15 ppt", "20 ppt", "60 L", "", "", "1 g/kg", "", 6, "20 ppt"},
		{"weekly fall", "15 ppt", "13 ppt", "50 L", "", "", "", "", 1, "13 ppt"},
		{"outcome", "15 ppt", "", "50 L", "30 ppt", "", "", "", 1, ""},
		{"outcome in steps", "15 ppt", "", "120 L", "30 ppt", "", "", "25 %", 3, ""},
		{"everything", "15 ppt", "", "200 L", "30 ppt", "", "", "", 1, "30 ppt"},
	} {
		r := WaterChangeRequest{Volume: *of[quantity.Volume](t, "200 L"), Salinity: *reading(t, c.salinity), Target: reading(t, c.target),
			Change: of[quantity.Volume](t, c.change), NewWater: reading(t, c.fresh), Source: reading(t, c.source),
			GreatestChange: of[quantity.AbsoluteSalinity](t, c.most), GreatestShare: of[quantity.Fraction](t, c.share)}
		w, err := Change(r)
		if err != nil || len(w.Steps) != c.steps {
			t.Errorf("%s: %d steps, %v, want %d", c.name, len(w.Steps), err, c.steps)
			continue
		}
		sa, volume := carried(t, r, w)
		if !near(volume, 200, 1e-11) || !near(sa, float64(w.SalinityAfter.Absolute.Value), 1e-11) {
			t.Errorf("%s: carried out it ends at %.15g g/kg in %.15g L, told %.15g", c.name, sa, volume, w.SalinityAfter.Absolute.Value)
		}
		if end := reading(t, c.end); end != nil && !near(sa, resolved(t, *end), 1e-11) {
			t.Errorf("%s: ends at %.15g g/kg, want %s", c.name, sa, c.end)
		}
		if w.Salt != nil {
			mass, salt := allNew(t, w)
			from := resolved(t, *r.WithDefaults().Source)
			source := float64(w.SourceWater.Value) * kilogram(t, from, 25)
			if !near(source+float64(w.Salt.Value), mass, 1e-11) || !near(source*from/1000+float64(w.Salt.Value), salt, 1e-11) {
				t.Errorf("%s: %v of salt in %v make %.15g kg with %.15g of salt, the new water is %.15g with %.15g", c.name,
					w.Salt, w.SourceWater, source+float64(w.Salt.Value), source*from/1000+float64(w.Salt.Value), mass, salt)
			}
		}
	}
}

// allNew is the new water of all steps, in kg.
func allNew(t *testing.T, w WaterChange) (mass, salt float64) {
	t.Helper()
	for _, s := range w.Steps {
		fresh := float64(s.NewWaterSalinity.Absolute.Value)
		m := float64(s.PutIn.Value) * kilogram(t, fresh, 25)
		mass, salt = mass+m, salt+m*fresh/1000
	}
	return mass, salt
}

func TestChangeRefuses(t *testing.T) {
	base := func(f func(r *WaterChangeRequest)) WaterChangeRequest {
		r := WaterChangeRequest{Volume: *of[quantity.Volume](t, "200 L"), Salinity: *reading(t, "15 ppt")}
		f(&r)
		return r
	}
	for _, c := range []struct {
		name  string
		r     WaterChangeRequest
		where string
	}{
		{"nothing asked", base(func(r *WaterChangeRequest) {}), "change"},
		{"no new water", base(func(r *WaterChangeRequest) { r.Target = reading(t, "20 ppt") }), "new_water"},
		{"away from the new water", base(func(r *WaterChangeRequest) { r.Target, r.NewWater = reading(t, "20 ppt"), reading(t, "10 ppt") }), "target*"},
		{"beyond the new water", base(func(r *WaterChangeRequest) { r.Target, r.NewWater = reading(t, "20 ppt"), reading(t, "18 ppt") }), "target*"},
		{"all three", base(func(r *WaterChangeRequest) {
			r.Target, r.NewWater, r.Change = reading(t, "20 ppt"), reading(t, "30 ppt"), of[quantity.Volume](t, "50 L")
		}), "target"},
		{"change above the tank", base(func(r *WaterChangeRequest) { r.Change = of[quantity.Volume](t, "300 L") }), "change"},
		{"fall too far", base(func(r *WaterChangeRequest) { r.Target, r.Change = reading(t, "10 ppt"), of[quantity.Volume](t, "20 L") }), "target*"},
		{"rise too far", base(func(r *WaterChangeRequest) { r.Target, r.Change = reading(t, "40 ppt"), of[quantity.Volume](t, "20 L") }), "target*"},
		{"source saltier than the new water", base(func(r *WaterChangeRequest) {
			r.Target, r.NewWater, r.Source = reading(t, "10 ppt"), reading(t, "5 ppt"), reading(t, "8 ppt")
		}), "new_water*"},
		{"weekly change above the share", base(func(r *WaterChangeRequest) {
			r.Change, r.GreatestShare = of[quantity.Volume](t, "100 L"), of[quantity.Fraction](t, "20 %")
		}), "change"},
		{"a thousand steps", base(func(r *WaterChangeRequest) {
			r.Target, r.NewWater, r.GreatestShare = reading(t, "34 ppt"), reading(t, "35 ppt"), of[quantity.Fraction](t, "0.2 %")
		}), "greatest_share"},
		{"a share of nothing", base(func(r *WaterChangeRequest) {
			r.Change, r.GreatestShare = of[quantity.Volume](t, "10 L"), of[quantity.Fraction](t, "0 %")
		}), "greatest_share"},
	} {
		_, err := Change(c.r)
		if where := faultOf(err); where != c.where {
			t.Errorf("%s: %v at %q, want a fault at %q", c.name, err, where, c.where)
		}
	}
}

// Where 1 % of the volume is gone, a litre holds 1/0.99 of the salt, which by
// mass is a little less than 0.35 more at 35 ppt; what is added makes up for it.
func TestTopOff(t *testing.T) {
	r := TopOffRequest{Volume: *of[quantity.Volume](t, "100 L"), Salinity: *reading(t, "35 ppt"), Missing: of[quantity.Volume](t, "1 L")}
	k, err := TopOffTank(r)
	if err != nil || math.Abs(float64(k.SalinityNow.Practical.Value)-35.345) > 0.005 || !near(float64(k.FreshWater.Value), 1, 2e-3) {
		t.Fatalf("TopOffTank(1 L of 100 gone) = %+v, %v, want 35.34 ppt and 1 L to add", k, err)
	}
	if !near(float64(k.SalinityAfter.Practical.Value), 35, 1e-12) {
		t.Errorf("topped off with fresh water it stands at %v, want 35", k.SalinityAfter.Practical)
	}
	salt := 100 * kilogram(t, resolved(t, r.Salinity), 25) * resolved(t, r.Salinity)
	now := float64(k.SalinityNow.Absolute.Value)
	if left := 99 * kilogram(t, now, 25) * now; !near(left, salt, 1e-12) {
		t.Errorf("%.15g g of salt left of %.15g", left, salt)
	}
	bySalinity := r
	bySalinity.Missing, bySalinity.SalinityNow = nil, &quantity.Reading{Value: now, Scale: quantity.AbsoluteScale}
	if again, err := TopOffTank(bySalinity); err != nil || !near(float64(again.Missing.Value), 1, 1e-11) || !near(float64(again.FreshWater.Value), float64(k.FreshWater.Value), 1e-11) {
		t.Errorf("from the salinity %v are missing, %v, want 1 L", again.Missing, err)
	}
}

// Topping off with salt water drifts by the salt poured in; with fresh water not at all.
func TestTopOffDrifts(t *testing.T) {
	r := TopOffRequest{Volume: *of[quantity.Volume](t, "100 L"), Salinity: *reading(t, "35 ppt"), EvaporationPerDay: of[quantity.Volume](t, "2 L"), Period: of[quantity.Duration](t, "30 d")}
	k, err := TopOffTank(r)
	if err != nil || math.Abs(float64(k.Drift.Value)) > 1e-11 {
		t.Errorf("topped off with fresh water it drifts by %v, %v", k.Drift, err)
	}
	r.TopOffWater = reading(t, "3 g/kg")
	k, err = TopOffTank(r)
	if err != nil {
		t.Fatal(err)
	}
	end := float64(k.SalinityAtEnd.Absolute.Value)
	before, after := 100*kilogram(t, resolved(t, r.Salinity), 25), 100*kilogram(t, end, 25)
	added := after - before + 60*kilogram(t, 0, 25)
	if gain := after*end - before*resolved(t, r.Salinity); !near(gain, 3*added, 1e-11) {
		t.Errorf("the tank gained %.15g g of salt, the top-off brought %.15g", gain, 3*added)
	}
}

func TestTopOffRefuses(t *testing.T) {
	base := func(f func(r *TopOffRequest)) TopOffRequest {
		r := TopOffRequest{Volume: *of[quantity.Volume](t, "100 L"), Salinity: *reading(t, "35 ppt")}
		f(&r)
		return r
	}
	for _, c := range []struct {
		name  string
		r     TopOffRequest
		where string
	}{
		{"nothing asked", base(func(r *TopOffRequest) {}), "missing"},
		{"twice told", base(func(r *TopOffRequest) { r.Missing, r.SalinityNow = of[quantity.Volume](t, "1 L"), reading(t, "36 ppt") }), "missing"},
		{"more than there was", base(func(r *TopOffRequest) { r.Missing = of[quantity.Volume](t, "100 L") }), "missing"},
		{"boiled to brine", base(func(r *TopOffRequest) { r.Missing = of[quantity.Volume](t, "90 L") }), "missing"},
		{"fresher than before", base(func(r *TopOffRequest) { r.SalinityNow = reading(t, "34 ppt") }), "salinity_now*"},
		{"salted for years", base(func(r *TopOffRequest) {
			r.EvaporationPerDay, r.Period, r.TopOffWater = of[quantity.Volume](t, "10 L"), of[quantity.Duration](t, "3000 d"), reading(t, "40 ppt")
		}), "top_off_water*"},
		{"for ever", base(func(r *TopOffRequest) {
			r.EvaporationPerDay, r.Period = of[quantity.Volume](t, "1 L"), of[quantity.Duration](t, "1e9 d")
		}), "period"},
	} {
		_, err := TopOffTank(c.r)
		if where := faultOf(err); where != c.where {
			t.Errorf("%s: %v at %q, want a fault at %q", c.name, err, where, c.where)
		}
	}
}
