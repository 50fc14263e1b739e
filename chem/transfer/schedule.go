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
}

// act is something the keeper does on the way: sets the valve, pours off, or both.
type act struct {
	way       float64 // when: ln(gap at the start/gap then)
	set, pour bool
	keep      float64 // of both: ln(deficit left/least that can be left)
}

// stage is a stretch of drip between two acts.
type stage struct {
	from, to  float64 // gaps
	deficit   float64
	flow      float64
	set, pour bool // what was done at its start
}

func (s stage) hours() float64 { return s.deficit * (1/s.to - 1/s.from) / s.flow }

// start returns the mass at the start of a stage, end that at its end.
func (s stage) start() float64 { return s.deficit / s.from }
func (s stage) end() float64   { return s.deficit / s.to }

// hours returns how long the drip takes with these acts, +Inf if they do not
// carry it to the tolerance. Each stage, if asked for, is handed to visit.
//
// From one setting of the valve to the next the flow is the greatest that the
// limit allows all the way, and that leaves after each pour-off a mass which
// still fits the container at the following one. A pour-off goes as low as that
// flow and the animals allow: what stays in needs less new water.
func (d *drip) hours(acts []act, visit func(stage)) float64 {
	s := stage{from: d.gap, deficit: d.gap * d.mass, set: true}
	if s.deficit > d.room(acts, -1)*(1+inside) {
		return math.Inf(1)
	}
	total := 0.0
	for i := -1; i < len(acts); {
		next := i + 1
		for next < len(acts) && !acts[next].set {
			next++
		}
		end := d.at(acts, next)
		s.flow = min(d.mostFlow, s.deficit/d.speed.need(s.from, end))
		for k := i + 1; k < next; k++ {
			s.flow = min(s.flow, d.room(acts, k)/d.speed.need(d.at(acts, k), end))
		}
		if d.countable != nil {
			s.flow = d.countable(s.flow)
		}
		if !(s.flow >= d.leastFlow*(1-inside)) {
			return math.Inf(1)
		}
		for k := i + 1; k <= next; k++ {
			s.to = d.at(acts, k)
			total += s.hours()
			if visit != nil {
				visit(s)
			}
			s.from, s.set, s.pour = s.to, false, false
			if k == len(acts) {
				break
			}
			s.set, s.pour = acts[k].set, acts[k].pour
			if !s.pour {
				continue
			}
			left := d.least(s.from)
			if s.set {
				left *= math.Exp(acts[k].keep)
			} else {
				left = max(left, s.flow*d.speed.need(s.from, end))
			}
			if room := d.room(acts, k); left > room {
				if left > room*(1+inside) && d.least(s.from) > room {
					return math.Inf(1)
				}
				left = room
			}
			s.deficit = min(s.deficit, left)
		}
		i = next
	}
	return total
}

// at returns the gap at which an act is due, the tolerance after the last.
func (d *drip) at(acts []act, i int) float64 {
	if i >= len(acts) {
		return d.tolerance
	}
	return d.gap * math.Exp(-acts[i].way)
}

// room returns the most deficit after an act that does not overfill the
// container by the next pour-off or the end.
func (d *drip) room(acts []act, i int) float64 {
	for i++; i < len(acts) && !acts[i].pour; i++ {
	}
	to := d.at(acts, i)
	return d.mostMass(to) * to
}

// least returns the least deficit that a pour-off may leave: for the animals,
// and for a limit under which the valve still drips.
func (d *drip) least(gap float64) float64 {
	return max(d.leastMass(gap)*gap, d.leastFlow*d.speed.need(gap, d.tolerance))
}
