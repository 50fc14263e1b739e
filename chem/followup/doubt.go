package followup

import (
	"math"

	"saltlock/chem/quantity"
)

// fuller is by how much a container must be read fuller or emptier than it can be, to be
// read again.
const fuller = 1.25

// misread tells whether a hypothesis leaves out that the container was read much fuller or
// emptier at a time than it has it. One that may run over or leak is not waited for: the
// clamp is closed until it was read again.
func (h *hypothesis) misread(at float64) bool {
	if h.trace == nil || h.trace.hours < at {
		return false
	}
	for _, n := range h.trace.numbers {
		if n.what == "volume" && n.aside && (n.read.value > fuller*n.expected || n.read.value*fuller < n.expected) {
			return true
		}
	}
	return false
}

// saltier tells whether a hypothesis has the water much further from the target than it was
// read at a time. What may have gone too fast does not go on before it was read again.
func (b *bank) saltier(h *hypothesis, at float64) bool {
	return h.trace != nil && h.trace.hours >= at && b.ahead(h.trace)
}

// ahead tells whether a record leaves out that the salinity was read much nearer to the
// target, or beyond it, and would have changed too fast for that.
func (b *bank) ahead(r *record) bool {
	sa, since := b.begins, 0.0
	if r.before != nil {
		sa, since = r.before.salt, r.before.hours
	}
	toward := math.Copysign(1, b.in-b.begins)
	for _, n := range r.numbers {
		if n.what == "salinity" {
			return (n.read.value-r.salt)*toward > suspectFrom*math.Hypot(n.read.u, r.bias) &&
				(n.read.value-sa)*toward > rateExcess*b.rate*(r.hours-since)
		}
	}
	return false
}

// doubted answers where what was read at the latest visit is not believed, and would be
// harm if it were true: it is read again with the clamp closed, and where two readings say
// the same, the instrument is checked first.
func (f *following) doubted() bool {
	c, h := f.course, &f.bank.latest
	if h.misread(f.last) {
		c.Verdict, c.Plan, c.Now = Paused, nil, noteOf("now_read_volume")
		return true
	}
	if !f.bank.saltier(h, f.last) {
		return false
	}
	c.Verdict, c.Plan, c.Now = Paused, nil, noteOf("now_read_salinity_again")
	e := f.entry(h.trace.entry)
	c.Why = append([]quantity.Note{noteOf("why_saltier", *e.Salinity, f.shown(*e, h.trace.salt))}, c.Why...)
	before := h.trace.before
	for before != nil && !before.has("salinity") {
		before = before.before
	}
	if before != nil && f.bank.ahead(before) {
		c.Now = noteOf("now_check_instrument")
		c.Then = append(c.Then, noteOf("then_if_right"))
	}
	return true
}

// has tells whether something was read.
func (r *record) has(what string) bool {
	for _, n := range r.numbers {
		if n.what == what {
			return true
		}
	}
	return false
}

// maybeOver answers where the water was read as the target by the time of the release, far
// ahead of the container: the animals may be over, and nobody said so.
func (f *following) maybeOver() bool {
	c, h := f.course, &f.bank.latest
	e := f.log[len(f.log)-1]
	if e.Salinity == nil || e.Volume != nil || e.Level != nil || !f.over(e) || float64(c.Gap.Value) <= f.base.Tolerance {
		return false
	}
	for _, n := range h.trace.numbers {
		if n.what == "salinity" && math.Abs(n.read.value-f.base.To) < unlikely*math.Hypot(n.read.u, h.trace.bias) {
			c.Verdict, c.Plan, c.Now = Paused, nil, noteOf("now_over_or_not")
			return true
		}
	}
	return false
}

// standsStill says that nothing drips, where that was seen.
func (f *following) standsStill() {
	c, last := f.course, f.log[len(f.log)-1]
	switch t := f.bank.latest.trace; {
	case last.Drops != nil && *last.Drops == 0 && f.moment.told.Drip > 0:
		c.Why = append(c.Why, noteOf("why_nothing_drips"))
	case t != nil && t.hours == f.last && t.dry:
		c.Why = append(c.Why, noteOf("why_jug_dry"))
	}
}
