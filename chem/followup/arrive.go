package followup

// arrives lets the animals rest, longer after a limit was broken, and then go over.
func (f *following) arrives(leg Leg) {
	c, rest := f.course, leg.Plan.Release.Rest
	if c.Verdict, c.Now = Arrived, noteOf("now_arrived", *c.Gap, rest); leg.Held > 0 {
		c.Now = noteOf("act_close_clamp")
		c.Then = append(c.Then, noteOf("then_rest_until", f.clock(leg.At+float64(rest.Value))))
	}
}

// resting says what is left of the rest before the animals go over.
func (f *following) resting(leg Leg) {
	if until := leg.At + float64(leg.Plan.Release.Rest.Value); f.last < until-soon {
		f.stays(Arrived, noteOf("now_rest_until", f.clock(until)))
		return
	}
	f.stays(Arrived, noteOf("now_move_over"))
}

// margin is by how much the difference must be within the tolerance to be certain, g/kg: its
// uncertainty, but at least a part of the tolerance for what no uncertainty covers.
func (f *following) margin() float64 {
	return max(float64(f.course.Gap.U), 0.05*f.base.Tolerance)
}

// confirmed reports whether the salinity was read at the latest sighting and fits, or was never
// read. Nothing else shows that the animals may go over.
func (f *following) confirmed() bool {
	read := false
	for r := f.bank.latest.trace; r != nil; r = r.before {
		for _, n := range r.numbers {
			if n.what == "salinity" && r.hours == f.last && !n.aside {
				return true
			}
			read = read || n.what == "salinity"
		}
	}
	return !read
}
