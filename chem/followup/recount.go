package followup

import "math"

// resetBefore reports whether the drip was set since it was last seen to drip: at a touch of the
// clamp, or because no drops were counted, which is put right. What is counted then is a setting of its
// own, and no number that does not fit.
func (f *following) resetBefore(i int) bool {
	if *f.log[i].Drops == 0 {
		return false
	}
	if f.log[i].is(ClampTouched) {
		return true
	}
	for k := i - 1; k >= 0; k-- {
		switch e := f.log[k]; {
		case e.is(ClampTouched), e.Drops != nil && *e.Drops == 0:
			return true
		case e.Drops != nil, e.is(Restarted), e.Stops():
			return false
		}
	}
	return false
}

// reset allows for a drip that was set by hand, at any time since the sighting before, to what is
// counted now.
func (b *bank) reset(s sighting) {
	for i := range b.kept {
		if h := &b.kept[i]; h.open {
			h.widen(vector{inflow: math.Max(s.drops.value*b.perDrop*h.x[dropSize], h.x[inflow])})
		}
	}
}

// setTooFast is from which share of the planned drip on a drip that was set by hand is closed until it
// is known how much came in.
const setTooFast = 1.5

// setFast reports whether the drops counted at a sighting, or before, are far too many for a drip that
// was set by hand, and nothing that was read since shows how far that went.
func (b *bank) setFast(s sighting) bool {
	told := b.toldDrip(&b.latest)
	return !s.reads() && (b.fast || s.reset && told > 0 && s.drops.value >= setTooFast*told)
}

// setByHand answers if the drops counted after somebody set the drip are far too many: nobody knows for
// how long, so that salinity and level are read before it is set again.
func (f *following) setByHand() bool {
	c := f.course
	if !f.bank.fast {
		return false
	}
	c.pause(noteOf("act_close_and_read"))
	c.because(noteOf("why_on_course", *c.DripRatio))
	c.Then = append(c.Then, noteOf("log_to_go_on"))
	return true
}
