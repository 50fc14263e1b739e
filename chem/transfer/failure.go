package transfer

import (
	"math"

	"saltlock/chem/hydraulics"
	"saltlock/chem/quantity"
)

// Failure is what a valve that sticks open does at the worst moment of the drip. The flow is
// assumed to stay as at the start, so the real times are longer.
type Failure struct {
	Flow         quantity.Estimate[quantity.Flow]         `json:"flow"`
	Rate         quantity.Estimate[quantity.SalinityRate] `json:"rate"`
	TimeToAtOnce *quantity.Estimate[quantity.Duration]    `json:"time_to_at_once,omitempty"` // nil: it never comes to that
	Salinity     quantity.Estimate[quantity.Salinity]     `json:"salinity"`                  // when the jug is empty, the siphon breaks or the tank is empty
	Floor        *quantity.Estimate[quantity.Volume]      `json:"floor,omitempty"`           // nil: nobody knows how much the tank holds
}

// The hose assumed for a stuck valve if none is described, and its head, cm. Common practice, no
// source.
const (
	usualBore   quantity.Length = 0.4
	usualLength quantity.Length = 150
	usualHead   quantity.Length = 50
)

// fail says what a stuck valve does to the animals and the floor. It is long because it fills in
// every field of the answer.
func (t *task) fail(d *Draw, s *solved, v vat) error {
	f := &Failure{}
	switch open := d.OpenLine; {
	case open != nil:
		f.Flow = open.Flow
	default:
		stream, err := t.run(usualBore, usualLength, usualHead)
		if err != nil {
			return err
		}
		f.Flow = quantity.Of[quantity.Flow](float64(stream.Flow), float64(stream.Flow)*float64(hydraulics.OpenFlowFit))
		t.assume(noteOf("open_line_assumed", quantity.Exactly(usualBore), quantity.Exactly(usualLength), quantity.Exactly(usualHead)))
	}
	flow := float64(f.Flow.Value) * 60 / 1000 / v.drop * v.dropMass // kg/h
	worst := stuck{end: math.Inf(1), crossed: math.Inf(1)}
	furthest, room := 0.0, math.Inf(1)
	for _, m := range t.moments(d, s, v) {
		x := m.stick(t.rules.atOnce)
		worst.rate, worst.crossed, worst.floor = max(worst.rate, flow*m.gap/m.mass), min(worst.crossed, x.crossed/flow), max(worst.floor, x.floor)
		if change := m.gap - x.end; change > furthest {
			furthest, worst.end = change, x.end
		}
	}
	f.Rate, f.Salinity = perHour(worst.rate), practical(t.salinityAt(worst.end))
	if !math.IsInf(worst.crossed, 1) {
		f.TimeToAtOnce = new(hours(worst.crossed))
	}
	if !math.IsInf(worst.floor, 1) {
		f.Floor = new(litres(v.volume(worst.floor)))
	}
	for _, l := range s.legs {
		room = min(room, v.capacity/v.drop*v.dropMass-l.end())
	}
	d.Failure = f
	t.tellFailure(d, furthest)
	switch {
	case f.Floor != nil && f.Floor.Value >= spillTold:
		t.caution(noteOf("stuck_valve_floods", *f.Floor))
	case f.Floor == nil && t.runsOver():
		t.caution(noteOf("stuck_valve_floods_overflow"))
	case f.Floor == nil:
		t.caution(noteOf("stuck_valve_floods_after", hours(room/flow)))
	}
	return nil
}

// tellFailure warns of what a stuck valve does.
func (t *task) tellFailure(d *Draw, change float64) {
	f := d.Failure
	switch {
	case d.Feed == FromJug:
		largest := 0.0
		for _, c := range d.Charges {
			largest = max(largest, float64(c.Volume.Value))
		}
		t.caution(noteOf("stuck_valve_empties_jug", hours(largest*1000/60/float64(f.Flow.Value)), salinity(change)))
	case f.TimeToAtOnce != nil:
		t.caution(noteOf("stuck_valve_passes_a_step", *f.TimeToAtOnce, f.Salinity, f.Rate))
	default:
		t.caution(noteOf("stuck_valve_stays_within_a_step", f.Salinity, f.Rate))
	}
}

// spillTold is how much must reach the floor, L, before a plan says so. Proposed here.
const spillTold = 0.1

// moment is a moment at which a valve may stick, on plain numbers: g/kg and kg.
type moment struct {
	gap, mass float64
	room      float64 // until the container runs over; 0 with an overflow
	full      float64 // in the container when it runs over
	source    float64 // that can run in
	caught    float64 // of what runs over, in the bucket under an overflow
}

// stuck is the result: the mass that takes the gap through one step, and the mass that runs onto
// the floor.
type stuck struct{ rate, crossed, end, floor float64 }

// stick lets everything run in.
func (m moment) stick(step float64) stuck {
	x := stuck{end: m.after(m.source), crossed: math.Inf(1), floor: m.source}
	if !math.IsInf(m.source, 1) { // otherwise nobody knows how much, whatever catches it
		x.floor = max(0, m.source-m.room-m.caught)
	}
	if m.gap-x.end > step*(1+inside) {
		x.crossed = m.reaching(m.gap - step)
	}
	return x
}

// after is the gap once so much has run in: it fills, and then runs over.
func (m moment) after(mass float64) float64 {
	if mass <= m.room {
		return m.gap * m.mass / (m.mass + mass)
	}
	return m.gap * m.mass / (m.mass + m.room) * math.Exp(-(mass-m.room)/m.full)
}

// reaching is the mass after which the gap has come down to another.
func (m moment) reaching(gap float64) float64 {
	mass := m.mass * (m.gap - gap) / gap
	if mass <= m.room {
		return mass
	}
	return m.room + m.full*math.Log(m.gap*m.mass/(m.mass+m.room)/gap)
}

// moments are when a stuck valve may be at its worst: each time the jug is full, or a leg begins.
// It is long because what jug and tank hold then follows from what was drawn before.
func (t *task) moments(d *Draw, s *solved, v vat) []moment {
	perLitre := v.dropMass / v.drop
	var list []moment
	drawn, charge := 0.0, 0
	for n, r := range s.runs() {
		taken, all := 0.0, r.drawn()
		add := func(source float64) {
			_, gap, l := r.at(taken)
			m := moment{gap: gap, mass: l.mass(gap), source: source}
			if l.held != nil {
				m.full, m.caught = m.mass, math.Inf(1)
				if w := t.request.Container.WasteCapacity; w != nil {
					m.caught = float64(w.Value) * perLitre
				}
			} else {
				m.room = max(0, v.capacity*perLitre-m.mass)
				m.full = m.mass + m.room
			}
			list = append(list, m)
		}
		if d.Feed == FromJug {
			for ; charge < len(d.Charges) && taken < all*(1-1e-6); charge++ {
				mass := float64(d.Charges[charge].Volume.Value) * perLitre
				add(mass)
				taken += mass
			}
			continue
		}
		for _, l := range r.legs {
			source := math.Inf(1)
			if tank := t.request.SourceTank; tank != nil {
				source = float64(tank.Volume.Value)*perLitre - drawn - taken
				if n < len(d.Intakes) {
					source = min(source, float64(d.Intakes[n].Depth.Value)*float64(tank.Surface.Value)/1000*perLitre-taken)
				}
			}
			add(max(0, source))
			taken += l.flow * l.hours()
		}
		drawn += taken
	}
	return list
}
