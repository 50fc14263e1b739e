package tolerance

import (
	"errors"
	"math"
	"slices"
	"testing"

	"saltlock/chem/quantity"
)

// stage makes a stage of salinity bands alone; NaN is an unknown bound.
func stage(class Class, lo, hi, preferredLo, preferredHi float64) Stage {
	return Stage{
		Stage:            AllStages,
		SensitivityClass: class,
		Survived:         &Sourced[quantity.Salinity]{Band: Band[quantity.Salinity]{Min: ppt(lo), Max: ppt(hi)}},
		Preferred:        &Sourced[quantity.Salinity]{Band: Band[quantity.Salinity]{Min: ppt(preferredLo), Max: ppt(preferredHi)}},
	}
}

// A salinity against both bands of a stage. It is long because it is a table.
func TestJudgeSalinity(t *testing.T) {
	for _, c := range []struct {
		name  string
		stage Stage
		sa    float64
		want  Verdict
		code  string
	}{
		{"in the preferred band", stage(Hardy, 0, 35, 5, 20), 10, Preferred, "salinity_preferred"},
		{"at its end", stage(Hardy, 0, 35, 5, 20), 20, Preferred, "salinity_preferred"},
		{"past it, survived", stage(Hardy, 0, 35, 5, 20), 30, Tolerated, "salinity_within"},
		{"past what is survived", stage(Hardy, 0, 35, 5, 20), 40, Outside, "salinity_above"},
		{"below what is survived", stage(Hardy, 5, 35, 10, 20), 2, Outside, "salinity_below"},
		{"past the preferred band, no maximum known", stage(Hardy, 0, unknown, 5, 20), 30, Unknown, "salinity_above_preferred"},
		{"below the preferred band, no minimum known", stage(Hardy, unknown, 35, 5, 20), 2, Unknown, "salinity_below_preferred"},
		{"between the bounds, no maximum known", stage(Hardy, 0, unknown, 5, 20), 2, Tolerated, "salinity_within_from"},
		{"no maximum of any kind", stage(Hardy, 0, unknown, unknown, unknown), 5, Unknown, "salinity_max_unknown"},
		{"no minimum of any kind", stage(Hardy, unknown, 20, unknown, unknown), 5, Unknown, "salinity_min_unknown"},
		{"nothing known", Stage{SensitivityClass: Hardy}, 5, Unknown, "salinity_band_unknown"},
		{"stenohaline, past the preferred band, survived for days", stage(StenohalineFresh, 0, 8, 0, 0.5), 3, Outside, "salinity_above_kept"},
		{"sea water, at a bound of 35", stage(Hardy, 0, 35, 5, 35), 35.165, Preferred, "salinity_preferred"},
		{"within the rounding of a bound of 15", stage(Hardy, 0, 15, 5, 10), 15.27, Tolerated, "salinity_within"},
		{"past the rounding of a bound of 15", stage(Hardy, 0, 15, 5, 10), 15.6, Outside, "salinity_above"},
		{"past the rounding of a bound of 0.5", stage(StenohalineFresh, 0, unknown, 0, 0.5), 0.6, Outside, "salinity_above"},
		{"a fish of the sea in strong sea water", stage(StenohalineMarine, unknown, unknown, 34, 35), 37, Tolerated, "salinity_sea_water"},
		{"a fish of the sea in weak sea water", stage(StenohalineMarine, unknown, unknown, 34, 35), 30, Unknown, "salinity_below_usual"},
		{"a fish of the sea in water that no shop keeps it in", stage(StenohalineMarine, unknown, unknown, 34, 35), 20, Outside, "salinity_below"},
		{"a fish of the sea that outlived less", stage(StenohalineMarine, 10, unknown, 34, 35), 20, Outside, "salinity_below"},
		{"a fish of the sea that outlived less, as shops keep it", stage(StenohalineMarine, 10, unknown, 34, 35), 30, Unknown, "salinity_below_usual"},
		{"a fish of the sea of which a source says less", stage(StenohalineMarine, unknown, 34, 33, 34), 36, Outside, "salinity_above"},
		{"above the preferred band, no minimum known", stage(Hardy, unknown, 35, 5, 20), 30, Tolerated, "salinity_within_up_to"},
		{"a moderate animal of the sea in ordinary sea water", stage(Moderate, 5, 37, 34, 35), 37, Tolerated, "salinity_sea_water"},
		{"a moderate animal of the sea in brackish water", stage(Moderate, 5, 37, 34, 35), 6, Tolerated, "salinity_within"},
		{"an animal of estuaries in sea water", stage(Hardy, 0, 37, 10, 30), 35, Tolerated, "salinity_within"},
		{"stenohaline without a preferred band", stage(StenohalineFresh, 0, 4, unknown, unknown), 3, Tolerated, "salinity_within_only"},
	} {
		j, err := c.stage.Judge(Water{Salinity: gkg(c.sa)})
		if err != nil || j.Verdict != c.want || string(j.Reasons[0].Code) != c.code {
			t.Errorf("%s: %+v, %v, want %s by %s", c.name, j, err, c.want, c.code)
		}
		if briefly := slices.Contains([]string{"salinity_within", "salinity_within_from", "salinity_within_up_to"}, c.code); j.Briefly() != briefly {
			t.Errorf("%s: only for a while is %t, want %t", c.name, j.Briefly(), briefly)
		}
	}
}

// The verdict is that of the salinity unless another quantity rules the water out.
func TestJudgeTogether(t *testing.T) {
	celsius := func(v float64) *quantity.Estimate[quantity.Celsius] {
		e := quantity.Of[quantity.Celsius](v, 0)
		return &e
	}
	ph := quantity.Of[quantity.PH](8, 0)
	s := stage(Hardy, 0, 35, 5, 20)
	s.Temperature = &Sourced[quantity.Celsius]{Band: Band[quantity.Celsius]{Min: celsius(20), Max: celsius(28)}}
	for _, c := range []struct {
		name  string
		water Water
		want  Verdict
	}{
		{"salinity alone", Water{Salinity: gkg(10)}, Preferred},
		{"temperature inside", Water{Salinity: gkg(10), Temperature: celsius(25)}, Preferred},
		{"temperature a little outside", Water{Salinity: gkg(10), Temperature: celsius(30)}, Preferred},
		{"temperature outside", Water{Salinity: gkg(10), Temperature: celsius(30.5)}, Outside},
		{"pH of which nothing is known", Water{Salinity: gkg(10), PH: &ph}, Preferred},
		{"temperature alone", Water{Temperature: celsius(25)}, Tolerated},
		{"temperature and an unknown pH, no salinity", Water{Temperature: celsius(25), PH: &ph}, Unknown},
		{"no water at all", Water{}, Unknown},
	} {
		if j, err := s.Judge(c.water); err != nil || j.Verdict != c.want {
			t.Errorf("%s: %s, %v, want %s", c.name, j.Verdict, err, c.want)
		}
	}
}

func TestJudgeTellsUncertainty(t *testing.T) {
	s := stage(Hardy, 0, 35, 5, 20)
	near := func(value, u float64) bool {
		e := quantity.Of[quantity.AbsoluteSalinity](value, u)
		j, err := s.Judge(Water{Salinity: &e})
		if err != nil {
			t.Fatal(err)
		}
		return slices.ContainsFunc(j.Reasons, func(n quantity.Note) bool { return n.Code == "salinity_near_bound" })
	}
	for _, c := range []struct {
		value, u float64
		want     bool
	}{{19, 1.5, true}, {19, 0.5, false}, {19, 0, false}, {34, 1.5, true}, {0.2, 0.5, false}} {
		if got := near(c.value, c.u); got != c.want {
			t.Errorf("%g ± %g g/kg: near a bound is %t, want %t", c.value, c.u, got, c.want)
		}
	}
}

func TestJudgeRefusesWhatIsNoWater(t *testing.T) {
	hot, ph := quantity.Of[quantity.Celsius](90, 0), quantity.Of[quantity.PH](15, 0)
	notANumber := quantity.Of[quantity.AbsoluteSalinity](math.NaN(), 0)
	_, err := Stage{}.Judge(Water{Salinity: &notANumber, Temperature: &hot, PH: &ph})
	var faults interface{ Unwrap() []error }
	if !errors.As(err, &faults) || len(faults.Unwrap()) != 3 {
		t.Fatalf("error %v, want one for each of three", err)
	}
	for _, f := range faults.Unwrap() {
		var r *quantity.RangeError
		if !errors.As(f, &r) {
			t.Errorf("%v is not a RangeError", f)
		}
	}
}

// The nearest salinity to keep an animal at is in its preferred band where that is
// known, never at the end of what it survives.
func TestNearestIsPreferred(t *testing.T) {
	for _, c := range []struct {
		name  string
		stage Stage
		sp    float64
		want  float64
		off   bool
	}{
		{"below what it survives", stage(Moderate, 3, 60, 30, 35), 1, 30, true},
		{"survived, below the preferred band", stage(Moderate, 3, 60, 30, 35), 5, 30, true},
		{"above what it survives", stage(Moderate, 0, 10, 0, 3), 34, 3, true},
		{"preferred", stage(Moderate, 0, 10, 0, 3), 2, 2, false},
		{"ordinary sea water", stage(StenohalineMarine, 33, 37, 34, 35), 37, 37, false},
		{"weak sea water", stage(StenohalineMarine, 33, 37, 34, 35), 30, 34, true},
		{"nothing preferred", stage(Moderate, 5, 60, unknown, unknown), 1, 5, true},
	} {
		got, off := c.stage.Nearest(absolute(quantity.Salinity(c.sp)).Value)
		if off != c.off || math.Abs(float64(got)-c.want) > 1e-9 {
			t.Errorf("%s: %g, %t, want %g, %t", c.name, float64(got), off, c.want, c.off)
		}
	}
}
