package followup

import (
	"math"
	"slices"
)

// toward is the sign of the change of salinity that is planned.
func (b *bank) toward() float64 { return math.Copysign(1, b.in-b.begins) }

// From how many standard deviations on a salinity that is further from the new water than the
// volume has it closes the clamp; fewer where it is beyond the water in which it began, to which
// no drip of the new water leads, while the volume has it so many nearer.
const (
	farBehind   = farFrom
	beyondStart = 1.7
	nearer      = 1.
)

// isBehind reports whether a salinity that was read is behind its volume, as it is where the jug
// holds other water than it should. An instrument that is known to be off shows nothing.
func (b *bank) isBehind(h *hypothesis, r *record) bool {
	if !r.has("volume") || slices.ContainsFunc(h.found, func(x found) bool { return x.kind == WrongInstrument }) {
		return false
	}
	for _, n := range r.numbers {
		if n.what != "salinity" {
			continue
		}
		u := math.Hypot(n.read.u, r.bias) * b.toward()
		off, begun := (r.salt-n.read.value)/u, (b.begins-n.read.value)/u
		return off > farBehind || off > beyondStart && begun > 0 && off-begun > nearer
	}
	return false
}

// diluted reports whether dripping can have led to a salinity: at the most, all that came in was
// fresh. Other readings are the instrument's.
func (b *bank) diluted(r *record, sa reading) bool {
	freshest := b.begins * (b.in - r.salt) / (b.in - b.begins)
	return sa.value > freshest-unlikely*math.Hypot(sa.u, r.bias)
}

// wrongWater returns the record of the latest salinity since an hour if that shows that the new
// water is not what it should be; nil otherwise.
func (b *bank) wrongWater(h *hypothesis, since float64) *record {
	r := h.latestWith("salinity", since)
	if r == nil || r.before != nil && r.before.unread {
		return nil
	}
	for _, n := range r.numbers {
		if n.what == "salinity" && (r.behind || b.isBehind(h, r) && b.diluted(r, n.read)) {
			return r
		}
	}
	return nil
}

// wrongNewWater answers if the container lags behind what came in: the new water is read before
// anything goes on.
func (f *following) wrongNewWater() bool {
	c := f.course
	r := f.bank.wrongWater(&f.bank.latest, f.restarted())
	if r == nil {
		return false
	}
	c.pause(noteOf("act_close_and_new_water", practical(f.base.To)))
	if e := f.entry(r.entry); !r.behind {
		c.because(noteOf("why_saltier", *e.Salinity, f.shown(*e, r.salt)))
		c.Then = append(c.Then, noteOf("act_read_once_more"))
	}
	c.Then = append(c.Then, noteOf("log_to_go_on"))
	return true
}
