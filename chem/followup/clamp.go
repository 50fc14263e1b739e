package followup

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// closing is the container when the clamp was closed.
type closing struct {
	entry            int // of the log
	leg              int // during which that was
	volume, salinity shownAt
}

// shownAt is a number that an instrument showed, or should have shown.
type shownAt struct {
	reading
	hours  float64
	bias   float64 // standard deviation of the error that readings of the same device share
	device string
}

// estimated is the device of an estimate without any reading behind it.
const estimated = "estimate"

// closingOf is the container at a sighting, by a hypothesis.
func (b *bank) closingOf(h *hypothesis, s sighting) *closing {
	shows := func(n number) shownAt {
		return shownAt{reading: reading{n.shown, math.Sqrt(h.variance(n.slope))}, hours: s.hours, device: estimated}
	}
	c := closing{s.entry, h.leg, shows(b.volumeOf(h.x)), shows(b.salinityOf(h.x))}
	if c.volume.device = ""; h.p[bias][bias] > 0 {
		c.salinity.device = h.device
	}
	return &c
}

// keepClosing keeps what was in the container when the clamp was closed, until it opens.
func (b *bank) keepClosing(s sighting) {
	held, waits := b.heldBy(s.hours), b.waits(&b.latest)
	if b.closing != nil && b.latest.leg > b.closing.leg && !waits { // another plan opened it meanwhile
		b.closing = nil
	}
	switch {
	case !s.closes && held < 0 && !b.latest.shut && !waits:
		b.closing = nil
	case b.closing == nil && (s.closes || held >= 0):
		b.closing = b.closingOf(&b.latest, s)
	}
	if b.closing != nil {
		b.closing.leg = max(b.closing.leg, b.latest.leg, held)
	}
}

// How many standard deviations a reading, or the mean of two, must be above those before to show for
// certain that water came in, or below that some was taken out; and one more after that was told.
const (
	cameIn     = 2.
	stillComes = 1.
)

// rise is a number that only grows if water still runs in through a closed clamp.
type rise struct {
	toward float64 // sign of the change that the new water brings
	read   []shownAt
	from   float64 // what it was, if it grew
	to     float64
	grew   bool
}

// above is by how many standard deviations one number is above another.
func (r *rise) above(b, a shownAt) float64 {
	u := math.Hypot(math.Hypot(a.u, b.u), seep*a.value*math.Sqrt(max(0, b.hours-a.hours)))
	if a.device != b.device {
		u = math.Hypot(u, math.Hypot(a.bias, b.bias))
	}
	return (b.value - a.value) * r.toward / u
}

// mean is the weighted mean of numbers: of those of one device, if it has any, since what devices
// differ by does not average out.
func mean(all []shownAt, device string) (m shownAt) {
	list := slices.DeleteFunc(slices.Clone(all), func(n shownAt) bool { return n.device != device })
	if m.device = device; len(list) == 0 {
		list, m.device = all, estimated
	}
	weights := 0.0
	for _, n := range list {
		weight := 1 / max(n.u*n.u, leastVariance)
		m.value, weights = m.value+weight*n.value, weights+weight
		m.hours, m.bias = n.hours, max(m.bias, n.bias)
	}
	m.value, m.u = m.value/weights, 1/math.Sqrt(weights)
	return m
}

// leastVariance keeps a number from having no uncertainty.
const leastVariance = 1e-6

// take takes the next number into account, and reports whether it fell, as it does only by hand.
func (r *rise) take(n shownAt) (fell bool) {
	grew, k := r.grew, len(r.read)-1
	if r.grew = false; k < 0 {
		r.read = []shownAt{n}
		return false
	}
	before := mean(r.read, n.device)
	by, twice := r.above(n, before), 0.
	if k > 0 && r.read[k].device == n.device {
		before = mean(r.read[:k], n.device)
		twice = r.above(mean([]shownAt{r.read[k], n}, n.device), before)
	}
	switch {
	case by < -cameIn:
		r.read = []shownAt{n}
		return true
	case by > cameIn, twice > cameIn, grew && by > stillComes:
		if !grew {
			r.from = before.value
		}
		r.to, r.grew, r.read = n.value, true, []shownAt{n}
	case len(r.read) == mostCompared:
		r.read[k] = n
	default:
		r.read = append(r.read, n)
	}
	return false
}

// mostCompared is how many numbers are kept for the mean: the first ones after the clamp was closed,
// and the last. More would tell little, and make a long log costly.
const mostCompared = 32

// forget starts again with the next number, since something else changed the water. What grew
// before stands until then.
func (r *rise) forget() { r.read = nil }

// closedAt is the place in the log of the entry since which the clamp is closed, and what was in
// the container then; -1 if it is open.
func (f *following) closedAt() (int, *closing) {
	if f.released || !f.clamped() || f.leg().outOfBag() {
		return -1, nil
	}
	if f.bank != nil && f.bank.closing != nil {
		at := slices.Index(f.number, f.bank.closing.entry)
		if f.log[at].is(Late) && !f.log[at].read() {
			return at, nil // nobody looked for longer than planned: what ran in by then is not known
		}
		return at, f.bank.closing
	}
	return f.state.stopped, nil
}

// runsOn says how the readings show that water still runs through the clamp since that was
// closed. Level or salinity alone show it: each must have grown by more than its instrument
// explains, at the second reading at the latest. What was filled up or changed by hand shows nothing,
// nor what was logged before anybody said that the clamp is closed.
func (f *following) runsOn() (why []quantity.Note, err error) {
	shut, was := f.closedAt()
	if shut < 0 {
		return nil, nil
	}
	level, salt, tested, renewed, low := rise{toward: 1}, rise{toward: f.toward()}, tests{-1, -1}, false, false
	by := f.closedBy(shut)
	if was != nil {
		level.read, salt.read = []shownAt{was.volume}, []shownAt{was.salinity}
	}
	for i := f.entered; i < len(f.log); i++ {
		e := f.log[i]
		if i > shut || i == shut && was == nil {
			if renewed || low || e.is(Refilled, Restarted) || f.number[i] < by {
				level.forget()
				salt.forget()
			}
			if e.is(Restarted) {
				level.grew, salt.grew = false, false
			}
			if err := f.grown(e, &level, &salt); err != nil {
				return nil, err
			}
		}
		tested, low = tested.after(i, e), f.topsUp(e, low)
		if _, renewed, err = f.closesClamp(i, tested); err != nil {
			return nil, err
		}
	}
	at := f.when(f.log[shut])
	if level.grew {
		why = append(why, noteOf("why_level_rises", f.mark(level.from), f.mark(level.to), at))
	}
	if salt.grew {
		why = append(why, noteOf("why_salinity_moves", practical(salt.from), practical(salt.to), at))
	}
	return why, nil
}

// topsUp reports whether the container was read to hold so little, by an entry or before it, that the
// keeper was told to top it up.
func (f *following) topsUp(e LogEntry, before bool) bool {
	v, err := f.volumeRead(e)
	if err != nil || v.u == 0 {
		return before
	}
	return v.value*fuller < f.leg().least(f.tub.Least)
}

// grown takes the numbers of an entry into account. Drops that were counted as none show that
// nothing runs, as long as no number grew.
func (f *following) grown(e LogEntry, level, salt *rise) error {
	at := e.hours(f.base.Request)
	if e.Drops != nil && *e.Drops == 0 {
		level.grew, salt.grew = false, false
	}
	if e.Salinity != nil {
		sa, err := e.salinity(f.base.Request)
		if err != nil {
			return err
		}
		shared, noise := sharesOf(e)
		n := shownAt{reading{float64(sa.Value), math.Hypot(noise*float64(sa.U), modelDoubt)}, at, shared * float64(sa.U), ""}
		if e.Instrument != nil {
			n.device = deviceOf(e.Instrument)
		}
		if salt.take(n) { // part of it was changed for their old water
			level.forget()
		}
	}
	v, err := f.volumeRead(e)
	if err == nil && v.u > 0 {
		level.take(shownAt{reading: v, hours: at})
	}
	return err
}
