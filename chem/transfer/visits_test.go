package transfer

import (
	"errors"
	"math"
	"math/rand"
	"slices"
	"testing"
	"time"

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

// Every act of a plan, its end and the release fall on visits; carried out, it
// ends where it says; and what can be done sooner is.
func TestPlansOnVisits(t *testing.T) {
	for name, c := range map[string]struct {
		hour     int
		visits   Visits
		capacity string
		close    bool // the valve must be closed for the night
	}{
		"every two hours":  {9, Visits{Every: read[quantity.Duration](t, "2 h")}, "20 L", false},
		"night in between": {18, Visits{QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(7 * 60))}, "18 L", false},
		"work and sleep":   {18, Visits{Every: read[quantity.Duration](t, "90 min"), QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(18 * 60))}, "18 L", false},
		"coarse valve":     {20, Visits{QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(7 * 60))}, "9 L", true},
	} {
		t.Run(name, func(t *testing.T) {
			r := sixLitres(t, c.capacity, "0.5 g/kg", 4)
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

// onVisits reads the acts off the phases and the clock off the start.
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

// Random schedules, whose flows are drawn too and held against the timetable
// from outside, are never much faster.
func TestVisitsAgainstBruteForce(t *testing.T) {
	random := rand.New(rand.NewSource(seed))
	for _, c := range []struct {
		ratio, most float64
		settings    int
		visits      timetable
	}{
		{3, 4, 3, timetable{every: 0.4, first: 0.4}},
		{3, 4, 2, timetable{quiet: [][2]float64{{0.3, 0.7}}}},
		{3, 4, 3, timetable{quiet: [][2]float64{{0.3, 0.7}, {0.9, 1.3}}}},
		{9, 4, 3, timetable{quiet: [][2]float64{{0.4, 0.9}, {1.5, 2}, {2.5, 3}}}},
		{9, 4, 4, timetable{every: 0.3, first: 0.2, quiet: [][2]float64{{0.5, 1}}}},
		{20, 3, 3, timetable{every: 0.25, first: 0.25, quiet: [][2]float64{{1.2, 2.2}, {3, 4}}}},
	} {
		d := small(c.ratio, 1, c.most, 0, 1e9, c.settings)
		d.visits = &c.visits
		fills := d.fewestPours(mostPours)
		acts, got := d.optimum(fills)
		want := math.Inf(1)
		for range 300 {
			want = min(want, attendedByChance(d, len(fills)-1, random))
		}
		if !(got < 1.01*want) {
			t.Errorf("%+v: %s take %.4f, brute force %.4f", c, order(acts), got, want)
		}
	}
}

// attendedByChance improves one random schedule by random steps.
func attendedByChance(d *drip, pours int, random *rand.Rand) float64 {
	deeds := randomDeeds(d, pours, random)
	shares := make([]float64, len(deeds)+1)
	for i := range shares {
		shares[i] = random.Float64()
	}
	least := attendedHours(d, deeds, shares)
	for step, failed := 0.5, 0; step > 1e-4; {
		trial, slower := slices.Clone(deeds), slices.Clone(shares)
		for i := range trial {
			if random.Intn(2) == 0 {
				trial[i].gap = min(d.gap, max(d.tolerance, trial[i].gap*math.Exp(step*random.NormFloat64())))
			}
			if random.Intn(2) == 0 {
				trial[i].left *= math.Exp(step * random.NormFloat64())
			}
		}
		for i := range slower {
			if random.Intn(2) == 0 {
				slower[i] = min(1, slower[i]*math.Exp(step*random.NormFloat64()))
			}
		}
		if hours := attendedHours(d, trial, slower); hours < least {
			least, deeds, shares, failed = hours, trial, slower, 0
		} else if failed++; failed > 60 {
			step, failed = step*0.7, 0
		}
	}
	return least
}

// attendedHours follows the deeds, each setting at its share of the greatest
// flow; how far an act misses its visit costs far more than time.
func attendedHours(d *drip, deeds []deed, shares []float64) float64 {
	deeds = slices.Clone(deeds)
	slices.SortStableFunc(deeds, func(a, b deed) int { return cmpGaps(b, a) })
	deeds = append(deeds, deed{gap: d.tolerance, set: true})
	mass, gap := d.mass, d.gap
	at, last, cost := 0.0, 0.0, 0.0
	for i := 0; i < len(deeds); {
		j := i
		for !deeds[j].set {
			j++
		}
		flow, m, g := math.Inf(1), mass, gap
		for _, next := range deeds[i : j+1] { // the greatest flow that keeps the limit of 1 to the next setting
			flow = min(flow, m/g)
			m = m * g / next.gap
			g = next.gap
			if next.pour {
				m = min(m, max(next.left, d.leastMass(g)))
			}
		}
		flow *= shares[i]
		for ; i <= j; i++ {
			end := mass * gap / deeds[i].gap
			if end > d.mostMass(0)*(1+1e-9) {
				return 1e9
			}
			at += (end - mass) / flow
			if due := d.visits.due(last, at); due > at+1e-9 {
				cost += 1e3 + due - at
			}
			last = at
			if mass, gap = end, deeds[i].gap; deeds[i].pour {
				mass = min(mass, max(deeds[i].left, d.leastMass(gap)))
			}
		}
	}
	return at + cost
}

func cmpGaps(a, b deed) int {
	switch {
	case a.gap < b.gap:
		return -1
	case a.gap > b.gap:
		return 1
	}
	return 0
}

// Who starts in the night is there then, and told so; what comes later waits for the morning.
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
	for _, settings := range []int{2, 4, 8, 12} {
		r := sixLitres(t, "20 L", "0.5 g/kg", settings)
		r.Start = new(time.Date(2026, 12, 1, 18, 0, 0, 0, time.UTC))
		r.Visits = &Visits{Every: read[quantity.Duration](t, "1 h"), QuietFrom: new(Clock(22 * 60)), QuietUntil: new(Clock(7 * 60))}
		now := float64(plan(t, r).Duration.Value)
		if now > least*worthAVisit {
			t.Errorf("%d settings take %.3f h, fewer %.3f", settings, now, least)
		}
		least = min(least, now)
	}
}

// On a way through holding tanks, too, nothing falls into the night.
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
