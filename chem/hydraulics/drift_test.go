package hydraulics

import (
	"math"
	"slices"
	"testing"

	"saltlock/chem/quantity"
)

// Torricelli and a clamp by hand.
func TestDriftByHand(t *testing.T) {
	for _, c := range []struct {
		before, now quantity.Length
		lo, hi      quantity.Fraction
	}{
		{40, 10, 0.25, 0.5},
		{50, 32, 0.64, 0.8},
		{30, 30, 1, 1},
		{30, 0, 0, 0},
		{10, 40, 2, 4}, // the source was topped up
	} {
		got, err := Drift(c.before, c.now)
		if err != nil || math.Abs(float64(got.Lo-c.lo)) > 1e-12 || math.Abs(float64(got.Hi-c.hi)) > 1e-12 {
			t.Errorf("Drift(%g, %g) = %v, %v, want %g to %g", float64(c.before), float64(c.now), got, err, float64(c.lo), float64(c.hi))
		}
	}
}

// The flows of OpenFlow drift within the range: a long narrow line as a clamp, a
// short wide one as an orifice.
func TestDriftOfLines(t *testing.T) {
	for _, line := range []Line{{Bore: 0.05, Length: 300}, {Bore: 2, Length: 1}, {Bore: 0.2, Length: 100}} {
		before, now := line, line
		before.Head, now.Head = 60, 45
		factor := open(t, now, 20, 25).Flow / open(t, before, 20, 25).Flow
		drift, err := Drift(before.Head, now.Head)
		if err != nil || float64(factor) < float64(drift.Lo)-1e-9 || float64(factor) > float64(drift.Hi)+1e-9 {
			t.Errorf("%+v drifts to %g, want %v, %v", line, float64(factor), drift, err)
		}
	}
}

func TestDriftRefuses(t *testing.T) {
	_, err := Drift(0, -1)
	if got, want := names(err), []string{"line.head", "line.head now"}; !slices.Equal(got, want) {
		t.Errorf("blames %q, want %q", got, want)
	}
}
