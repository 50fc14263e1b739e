package mixing

import (
	"math"
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// resolved is a reading in g/kg, taken at 25 °C.
func resolved(t testing.TB, r quantity.Reading) float64 {
	t.Helper()
	sa, err := instrument.AbsoluteSalinity(r, new(quantity.Celsius(25)), instrument.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	return float64(sa)
}

// kilogram is the mass of a litre.
func kilogram(t testing.TB, sa, at float64) float64 {
	t.Helper()
	rho, err := seawater.Density(quantity.AbsoluteSalinity(sa), quantity.Celsius(at))
	if err != nil {
		t.Fatal(err)
	}
	return float64(rho) / 1000
}

// Mass, salt, heat and alkalinity go in and come out.
func TestBlendConserves(t *testing.T) {
	list := waters(t, "10 L, 35 ppt, 30 C, 2.4 meq/L", "4 L, 0.2 ppt, 12 C, 4 meq/L", "0.5 L, 90 g/kg, 39 C, 1 meq/L", "25 L, 8 ppt, 1 C, 3 meq/L")
	b, err := BlendWaters(BlendRequest{Water: list})
	if err != nil {
		t.Fatal(err)
	}
	var mass, salt, heat, bases float64
	for i, w := range list {
		sa, at := resolved(t, w.Salinity), float64(w.Temperature.Value)
		m := float64(w.Volume.Value) * kilogram(t, sa, at)
		h, err := seawater.SpecificEnthalpy(quantity.AbsoluteSalinity(sa), w.Temperature.Value)
		if err != nil {
			t.Fatal(err)
		}
		mass, salt, heat, bases = mass+m, salt+m*sa, heat+m*float64(h), bases+float64(w.Volume.Value)*float64(w.Alkalinity.Value)
		if share := float64(b.Waters[i].Share.Value) * float64(b.Mass.Value); !near(share, m, 1e-12) {
			t.Errorf("water %d has %.15g kg of the blend, want %.15g", i+1, share, m)
		}
	}
	h, err := seawater.SpecificEnthalpy(b.AbsoluteSalinity.Value, b.Temperature.Value)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"mass", float64(b.Mass.Value), mass},
		{"salt", float64(b.Mass.Value) * float64(b.AbsoluteSalinity.Value), salt},
		{"heat", float64(b.Mass.Value) * float64(h), heat},
		{"alkalinity", float64(b.Volume.Value) * float64(b.Alkalinity.Value), bases},
		{"density", float64(b.Density.Value) / 1000 * float64(b.Volume.Value), mass},
	} {
		if !near(c.got, c.want, 1e-12) {
			t.Errorf("the blend holds %s %.15g, its waters %.15g", c.name, c.got, c.want)
		}
	}
}

// The volume found for a target, poured in, gives the target.
func TestBlendSolves(t *testing.T) {
	for _, target := range []string{"2 ppt", "10 ppt", "1.015 SG", "33 ppt"} {
		list := waters(t, "20 L, 1 ppt, 24 C", "34 ppt, 26 C", "5 L, 3 g/kg, 20 C")
		r := BlendRequest{Water: list, Target: reading(t, target)}
		b, err := BlendWaters(r)
		if err != nil || !b.Waters[1].Solved || b.Waters[0].Solved {
			t.Fatalf("BlendWaters(%s) = %+v, %v", target, b.Waters, err)
		}
		if want := resolved(t, *r.Target); !near(float64(b.AbsoluteSalinity.Value), want, 1e-12) {
			t.Errorf("BlendWaters(%s) comes to %v, want %g g/kg", target, b.AbsoluteSalinity, want)
		}
		list[1].Volume = &b.Waters[1].Volume
		again, err := BlendWaters(BlendRequest{Water: list})
		if err != nil || !near(float64(again.AbsoluteSalinity.Value), float64(b.AbsoluteSalinity.Value), 1e-12) || !near(float64(again.Volume.Value), float64(b.Volume.Value), 1e-12) {
			t.Errorf("%s poured as found comes to %v in %v, want %v in %v", target, again.AbsoluteSalinity, again.Volume, b.AbsoluteSalinity, b.Volume)
		}
	}
}

// Averages by volume err as the reference sheet says, to 0.005 of practical
// salinity: half and half with fresh water, computed with python3-gsw 3.6.16.
func TestVolumeAverageErrs(t *testing.T) {
	for _, c := range []struct {
		reading string
		want    float64
	}{{"1.005 SG", -0.008}, {"1.010 SG", -0.03}, {"1.020 SG", -0.13}, {"35 g/kg", -0.23}} {
		list := waters(t, "1 L, 0 ppt, 25 C", "1 L, "+c.reading+", 25 C")
		b, err := BlendWaters(BlendRequest{Water: list})
		if err != nil {
			t.Fatal(err)
		}
		average := resolved(t, list[1].Salinity) * 35 / 35.16504 / 2
		if got := average - float64(b.PracticalSalinity.Value); math.Abs(got-c.want) > 0.005 {
			t.Errorf("half of %s by volume errs by %.4f, want %.3f", c.reading, got, c.want)
		}
	}
}

func TestBlendRefuses(t *testing.T) {
	for _, c := range []struct {
		name   string
		water  []string
		target string
		where  string
	}{
		{"one water", []string{"1 L, 3 ppt"}, "", "water"},
		{"two to be found", []string{"3 ppt", "5 ppt"}, "4 ppt", "water"},
		{"no target", []string{"1 L, 3 ppt", "5 ppt"}, "", "target"},
		{"nothing to be found", []string{"1 L, 3 ppt", "1 L, 5 ppt"}, "4 ppt", "target"},
		{"target too high", []string{"1 L, 3 ppt", "5 ppt"}, "6 ppt", "target*"},
		{"target too low", []string{"1 L, 3 ppt", "5 ppt"}, "2 ppt", "target*"},
		{"target is the water", []string{"1 L, 3 ppt", "5 ppt"}, "5 ppt", "target*"},
		{"negative volume", []string{"-1 L, 3 ppt", "1 L, 5 ppt"}, "", "water"},
		{"hot", []string{"1 L, 3 ppt, 70 C", "1 L, 5 ppt"}, "", "water"},
		{"too salty", []string{"1 L, 300 ppt", "1 L, 5 ppt"}, "", "water"},
		{"uncertain beyond sense", []string{"1 ± 1e90 L, 30 ppt", "1 L, 5 ± 1e60 ppt"}, "", "water"},
	} {
		r := BlendRequest{Water: waters(t, c.water...), Target: reading(t, c.target)}
		_, err := BlendWaters(r)
		if where := faultOf(err); where != c.where {
			t.Errorf("%s: %v at %q, want a fault at %q", c.name, err, where, c.where)
		}
	}
}

// A portion prints as it is parsed, whatever the order it came in.
func TestPortion(t *testing.T) {
	for text, want := range map[string]string{
		"10 L, 35 ppt, 25 C, 2 meq/L":     "10 L, 35 ppt, 25 °C, 2 meq/L",
		"25C,1.010 SG 60F/60F,10L":        "10 L, 1.01 SG 60F/60F, 25 °C",
		"5 g/kg":                          "5 g/kg",
		"0.5 mmol/L, 0.2(1) ppt, 500 mL":  "0.5 L, 0.2 ± 0.1 ppt, 0.5 meq/L",
		"  1 L ,  20 mS/cm , 20 ± 0.5 °C": "1 L, 20 mS/cm, 20 ± 0.5 °C",
	} {
		var p, again Portion
		if err := p.Bind(text); err != nil || p.String() != want {
			t.Errorf("Portion %q prints as %q, %v, want %q", text, p, err, want)
		}
		if err := again.Bind(p.String()); err != nil || again.String() != p.String() {
			t.Errorf("Portion %q comes back as %q, %v", p, again, err)
		}
	}
	for _, text := range []string{"", "10 L", "10 L, 35", "10 L, 20 L, 3 ppt", "3 ppt, 4 ppt", "10 L; 35 ppt", "10 L, 35 ppt, 25 C, 8 dKH, ", "1,5 L, 3 ppt", "3 ppt, NaN L"} {
		var p Portion
		if err := p.Bind(text); err == nil {
			t.Errorf("Portion %q is taken as %q", text, p)
		}
	}
}
