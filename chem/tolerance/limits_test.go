package tolerance

import (
	"testing"

	"saltlock/chem/quantity"
)

func limits(t *testing.T, c Class, up bool, o Origin) Limits {
	t.Helper()
	l, err := DefaultLimits(c, up, o)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// The defaults are proposals, so only what must hold between them is tested.
func TestDefaultLimitsAreConsistent(t *testing.T) {
	for _, c := range Classes() {
		for _, up := range []bool{true, false} {
			l := limits(t, c, up, Captive)
			if l.AtOnce <= 0 || l.PerHour <= 0 || l.Per24Hours <= 0 || l.Hold < 0 {
				t.Errorf("%s up=%t: a limit is not positive: %+v", c, up, l)
			}
			if l.AtOnce > l.Per24Hours {
				t.Errorf("%s up=%t: at once %g exceeds 24 h %g", c, up, l.AtOnce, l.Per24Hours)
			}
			if l.CoolingPerHour != l.WarmingPerHour/2 || l.CoolingPer24Hours != l.WarmingPer24Hours/2 {
				t.Errorf("%s: cooling is not half of warming", c)
			}
			if len(l.Notes) == 0 || l.Notes[0].Code != "limits_proposed" {
				t.Errorf("%s: the limits are not marked as proposed", c)
			}
		}
	}
}

// A more sensitive animal is never allowed more.
func TestDefaultLimitsFollowSensitivity(t *testing.T) {
	for _, up := range []bool{true, false} {
		hardy, moderate, delicate := limits(t, Hardy, up, Wild), limits(t, Moderate, up, Wild), limits(t, Delicate, up, Wild)
		for _, pair := range [][2]Limits{{hardy, moderate}, {moderate, delicate}} {
			more, less := pair[0], pair[1]
			if less.AtOnce > more.AtOnce || less.PerHour > more.PerHour || less.Per24Hours > more.Per24Hours ||
				less.Hold < more.Hold || less.WarmingPerHour > more.WarmingPerHour || less.PHPer24Hours > more.PHPer24Hours {
				t.Errorf("up=%t: %s is allowed more than %s", up, less.Class, more.Class)
			}
		}
	}
}

func TestUnknownOriginFallsNoFasterThanItRises(t *testing.T) {
	for _, c := range Classes() {
		up := limits(t, c, true, UnknownOrigin)
		for _, o := range []Origin{UnknownOrigin, ""} {
			down := limits(t, c, false, o)
			if down.AtOnce > up.AtOnce || down.PerHour > up.PerHour || down.Per24Hours > up.Per24Hours || down.Hold < up.Hold {
				t.Errorf("%s, origin %q: falls faster than it rises", c, o)
			}
		}
	}
	if down, up := limits(t, Hardy, false, Captive), limits(t, Hardy, true, Captive); down.PerHour <= up.PerHour {
		t.Errorf("a hardy animal of known origin falls at %g, no faster than it rises at %g", down.PerHour, up.PerHour)
	}
}

func TestPerHourAt(t *testing.T) {
	for _, c := range []struct {
		class Class
		up    bool
		s     quantity.AbsoluteSalinity
		share quantity.SalinityRate // of the class's hourly limit; 0: see rate
		rate  quantity.SalinityRate
	}{
		{class: Hardy, up: true, s: 1, share: 1},
		{class: Hardy, up: false, s: 2, share: 1},
		{class: Hardy, up: false, s: 1.99, share: 0.5},
		{class: Hardy, up: false, s: 0, share: 0.5},
		{class: Invertebrate, up: true, s: 35, share: 1},
		{class: Invertebrate, up: false, s: 6, rate: 0.6},
		{class: Invertebrate, up: false, s: 1, rate: 0.3}, // a tenth would be 0.1: never forced so low
		{class: Invertebrate, up: true, s: 0, rate: 0.3},
	} {
		l := limits(t, c.class, c.up, Captive)
		want := c.rate
		if c.share > 0 {
			want = c.share * l.PerHour
		}
		if got := l.PerHourAt(c.s); got < want-1e-12 || got > want+1e-12 {
			t.Errorf("%s up=%t at %g g/kg: %g g/kg/h, want %g", c.class, c.up, c.s, got, want)
		}
	}
}

func TestDefaultLimitsRefusesUnknownClass(t *testing.T) {
	if l, err := DefaultLimits("robust", true, Wild); err == nil {
		t.Errorf("class robust has limits %+v", l)
	}
}
