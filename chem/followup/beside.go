package followup

import (
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// What follows decides about salinities in a move whose water is not followed drop by drop: by
// cups, by changes in their own tank, or through holding tanks. Each is judged against the plan.

// judgedSalinity is a salinity against the plan of its time. One that is already where the next
// change was to bring it is sooner far off.
func (f *following) judgedSalinity(number int, at float64, read reading, expected float64, from float64) Judged {
	j := Judged{Entry: number, Time: hours(at), What: "salinity", Deviation: (read.value - expected) / read.u, Read: quantity.Measure{Value: read.value, Unit: units["salinity"], Uncertainty: read.u}, Expected: salinity(expected).Measure()}
	switch off := j.Deviation * f.toward(); {
	case off > from:
		j.far = 1
	case off < -unlikely:
		j.far = -1
	}
	if j.Suspect = math.Abs(j.Deviation) > suspectFrom; j.Suspect {
		j.Why = new(f.misfit(j))
	}
	return j
}

// toward is the sign of the change of salinity that is planned.
func (f *following) toward() float64 { return math.Copysign(1, f.base.To-f.base.From) }

// salts are the salinities that were judged since the present leg began, the latest last.
func (f *following) salts() (list []*Judged) {
	c := f.course
	for i := range c.Readings {
		if j := &c.Readings[i]; j.What == "salinity" && !f.before(*j) {
			list = append(list, j)
		}
	}
	return list
}

// before reports whether a number was read before the present leg began.
func (f *following) before(j Judged) bool {
	return f.now > 0 && float64(j.Time.Value) <= f.leg().closes()
}

// agree reports whether the latest two salinities are far off on the same side. They are the truth
// then, and a limit that was broken to get there is named.
func (f *following) agree() bool {
	s := f.salts()
	n := len(s)
	if n < 2 || !s[n-1].sameAs(s[n-2]) {
		return false
	}
	for _, j := range s[n-2:] {
		j.Suspect, j.Why = false, nil
	}
	leg := f.leg()
	from, at, u := float64(leg.Plan.Phases[0].FromSalinity.Value*quantity.GramsPerPractical), leg.closes(), f.base.Doubts[0]
	for _, j := range s[:n-2] {
		if j.far == 0 {
			from, at, u = j.Read.Value, float64(j.Time.Value), j.Read.Uncertainty
		}
	}
	first := s[n-2]
	if b, broke := f.tooFast(from, at, u, first.Read.Value, max(float64(first.Time.Value), at+leastTook), first.Read.Uncertainty); broke && first.far > 0 {
		f.course.Broken = append(f.course.Broken, b)
	}
	return true
}

// sameAs reports whether two salinities are far off on the same side, and by as much as far as their
// uncertainties, or a third of that, tell.
func (j *Judged) sameAs(other *Judged) bool {
	off, was := j.Read.Value-j.Expected.Value, other.Read.Value-other.Expected.Value
	u := unlikely * math.Hypot(j.Read.Uncertainty, other.Read.Uncertainty)
	return j.far*other.far > 0 && math.Abs(off-was) < max(u, math.Abs(off)/3)
}

// misfits warns of what was read last and fits nothing; what was read again since is no matter.
func (f *following) misfits() {
	f.readTwice()
	last := map[string]*quantity.Note{}
	for _, j := range f.course.Readings {
		if last[j.What] = j.Why; f.before(j) {
			last[j.What] = nil
		}
	}
	for _, what := range []string{"salinity", "volume"} {
		if why := last[what]; why != nil {
			f.course.warn(*why)
		}
	}
}

// aheadOnce answers if the latest salinity is far nearer to the target than planned. Nothing goes on
// until it is read again, whatever is reported in between.
func (f *following) aheadOnce() bool {
	s := f.salts()
	n := len(s)
	if n == 0 || s[n-1].far <= 0 || n > 1 && s[n-1].sameAs(s[n-2]) {
		return false
	}
	c, e := f.course, f.entry(s[n-1].Entry)
	if c.pause(noteOf("now_read_salinity_again")); !f.clamped() {
		c.Now = noteOf("now_read_once_more")
		c.Then = append(c.Then, noteOf("act_change_nothing"))
	}
	c.because(noteOf("why_saltier", *e.Salinity, f.shown(*e, s[n-1].Expected.Value)))
	return true
}

// leaveUntil keeps the salinity as it is until an hour.
func (f *following) leaveUntil(hours float64) quantity.Note {
	if f.clamped() {
		return noteOf("now_hold", f.clock(hours))
	}
	return noteOf("now_leave_until", f.clock(hours))
}

// held answers as long as the salinity is left alone, because a limit was broken or the day's
// change is spent.
func (f *following) held() bool {
	until := f.leg().begins()
	if f.now == 0 || f.last >= until-soon {
		return false
	}
	f.stays(OnCourse, f.leaveUntil(until))
	return true
}

// begins is when a leg first changes the water, h: where it is not dripped, not while its plan waits.
func (l Leg) begins() float64 {
	if l.Plan == nil || l.Steps != nil || l.Plan.Phases[0].Kind != transfer.Hold {
		return l.At
	}
	return l.At + float64(l.Plan.Phases[0].Start.Value+l.Plan.Phases[0].Duration.Value)
}

// holds puts a wait, and the search for what went wrong, before what a new plan says first.
func (f *following) holds(until float64) {
	c := f.course
	find, leave := noteOf("then_find_out"), noteOf("now_close_and_hold", f.clock(until))
	if !f.clamped() {
		find, leave = noteOf("then_find_out_what"), noteOf("now_leave_until", f.clock(until))
	}
	c.Then = append(c.Then, find, c.Now)
	c.Now = leave
}

// isAhead reports whether the latest salinity is far nearer to the target than planned.
func (f *following) isAhead() bool {
	s := f.salts()
	return len(s) > 0 && s[len(s)-1].far > 0
}
