package transfer

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"saltlock/chem/drip"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// On a Sunday in March clocks in Berlin go from 02:00 to 03:00: that night is
// an hour shorter. Zone rules: IANA time zone data base.
func TestQuietHoursByTheClock(t *testing.T) {
	task := &task{request: Request{
		Start:    new(time.Date(2026, 3, 28, 19, 0, 0, 0, time.UTC)), // 20:00 there
		TimeZone: new(Zone), Visits: &Visits{QuietFrom: new(Clock), QuietUntil: new(Clock)}}}
	for text, into := range map[string]interface{ UnmarshalText([]byte) error }{
		"Europe/Berlin": task.request.TimeZone, "22:30": task.request.Visits.QuietFrom, "07:00": task.request.Visits.QuietUntil} {
		if err := into.UnmarshalText([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	v, err := task.timetable()
	if err != nil || len(task.faults) > 0 {
		t.Fatal(err, task.faults)
	}
	for at, want := range map[float64]float64{0: 0, 2.4: 2.4, 2.6: 10, 9.9: 10, 10: 10, 12: 12, 27: 34} {
		if got := v.next(at); math.Abs(got-want) > 1e-9 {
			t.Errorf("ready at %g h, someone comes at %g, want %g", at, got, want)
		}
	}
}

func TestVisitsRefused(t *testing.T) {
	noon := new(time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC))
	ten, seven := new(Clock(22*60)), new(Clock(7*60))
	for name, c := range map[string]struct {
		start  *time.Time
		visits Visits
		where  string
	}{
		"no start":      {nil, Visits{QuietFrom: ten, QuietUntil: seven}, "start"},
		"no end":        {noon, Visits{QuietFrom: ten}, "visits.quiet_until"},
		"no beginning":  {noon, Visits{QuietUntil: seven}, "visits.quiet_from"},
		"never ends":    {noon, Visits{QuietFrom: ten, QuietUntil: ten}, "visits.quiet_until"},
		"too far apart": {noon, Visits{Every: read[quantity.Duration](t, "90 h")}, "visits"},
	} {
		r := sixLitres(t, "18 L", "0.5 g/kg", 3)
		r.Line.LeastDrip = read[quantity.DripRate](t, "3 drops/s")
		r.Start, r.Visits = c.start, &c.visits
		_, err := NewPlan(t.Context(), r)
		where := ""
		if missing, ok := errors.AsType[*instrument.MissingError](err); ok {
			where = missing.Name
		} else if infeasible, ok := errors.AsType[*InfeasibleError](err); ok {
			where = infeasible.Faults[0].Where
		}
		if where != c.where {
			t.Errorf("%s: %v, want it told at %s", name, err, c.where)
		}
	}
}

// Every act of a plan, its end and the release fall on visits. Carried out, the plan ends where it
// says, and nothing waits longer than it must. It is long because of the table of visits.
func TestPlansOnVisits(t *testing.T) {
	for name, c := range map[string]struct {
		hour     int
		visits   Visits
		capacity string
		close    bool // the valve must be closed for the night
	}{
		"every two hours":  {9, Visits{Every: read[quantity.Duration](t, "2 h")}, "20 L", false},
		"night in between": {18, Visits{QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(7 * 60))}, "18 L", false},
		"work and sleep":   {20, Visits{Every: read[quantity.Duration](t, "90 min"), QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(16 * 60))}, "18 L", false},
		"coarse valve":     {20, Visits{QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(7 * 60))}, "9 L", true},
	} {
		t.Run(name, func(t *testing.T) {
			r := sixLitres(t, c.capacity, "0.5 g/kg", 4)
			if name == "work and sleep" { // which else takes more than the day that they may be held
				r.Tolerance = read[quantity.AbsoluteSalinity](t, "2 g/kg")
			}
			if c.close {
				r.Line.LeastDrip = read[quantity.DripRate](t, "3 drops/s")
			}
			r.Start, r.Visits = new(time.Date(2026, 12, 1, c.hour, 0, 0, 0, time.UTC)), &c.visits
			p, err := NewPlan(t.Context(), r)
			if err != nil {
				t.Fatal(err)
			}
			kept(t, p)
			simulate(t, r, p)
			onVisits(t, r, p)
			closed := slices.ContainsFunc(p.Phases[:len(p.Phases)-2], func(p Phase) bool { return p.Kind == Rest })
			if closed != c.close {
				t.Errorf("the valve is closed between: %v, want %v", closed, c.close)
			}
			r.Visits = nil
			free, err := NewPlan(t.Context(), r)
			if err != nil {
				t.Fatal(err)
			}
			if p.Duration.Value < free.Duration.Value-1e-6 {
				t.Errorf("with visits %.4f h, without %.4f h", float64(p.Duration.Value), float64(free.Duration.Value))
			}
		})
	}
}

// onVisits reads the acts from the phases and the clock from the start.
func onVisits(t testing.TB, r Request, p Plan) {
	t.Helper()
	every := time.Duration(0)
	if e := r.Visits.Every; e != nil {
		every = time.Duration(float64(e.Value) * float64(time.Hour))
	}
	last := *r.Start
	for _, phase := range p.Phases {
		at := r.Start.Add(time.Duration(float64(phase.Start.Value) * float64(time.Hour)))
		if phase.Kind == Fill && !phase.SetValve {
			continue
		}
		if from, until := r.Visits.QuietFrom, r.Visits.QuietUntil; from != nil {
			minute := float64(at.Hour()*60+at.Minute()) + at.Sub(at.Truncate(time.Minute)).Minutes()
			a, b := float64(*from)+1e-3, float64(*until)-1e-3
			if quiet := minute > a && (minute < b || b < a) || minute < b && b < a; quiet {
				t.Errorf("%s at %s falls into the quiet hours", phase.Kind, at)
			}
		}
		apart, least := at.Sub(last), every
		if last == *r.Start {
			least = min(every, 30*time.Minute)
		}
		if apart > time.Second && apart < least-time.Second {
			t.Errorf("%s at %s comes %s after the visit before", phase.Kind, at, apart)
		}
		last = at
	}
}

// Whoever starts in the night is there then, and is told so; later acts wait for the morning.
func TestStartInTheNight(t *testing.T) {
	r := sixLitres(t, "18 L", "0.5 g/kg", 3)
	r.Start = new(time.Date(2026, 12, 1, 23, 30, 0, 0, time.UTC))
	r.Visits = &Visits{QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(7 * 60))}
	p := plan(t, r)
	if !says(p.Warnings, "start_in_quiet_hours") {
		t.Errorf("warnings %v", p.Warnings)
	}
	simulate(t, r, p)
	p.Phases = p.Phases[1:]
	onVisits(t, r, p)
}

// A setting of the valve that need not be used costs no time, nor a visit.
func TestMoreSettingsOnVisits(t *testing.T) {
	least := math.Inf(1)
	all := []int{2, 4, 8, 12}
	if testing.Short() {
		all = all[:2]
	}
	for _, settings := range all {
		r := sixLitres(t, "20 L", "0.5 g/kg", settings)
		r.Start = new(time.Date(2026, 12, 1, 18, 0, 0, 0, time.UTC))
		r.Visits = &Visits{Every: read[quantity.Duration](t, "1 h"), QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(7 * 60))}
		p := plan(t, r)
		now := float64(p.Duration.Value) + drip.VisitTime*float64(p.Visits)
		if now > least*1.02 { // a search with many settings is bounded
			t.Errorf("%d settings take %.3f h with their visits, fewer %.3f", settings, now, least)
		}
		least = min(least, now)
	}
}

// In a move through holding tanks, too, nothing falls into the night.
func TestStagedOnVisits(t *testing.T) {
	r := Request{From: water(t, "2 ppt", "26 C"), To: water(t, "30 ppt", "26 C"), Animals: []Animal{animal(tolerance.Hardy)},
		Container:    Container{Capacity: read[quantity.Volume](t, "20 L"), Aerated: new(true)},
		Line:         &Line{DropVolume: read[quantity.Volume](t, "0.05 mL")},
		HoldingTanks: &HoldingTanks{Volume: read[quantity.Volume](t, "60 L")},
		Start:        new(time.Date(2026, 12, 1, 16, 0, 0, 0, time.UTC)), Visits: &Visits{QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(7 * 60))}}
	p := plan(t, r)
	if p.Route != Staged || len(p.Stages) < 3 {
		t.Fatalf("route %s in %d stages", p.Route, len(p.Stages))
	}
	kept(t, p)
	onVisits(t, r, p)
}

// Names that depend on the machine are not zones; [IANA] has none of them except below "right" and
// "posix".
func TestZonesOfOneMachine(t *testing.T) {
	for _, name := range []string{"Local", "localtime", "posixrules", "Factory", "right/UTC", "posix/Europe/Berlin", "", "Mars/Base"} {
		if err := new(Zone).UnmarshalText([]byte(name)); err == nil {
			t.Errorf("%q is taken for a zone", name)
		}
	}
	for _, name := range []string{"UTC", "Europe/Berlin", "America/Argentina/Ushuaia"} {
		if err := new(Zone).UnmarshalText([]byte(name)); err != nil {
			t.Error(err)
		}
	}
}
