package followup

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// byHand is a move by cups, with what is in the container after each by another way: grams
// of salt and kilograms of water, cup by cup.
func byHand(t *testing.T) (r transfer.Request, p transfer.Plan, legs []Leg, cups []cup, volumes, salts []float64) {
	t.Helper()
	r = quarantined(t)
	r.Line, r.Route = nil, new(transfer.ByCups)
	p, legs = begin(t, r)
	base, err := transfer.NewBaseline(r)
	if err != nil {
		t.Fatal(err)
	}
	f := &following{base: base}
	cups, start := f.cupsOf(&p)
	pail, in := poured(t, r.From, start), poured(t, r.To, 1)
	_, _, v := pail.water(t)
	volumes, salts = []float64{v}, []float64{pail.salinity()}
	for _, c := range cups {
		if c.pourTo > 0 {
			share := c.pourTo / v
			pail.mass, pail.salt, pail.heat = pail.mass*share, pail.salt*share, pail.heat*share
		}
		kg := c.litres * in.mass
		pail.mass, pail.salt, pail.heat = pail.mass+kg, pail.salt+kg*in.salinity(), pail.heat+kg*in.heat/in.mass
		_, _, v = pail.water(t)
		volumes, salts = append(volumes, v), append(salts, pail.salinity())
	}
	return r, p, legs, cups, volumes, salts
}

// What the cups of a plan lead to is as the pail has it, to half a per cent.
func TestCupsAreCounted(t *testing.T) {
	_, p, _, cups, volumes, salts := byHand(t)
	if len(cups) < 6 {
		t.Fatalf("only %d cups: %+v", len(cups), p.Phases)
	}
	for i, c := range cups {
		if math.Abs(c.volume-volumes[i+1]) > 0.005*c.volume || math.Abs(c.salt-salts[i+1]) > 0.05 {
			t.Errorf("after cup %d: %.3f L and %.3f g/kg, in the pail %.3f and %.3f", i+1, c.volume, c.salt, volumes[i+1], salts[i+1])
		}
	}
}

// Cups as planned are on course. A missing one is not made up for by two at once, after one too
// many there is a wait, and the last is said to be the last. It is long because each case goes
// on from the same cups.
func TestCupsAreFollowed(t *testing.T) {
	r, _, legs, cups, volumes, salts := byHand(t)
	at := func(n int, late float64) LogEntry { // n cups are in, some time after the last of them was due
		return entry(cups[n-1].at+late).reads(salts[n], 0.3).holds(volumes[n], 0.1)
	}
	const n = 4
	quarter := (cups[n].at - cups[n-1].at) / 4
	c := follow(t, r, legs, at(n, quarter))
	if c.Verdict != OnCourse || c.Now.Code != "now_next_cup" && c.Now.Code != "now_next_cup_off" || len(c.Legs) != 1 || math.Abs(float64(c.Volume.Value)-volumes[n]) > 0.05 {
		t.Errorf("as planned: %s, %v, %v", c.Verdict, c.Now, c.Volume)
	}
	due := entry(cups[n].at).reads(salts[n], 0.3).holds(volumes[n], 0.1)
	if c = follow(t, r, legs, due); c.Verdict != OnCourse || c.Now.Code != "now_pour_cup" && c.Now.Code != "now_pour_off_and_cup" {
		t.Errorf("when the next is due: %s, %v", c.Verdict, c.Now)
	}
	missed := entry(cups[n].at+beforeOrAfter+0.02).holds(volumes[n], 0.1)
	if c = follow(t, r, legs, missed); c.Verdict != Corrected || len(c.Legs) != 2 || c.Why[0].Code != "why_cup_missed" || c.Legs[1].Cups != n {
		t.Fatalf("one is missing: %s, %v, %v", c.Verdict, c.Now, c.Why)
	}
	if first := float64(c.Plan.Phases[0].Start.Value); first != 0 || float64(c.Plan.Phases[0].FromVolume.Value) > volumes[n]+0.1 {
		t.Errorf("it goes on at %g h with %+v", first, c.Plan.Phases[0])
	}
	counted := entry(cups[n].at + beforeOrAfter + 0.02)
	counted.Cups = new(n)
	if c = follow(t, r, legs, counted); c.Verdict != Corrected || c.Why[0].Code != "why_cup_missed" {
		t.Errorf("one is missing by count: %s, %v", c.Verdict, c.Why)
	}
	tooMany := entry(cups[n-1].at+quarter).reads(salts[n+1], 0.3).holds(volumes[n+1], 0.1)
	if cups[n].pourTo > 0 {
		t.Fatal("there is a pour-off where the test pours a cup too many")
	}
	c = follow(t, r, legs, tooMany)
	if c.Verdict != Corrected || c.Why[0].Code != "why_cup_too_many" || c.Legs[1].Held <= 0 || c.Now.Code != "now_next_cup" && c.Now.Code != "now_next_cup_off" {
		t.Errorf("one too many: %s, %v, %v", c.Verdict, c.Now, c.Why)
	}
	base, _ := transfer.NewBaseline(r)
	if clear := (salts[n+1] - salts[n]) / base.PerHour(salts[n]); c.Legs[1].Held < clear {
		t.Errorf("it waits %.2f h, and the step takes %.2f to be clear of", c.Legs[1].Held, clear)
	}
	// While it waits nothing else is said, and the plan is not made again.
	again := follow(t, r, c.Legs, tooMany, entry(cups[n-1].at+1.5*quarter).holds(volumes[n+1], 0.1))
	if again.Verdict != OnCourse || len(again.Legs) != 2 || again.Now.Code != c.Now.Code {
		t.Errorf("waiting: %s, %v, %d legs", again.Verdict, again.Now, len(again.Legs))
	}
	end := len(cups)
	if c = follow(t, r, legs, entry(cups[end-1].at+0.2).reads(salts[end], 0.3).holds(volumes[end], 0.1)); c.Verdict != Arrived || c.Now.Code != "now_cups_in" {
		t.Errorf("at the end: %s, %v, %v", c.Verdict, c.Now, c.Why)
	}
	bad := at(n, quarter)
	bad.Volume = new(quantity.Of[quantity.Volume](volumes[n]+7, 0.1))
	if c = follow(t, r, legs, bad); len(c.Warnings) == 0 || c.Readings[1].Why == nil {
		t.Errorf("seven litres too many: %s, %v, %+v", c.Verdict, c.Now, c.Readings)
	}
	sick := at(n, quarter)
	sick.Event = new(LookWrong)
	if c = follow(t, r, legs, sick); c.Verdict != Stopped || c.Now.Code != "triage_air" || c.Then[0].Code != "act_keep_salinity" || float64(c.StepBack.PracticalSalinity.Value)*quantity.GramsPerPractical >= salts[n] {
		t.Errorf("they look wrong: %s, %v, %+v", c.Verdict, c.Now, c.StepBack)
	}
}
