package transfer

import "math"

// drip is the problem of closing a gap by a drip, on plain numbers: gaps in
// g/kg, masses in kg, flows in kg/h.
//
// While only the new water enters, gap·mass, the deficit, stays the same, for
// salt is conserved; pouring off takes mass and leaves the gap. A flow q so
// takes the gap from a to b in deficit·(1/b − 1/a)/q hours, and changes the
// salinity by q·gap²/deficit an hour.
type drip struct {
	gap, tolerance      float64 // at the start and at the end
	mass                float64 // of water at the start
	speed               speedLimit
	leastMass, mostMass func(gap float64) float64 // in the container
	leastFlow, mostFlow float64
	settings            int                        // most times the valve is set
	countable           func(flow float64) float64 // the fastest flow up to this one that can be set; nil: any
	visits              *timetable                 // when the keeper can act; nil: at any time
	quick               bool                       // one beginning of the search, and settings left as they were dealt, will do
	tried               int                        // schedules, by the search
	ended               func() error               // tells whether nobody waits for the schedule any more
}

// act is something the keeper does on the way: sets the valve, pours off, or both.
type act struct {
	way       float64 // when: ln(gap at the start/gap then)
	set, pour bool
	// keep is, of both, ln(deficit left/least that can be left); of a pour-off
	// alone ln(greatest flow/flow), for at a slower one less can be left.
	keep float64
}

// stage is a stretch of drip between two acts.
type stage struct {
	from, to  float64 // gaps
	deficit   float64
	flow      float64
	set, pour bool    // what was done at its start
	wait      float64 // h before that, with the valve closed
	held      *held   // where an overflow keeps the volume; nil: the container fills
}

func (s stage) hours() float64 { return s.hoursTo(s.to) }

// hoursTo is the time from its start until a gap.
func (s stage) hoursTo(gap float64) float64 {
	if s.held != nil {
		return s.held.inflow(s.from, gap) / s.flow
	}
	return s.deficit * (1/gap - 1/s.from) / s.flow
}

// mass is that of the water in the container at a gap.
func (s stage) mass(gap float64) float64 {
	if s.held != nil {
		return s.held.mass(gap)
	}
	return s.deficit / gap
}

// rate is how fast the salinity changes at a gap, in g/kg/h.
func (s stage) rate(gap float64) float64 { return s.flow * gap / s.mass(gap) }

// span is how long a stage takes with the wait before it.
func (s stage) span() float64 { return s.wait + s.hours() }

// start returns the mass at the start of a stage, end that at its end.
func (s stage) start() float64 { return s.mass(s.from) }
func (s stage) end() float64   { return s.mass(s.to) }

// hours returns how long the drip takes with these acts, +Inf if they do not
// carry it to the tolerance. Each stage, if asked for, is handed to visit.
//
// From one setting of the valve to the next the flow is the greatest that the
// limit allows all the way, and that leaves after each pour-off a mass which
// still fits the container at the following one, or slower as the acts say. A pour-off goes as low as that
// flow and the animals allow: what stays in needs less new water.
func (d *drip) hours(acts []act, visit func(stage)) float64 {
	if d.ended() != nil { // no schedule is worth anything then, so that every search ends at once
		return math.Inf(1)
	}
	gaps, rooms := d.course(acts)
	s := stage{from: d.gap, deficit: d.gap * d.mass, set: true}
	if s.deficit > rooms[0]*(1+inside) {
		return math.Inf(1)
	}
	total := 0.0
	for i := 0; i <= len(acts); { // the setting at the end of stage i-1 holds to that at the end of stage last
		last := i
		for last < len(acts) && !acts[last].set {
			last++
		}
		r := run{acts: acts[i:last], gaps: gaps[i : last+1], rooms: rooms[i+1:]}
		s.flow = d.flow(s, r)
		if d.visits != nil {
			s.wait, s.flow = d.attended(s, r, total)
		}
		if !(s.flow >= d.leastFlow*(1-inside)) {
			return math.Inf(1)
		}
		for ; i <= last; i++ {
			s.to = gaps[i]
			total += s.span()
			if visit != nil {
				visit(s)
			}
			if i == len(acts) {
				continue
			}
			var ok bool
			if s, ok = d.after(s, acts[i], gaps[last], rooms[i+1]); !ok {
				return math.Inf(1)
			}
		}
	}
	return total
}

// run is what happens from one setting of the valve to the next: the pour-offs
// between, the gap at the end of each stage, the room after each.
type run struct {
	acts        []act
	gaps, rooms []float64
}

// after is the stage that an act begins, not ok where it asks too much of the
// container. The flow is kept until the gap end.
func (d *drip) after(s stage, a act, end, room float64) (stage, bool) {
	s.from, s.set, s.pour, s.wait = s.to, a.set, a.pour, 0
	if !a.pour {
		return s, true
	}
	left := d.least(s.from)
	if left > room*(1+inside) {
		return s, false
	}
	if a.set {
		left *= math.Exp(a.keep)
	} else {
		left = max(left, s.flow*d.speed.need(s.from, end))
	}
	s.deficit = min(s.deficit, left, room)
	return s, true
}

// flow returns the fastest flow from one setting of the valve to the next.
// Between them the gap comes down through gaps, water being poured off at all
// but the last.
func (d *drip) flow(s stage, r run) float64 {
	end := r.gaps[len(r.gaps)-1]
	flow := min(d.mostFlow, s.deficit/d.speed.need(s.from, end))
	slower := 0.0
	for k, a := range r.acts {
		flow = min(flow, r.rooms[k]/d.speed.need(r.gaps[k], end))
		slower += a.keep
	}
	if slower > 0 {
		flow *= math.Exp(-slower)
	}
	if d.countable != nil {
		return d.countable(flow)
	}
	return flow
}

// mostActs bounds the acts of a schedule.
const mostActs = 31

// course returns the gap at the end of each stage, and the most deficit at its
// start that does not overfill the container by the next pour-off or the end.
func (d *drip) course(acts []act) (gaps, rooms [mostActs + 2]float64) {
	gaps[len(acts)] = d.tolerance
	rooms[len(acts)] = d.mostMass(d.tolerance) * d.tolerance
	for i := len(acts) - 1; i >= 0; i-- {
		gaps[i] = d.gap * math.Exp(-acts[i].way)
		rooms[i] = rooms[i+1]
		if acts[i].pour {
			rooms[i] = d.mostMass(gaps[i]) * gaps[i]
		}
	}
	return gaps, rooms
}

// least returns the least deficit that a pour-off may leave: for the animals,
// and for a limit under which the valve still drips.
func (d *drip) least(gap float64) float64 {
	return max(d.leastMass(gap)*gap, d.leastFlow*d.speed.need(gap, d.tolerance))
}
