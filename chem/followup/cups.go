package followup

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// cup is one act of a plan by cups: what is poured off first, and what is poured in.
type cup struct {
	at           float64 // h after the start of the leg
	litres       float64
	pourTo       float64 // L; 0 means no pour-off
	volume, salt float64 // L and g/kg, once it is in
}

// cupsOf returns the cups of a plan, and the volume with which it starts. The gap shrinks as
// the water grows; pouring off leaves it unchanged.
func (f *following) cupsOf(p *transfer.Plan) (cups []cup, start float64) {
	pour := 0.0
	for _, phase := range p.Phases {
		if start == 0 && phase.FromVolume != nil {
			start = float64(phase.FromVolume.Value)
		}
		switch phase.Kind {
		case transfer.PourOff:
			pour = float64(phase.ToVolume.Value)
		case transfer.Cups:
			from, to := float64(phase.FromVolume.Value), float64(phase.ToVolume.Value)
			gap := f.base.To - float64(phase.FromSalinity.Value)*quantity.GramsPerPractical
			every := 0.0
			if phase.Every != nil {
				every = float64(phase.Every.Value)
			}
			for i := range *phase.Cups {
				v := from + (to-from)*float64(i+1)/float64(*phase.Cups)
				cups = append(cups, cup{at: float64(phase.Start.Value) + float64(i)*every, litres: float64(phase.Cup.Value), pourTo: pour,
					volume: v, salt: f.base.To - gap*from/v})
				pour = 0
			}
		}
	}
	return cups, start
}

// cupCount is how many cups of a leg are in.
type cupCount struct {
	cups      []cup
	start     float64 // L
	from, to  float64 // g/kg
	in        int
	poured    int  // from which cup on no pour-off is taken as done
	guessed   bool // nobody read how full the container is since more cups went in than were due
	due       int  // by the plan
	may       int  // the most by the plan, if some were poured a little early
	sure      bool // that in is right, if it is not what was due
	lost      bool // the count that was logged is of more cups, or fewer, than there can be
	unwatched bool // more than one was due since anybody logged anything
	again     bool // the salinity that was read last is read once more
	salinity  bool // whether the latest entry has one
	volume    float64
	salt      float64
	found     *cupsFound
	beyond    float64 // g/kg by which the water was read to be nearer to the target than by the cups
}

// beforeOrAfter is how long before or after its time a cup may be poured, h, but at most a third of
// the interval between two.
const beforeOrAfter = 1. / 6

// whenDue counts the cups that are due at an hour of the leg, and those that may be in.
func whenDue(cups []cup, hours float64) (due, may int) {
	for i, c := range cups {
		near := beforeOrAfter
		if i > 0 {
			near = min(near, (c.at-cups[i-1].at)/3)
		}
		if c.at <= hours-near+soon {
			due++
		}
		if c.at <= hours+near+soon {
			may++
		}
	}
	return due, may
}

// after is the water once so many cups are in.
func (p *cupCount) after(n int) (volume, salt float64) {
	if p.found != nil && n == p.in {
		return p.found.volume, p.found.salt
	}
	k := min(n, p.poured)
	if volume, salt = p.start, p.from; k > 0 {
		volume, salt = p.cups[k-1].volume, p.cups[k-1].salt
	}
	for _, c := range p.cups[k:n] {
		salt = p.to - (p.to-salt)*volume/(volume+c.litres)
		volume += c.litres
	}
	return volume, salt
}

// early reports whether a pour-off comes before so many cups that was not due yet. Whoever pours in
// so much too early need not have poured off.
func (p *cupCount) early(n, may int) bool {
	return n > may && slices.ContainsFunc(p.cups[may:n], func(c cup) bool { return c.pourTo > 0 })
}

// A count of cups that does not match the plan at that time is believed only if it explains
// the readings better by sureOfCup, in squares of standard deviations. Each cup away from the
// plan costs perCup.
const (
	perCup    = 2.0
	sureOfCup = 3.0
)

// countCups finds how many cups are in by the latest entry of a leg that shows it, and judges
// the readings against that. It is long because each entry is judged by what was said before it.
func (f *following) countCups(leg Leg) (cupCount, error) {
	p := cupCount{sure: true, from: f.base.From, to: f.base.To}
	p.cups, p.start = f.cupsOf(leg.Plan)
	if p.poured = len(p.cups); leg.At > 0 {
		p.from = leg.Request.From.Salinity.Value // a continuation is requested in g/kg
	}
	before, told := 0, f.ordersFor() // due at the entry before, and what was said to it
	for i, e := range f.log {
		h := e.hours(f.base.Request)
		f.against.count(e, told.none(h))
		if h > f.last { // what went in then, only that names
			continue
		}
		if leg.At == 0 || h > leg.closes() {
			p.due, p.may = whenDue(p.cups, h-leg.At)
			switch {
			case e.read():
				p.unwatched = false
				if err := f.countAt(&p, i, told.forbid(h)); err != nil {
					return p, err
				}
				told.again = p.again
			case told.forbid(h), p.found != nil:
			case p.unwatched || p.due > max(before, p.in)+1:
				p.unwatched = true // nobody poured them for all that is known
			default:
				p.in = max(p.in, p.due)
			}
			before = p.due
		}
		was := told.none(h)
		if err := told.follow(f, i); err != nil {
			return p, err
		}
		if !was && told.none(h) {
			f.against = pouredAgainst{since: h, in: leg.Cups + p.in}
		}
	}
	p.volume, p.salt = p.after(p.in)
	if p.found == nil && p.in < len(p.cups) && f.pouredOff(p) {
		p.volume = p.cups[p.in].pourTo
	}
	return p, nil
}

// pouredOff reports whether the latest volume is closer to the one that the next cup asks to
// pour down to than to the one before it.
func (f *following) pouredOff(p cupCount) bool {
	next := p.cups[p.in]
	for i := len(f.log) - 1; i >= 0 && next.pourTo > 0; i-- {
		if v, err := f.volumeRead(f.log[i]); err == nil && v.u > 0 {
			return math.Abs(v.value-next.pourTo) < math.Abs(v.value-p.volume)
		}
	}
	return false
}

// countAt counts the cups that are in by one entry, at a place in the log. Those that were due after an
// order to pour none are not taken as poured. It is long because every number of the entry counts.
func (f *following) countAt(p *cupCount, at int, forbidden bool) error {
	e, leg := f.log[at], f.leg()
	sa, volume, err := f.readOf(e)
	if err != nil {
		return err
	}
	p.found = nil
	hours := e.hours(f.base.Request) - leg.At
	p.due, p.may = whenDue(p.cups, hours)
	due, may := p.due, p.may
	if forbidden {
		due = min(due, p.in)
	}
	p.salinity, p.again = sa.u > 0, false
	score := func(n int) float64 {
		best := math.Inf(1)
		for _, p.poured = range []int{may, len(p.cups)} {
			best = min(best, p.misses(n, sa, volume))
		}
		return best + perCup*float64(max(0, due-n, n-may))
	}
	best, planned := 0, math.Inf(1)
	for n := range len(p.cups) + 1 {
		if score(n) < score(best) {
			best = n
		}
		if due <= n && n <= may {
			planned = min(planned, score(n))
		}
	}
	p.in, p.sure = best, planned-score(best) > sureOfCup && score(best) < suspectFrom*suspectFrom
	if p.sure = p.sure || due <= p.in && p.in <= may; !p.sure { // it may as well be as planned
		p.in = min(max(p.in, due), may)
	}
	before := leg.Cups
	if p.lost = e.Cups != nil && (*e.Cups < before || *e.Cups > before+len(p.cups)); e.Cups != nil && !p.lost {
		p.in, p.sure = *e.Cups-before, true
	}
	p.poured, p.guessed = len(p.cups), p.early(p.in, may) && volume.u == 0
	if planned := p.misses(p.in, reading{}, volume); p.early(p.in, may) {
		if p.poured = may; volume.u > 0 && planned <= p.misses(p.in, reading{}, volume) {
			p.poured = len(p.cups)
		}
	}
	f.findCups(p, e, sa, volume)
	f.judgeCups(p, f.number[at], hours, sa, volume)
	return nil
}

// misses is by how many standard deviations, squared and summed, readings miss the water once so many
// cups are in. Before the next, the water may be poured off already.
func (p *cupCount) misses(n int, sa, volume reading) (sum float64) {
	v, s := p.after(n)
	if sa.u > 0 {
		sum += math.Pow((sa.value-s)/sa.u, 2)
	}
	if volume.u > 0 {
		off := math.Abs(volume.value - v)
		if n < len(p.cups) && p.cups[n].pourTo > 0 {
			off = min(off, math.Abs(volume.value-p.cups[n].pourTo))
		}
		sum += math.Pow(off/volume.u, 2)
	}
	return sum
}

// readOf returns the salinity and the volume of an entry.
func (f *following) readOf(e LogEntry) (sa, volume reading, err error) {
	if e.Salinity != nil {
		s, err := e.salinity(f.base.Request)
		if err != nil {
			return sa, volume, err
		}
		sa = reading{float64(s.Value), math.Hypot(float64(s.U), modelDoubt)}
	}
	volume, err = f.volumeRead(e)
	return sa, volume, err
}

// judgeCups judges the readings against a number of cups.
func (f *following) judgeCups(p *cupCount, number int, at float64, sa, volume reading) {
	c := f.course
	v, s := p.after(p.in)
	if p.found == nil && p.in < len(p.cups) && p.cups[p.in].pourTo > 0 && math.Abs(volume.value-p.cups[p.in].pourTo) < math.Abs(volume.value-v) {
		v = p.cups[p.in].pourTo
	}
	for _, x := range []struct {
		what     string
		read     reading
		expected float64
	}{{"salinity", sa, s}, {"volume", volume, v}} {
		if x.read.u == 0 {
			continue
		}
		if x.what == "salinity" {
			j := f.judgedSalinity(number, at+f.leg().At, x.read, x.expected, unlikely)
			c.Readings, p.again = append(c.Readings, j), j.far != 0
			continue
		}
		j := Judged{Entry: number, Time: hours(at + f.leg().At), What: x.what, Deviation: (x.read.value - x.expected) / x.read.u,
			Read:     quantity.Measure{Value: x.read.value, Unit: units[x.what], Uncertainty: x.read.u},
			Expected: quantity.Measure{Value: x.expected, Unit: units[x.what]}}
		if j.Suspect = math.Abs(j.Deviation) > suspectFrom; j.Suspect {
			j.Why = new(f.misfit(j))
		}
		c.Readings = append(c.Readings, j)
	}
}
