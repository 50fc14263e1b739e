package followup

import "math"

// cameInAfter mixes what the level shows to have come in since a stop: new water, which runs through
// the clamp. Until a salinity is read nobody knows it better than half of that change. Water that was
// topped up as told is the water set aside, and clean water is like theirs. It is long
// because each number of an entry has its place.
func (f *following) cameInAfter() {
	if f.bank == nil || f.released || f.mixed || f.tub.Density == nil {
		return
	}
	v, sa := reading{f.moment.volume, math.Sqrt(f.bank.latest.variance(f.bank.volumeOf(f.bank.latest.x).slope))}, f.bank.salt(f.bank.latest.x)
	u, renewed, low, tested := f.bank.latest.saltU(&f.bank.vesselModel), false, false, tests{-1, -1}
	for i := f.state.stopped; i < len(f.log); i++ {
		e := f.log[i]
		if e.Salinity != nil {
			r, err := e.salinity(f.base.Request)
			if err != nil {
				return
			}
			sa, u, f.cameIn = float64(r.Value), float64(r.U), false
		}
		is, err := f.volumeRead(e)
		if err != nil {
			return
		}
		if more := is.value - v.value; is.u > 0 && e.Salinity == nil && i > f.state.stopped && !renewed && more > cameIn*math.Hypot(is.u, v.u) {
			of := f.base.To
			if low {
				of = f.base.From
			}
			was := sa
			sa = (v.value*sa + more*of) / is.value
			u, f.cameIn = math.Hypot(u, math.Abs(sa-was)/2), true
		}
		if is.u > 0 {
			v = is
		}
		tested, low = tested.after(i, e), f.topsUp(e, low)
		if _, renewed, err = f.closesClamp(i, tested); err != nil {
			return
		}
	}
	if f.cameIn {
		f.tellSalinity(sa, u)
		f.course.because(noteOf("why_came_in", practical(sa)))
	}
}
