package followup

import (
	"math"

	"saltlock/chem/transfer"
)

// Leg is a stretch of a saved transfer under one plan: the first as it was
// asked for, each later one a continuation that readings made necessary.
type Leg struct {
	At      float64          `json:"at"`                // h after the start of the transfer
	Full    float64          `json:"full,omitempty"`    // L before the pour-off that the first step begins with
	Entries int              `json:"entries,omitempty"` // of the log that it rests on
	Request transfer.Request `json:"request"`
	Steps   []Step           `json:"steps"`          // what the keeper was told; none but for a drip without an overflow
	Plan    *transfer.Plan   `json:"plan,omitempty"` // as the keeper was told it; nil where a later leg has long taken its place
}

// Step is a stretch of drip as the keeper was told it: pour off first, set the
// valve, wait for the mark.
type Step struct {
	Wait   float64 `json:"wait,omitempty"`    // h before it, with the valve closed
	PourTo float64 `json:"pour_to,omitempty"` // L; 0 is not to pour off
	Drip   float64 `json:"drip"`              // drops/s
	Set    bool    `json:"set,omitempty"`     // the valve anew
	Until  float64 `json:"until"`             // L
}

// NewLeg returns the leg of a plan that starts so many hours after the start of
// its transfer.
func NewLeg(at float64, r transfer.Request, p transfer.Plan) Leg {
	l := Leg{At: at, Request: r, Plan: &p}
	if p.Route != transfer.Drip || p.Has(transfer.RunOver) {
		return l // what is followed is one container that fills
	}
	wait, pour := 0.0, 0.0
	for _, phase := range p.Phases {
		switch phase.Kind {
		case transfer.Rest:
			wait = float64(phase.Duration.Value)
		case transfer.PourOff:
			pour = float64(phase.ToVolume.Value)
		case transfer.Fill:
			l.Steps = append(l.Steps, Step{Wait: wait, PourTo: pour, Drip: float64(phase.Drip.Value), Set: phase.SetValve, Until: float64(phase.ToVolume.Value)})
			wait, pour = 0, 0
		}
	}
	return l
}

// truth is how the real drip may differ from the planned one: the logarithms of
// the ratios real to told of drops in time, volume of a drop and volume at the
// start, and what the salinities of the two waters are off by, in g/kg.
type truth [5]float64

// The places in a truth.
const (
	dripOff = iota
	dropOff
	startOff
	fromOff
	toOff
)

// trail is what really happened in the container, on plain numbers, as far as
// the keeper waited for the marks: pouring off and setting the valve come when
// the container is as full as told, so that a slow drip only takes longer.
type trail struct {
	base transfer.Baseline
	drip transfer.DripBaseline
	legs []Leg
}

// moment is the container at one time.
type moment struct {
	left, mass float64 // share of the gap, kg
	volume     float64 // L
	other      float64 // L, on the other side of a pour-off nearby; else as volume
	told       Step    // what runs; the zero value where the drip is off
	settings   int     // so far
	wait       float64 // h, until the mark
	next       float64 // L to pour down to at the mark; 0 where the valve is set or all ends
	drawn      float64 // kg from the source so far
	fills      int     // of the leg, begun so far; a fill goes from one pour-off to the next
	filled     float64 // kg in the latest of them
}

// nearPour is how close to a pour-off, in h, a volume may have been read on
// either side of it.
const nearPour = 0.25

// at follows the trail for so many hours.
func (w trail) at(x truth, hours float64) moment {
	m := moment{left: 1, mass: w.drip.Start * math.Exp(x[startOff]) * w.drip.Density(1)}
	for k, leg := range w.legs {
		if k > 0 && leg.At >= hours {
			break
		}
		end := hours
		if k+1 < len(w.legs) {
			end = min(end, w.legs[k+1].At)
		}
		m.told, m.wait, m.next, m.other = Step{}, 0, 0, 0
		m.fills, m.filled = 0, 0
		w.follow(&m, leg, x, end)
	}
	m.volume = m.mass / w.drip.Density(m.left)
	if m.other == 0 {
		m.other = m.volume
	}
	return m
}

// follow carries out the steps of a leg up to a time.
func (w trail) follow(m *moment, leg Leg, x truth, end float64) {
	clock := leg.At
	for i, s := range leg.Steps {
		if s.Wait > 0 && clock+s.Wait > end {
			m.told, m.wait = Step{}, clock+s.Wait-end
			return
		}
		clock += s.Wait
		if s.PourTo > 0 {
			if full := m.mass / w.drip.Density(m.left); end-clock < nearPour {
				m.other = full
			}
			m.mass = min(m.mass, s.PourTo*w.drip.Density(m.left))
		}
		if i == 0 || s.PourTo > 0 {
			m.fills, m.filled = m.fills+1, 0
		}
		if s.Set {
			m.settings++
		}
		flow := w.flow(s, x)
		full := m.mass
		for range 4 { // the density hardly depends on the gap: this settles at once
			full = s.Until * w.drip.Density(m.left*min(1, m.mass/full))
		}
		if full <= m.mass {
			continue
		}
		took := (full - m.mass) / flow
		if clock+took > end {
			more := m.mass + flow*max(0, end-clock)
			m.draw(more - m.mass)
			m.left, m.mass = m.left*m.mass/more, more
			m.told, m.wait = s, clock+took-end
			if i+1 < len(leg.Steps) {
				m.next = leg.Steps[i+1].PourTo
			}
			if m.wait < nearPour && m.next > 0 {
				m.other = m.next
			}
			return
		}
		m.draw(full - m.mass)
		m.left, m.mass = m.left*m.mass/full, full
		clock += took
	}
}

// draw lets in so many kg of new water.
func (m *moment) draw(mass float64) {
	m.drawn += mass
	m.filled += mass
}

// flow is the real one of a step, in kg/h.
func (w trail) flow(s Step, x truth) float64 {
	return w.drip.Flow(s.Drip) * math.Exp(x[dripOff]+x[dropOff])
}

// salinities are those of the water at the start and of the new one.
func (w trail) salinities(x truth) (from, to float64) {
	return w.base.From + x[fromOff], w.base.To + x[toOff]
}

// salinity is that of the container at a moment, g/kg.
func (w trail) salinity(x truth, m moment) float64 {
	from, to := w.salinities(x)
	return to + (from-to)*m.left
}
