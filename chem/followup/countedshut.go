package followup

import "saltlock/chem/quantity"

// heldBy is the first leg that begins, held, with an entry at an hour; -1 without one.
func (b *bank) heldBy(hours float64) int {
	for n := b.latest.leg + 1; n < len(b.legs); n++ {
		if l := b.legs[n]; l.Held > 0 && l.closes() <= hours+soon {
			return n
		}
	}
	return -1
}

// waits reports whether a leg is held and nobody opens the clamp soon.
func (b *bank) waits(h *hypothesis) bool {
	return !h.open && h.step == 0 && b.legs[h.leg].Held > 0 && h.opens > h.at+nearPour
}

// notClosed returns the latest entry that counted drops while the clamp was to be closed; nil if
// none did, or none were counted since.
func (f *following) notClosed() *LogEntry {
	shut, _ := f.closedAt()
	if shut < 0 {
		return nil
	}
	since := f.loggedSince(shut)
	for i := len(since) - 1; i >= 0 && !since[i].is(Restarted); i-- {
		if n := since[i].Drops; n != nil && *n > 0 {
			return &since[i]
		} else if n != nil {
			return nil
		}
	}
	return nil
}

// dripsOn says that drops were counted while the clamp was to be closed, and what to do: none must be
// counted before anything else is believed.
func (f *following) dripsOn() (why, acts []quantity.Note) {
	e := f.notClosed()
	if e == nil {
		return nil, nil
	}
	rate := float64(*e.Drops) / (float64(e.DropsIn.Value) * 3600)
	return []quantity.Note{noteOf("why_drips_shut", f.clock(e.hours(f.base.Request)), quantity.Exactly(quantity.DripRate(rate)))},
		[]quantity.Note{noteOf("act_not_closed"), noteOf("then_count_none")}
}

// countedShut reports whether a count was not expected because the clamp was to be closed. What was
// seen is no mistake of who counted.
func (f *following) countedShut(r *record, n judgement) bool {
	e := f.entry(r.entry)
	return n.what == "drops" && n.expected == 0 && e != nil && e.Drops != nil && *e.Drops > 0 && f.bank.closing != nil
}
