package followup

// contradict reports whether so many of the numbers that were read are set aside that the estimate is
// not to be trusted.
func contradict(aside, of int) bool { return aside > 1 && 3*aside > of }

// contradictory reports whether the numbers of the latest sightings contradict each other by a
// hypothesis, one of the last sighting among them.
func (h *hypothesis) contradictory() bool {
	aside, of := 0, 0
	for r := h.trace; r != nil && of < mostJudged; r = r.before {
		for _, n := range r.numbers {
			if of++; n.aside {
				aside++
			}
		}
		if aside == 0 {
			return false
		}
	}
	return contradict(aside, of)
}

// contradicted closes the clamp where the numbers contradict each other, before they are read again.
func (f *following) contradicted() bool {
	c := f.course
	if !tells(c.Warnings, "readings_contradict") {
		return false
	}
	c.pause(noteOf("now_wait", *c.Gap))
	if f.readFirst(); c.Now.Code == "now_wait" {
		c.Now = noteOf("act_close_and_read")
		return true
	}
	c.first(noteOf("act_close_clamp"))
	return true
}

// contradicts reports whether the numbers contradict each other at a sighting that brought one.
func (b *bank) contradicts(s sighting) bool {
	return (s.reads() || s.drops.u > 0) && b.latest.contradictory()
}
