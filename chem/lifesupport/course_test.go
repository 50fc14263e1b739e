package lifesupport

import (
	"errors"
	"math"
	"slices"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// fish are some of one mass, in kg.
func fish(count int, mass float64) []Animals {
	return []Animals{{count, quantity.Of[quantity.Mass](mass, 0)}}
}

// drip is an invented container of 6 L that is filled from tap water to brackish,
// poured off and filled again, in a cool room.
func drip() ([]Animals, State, []Stretch, Care) {
	water := State{Oxygen: 7.8, Ammonia: 0.1, Temperature: 27}
	return fish(4, 0.005), State{Oxygen: 8.2, Ammonia: 0.2, Temperature: 25}, []Stretch{
		{Time: 3, Volume: 6, Inflow: 40, Water: water, SalinityAtStart: 0.2, SalinityAtEnd: 5.5},
		{Time: 1, Volume: 13.2, SalinityAtStart: 5.5, SalinityAtEnd: 5.5},
		{Time: 6, Volume: 6, Inflow: 30, Water: water, SalinityAtStart: 5.5, SalinityAtEnd: 8},
	}, Care{Room: 20, PH: 8.2}
}

func course(t testing.TB, animals []Animals, start State, stretches []Stretch, care Care) Course {
	t.Helper()
	c, err := Support(animals, start, stretches, care)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Ammonia nitrogen in and excreted is ammonia nitrogen held and poured off, at
// whatever flow; what is excreted at 25 °C follows without the model.
func TestAmmoniaIsConserved(t *testing.T) {
	animals, start, stretches, care := drip()
	care.Held = new(quantity.Celsius(25))
	c := course(t, animals, start, stretches, care)
	output, err := AmmoniaOutput(0.005, 25)
	if err != nil {
		t.Fatal(err)
	}
	in := 6*0.2 + (7.2+10.8)*0.1 + 4*0.005*output*(10+float64(Excitement)*(Excited-1))
	poured := c.Points[slices.IndexFunc(c.Points, func(p Point) bool { return p.Time >= 4 })]
	last := c.Points[len(c.Points)-1]
	held := float64(poured.Ammonia)*(13.2-6) + float64(last.Ammonia)*16.8
	if math.Abs(held/in-1) > 1e-9 {
		t.Errorf("%.12f mg N are held and poured off, want %.12f", held, in)
	}
}

// Running over at constant volume, ammonia nears inflow's and output over flow exponentially.
func TestOverflow(t *testing.T) {
	care := Care{Held: new(quantity.Celsius(25)), PH: 8}
	c := course(t, nil, State{Ammonia: 2, Temperature: 25, Oxygen: 8}, []Stretch{{Time: 5, Volume: 10, Inflow: 100, Overflow: 100,
		Water: State{Ammonia: 0.5, Temperature: 25, Oxygen: 8}, SalinityAtEnd: 20}}, care)
	for _, p := range c.Points {
		if want := 0.5 + 1.5*math.Exp(-6*float64(p.Time)/10); math.Abs(float64(p.Ammonia)-want) > 1e-12 {
			t.Errorf("ammonia after %g h is %g, want %g", p.Time, p.Ammonia, want)
		}
	}
}

// The closed forms of dilution: gap times volume stays while filling.
func TestFilling(t *testing.T) {
	f := newFilling(Stretch{Time: 4, Volume: 5, Inflow: 50, SalinityAtStart: 2, SalinityAtEnd: 2 + 30*(1-5./17)})
	for _, at := range []float64{0, 0.5, 1, 3, 4} {
		want := (2*5 + 32*3*at) / (5 + 3*at)
		if got := f.salinityAt(at); math.Abs(got-want) > 1e-12 {
			t.Errorf("salinity after %g h of 3 L/h at 32 into 5 L at 2 is %g, want %g", at, got, want)
		}
	}
}

// Half the step changes nothing that matters.
func TestStepHalved(t *testing.T) {
	animals, start, stretches, care := drip()
	coarse := course(t, animals, start, stretches, care)
	fine, err := support(animals, start, stretches, care, usualStep/2)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string][2]float64{
		"least oxygen":     {float64(coarse.LeastOxygen.Worst), float64(fine.LeastOxygen.Worst)},
		"greatest ammonia": {float64(coarse.GreatestAmmonia.Worst), float64(fine.GreatestAmmonia.Worst)},
		"warming":          {float64(coarse.Warming), float64(fine.Warming)},
		"cooling":          {float64(coarse.Cooling), float64(fine.Cooling)},
		"without air":      {float64(coarse.WithoutAir.Likely), float64(fine.WithoutAir.Likely)},
	} {
		if math.Abs(c[0]/c[1]-1) > 1e-3 {
			t.Errorf("%s is %.6f, with half the step %.6f", name, c[0], c[1])
		}
	}
}

// Without animals and inflow nothing changes but by exchange with air and room, exponentially.
func TestNoAnimals(t *testing.T) {
	care := Care{Room: 20, PH: 8}
	c := course(t, nil, State{Oxygen: 4, Ammonia: 1, Temperature: 26}, []Stretch{{Time: 100, Volume: 20}}, care)
	perHour := 3.6 * 3600 / (20 * 4130.) // W/K over J/K
	for _, p := range c.Points {
		if p.Ammonia != 1 {
			t.Fatalf("ammonia after %g h is %g, want 1", p.Time, p.Ammonia)
		}
		if want := 20 + 6*math.Exp(-perHour*float64(p.Time)); math.Abs(float64(p.Temperature)-want) > 1e-9 {
			t.Fatalf("temperature after %g h is %g, want %g", p.Time, p.Temperature, want)
		}
	}
	if want := 6 * perHour; math.Abs(float64(c.Cooling)-want) > 1e-9 || c.Warming != 0 {
		t.Errorf("cooling %g and warming %g K/h, want %g and 0", c.Cooling, c.Warming, want)
	}
	saturation, err := seawater.OxygenSaturation(0, 20, 1)
	if last := c.Points[len(c.Points)-1]; err != nil || math.Abs(float64(last.Oxygen-saturation)) > 0.02 {
		t.Errorf("oxygen after 100 h is %g, want %g, %v", last.Oxygen, saturation, err)
	}
	if c.LeastOxygen != (Spread[quantity.DissolvedOxygen]{Best: 4, Likely: 4, Worst: 4}) {
		t.Errorf("least oxygen %v, want 4 throughout", c.LeastOxygen)
	}
}

// A time constant of about 6.5 h for 20 L and 9 h for 60 L: textbook estimate, from memory.
func TestHeatExchange(t *testing.T) {
	for volume, want := range map[float64]float64{20: 6.5, 60: 9} {
		if got := volume / heatExchange(volume); math.Abs(got-want) > 0.4 {
			t.Errorf("%g L take %.2f h, want about %g", volume, got, want)
		}
	}
}

// A heater or a bath holds the temperature, an air stone the oxygen.
func TestHeld(t *testing.T) {
	animals, start, stretches, care := drip()
	care.Held, care.Aerated = new(quantity.Celsius(24)), true
	animals[0].Count = 1000
	c := course(t, animals, start, stretches, care)
	if c.Warming != 0 || c.Cooling != 0 {
		t.Errorf("warming %g and cooling %g K/h under a heater", c.Warming, c.Cooling)
	}
	for _, p := range c.Points {
		sp, noSalinity := seawater.Salinity(8)
		saturation, err := seawater.OxygenSaturation(sp, 24, 1)
		if err := errors.Join(noSalinity, err); err != nil {
			t.Fatal(err)
		}
		if p.Temperature != 24 || float64(p.Oxygen) < HeldOxygen*float64(saturation)*(1-1e-9) {
			t.Fatalf("after %g h: %g °C and %g mg/L oxygen, want 24 and 80 %% of saturation", p.Time, p.Temperature, p.Oxygen)
		}
	}
}

// More animals, or greater ones, leave less oxygen and more ammonia, and the Spread is in order.
func TestMonotoneInAnimals(t *testing.T) {
	_, start, stretches, care := drip()
	start.Ammonia, stretches[0].Water.Ammonia, stretches[2].Water.Ammonia = 0, 0, 0
	before := course(t, nil, start, stretches, care)
	for _, animals := range [][]Animals{fish(1, 0.002), fish(2, 0.002), fish(2, 0.02), append(fish(2, 0.02), fish(1, 0.01)...), fish(5, 0.02)} {
		c := course(t, animals, start, stretches, care)
		if !(c.LeastOxygen.Likely < before.LeastOxygen.Likely && c.GreatestAmmonia.Likely > before.GreatestAmmonia.Likely) {
			t.Errorf("%v leave %v oxygen and %v ammonia, fewer %v and %v", animals, c.LeastOxygen, c.GreatestAmmonia, before.LeastOxygen, before.GreatestAmmonia)
		}
		if o, n := c.LeastOxygen, c.GreatestAmmonia; !(o.Best > o.Likely && o.Likely >= o.Worst && o.Worst >= 0 && n.Best < n.Likely && n.Likely < n.Worst) {
			t.Errorf("%v: spreads out of order: %v, %v", animals, o, n)
		}
		before = c
	}
}

// A Spread is what half and double the animals would give.
func TestSpreadIsHalfAndDouble(t *testing.T) {
	_, start, stretches, care := drip()
	one := course(t, fish(4, 0.005), start, stretches, care)
	two := course(t, fish(8, 0.005), start, stretches, care)
	for name, c := range map[string][2]float64{
		"oxygen":      {float64(one.LeastOxygen.Worst), float64(two.LeastOxygen.Likely)},
		"ammonia":     {float64(one.GreatestAmmonia.Likely), float64(two.GreatestAmmonia.Best)},
		"without air": {float64(one.WithoutAir.Worst), float64(two.WithoutAir.Likely)},
	} {
		if math.Abs(c[0]/c[1]-1) > 1e-12 {
			t.Errorf("%s: %g is not that of half or double, %g", name, c[0], c[1])
		}
	}
	animals := fish(4, 0.005)
	animals[0].Mass.U = 0.003
	if wide := course(t, animals, start, stretches, care); !(wide.GreatestAmmonia.Worst > one.GreatestAmmonia.Worst && wide.GreatestAmmonia.Likely == one.GreatestAmmonia.Likely) {
		t.Errorf("a mass of 5 ± 3 g gives %v, an exact one %v", wide.GreatestAmmonia, one.GreatestAmmonia)
	}
}

// In standing water without a stone the time to 3 mg/L is that at which the course gets there.
func TestWithoutAir(t *testing.T) {
	care := Care{Held: new(quantity.Celsius(25)), PH: 8}
	start := State{Oxygen: 8.2, Temperature: 25}
	at := func(time quantity.Duration) Course {
		return course(t, fish(3, 0.005), start, []Stretch{{Time: time, Volume: 3}}, care)
	}
	low := at(0).WithoutAir.Likely
	if got := at(low).LeastOxygen.Likely; math.Abs(float64(got/GaspingOxygen)-1) > 1e-3 {
		t.Errorf("oxygen after the %g h foretold is %g, want %g", low, got, GaspingOxygen)
	}
	if c := course(t, nil, start, []Stretch{{Volume: 3}}, care); c.WithoutAir.Worst != longestWatch {
		t.Errorf("without animals oxygen is low after %g h", c.WithoutAir.Worst)
	}
}

func TestSupportRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*[]Animals, *State, []Stretch, *Care)
		want   string
	}{
		"no mass":       {func(a *[]Animals, _ *State, _ []Stretch, _ *Care) { (*a)[0].Mass.Value = 0 }, "animals.0.mass"},
		"wild mass":     {func(a *[]Animals, _ *State, _ []Stretch, _ *Care) { (*a)[0].Mass.U = 1e9 }, "animals.0.mass"},
		"no such count": {func(a *[]Animals, _ *State, _ []Stretch, _ *Care) { (*a)[0].Count = -1 }, "animals.0.count"},
		"boiling":       {func(_ *[]Animals, s *State, _ []Stretch, _ *Care) { s.Temperature = 60 }, "from.temperature"},
		"sewage":        {func(_ *[]Animals, s *State, _ []Stretch, _ *Care) { s.Ammonia = 1000 }, "from.tan"},
		"NaN":           {func(_ *[]Animals, s *State, _ []Stretch, _ *Care) { s.Oxygen = quantity.DissolvedOxygen(math.NaN()) }, "from.oxygen"},
		"hot inflow":    {func(_ *[]Animals, _ *State, s []Stretch, _ *Care) { s[0].Water.Temperature = 50 }, "to.temperature"},
		"from nowhere":  {func(_ *[]Animals, _ *State, s []Stretch, _ *Care) { s[2].Volume = 14 }, "volume"},
		"run dry":       {func(_ *[]Animals, _ *State, s []Stretch, _ *Care) { s[1].Overflow = 1000 }, "volume"},
		"brine":         {func(_ *[]Animals, _ *State, s []Stretch, _ *Care) { s[2].SalinityAtEnd = 90 }, "salinity"},
		"frost":         {func(_ *[]Animals, _ *State, _ []Stretch, c *Care) { c.Room = -5 }, "room_temperature"},
		"no pH":         {func(_ *[]Animals, _ *State, _ []Stretch, c *Care) { c.PH = 0 }, "from.ph"},
	} {
		animals, start, stretches, care := drip()
		c.change(&animals, &start, stretches, &care)
		_, err := Support(animals, start, stretches, care)
		if limit, ok := errors.AsType[*quantity.RangeError](err); !ok || limit.Name != c.want {
			t.Errorf("%s: Support = %v, want a fault of %s", name, err, c.want)
		}
	}
	animals, start, _, care := drip()
	if _, err := Support(animals, start, nil, care); !errors.Is(err, ErrNoStretch) {
		t.Errorf("Support without a stretch = %v, want ErrNoStretch", err)
	}
}
