package hydraulics

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"saltlock/chem/quantity"
)

func window(t testing.TB, surface quantity.Area, rim quantity.Volume, moments []Moment) Window {
	t.Helper()
	w, err := IntakeWindow(surface, rim, moments)
	if err != nil {
		t.Fatalf("IntakeWindow(%g, %g, %v): %v", float64(surface), float64(rim), moments, err)
	}
	return w
}

// By hand. A source of 7500 cm² falls by 1 cm for 7.5 L.
func TestIntakeWindowByHand(t *testing.T) {
	for _, c := range []struct {
		name                   string
		surface                quantity.Area
		moments                []Moment
		least, greatest, spill float64
	}{
		// 12 L come in, of 14 L of room: 1.6 + 1 cm against 14/7.5.
		{"one filling", 7500, []Moment{{0, 6}, {12, 18}}, 2.6, 14 / 7.5, 5.5},
		// The same from a small source, where a centimetre is 1 L: 13 against 14.
		{"small source", 1000, []Moment{{0, 6}, {12, 18}}, 13, 14, 0},
		// Poured off to 6 L and filled again: the first filling leaves no more room than
		// before, and the second needs 24 L under the surface.
		{"with a pour-off", 1000, []Moment{{0, 6}, {12, 18}, {12, 6}, {24, 18}}, 25, 14, 11},
		{"nothing drawn", 1000, []Moment{{0, 6}}, 1, 14, 0},
	} {
		w := window(t, c.surface, 20, c.moments)
		if math.Abs(float64(w.Least)-c.least) > 1e-12 || math.Abs(float64(w.Greatest)-c.greatest) > 1e-12 || math.Abs(float64(w.Spill)-c.spill) > 1e-12 {
			t.Errorf("%s: %+v, want %g, %g, %g", c.name, w, c.least, c.greatest, c.spill)
		}
		if w.OK() != (c.spill == 0) {
			t.Errorf("%s: OK() = %v with %g L to spill", c.name, w.OK(), c.spill)
		}
	}
}

// spilled drains the source into the container by the cup from a moment on, until
// the siphon draws air, and returns what ran over.
func spilled(surface, rim, depth float64, m Moment) float64 {
	level, volume, over := -float64(m.Drawn)*1000/surface, float64(m.Volume), 0.0
	for level > -depth {
		cup := min(0.01, (level+depth)*surface/1000)
		level -= max(cup, 1e-9) * 1000 / surface
		if volume += cup; volume > rim {
			over, volume = over+volume-rim, rim
		}
	}
	return over
}

// Random plans of fillings and pour-offs, with the valve failing at any time of any:
// at the greatest depth nothing runs over, deeper something does, and at the least
// depth of a plan without a window as much as it says.
func TestIntakeWindowAgainstFailures(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	windows := map[bool]int{}
	for range 60 {
		surface, rim := math.Exp(5+4*r.Float64()), 5+20*r.Float64()
		now := Moment{Volume: quantity.Volume(rim * (0.2 + 0.5*r.Float64()))}
		moments := []Moment{now}
		for range r.IntN(4) {
			in := quantity.Volume(r.Float64() * (rim - float64(now.Volume)))
			now = Moment{now.Drawn + in, now.Volume + in}
			moments = append(moments, now)
			now.Volume *= quantity.Volume(r.Float64())
			moments = append(moments, now)
		}
		w := window(t, quantity.Area(surface), quantity.Volume(rim), moments)
		windows[w.OK()]++
		if float64(now.Drawn)*1000/surface >= float64(w.Least) {
			t.Errorf("the draw takes the surface to an intake at %g cm", float64(w.Least))
		}
		worst := func(depth float64) (over float64) {
			for i, m := range moments {
				next := moments[min(i+1, len(moments)-1)]
				for part := quantity.Volume(0); part <= 1; part += 0.125 {
					over = max(over, spilled(surface, rim, depth, Moment{m.Drawn + part*(next.Drawn-m.Drawn), m.Volume + part*(next.Volume-m.Volume)}))
				}
			}
			return over
		}
		if over := worst(float64(w.Greatest)); over > 1e-4 {
			t.Errorf("%g L run over at the greatest depth of %+v", over, w)
		}
		if over := worst(float64(w.Greatest) + 100/surface); math.Abs(over-0.1) > 1e-4 {
			t.Errorf("%g L run over at 0.1 L under the greatest depth of %+v", over, w)
		}
		if over := worst(float64(w.Least)); math.Abs(over-float64(w.Spill)) > 1e-4 {
			t.Errorf("%g L run over at the least depth of %+v", over, w)
		}
	}
	if windows[true] == 0 || windows[false] == 0 {
		t.Errorf("plans with and without a window: %v", windows)
	}
}

func TestWindowCheck(t *testing.T) {
	w := window(t, 1000, 20, []Moment{{0, 6}, {12, 18}})
	for depth, want := range map[quantity.Length][]string{
		12: {"line.intake_depth"}, 13: nil, 13.5: nil, 14: nil, 14.1: {"line.intake_depth"}, quantity.Length(math.NaN()): {"line.intake_depth"},
	} {
		if got := names(w.Check(depth)); !slices.Equal(got, want) {
			t.Errorf("Check(%g) blames %q, want %q", float64(depth), got, want)
		}
	}
	without := window(t, 7500, 20, []Moment{{0, 6}, {12, 18}})
	if fault, ok := errors.AsType[*NoWindowError](without.Check(2)); !ok || fault.Name != "line.intake_depth" || fault.Window != without {
		t.Errorf("Check(2) without a window: %v", without.Check(2))
	}
}

func TestIntakeWindowRefuses(t *testing.T) {
	_, err := IntakeWindow(0, 20, []Moment{{0, 6}, {12, 21}, {11, 6}, {quantity.Volume(math.NaN()), -1}})
	want := []string{"source_tank.surface", "moments.1.volume", "moments.2.drawn", "moments.3.drawn", "moments.3.volume"}
	if got := names(err); !slices.Equal(got, want) {
		t.Errorf("blames %q, want %q", got, want)
	}
	if _, err := IntakeWindow(1000, 20, nil); !errors.Is(err, ErrNoMoments) {
		t.Errorf("no moments give %v", err)
	}
}

// 1 L/min fills 10 L in 10 min: the flow of OpenFlow by the definition of a flow.
func TestFillTime(t *testing.T) {
	line := Line{Bore: 0.4, Length: 100, Head: 30}
	flow := open(t, line, 20, 25).Flow
	got, err := FillTime(line, 20, 25, 20, 6)
	if minutes := 14000 / float64(flow); err != nil || off(float64(got)*60, minutes) > 1e-12 {
		t.Errorf("FillTime = %g h, %v, want %g min", float64(got), err, minutes)
	}
	if got, err := FillTime(line, 20, 25, 20, 20); got != 0 || err != nil {
		t.Errorf("a full container takes %g h, %v", float64(got), err)
	}
	_, err = FillTime(Line{Bore: 0.4, Length: 100}, 20, 25, 20, 21)
	if got, want := names(err), []string{"line.head", "container.volume"}; !slices.Equal(got, want) {
		t.Errorf("blames %q, want %q", got, want)
	}
}
