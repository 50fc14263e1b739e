package followup

import "slices"

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
