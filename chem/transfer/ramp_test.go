package transfer

import (
	"math"
	"testing"

	"saltlock/chem/tolerance"
)

// Every limit of a ramp holds on every day, up and down, with and without a filter.
func TestRampKeepsItsLimits(t *testing.T) {
	for _, class := range tolerance.Classes() {
		for _, way := range [][2]float64{{0, 35}, {35, 0}, {0.2, 10}, {8, 12}, {12, 8}} {
			for _, filter := range []bool{true, false} {
				s, err := newSlope(way[0], way[1], []tolerance.Class{class}, filter)
				if err != nil {
					t.Fatal(err)
				}
				list, ok := s.days()
				if !ok {
					t.Fatalf("%s from %g to %g: no end", class, way[0], way[1])
				}
				ramp, _ := tolerance.DefaultRamp(class)
				first := map[int]int{}
				step := map[int]float64{}
				for i, d := range list {
					if change := math.Abs(d.to - d.from); change > float64(ramp.PerDay)+1e-9 {
						t.Errorf("%s day %d changes %g", class, d.day, change)
					}
					most := float64(ramp.PerWeek)
					if d.to > 10 {
						most = float64(ramp.PerWeekSalty)
					}
					if week := s.week(list[:i+1], d.day); week > most+1e-9 {
						t.Errorf("%s from %g to %g: the week to day %d changes %g, most %g", class, way[0], way[1], d.day, week, most)
					}
					if !filter {
						continue
					}
					if _, seen := first[d.gate]; !seen {
						first[d.gate] = d.day
						wait := 3.0
						if d.gate > 0 && list[i-1].to > 10 {
							wait = 7
						}
						if d.gate > 0 && float64(d.day-first[d.gate-1]) < wait {
							t.Errorf("%s: step %d starts on day %d, %d days after the one before", class, d.gate, d.day, d.day-first[d.gate-1])
						}
					}
					if step[d.gate] += math.Abs(d.to - d.from); step[d.gate] > 2.7+1e-9 {
						t.Errorf("%s: step %d changes %g", class, d.gate, step[d.gate])
					}
				}
				if end := list[len(list)-1].to; math.Abs(end-way[1]) > 1e-9 {
					t.Errorf("%s ends at %g, want %g", class, end, way[1])
				}
			}
		}
	}
}

// From fresh to sea water: hardy fish 11 to 12 weeks, others 13, delicate 18,
// as the reference sheet's arithmetic has it, roughly and with its own rounding.
func TestRampFreshToSea(t *testing.T) {
	for class, weeks := range map[tolerance.Class][2]float64{
		tolerance.Hardy: {10, 12.5}, tolerance.Moderate: {12, 14}, tolerance.Delicate: {16.5, 18.5},
	} {
		s, err := newSlope(0, 35, []tolerance.Class{class}, true)
		if err != nil {
			t.Fatal(err)
		}
		list, _ := s.days()
		if got := float64(list[len(list)-1].day) / 7; got < weeks[0] || got > weeks[1] {
			t.Errorf("%s: fresh to sea in %.1f weeks, want %g to %g", class, got, weeks[0], weeks[1])
		}
	}
}

// The common step of 0.002 SG, 2.7 g/kg, a week for a tank with fish (common
// practice, no source) is what the ramp of moderate animals comes to.
func TestRampAgainstCustom(t *testing.T) {
	s, err := newSlope(5, 15.8, []tolerance.Class{tolerance.Moderate}, true)
	if err != nil {
		t.Fatal(err)
	}
	list, _ := s.days()
	if weeks := float64(list[len(list)-1].day) / 7; weeks < 3 || weeks > 4.2 {
		t.Errorf("four steps of 2.7 g/kg take %.1f weeks, want three to four", weeks)
	}
}
