package followup

import (
	"saltlock/chem/transfer"
)

// Leg is the part of a saved transfer that follows one plan: the first the plan that was asked
// for, each later one a continuation that readings made necessary.
type Leg struct {
	At      float64          `json:"at"`                // h after the start of the transfer
	Held    float64          `json:"held,omitempty"`    // h before it, with the clamp closed
	Full    float64          `json:"full,omitempty"`    // L before the pour-off with which the first step starts
	Entries int              `json:"entries,omitempty"` // of the log on which it is based
	Cups    int              `json:"cups,omitempty"`    // that were in before it, in a move by cups
	Request transfer.Request `json:"request"`
	Steps   []Step           `json:"steps"`          // what the keeper was asked to do; only for a drip
	Plan    *transfer.Plan   `json:"plan,omitempty"` // as the keeper was given it; nil if later legs have replaced it
}

// Step is one stretch of drip as planned: pour off first, set the valve, wait for the mark.
type Step struct {
	Wait   float64 `json:"wait,omitempty"`    // h before it, with the valve closed
	PourTo float64 `json:"pour_to,omitempty"` // L; 0 means no pour-off
	Drip   float64 `json:"drip"`              // drops/s
	Set    bool    `json:"set,omitempty"`     // whether the valve is set
	Until  float64 `json:"until"`             // L
	For    float64 `json:"for,omitempty"`     // h, if it overflows, so that no mark shows the end

	Jug []float64 `json:"jug,omitempty"` // L, each filling of the jug that it drips from; none where it drips from a tank
}

// closes is when the leg before ends, h.
func (l Leg) closes() float64 { return l.At - l.Held }

// InContainer reports whether a leg drips or goes by cups: in one container, which is followed.
func (l Leg) InContainer() bool { return len(l.Steps) > 0 || l.byCups() }

// ofTank reports whether a leg changes the water of the tank in which the animals live.
func (l Leg) ofTank() bool { return l.Steps == nil && l.Request.HomeTank != nil }

// NewLeg returns the leg of a plan that starts a number of hours after the start of its
// transfer.
func NewLeg(at float64, r transfer.Request, p transfer.Plan) Leg {
	l := Leg{At: at, Request: r, Plan: &p}
	if p.Route != transfer.Drip {
		return l // only one container is followed
	}
	wait, pour := 0.0, 0.0
	for _, phase := range p.Phases {
		switch phase.Kind {
		case transfer.Rest:
			wait = float64(phase.Duration.Value)
		case transfer.PourOff:
			pour = float64(phase.ToVolume.Value)
		case transfer.Fill:
			l.Steps = append(l.Steps, Step{Wait: wait, PourTo: pour, Drip: float64(phase.Drip.Value), Set: phase.SetValve, Until: float64(phase.ToVolume.Value),
				Jug: fillings(p, phase)})
			wait, pour = 0, 0
		case transfer.RunOver:
			l.Steps = append(l.Steps, Step{Wait: wait, Drip: float64(phase.Drip.Value), Set: phase.SetValve,
				Until: float64(phase.ToVolume.Value), For: float64(phase.Duration.Value), Jug: fillings(p, phase)})
			wait = 0
		}
	}
	return l
}

// fillings are the fillings of the jug during a phase.
func fillings(p transfer.Plan, phase transfer.Phase) (litres []float64) {
	if p.Draw == nil {
		return nil
	}
	from, until := float64(phase.Start.Value), float64(phase.Start.Value+phase.Duration.Value)
	for _, c := range p.Draw.Charges {
		if at := float64(c.Time.Value); at >= from-soon && at < until-soon {
			litres = append(litres, float64(c.Volume.Value))
		}
	}
	return litres
}

// moment is the container at one time.
type moment struct {
	left, mass float64 // share of the gap, kg
	volume     float64 // L
	told       Step    // the present step; zero if the drip is off
	then       Step    // the next step, at the mark
	more       bool    // whether there is a next step
	settings   int     // so far
	wait       float64 // h, until the mark
	next       float64 // L to pour down to at the mark; 0 if the valve is set or everything ends
	drawn      float64 // kg from the source so far
	fills      int     // of the leg, started so far; a fill goes from one pour-off to the next
	filled     float64 // kg in the latest of them
}

// nearPour is how close to a pour-off, in h, a volume may have been read before or after it, and
// how old a temperature or test may be that is of now.
const nearPour = 0.25
