package hydraulics

import (
	"errors"
	"math"
	"slices"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// off returns by what part got differs from want.
func off(got, want float64) float64 { return math.Abs(got/want - 1) }

func open(t testing.TB, line Line, sa quantity.AbsoluteSalinity, at quantity.Celsius) Stream {
	t.Helper()
	s, err := OpenFlow(line, sa, at)
	if err != nil {
		t.Fatalf("OpenFlow(%+v, %g, %g): %v", line, float64(sa), float64(at), err)
	}
	return s
}

// Hagen and Poiseuille by hand, with the sea water of 25 °C, 1023.34 kg/m³ and
// 0.9592 mPa·s: π · (0.5 mm)⁴ · ρ g · 0.3 m / (128 · µ · 1 m) = 4.8148e-9 m³/s.
// The ends take 0.02 %.
func TestHagenPoiseuilleByHand(t *testing.T) {
	s := open(t, Line{Bore: 0.05, Length: 100, Head: 30}, 35.165, 25)
	if want := 4.8148e-9 * 60e6; off(float64(s.Flow), want) > 5e-4 || s.Regime != Laminar {
		t.Errorf("%.5f mL/min, %s, want %.5f, laminar", float64(s.Flow), s.Regime, want)
	}
}

// Blasius by hand, backwards from a velocity of 1 m/s: water of 20 °C, 998.21 kg/m³
// and 1.0017 mPa·s, in a bore of 1 cm has Re = 9965 and f = 0.3164/9.9912 = 0.03167;
// 2 m of it and 1.5 for the ends make 6.334 + 1.5 = 7.834 velocity heads of
// 50.986 mm, 39.94 cm, for 78.54 mL/s.
func TestBlasiusByHand(t *testing.T) {
	s := open(t, Line{Bore: 1, Length: 200, Head: 39.94}, 0, 20)
	if want := 78.54 * 60; off(float64(s.Flow), want) > 1e-3 || off(s.Reynolds, 9965) > 1e-3 || s.Regime != Turbulent {
		t.Errorf("%.1f mL/min, Re %.0f, %s, want %.1f, 9965, turbulent", float64(s.Flow), s.Reynolds, s.Regime, want)
	}
}

// Sea water of 25 °C in 1 m of line under 0.3 m of head, worked elsewhere by the
// same laws: flow and Reynolds number to three or four digits. The row of 4 mm
// holds for the same convention between the laws.
func TestOpenFlowTable(t *testing.T) {
	for _, c := range []struct {
		bore     quantity.Length
		flow, re float64
		regime   Regime
		lossless float64 // Hagen and Poiseuille alone
	}{
		{0.05, 0.29, 13, Laminar, 0.29},
		{0.1, 4.61, 104, Laminar, 4.62},
		{0.2, 71.3, 807, Laminar, 74.0},
		{0.4, 587, 3325, Transitional, 1183},
		{0.6, 1494, 5638, Turbulent, 5991},
	} {
		s := open(t, Line{Bore: c.bore, Length: 100, Head: 30}, 35.165, 25)
		if off(float64(s.Flow), c.flow) > 0.02 || off(s.Reynolds, c.re) > 0.02 || s.Regime != c.regime {
			t.Errorf("bore %g cm: %.4g mL/min, Re %.0f, %s, want %g, %g, %s", float64(c.bore), float64(s.Flow), s.Reynolds, s.Regime, c.flow, c.re, c.regime)
		}
		if float64(s.Flow) > c.lossless*1.01 {
			t.Errorf("bore %g cm: %.4g mL/min, more than %g without losses", float64(c.bore), float64(s.Flow), c.lossless)
		}
	}
}

// In the regimes that have a law the head comes back from the answer by the law as
// it is usually written, and between them the flow lies between what both give.
func TestOpenFlowBalances(t *testing.T) {
	rho, noDensity := seawater.Density(10, 15)
	mu, noViscosity := seawater.Viscosity(10, 15)
	if err := errors.Join(noDensity, noViscosity); err != nil {
		t.Fatal(err)
	}
	seen := map[Regime]int{}
	for _, bore := range []float64{0.02, 0.1, 0.3, 0.4, 0.5, 0.8, 2} {
		for _, head := range []float64{0.1, 1, 10, 30, 100, 300} {
			s := open(t, Line{quantity.Length(bore), 150, quantity.Length(head)}, 10, 15)
			v := float64(s.Flow) / 60e6 / (math.Pi / 4 * bore * bore / 1e4)
			re := float64(rho) * v * bore / 100 / (float64(mu) / 1000)
			if off(s.Reynolds, re) > 1e-9 {
				t.Errorf("bore %g, head %g: Re %g, want %g", bore, head, s.Reynolds, re)
			}
			needs := func(f float64) float64 { return (f*150/bore + 0.5 + 1) * v * v / 2 / 9.80665 * 100 }
			laminar, turbulent := needs(64/re), needs(0.3164/math.Pow(re, 0.25))
			lo, hi := laminar, turbulent
			switch s.Regime {
			case Laminar:
				hi = laminar
			case Turbulent:
				lo = turbulent
			}
			if head < lo*(1-1e-9) || head > hi*(1+1e-9) {
				t.Errorf("bore %g, %s: the answer needs a head of %g to %g cm, given %g", bore, s.Regime, lo, hi, head)
			}
			seen[s.Regime]++
		}
	}
	for _, r := range []Regime{Laminar, Transitional, Turbulent} {
		if seen[r] == 0 {
			t.Errorf("no %s flow among the cases", r)
		}
	}
}

// More head and more bore let more through, length less, in steps so
// small that the change from one regime to the next is among them.
func TestOpenFlowMonotone(t *testing.T) {
	base := Line{Bore: 0.4, Length: 100, Head: 30}
	for _, c := range []struct {
		name string
		sign float64
		set  func(l *Line, x float64) // x from 0 to 1
	}{
		{"head", 1, func(l *Line, x float64) { l.Head = quantity.Length(0.1 + 299.9*x) }},
		{"bore", 1, func(l *Line, x float64) { l.Bore = quantity.Length(0.02 + 1.98*x) }},
		{"length", -1, func(l *Line, x float64) { l.Length = quantity.Length(1 + 999*x) }},
	} {
		const steps = 2000
		regimes := map[Regime]bool{}
		last := math.NaN()
		for i := range steps + 1 {
			line := base
			c.set(&line, float64(i)/steps)
			s := open(t, line, 20, 25)
			regimes[s.Regime] = true
			if flow := c.sign * float64(s.Flow); flow <= last {
				t.Errorf("%s, step %d: %g mL/min after %g", c.name, i, flow, last)
			} else {
				last = flow
			}
		}
		if !regimes[Transitional] {
			t.Errorf("%s passes no transition: %v", c.name, regimes)
		}
	}
}

// Warmth lets more through where a law holds. Between the laws it need not: water
// that runs more easily is nearer to turbulent.
func TestOpenFlowWarmth(t *testing.T) {
	for regime, bore := range map[Regime]quantity.Length{Laminar: 0.1, Turbulent: 1} {
		cool := open(t, Line{Bore: bore, Length: 100, Head: 30}, 20, 0)
		for at := quantity.Celsius(1); at <= 40; at++ {
			warm := open(t, Line{Bore: bore, Length: 100, Head: 30}, 20, at)
			if warm.Flow <= cool.Flow || warm.Regime != regime {
				t.Errorf("%g °C: %g mL/min, %s, after %g, want more, %s", float64(at), float64(warm.Flow), warm.Regime, float64(cool.Flow), regime)
			}
			cool = warm
		}
	}
}

// At the two Reynolds numbers between which neither law holds there is no jump.
func TestResistanceIsContinuous(t *testing.T) {
	for _, re := range []float64{lastLaminar, firstTurbulent} {
		if below, above := resistance(re*(1-1e-12)), resistance(re*(1+1e-12)); off(above, below) > 1e-10 {
			t.Errorf("resistance jumps from %g to %g at %g", below, above, re)
		}
	}
}

// In a long narrow line twice the bore passes 16 times as much.
func TestOpenFlowFourthPower(t *testing.T) {
	one, two := open(t, Line{Bore: 0.02, Length: 1000, Head: 10}, 0, 25), open(t, Line{Bore: 0.04, Length: 1000, Head: 10}, 0, 25)
	if got := float64(two.Flow / one.Flow); off(got, 16) > 1e-4 {
		t.Errorf("twice the bore passes %g times as much, want 16", got)
	}
}

// names collects what the RangeErrors in err blame.
func names(err error) []string {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		var all []string
		for _, e := range joined.Unwrap() {
			all = append(all, names(e)...)
		}
		return all
	}
	if fault, ok := errors.AsType[*quantity.RangeError](err); ok {
		return []string{fault.Name}
	}
	return nil
}

// Every fault is named at once, as the contract spells it.
func TestOpenFlowRefuses(t *testing.T) {
	_, err := OpenFlow(Line{Bore: quantity.Length(math.NaN()), Length: 0, Head: -1}, 10, 25)
	if got, want := names(err), []string{"line.bore", "line.length", "line.head"}; !slices.Equal(got, want) {
		t.Errorf("blames %q, want %q", got, want)
	}
	if _, err := OpenFlow(Line{Bore: 0.4, Length: 100, Head: 30}, 130, 50); !slices.Equal(names(err), []string{"salinity", "temperature"}) {
		t.Errorf("a brine of 50 °C gives %v", err)
	}
}
