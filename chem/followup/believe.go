package followup

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// doubt is a number that the keeper was asked to read again; none if its reading has no
// uncertainty.
type doubt struct {
	read            reading
	expected, hours float64
}

// again is how long after a doubt, h, a reading may confirm it. Later the drip has gone on.
const again = 2.

// confirmed reports whether a number was read again much as before: by less than a third of
// what it was off. Its uncertainty does not count, because two readings that agree are the truth.
func (d doubt) confirmed(r reading, hours float64) bool {
	return d.read.u > 0 && r.u > 0 && hours-d.hours < again && 3*math.Abs(r.value-d.read.value) < math.Abs(d.read.value-d.expected)
}

// believe puts the container where two readings that agree say it is, whatever else was
// expected; or one that shows it nearly empty. Found much fuller, its salinity is unknown until
// it is read.
func (b *bank) believe(s sighting) {
	h := &b.kept[0]
	salty, filled, dry := b.doubtedSalinity.confirmed(s.salinity, s.hours), b.doubtedVolume.confirmed(s.volume, s.hours), b.driesOut(h, s.volume)
	if !salty && !filled && !dry {
		return
	}
	r, first := h.trace, min(b.doubtedSalinity.since(), b.doubtedVolume.since(), s.hours)
	more := filled && !dry && b.doubtedVolume.read.value > b.doubtedVolume.expected
	sa := reading{b.salt(h.x), h.saltU(&b.vesselModel)}
	if s.salinity.u > 0 && (salty || more) {
		sa = reading{s.salinity.value, math.Hypot(s.salinity.u, s.bias)}
	}
	volume := s.volume
	if volume.u == 0 { // it was not read, so that it may be any
		v := h.x[mass] / b.density(b.salt(h.x))
		volume = reading{v, moved * v}
	}
	b.place(h, sa, volume)
	for x := r; x != nil && x.hours >= first-soon; x = x.before {
		for i := range x.numbers {
			switch n := &x.numbers[i]; {
			case salty && n.what == "salinity":
				n.aside, x.salt, x.uSalt = false, n.read.value, sa.u
			case (filled || dry) && n.what == "volume":
				n.aside = false
			}
		}
		x.unread = x.unread || more && !x.has("salinity")
	}
	r.salt, r.uSalt = sa.value, sa.u
	if more && s.salinity.u == 0 {
		b.unread(h)
	}
	r.salinityTwice, r.volumeTwice = salty, filled
	r.behind = salty && (b.doubtedSalinity.expected-s.salinity.value)*b.toward() > 0
	h.found = slices.DeleteFunc(slices.Clone(h.found), func(x found) bool { return x.until >= first-soon })
	h.shutClamp(b)
}

// since is when a doubt began, h; +Inf without one.
func (d doubt) since() float64 {
	if d.read.u == 0 {
		return math.Inf(1)
	}
	return d.hours
}

// doubts remembers which numbers of a sighting are asked for again, and reports whether there
// are any.
func (b *bank) doubts(s sighting) bool {
	h := &b.latest
	if s.volume.u > 0 {
		b.doubtedVolume = doubt{}
	}
	if s.salinity.u > 0 {
		b.doubtedSalinity = doubt{}
	}
	if n, off := h.farVolume(s.hours); off {
		b.doubtedVolume = doubt{s.volume, n.expected, s.hours}
	}
	if r, expected := b.saltier(h, s.hours); r != nil {
		b.doubtedSalinity = doubt{s.salinity, expected, s.hours}
	} else if r := b.wrongWater(h, s.hours); r != nil && !r.behind {
		b.doubtedSalinity = doubt{s.salinity, r.salt, s.hours}
	}
	contradicts := b.contradicts(s)
	b.fast = b.setFast(s)
	return contradicts || b.fast && s.reset || b.doubtedVolume.since() == s.hours || b.doubtedSalinity.since() == s.hours || h.trace != nil && h.trace.unread
}

// believed says that two readings agreed, if they did at the latest entry, or else how far the
// estimate is from what was read there.
func (f *following) believed() {
	c, r := f.course, f.bank.latest.trace
	if r == nil || r.hours < f.last {
		return
	}
	e := f.entry(r.entry)
	var why []quantity.Note
	if r.salinityTwice {
		why = append(why, noteOf("why_salinity_twice", *e.Salinity))
		c.Then = append(c.Then, noteOf("act_check_instrument"))
	}
	if r.volumeTwice {
		why = append(why, noteOf("why_volume_twice", f.mark(f.moment.volume)))
	}
	c.Why = append(why, c.Why...)
	for _, n := range r.numbers {
		if n.what == "salinity" && !n.aside && math.Abs(n.read.value-r.salt) > unlikely*math.Hypot(n.read.u, r.bias) {
			c.warn(noteOf("why_saltier", *e.Salinity, f.shown(*e, r.salt)))
		}
	}
}
