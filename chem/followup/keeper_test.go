package followup

import (
	"testing"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
)

var firstDrop = time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC)

// quarantined is a young spotted scat's drip with three settings and a pour-off.
func quarantined(t testing.TB) transfer.Request {
	t.Helper()
	r := crossing(t, "2 ppt", "10 ppt", animal(tolerance.Hardy))
	r.Container.Capacity = read[quantity.Volume](t, "14 L")
	r.Start = &firstDrop
	return r
}

// keeper carries out a plan on a pail of water, with drops larger or smaller than planned and
// another volume at the start, and waits for the marks.
type keeper struct {
	in, at pail
	drop   float64 // L, real
	clock  float64
	phases []transfer.Phase
}

func newKeeper(t testing.TB, r transfer.Request, p transfer.Plan, dropRatio, startRatio float64) *keeper {
	t.Helper()
	return &keeper{in: poured(t, r.To, 1), at: poured(t, r.From, float64(r.Container.StartVolume.Value)*startRatio),
		drop: dropRatio * float64(r.Line.WithDefaults().DropVolume.Value), phases: p.Phases}
}

// until lets him work up to a time, in steps of a minute.
func (k *keeper) until(t testing.TB, hours float64) (sa, litres float64) {
	t.Helper()
	const step = 1. / 60
	for {
		s, _, volume := k.at.water(t)
		if len(k.phases) == 0 || k.phases[0].Kind != transfer.PourOff && k.clock >= hours-1e-9 {
			k.clock = max(k.clock, hours) // with nothing left to do he waits
			return float64(s), volume
		}
		switch phase := k.phases[0]; phase.Kind {
		case transfer.PourOff:
			share := float64(phase.ToVolume.Value) / volume
			k.at = pail{k.at.mass * share, k.at.salt * share, k.at.heat * share}
			k.phases = k.phases[1:]
		case transfer.Fill:
			flow := float64(phase.Drip.Value) * 3600 * k.drop * k.in.mass
			h := min(step, hours-k.clock, max(0, (float64(phase.ToVolume.Value)-volume)*k.in.mass/flow))
			if h < 1e-7 {
				k.phases = k.phases[1:]
				continue
			}
			k.at = k.at.dripped(k.in, flow, h)
			k.clock += h
		default:
			k.phases = nil
		}
	}
}

// entry is a visit after so many hours.
func entry(hours float64) LogEntry {
	return LogEntry{Time: new(firstDrop.Add(time.Duration(hours * float64(time.Hour))))}
}

func (e LogEntry) reads(sa, u float64) LogEntry {
	e.Salinity = &quantity.Reading{Value: sa, U: u, Scale: quantity.AbsoluteScale}
	return e
}

func (e LogEntry) holds(litres, u float64) LogEntry {
	e.Volume = new(quantity.Of[quantity.Volume](litres, u))
	return e
}

func (e LogEntry) counts(drops int, in string, t testing.TB) LogEntry {
	e.Drops, e.DropsIn = &drops, read[quantity.Duration](t, in)
	return e
}

func follow(t testing.TB, r transfer.Request, legs []Leg, log ...LogEntry) Course {
	t.Helper()
	for _, e := range log {
		if err := e.Check(r.WithDefaults()); err != nil {
			t.Fatal(err)
		}
	}
	c, err := Follow(t.Context(), r, legs, log)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func begin(t testing.TB, r transfer.Request) (transfer.Plan, []Leg) {
	t.Helper()
	p, err := transfer.NewPlan(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	return p, []Leg{NewLeg(0, r, p)}
}
