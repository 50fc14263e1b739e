package quantity

import (
	"errors"
	"math"
	"math/rand"
	"testing"
)

func TestPropagateAnalytic(t *testing.T) {
	linear := func(x []float64) (float64, error) { return 3*x[0] - 4*x[1] + 7, nil }
	quotient := func(x []float64) (float64, error) { return x[0] / x[1], nil }
	for _, c := range []struct {
		name  string
		f     func([]float64) (float64, error)
		fit   float64
		in    []Input
		want  Estimate[Volume]
		share float64 // of the first input
		tol   float64 // relative; the quotient is slightly curved
	}{
		{"3x − 4y", linear, 0, []Input{{"x", 1, 1}, {"y", 2, 1}}, Of[Volume](2, 5), 9. / 25, 1e-14},
		{"3x − 4y with a fit of 12", linear, 12, []Input{{"x", 1, 1}, {"y", 2, 1}}, Of[Volume](2, 13), 9. / 169, 1e-14},
		{"x/y, relative squares add", quotient, 0, []Input{{"x", 10, 0.3}, {"y", 2, 0.08}}, Of[Volume](5, 0.25), 9. / 25, 3e-3},
		{"nothing stated: the fit remains", linear, 12, []Input{{"x", 1, 0}, {"y", 2, 0}}, Of[Volume](2, 12), 0, 1e-14},
		{"nothing known at all", linear, 0, []Input{{"x", 1, 0}, {"y", 2, 0}}, Of[Volume](2, 0), 0, 0},
	} {
		got, shares, err := Propagate[Volume](c.f, c.fit, c.in...)
		if err != nil || got.Value != c.want.Value || math.Abs(float64(got.U-c.want.U)) > c.tol*float64(c.want.U) {
			t.Errorf("%s: Propagate = %v, %v; want %v", c.name, got, err, c.want)
		}
		if len(shares) != 2 || shares[0].Input != "x" || math.Abs(float64(shares[0].Share)-c.share) > c.tol {
			t.Errorf("%s: shares %v, want %v for x", c.name, shares, c.share)
		}
	}
}

// The checked functions give the same as the joint function.
func TestPropagateTyped(t *testing.T) {
	a, b, c := Of[Volume](2, 0.1), Of[Density](3, 0.2), Of[Fraction](0.5, 0.01)
	one := func(v Volume) (Mass, error) { return Mass(v), nil }
	two := func(v Volume, d Density) (Mass, error) { return Mass(float64(v) * float64(d)), nil }
	three := func(v Volume, d Density, f Fraction) (Mass, error) {
		return Mass(float64(v) * float64(d) * float64(f)), nil
	}
	got1, err1 := Propagate1(one, 0, a)
	got2, err2 := Propagate2(two, 0, a, b)
	got3, err3 := Propagate3(three, 0.4, a, b, c)
	if err := errors.Join(err1, err2, err3); err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct{ got, want Estimate[Mass] }{
		{got1, Of[Mass](2, 0.1)},
		{got2, Of[Mass](6, math.Hypot(0.3, 0.4))},
		{got3, Of[Mass](3, math.Sqrt(0.15*0.15+0.2*0.2+0.06*0.06+0.4*0.4))},
	} {
		if x.got.Value != x.want.Value || math.Abs(float64(x.got.U-x.want.U)) > 1e-14 {
			t.Errorf("got %v, want %v", x.got, x.want)
		}
	}
}

var errDomain = errors.New("outside the domain")

// At an edge of the domain the difference is taken on the side that is left.
func TestPropagateAtAnEdge(t *testing.T) {
	unit := func(f Fraction) (Fraction, error) {
		if f < 0 || f > 1 {
			return 0, errDomain
		}
		return 2 * f, nil
	}
	for _, in := range []Estimate[Fraction]{
		Of[Fraction](0, 0.25), Of[Fraction](1, 0.25), // one side is left
		Of[Fraction](0.5, 2), Of[Fraction](0.5, 100), // neither is, but a smaller step fits
	} {
		got, err := Propagate1(unit, 0, in)
		if want := 2 * in.U; err != nil || got.U != want {
			t.Errorf("Propagate1(2x, %v) = %v, %v; want u = %v", in, got, err, want)
		}
	}
	if got, err := Propagate1(unit, 0, Of[Fraction](1.5, 0.1)); !errors.Is(err, errDomain) {
		t.Errorf("a value outside the domain gives %v, %v", got, err)
	}
	point := func(f Fraction) (Fraction, error) {
		if f != 0.5 {
			return 0, errDomain
		}
		return f, nil
	}
	if got, err := Propagate1(point, 0, Of[Fraction](0.5, 0.1)); !errors.Is(err, errDomain) {
		t.Errorf("a domain of one point gives %v, %v", got, err)
	}
}

func TestPropagateRefusesNonsense(t *testing.T) {
	identity := func(v Volume) (Volume, error) { return v, nil }
	for _, u := range []float64{-1, math.NaN(), math.Inf(1)} {
		if got, err := Propagate1(identity, 0, Of[Volume](1, u)); err == nil {
			t.Errorf("an uncertainty of %g gives %v, want an error", u, got)
		}
	}
	nan := func(Volume) (Volume, error) { return Volume(math.NaN()), nil }
	if got, err := Propagate1(nan, 0, Of[Volume](1, 0.1)); err == nil {
		t.Errorf("a function without a value gives %v, want an error", got)
	}
}

// Against Monte Carlo, for functions about as curved as those of sea water.
func TestPropagateMonteCarlo(t *testing.T) {
	const draws = 100_000
	for _, c := range []struct {
		name string
		f    func([]float64) (float64, error)
		in   []Input
	}{
		{"product over quotient", func(x []float64) (float64, error) { return x[0] * x[1] / x[2], nil },
			[]Input{{"a", 10, 0.5}, {"b", 3, 0.1}, {"c", 2, 0.1}}},
		{"power and exponential", func(x []float64) (float64, error) { return math.Pow(x[0], 1.5) * math.Exp(-x[1]), nil },
			[]Input{{"a", 4, 0.3}, {"b", 1, 0.1}}},
		{"cubic", func(x []float64) (float64, error) { return x[0] + x[0]*x[0]*x[0]/20, nil },
			[]Input{{"a", 1, 0.3}}},
	} {
		random := rand.New(rand.NewSource(1))
		var sum, squares float64
		x := make([]float64, len(c.in))
		for range draws {
			for i, in := range c.in {
				x[i] = in.Value + in.U*random.NormFloat64()
			}
			y, _ := c.f(x)
			sum += y
			squares += y * y
		}
		mean := sum / draws
		want := math.Sqrt(squares/draws - mean*mean)
		got, _, err := Propagate[Volume](c.f, 0, c.in...)
		if err != nil || math.Abs(float64(got.U)/want-1) > 0.03 {
			t.Errorf("%s: u = %g, %v; %d draws give %g", c.name, got.U, err, draws, want)
		}
	}
}

func BenchmarkPropagate2(b *testing.B) {
	product := func(v Volume, d Density) (Mass, error) { return Mass(float64(v) * float64(d)), nil }
	x, y := Of[Volume](2, 0.1), Of[Density](3, 0.2)
	for b.Loop() {
		if _, err := Propagate2(product, 0.1, x, y); err != nil {
			b.Fatal(err)
		}
	}
}
