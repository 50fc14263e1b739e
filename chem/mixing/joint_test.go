package mixing

import (
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// What a reading means is kept between two points only if neither the reading nor the
// temperature has moved.
func TestReadingMovesWithItsInputs(t *testing.T) {
	for _, text := range []string{"12 ppt", "20(1) mS/cm", "1.010 SG", "30 g/L"} {
		r := *reading(t, text)
		var j joint
		at := input(&j, "temperature", quantity.Of[quantity.Celsius](25, 1))
		read := j.reading("target", "target", r, at)
		for _, to := range []struct{ temperature, times float64 }{{25, 1}, {26, 1}, {26, 1.1}, {26, 1.1}, {25, 1}, {60, 1}, {25, 1}, {25, -1}, {25, 1}} {
			x := append([]float64(nil), j.nominal...)
			x[0], x[1] = to.temperature, x[1]*to.times
			got, fault := read(x)
			moved, warm := r, quantity.Celsius(to.temperature)
			moved.Value *= to.times
			want, refused := instrument.AbsoluteSalinity(moved, &warm, instrument.Setup{})
			if (fault == nil) != (refused == nil) || refused == nil && got != float64(want) {
				t.Errorf("%s times %g at %g °C means %v, %v, want %v, %v", text, to.times, to.temperature, got, fault, want, refused)
			}
		}
		if fit, err := instrument.FormulaUncertainty(r, 25, instrument.Setup{}); err != nil || (len(j.inputs) == 3) != (fit > 0) {
			t.Errorf("%s has %d inputs, and its formula an uncertainty of %v, %v", text, len(j.inputs), fit, err)
		}
	}
}

// An answer with more inputs than most has them all.
func TestJointOfManyInputs(t *testing.T) {
	var j joint
	for i := range usualInputs + 3 {
		read := input(&j, "volume", quantity.Exactly(quantity.Volume(i)))
		if got := read(j.nominal); got != float64(i) || len(j.inputs) != i+1 || len(j.origins) != i+1 {
			t.Errorf("input %d reads %g of %d", i, got, len(j.inputs))
		}
	}
}
