package followup

import (
	"slices"

	"saltlock/chem/quantity"
)

// unread makes the salinity unknown after much was filled up: of what salt, nobody knows.
func (b *bank) unread(h *hypothesis) {
	r := h.trace
	i := slices.IndexFunc(r.numbers, func(n judgement) bool {
		return n.what == "volume" && !n.aside && n.read.value > (1+unsurePour)*n.expected
	})
	if i < 0 {
		return
	}
	added := r.numbers[i].read.value - r.numbers[i].expected
	r.added = added
	h.widen(vector{missing: b.lacking(added*b.density(b.in), 0)})
	r.unread, r.uSalt = true, h.saltU(&b.vesselModel)
	if r.before != nil { // no change is known of
		r.salt = r.before.salt
	} else {
		r.salt = b.begins
	}
}

// known is the record, or the latest before it, after which the salinity was known; nil if none.
func (r *record) known() *record {
	for r != nil && r.unread {
		r = r.before
	}
	return r
}

// touched is the reason to look where the clamp was touched or water was filled up.
func (f *following) touched(e LogEntry) quantity.Note {
	at := f.when(e)
	if e.is(ClampTouched) {
		return noteOf("why_clamp", at)
	}
	return noteOf("why_refilled", at)
}

// unreadSince reports whether one of these events closed the clamp until something is read, and
// nothing was.
func (f *following) unreadSince(events ...Event) bool {
	return f.state.paused >= 0 && f.log[f.state.paused].is(events...)
}

// readsFirst keeps the clamp closed until something is read, although it was touched or water filled
// up since the event that closed it.
func (f *following) readsFirst(e LogEntry) {
	c := f.course
	if c.Now = noteOf("act_read_the_rest"); e.is(ClampTouched) { // it may be open
		c.Now = noteOf("act_close_and_read")
	}
	c.Why = append(c.Why, f.touched(e))
	if shut := f.log[f.state.paused]; shut.is(Late) {
		c.Why = append(c.Why, noteOf("why_late", f.when(shut)))
	}
	c.Then = append(c.Then, noteOf("log_to_go_on"))
}
