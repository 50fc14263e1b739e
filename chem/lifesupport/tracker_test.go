package lifesupport

import (
	"math"
	"math/rand/v2"
	"testing"

	"saltlock/chem/quantity"
)

// A Tracker comes to what Support comes to, which steps through the same spells:
// with and without an air stone, filling, standing and running over.
func TestTrackerAgainstSupport(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 7))
	for range 200 {
		care := Care{Held: new(quantity.Celsius(15 + 15*random.Float64())), PH: quantity.PH(7 + 2*random.Float64()), Aerated: random.IntN(2) == 0}
		start := State{Oxygen: 8, Ammonia: quantity.AmmoniaNitrogen(random.Float64()), Temperature: 25}
		in := State{Oxygen: 7, Ammonia: quantity.AmmoniaNitrogen(0.2 * random.Float64()), Temperature: 25}
		animals := fish(1+random.IntN(8), 0.005)
		from, to := quantity.AbsoluteSalinity(5*random.Float64()), quantity.AbsoluteSalinity(10+25*random.Float64())
		fill := Stretch{Time: quantity.Duration(8 * random.Float64()), Volume: 6, Inflow: quantity.Flow(20 * random.Float64()), Water: in, SalinityAtStart: from}
		part := 1 - 6/float64(fill.End())
		fill.SalinityAtEnd = from + (to-from)*quantity.AbsoluteSalinity(part)
		stand := Stretch{Time: quantity.Duration(2 * random.Float64()), Volume: fill.End(), Water: in, SalinityAtStart: fill.SalinityAtEnd, SalinityAtEnd: fill.SalinityAtEnd}
		stretches := []Stretch{fill, stand}
		want := course(t, animals, start, stretches, care)
		k, err := NewTracker(animals, start, in, care, 50, fill.End(), from, to)
		if err != nil {
			t.Fatal(err)
		}
		state, next := k.Start(), make([]float64, TrackerState)
		oxygen, ammonia, at := math.Inf(1), 0.0, 0.0
		for _, s := range stretches {
			f := newFilling(s)
			o, a := k.Follow(next, state, Spell{Start: at, Hours: f.time, Volume: f.volume, Inflow: f.inflow, Overflow: f.inflow - f.growth, FromSalinity: f.from, ToSalinity: f.to})
			oxygen, ammonia, at = min(oxygen, o), max(ammonia, a), at+f.time
			state, next = next, state
		}
		if got, want := ammonia, float64(want.GreatestAmmonia.Worst); math.Abs(got/want-1) > 1e-3 {
			t.Errorf("ammonia %.6g, Support has %.6g", got, want)
		}
		if got, want := max(0, oxygen), max(0, float64(want.LeastOxygen.Worst)); math.Abs(got-want) > 0.02*max(1, 8-want) {
			t.Errorf("oxygen %.6g, Support has %.6g", got, want)
		}
	}
}

// Warmth comes to what Support comes to in a room, which takes shorter steps.
func TestWarmthAgainstSupport(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 8))
	near := func() float64 { return 22 + 8*(random.Float64()-0.5) }
	for range 200 {
		room, water, start := near(), near(), near()
		fill := Stretch{Time: quantity.Duration(1 + 20*random.Float64()), Volume: quantity.Volume(3 + 40*random.Float64()), Water: State{Temperature: quantity.Celsius(water)}}
		fill.Inflow = quantity.Flow(float64(fill.Volume) * 1000 / 60 * 3 * random.Float64() / float64(fill.Time))
		rest := Stretch{Time: quantity.Duration(6 * random.Float64()), Volume: fill.End(), Water: fill.Water}
		want := course(t, nil, State{Temperature: quantity.Celsius(start)}, []Stretch{fill, rest}, Care{Aerated: true, Room: quantity.Celsius(room), PH: 7})
		celsius, fastest, furthest := start, 0.0, 0.0
		for _, s := range []Stretch{fill, rest} {
			f, from := newFilling(s), celsius
			after, rate, far := Warmth(from, Spell{Hours: f.time, Volume: f.volume, Inflow: f.inflow, Overflow: f.inflow - f.growth}, water, room)
			celsius, fastest, furthest = after, max(fastest, rate), max(furthest, math.Abs(from-start)+far)
		}
		last := want.Points[len(want.Points)-1]
		if math.Abs(celsius-float64(last.Temperature)) > WarmthError || math.Abs(fastest-float64(max(want.Warming, want.Cooling))) > WarmthError {
			t.Errorf("%.6f °C, %.6f K/h; Support has %.6f and %.6f", celsius, fastest, float64(last.Temperature), float64(max(want.Warming, want.Cooling)))
		}
		most := 0.0
		for _, p := range want.Points {
			most = max(most, math.Abs(float64(p.Temperature)-start))
		}
		if furthest < most-WarmthError {
			t.Errorf("at the furthest %.4f K away, Support has %.4f", furthest, most)
		}
	}
}
