package followup

// halfEmpty reports whether a container was read, once, to hold much less than it may at any
// time of the plan. The clamp is closed until a second reading agrees: it may leak or have been
// tipped, and the drip planned for more water would change too fast what is left.
func (f *following) halfEmpty() bool {
	least := f.tub.Least
	if l := f.leg().Request.Container.LeastVolume; l != nil {
		least = min(least, float64(l.Value))
	}
	low := false
	for i := len(f.log) - 1; i >= 0 && !f.log[i].is(Restarted); i-- {
		v, err := f.volumeRead(f.log[i])
		switch {
		case err != nil:
			return false
		case v.u == 0:
			continue
		case v.value*fuller >= least || low:
			return low && v.value*fuller >= least
		}
		low = true
	}
	return low
}
