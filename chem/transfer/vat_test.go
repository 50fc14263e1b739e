package transfer

import (
	"math"
	"testing"

	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
)

// The table of densities is as good as it claims, over the widest mixtures too.
func TestDensityTable(t *testing.T) {
	for _, w := range [][2]Water{
		{water(t, "0 ppt", "25 C"), water(t, "41 ppt", "25 C")},
		{water(t, "41 ppt", "0.5 C"), water(t, "0 ppt", "39.5 C")},
		{water(t, "0.1 ppt", "1 C"), water(t, "2 ppt", "12 C")},
	} {
		task, err := newTask(Request{From: w[0], To: w[1]}.WithDefaults())
		if err != nil {
			t.Fatal(err)
		}
		table, err := task.densities()
		if err != nil {
			t.Fatal(err)
		}
		for i := range 1001 {
			left := float64(i) / 1000
			s, err := task.at(left * task.gap)
			if err != nil {
				t.Fatal(err)
			}
			want, err := density(s)
			if err != nil {
				t.Fatal(err)
			}
			if got := table(left); math.Abs(got/want-1) > tabled {
				t.Errorf("density at %g of the way from %v: %.9f, want %.9f", left, w, got, want)
			}
		}
	}
}

// What can be counted is never faster than asked, slower by less than 5 %, and counts as itself.
func TestCountable(t *testing.T) {
	for drip := 0.003; drip < 200; drip *= 1.0007 {
		c := Countable(drip)
		got := c.perSecond()
		if got > drip*(1+1e-8) || got < 0.95*drip {
			t.Errorf("Countable(%g) is %d drops in %d s", drip, c.Drops, c.Seconds)
		}
		if Countable(got) != c {
			t.Errorf("Countable(%g) = %v, countable of that %v", drip, c, Countable(got))
		}
	}
}

// The shape of the container gives its capacity and the level marks: 2 L are 1 cm high in a box of
// 100 × 20 cm.
func TestLevelMarks(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 2)
	r.Container.Capacity = nil
	r.Container.Shape = new(mixing.Box)
	length := func(s string) *quantity.Estimate[quantity.Length] { return read[quantity.Length](t, s) }
	r.Container.Length, r.Container.Width, r.Container.Height = length("100 cm"), length("20 cm"), length("10 cm")
	p := plan(t, r)
	for _, phase := range p.Phases {
		if phase.Kind == Fill && math.Abs(float64(phase.ToLevel.Value)-float64(phase.ToVolume.Value)/2) > 1e-9 {
			t.Errorf("%g L stand %g cm high", phase.ToVolume.Value, phase.ToLevel.Value)
		}
	}
	if l := limitOf(t, p, "greatest_volume"); l.Limit.Value != 20 {
		t.Errorf("greatest volume %g L, want 20", l.Limit.Value)
	}
}

// A source tank falls by what is drawn over its surface: 11.91 L (6 L grow to
// three times their mass) over 7500 cm² are 1.59 cm.
func TestDraw(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 2)
	r.Prefer = new(PreferVisits) // one filling
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "450 L"), Surface: read[quantity.Area](t, "7500 cm2")}
	d := plan(t, r).Draw
	if math.Abs(float64(d.Volume.Value)-11.91) > 0.01 || math.Abs(float64(d.LevelDrop.Value)-1.588) > 0.001 {
		t.Errorf("draw %g L, level drop %g cm", d.Volume.Value, d.LevelDrop.Value)
	}
	if math.Abs(float64(d.ReplacementSalt.Value)/(float64(d.ReplacementSalt.Value)+float64(d.PureWater.Value)*0.997048)-0.0100472) > 1e-6 {
		t.Errorf("%g kg of salt in %g L make no water of 10.047 g/kg", d.ReplacementSalt.Value, d.PureWater.Value)
	}
}
