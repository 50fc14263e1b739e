package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// noteIn is a note of a code among others.
func noteIn(t testing.TB, notes []quantity.Note, code quantity.Code) quantity.Note {
	t.Helper()
	for _, n := range notes {
		if n.Code == code {
			return n
		}
	}
	t.Fatalf("no %s among %v", code, codes(notes))
	return quantity.Note{}
}

// allowing is a request whose line may run as fast as a note offers.
func allowing(r Request, n quantity.Note) Request {
	line := r.Line.WithDefaults()
	perHour := float64(n.Params[1].(quantity.Estimate[quantity.Flow]).Value) * 60 / 1000 // L
	line.GreatestDrip = new(drops(math.Ceil(perHour / 3600 / float64(line.DropVolume.Value))))
	r.Line = &line
	return r
}

// A drip slowed by counting says so, and offers a stream that takes as long as it says; the stream
// is not told to stay a drip.
func TestStreamOffered(t *testing.T) {
	r := scats(t, 4, "1 g")
	p := plan(t, r)
	if n := noteIn(t, p.Warnings, "drops_set_the_time"); n.Params[0].(quantity.Estimate[quantity.DripRate]).Value != usualMostDrip {
		t.Errorf("%v sets the time, want %v", n.Params[0], usualMostDrip)
	}
	offer := noteIn(t, p.Warnings, "stream_is_faster")
	stream := plan(t, allowing(r, offer))
	said, took := float64(offer.Params[0].(quantity.Estimate[quantity.Duration]).Value), float64(stream.Release.Time.Value)
	if math.Abs(took/said-1) > 0.05 || took > float64(p.Release.Time.Value)/2 {
		t.Errorf("the stream is said to take %.2f h, takes %.2f; the drip %.2f", said, took, p.Release.Time.Value)
	}
	if says(stream.Cautions, "drip_never_a_stream") || !says(stream.Cautions, "stream_by_cup") {
		t.Errorf("a stream is planned with the cautions %v", codes(stream.Cautions))
	}
	if !says(p.Cautions, "drip_never_a_stream") || says(p.Cautions, "stream_by_cup") {
		t.Errorf("a drip is planned with the cautions %v", codes(p.Cautions))
	}
}

// If only the counting keeps one fish too long in its water, a stream is the first offer and
// measured cups the next, no fish is said to be too many, and both work.
func TestStreamInPlaceOfFewerAnimals(t *testing.T) {
	r := Request{From: water(t, "5 ppt", "25 C"), To: water(t, "15 ppt", "25 C"),
		Animals:   []Animal{{Sensitivity: new(tolerance.Hardy), Count: new(1), Mass: read[quantity.Mass](t, "30 g")}},
		Container: Container{Capacity: read[quantity.Volume](t, "30 L"), StartVolume: read[quantity.Volume](t, "10 L"), Aerated: new(true)}}
	faults := faultsAll(t, r)
	if len(faults) != 3 {
		t.Fatalf("refused with %v, want what is the matter, a stream and cups", faults)
	}
	for i, want := range []struct {
		where string
		code  quantity.Code
	}{{"line.greatest_drip", "too_much_ammonia_in_drops"}, {"line.greatest_drip", "stream_would_do"}, {"route", "cups_would_do"}} {
		if got := faults[i]; got.Where != want.where || got.Note.Code != want.code {
			t.Errorf("fault %d is %s at %s, want %s at %s", i, got.Note.Code, got.Where, want.code, want.where)
		}
	}
	stream := plan(t, allowing(r, faults[1].Note))
	r.Route = new(ByCups)
	cups := plan(t, r)
	for name, p := range map[string]Plan{"stream": stream, "cups": cups} {
		if p.LifeSupport.NH3AtGreatestUse.Value > 0.05 {
			t.Errorf("the %s brings %v of ammonia", name, p.LifeSupport.NH3AtGreatestUse)
		}
	}
	if said := faults[2].Note.Params[1].(quantity.Estimate[quantity.Duration]); said != cups.Release.Time {
		t.Errorf("cups are said to take %v, take %v", said, cups.Release.Time)
	}
}

// If the line is not the cause, no other line is offered.
func TestNoStreamForTooMany(t *testing.T) {
	for _, f := range faultsAll(t, scats(t, 60, "5 g")) {
		if f.Note.Code == "stream_would_do" || f.Note.Code == "cups_would_do" {
			t.Errorf("60 fish in a bucket are offered %v", f.Note)
		}
	}
}
