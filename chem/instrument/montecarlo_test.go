package instrument

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"text/tabwriter"

	"saltlock/chem/quantity"
)

// The propagated uncertainty agrees with that of a hundred thousand draws of
// reading, temperature, formula, composition and correction, for every
// instrument in fresh water, at SG 25C/25C 1.005, 1.010 and 1.020, and in sea water. It is
// long because the draws are next to what is expected of them.
func TestUncertaintyAgainstMonteCarlo(t *testing.T) {
	draws := 100_000
	if testing.Short() {
		draws = 10_000
	}
	usual, err := PitfallWaters()
	if err != nil {
		t.Fatal(err)
	}
	waters := append([]quantity.AbsoluteSalinity{freshest}, usual[:]...)
	compared := 0
	var text strings.Builder
	table := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\ninstrument\tg/kg\tpropagated u\tdrawn u\tratio")
	all := instruments()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		set := all[name]
		for _, sa := range waters {
			at := quantity.Of[quantity.Celsius](22, 0.5)
			r, err := Show(sa, at.Value, set)
			if err != nil {
				continue // off this scale
			}
			r.U = gentle(set, r, sa, at.Value)
			m, err := measure(r, &at, set)
			if err != nil {
				t.Fatalf("%s in %g g/kg: %v", name, sa, err)
			}
			e, _, err := m.absolute()
			if err != nil {
				t.Fatalf("%s in %g g/kg: %v", name, sa, err)
			}
			if 4*e.U > sa {
				continue // cannot tell this water from fresh: draws would fall below no salt
			}
			compared++
			u, refused := scatter(m, draws)
			fmt.Fprintf(table, "%s\t%.2f\t%.4f\t%.4f\t%.3f\n", name, sa, e.U, u, float64(e.U)/u)
			if math.Abs(float64(e.U)/u-1) > 0.03 || refused > draws/500 {
				t.Errorf("%s in %.2f g/kg: propagated %.4f, drawn %.4f g/kg (%d refused)", name, sa, e.U, u, refused)
			}
		}
	}
	table.Flush()
	t.Log(text.String())
	if pairs := len(all) * len(waters); compared < pairs-10 {
		t.Errorf("compared %d of %d", compared, pairs)
	}
}

// freshest is the fresh water of the test: with less salt, half of the draws of
// a hobby instrument would be lighter than water.
const freshest quantity.AbsoluteSalinity = 1.5

// gentle is an uncertainty of the reading that keeps the draws on the scale:
// the usual one, or that of a tenth of the salinity where this is less.
func gentle(set Setup, r quantity.Reading, sa quantity.AbsoluteSalinity, t quantity.Celsius) float64 {
	less, err := Show(sa*0.9, t, set)
	of, noSensor := set.sensor(r)
	if err != nil || noSensor != nil {
		return 0
	}
	tenth := math.Abs(r.Value - less.Value)
	if of.division == nil {
		return tenth
	}
	return min(tenth, of.division(r.Value)/2)
}

// scatter returns the standard deviation of the salinity over draws of the
// inputs, and how many of them no water answers to.
func scatter(m *measurement, draws int) (u float64, refused int) {
	random := rand.New(rand.NewPCG(1, 2))
	x := make([]float64, 5)
	var n, mean, squares float64
	for range draws {
		for i, in := range m.inputs() {
			x[i] = in.Value + in.U*random.NormFloat64()
		}
		w, err := m.sensor.water(m.corrected(x[0], x[4]), quantity.Celsius(x[1]), x[2], x[3])
		if err != nil {
			refused++
			continue
		}
		n++
		d := float64(w.sa) - mean
		mean += d / n
		squares += d * (float64(w.sa) - mean)
	}
	return math.Sqrt(squares / (n - 1)), refused
}
