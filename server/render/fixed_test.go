package render

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// The short way writes what strconv writes, in the middle between two numbers too.
func TestAppendFixed(t *testing.T) {
	hold := func(x float64, n int) {
		t.Helper()
		if got, want := string(appendFixed(nil, x, n)), strconv.FormatFloat(x, 'f', n, 64); got != want {
			t.Fatalf("appendFixed(%.17g, %d) = %s, want %s", x, n, got, want)
		}
	}
	for _, x := range []float64{0, math.Copysign(0, -1), 0.5, 1.5, 2.5, -0.001, 0.125, 0.375, 1.005, 9.995, 999.9995, 1e9, 123456789.987654321, 1e300, 5e-324, -13.25} {
		for n := range 20 {
			hold(x, n)
		}
	}
	random := rand.New(rand.NewPCG(3, 1))
	for range 300_000 {
		n := random.IntN(9)
		hold(random.NormFloat64()*math.Pow10(random.IntN(9)-4), n)
		hold((float64(random.IntN(100_000))+0.5)/math.Pow10(n), n)
	}
}

func TestMagnitude(t *testing.T) {
	for m := -22; m <= 22; m++ { // beyond, no float64 is a power of ten
		x, err := strconv.ParseFloat("1e"+strconv.Itoa(m), 64)
		if err != nil {
			t.Fatal(err)
		}
		for f, want := range map[float64]int{x: m, math.Nextafter(x, 0): m - 1, 9.99 * x: m, 2 * x: m} {
			if got := magnitude(f); got != want {
				t.Errorf("magnitude(%g) = %d, want %d", f, got, want)
			}
		}
	}
}
