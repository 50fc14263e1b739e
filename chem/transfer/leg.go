package transfer

import (
	"math"

	"saltlock/chem/drip"
)

// leg is a stretch of drip between two acts: gaps in g/kg, masses in kg, flows in kg/h.
type leg struct {
	from, to  float64 // gaps
	deficit   float64 // gap times mass, which stays the same while the container fills
	flow      float64
	set, pour bool    // what was done at its start
	wait      float64 // h before that, with the valve closed
	held      *held   // if an overflow keeps the volume; nil: the container fills
}

// legsOf are the legs of a schedule in which the valve drips; a leg with the
// valve closed is the wait of the next.
func legsOf(s drip.Schedule, h *held) []leg {
	var legs []leg
	wait, pour := 0.0, false
	for i, l := range s.Legs {
		pour = pour || s.Acts[i].Pour
		if l.Flow == 0 {
			wait += l.Hours
			continue
		}
		legs = append(legs, leg{from: l.FromGap, to: l.ToGap, deficit: l.FromGap * l.FromMass, flow: l.Flow,
			set: s.Acts[i].Set || len(legs) == 0, pour: pour, wait: wait, held: h})
		wait, pour = 0, false
	}
	return legs
}

func (s leg) hours() float64 { return s.hoursTo(s.to) }

// hoursTo is the time from its start until a gap.
func (s leg) hoursTo(gap float64) float64 {
	return s.inflow(s.from, gap) / s.flow
}

// gapAfter is the gap h hours into a leg.
func (s leg) gapAfter(h float64) float64 {
	if s.held != nil {
		return s.held.after(s.from, s.flow*h)
	}
	return s.deficit / (s.deficit/s.from + s.flow*h)
}

// mass is the mass of water in the container at a gap.
func (s leg) mass(gap float64) float64 {
	if s.held != nil {
		return s.held.mass(gap)
	}
	return s.deficit / gap
}

// inflow is the mass of new water that takes the gap from one value to another.
func (s leg) inflow(from, to float64) float64 {
	if s.held != nil {
		return s.held.inflow(from, to)
	}
	return s.deficit * (1/to - 1/from)
}

// rate is how fast the salinity changes at a gap, in g/kg/h.
func (s leg) rate(gap float64) float64 { return s.flow * gap / s.mass(gap) }

// whole is how long a leg takes, including the wait before it.
func (s leg) whole() float64 { return s.wait + s.hours() }

// start returns the mass at the start of a leg, end the mass at its end.
func (s leg) start() float64 { return s.mass(s.from) }
func (s leg) end() float64   { return s.mass(s.to) }

// held is water that an overflow keeps at one volume, in L. While new water
// enters, d(gap)/gap = −inflow/mass, so the gap falls exponentially.
type held struct {
	volume  float64
	gap     float64                    // at the start of the drip
	density func(left float64) float64 // kg/L, by the share of the gap that is left
}

func (h *held) mass(gap float64) float64 { return h.volume * h.density(gap/h.gap) }

// Nodes and weights of the three-point rule of Gauss and Legendre on [−1, 1].
var (
	gaussNodes   = [3]float64{-math.Sqrt(0.6), 0, math.Sqrt(0.6)}
	gaussWeights = [3]float64{5. / 9, 8. / 9, 5. / 9}
)

// panel is how much of the gap's logarithm one application of the rule spans: the mass changes by
// a few per cent at most over all of it.
const panel = 0.5

// inflow is the mass of new water that takes the gap from one value to another:
// the integral of mass over the gap's logarithm.
func (h *held) inflow(from, to float64) float64 {
	way := math.Log(from / to)
	n := max(1, math.Ceil(way/panel))
	half, sum := way/n/2, 0.0
	for i := range int(n) {
		mid := (2*float64(i) + 1) * half
		for k, x := range gaussNodes {
			sum += gaussWeights[k] * half * h.mass(from*math.Exp(-mid-half*x))
		}
	}
	return sum
}

// after is the gap that is left once so much new water has come in.
func (h *held) after(from, inflow float64) float64 {
	way := inflow / h.mass(from)
	for range 6 { // of Newton: the mass hardly changes, so each gains three digits
		gap := from * math.Exp(-way)
		way += (inflow - h.inflow(from, gap)) / h.mass(gap)
	}
	return from * math.Exp(-way)
}

// kind is what happens in a leg.
func (s leg) kind() PhaseKind {
	if s.held != nil {
		return RunOver
	}
	return Fill
}
