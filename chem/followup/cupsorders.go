package followup

import (
	"slices"

	"saltlock/chem/quantity"
)

// orders is what the answers to a log up to an entry forbid: whether cups may be poured then.
// What is forbidden is not taken as done until it is read.
type orders struct {
	stopped bool // until a restart
	out     bool // the power
	unread  bool // nothing was read since the power failed or came back, or since somebody was late
	warmth  bool // is far off, or fell while the power was off
	again   bool // the salinity is read once more first
	poison  bool
	peace   float64 // h, until which the water is left alone after that

	latest, before float64 // °C, the last temperature, and that before the power failed
	failed         bool    // the power, once
	tested         tests
}

// ordersFor are those before anything is logged.
func (f *following) ordersFor() orders {
	planned := float64(f.base.Request.From.Temperature.Value)
	return orders{latest: planned, before: planned, tested: tests{-1, -1}}
}

// forbid reports whether no cup may be poured at an hour.
func (o *orders) forbid(hours float64) bool {
	return o.stopped || o.out || o.unread || o.warmth || o.again || o.poison || hours < o.peace-soon
}

// none reports whether the keeper was told to change no more water.
func (o *orders) none(hours float64) bool {
	return o.stopped || o.out || o.warmth || hours < o.peace-soon
}

// follow takes the answer to an entry of the log into account.
func (o *orders) follow(f *following, i int) error {
	e := f.log[i]
	switch {
	case e.is(Restarted):
		o.stopped, o.unread = false, false
	case e.Stops():
		o.stopped = true
	case e.is(PowerOff):
		o.out, o.unread, o.failed, o.before = true, true, true, o.latest
	case e.is(PowerBack):
		o.out, o.unread = false, !e.read()
	case e.is(Late):
		o.unread = o.unread || !e.read()
	case e.read() && !o.out:
		o.unread = false
	}
	if t := e.Temperature; t != nil {
		o.latest = float64(t.Value)
		o.warmth = f.warmthOf(i).apart() || o.failed && o.before-o.latest > warmFirstFrom
	}
	o.tested = o.tested.after(i, e)
	p, err := f.poisonFound(o.tested)
	if o.poison = len(p.why) > 0; o.poison && (e.TAN != nil || e.Nitrite != nil) {
		o.peace = e.hours(f.base.Request) + peaceAfterPoison
	}
	return err
}

// pouredAgainst is how many cups went in after the keeper was told to change no more water.
type pouredAgainst struct {
	since float64 // h, of what was reported then
	in    int     // cups until then
	more  int
}

// count takes the cups of an entry into account. Once cups may be poured again, there is nothing to say.
func (p *pouredAgainst) count(e LogEntry, forbidden bool) {
	switch {
	case !forbidden:
		p.more = 0
	case e.Cups != nil:
		p.more = max(0, *e.Cups-p.in)
	}
}

// namesCups says how many cups went in although none was to: somebody else at home may pour on.
func (f *following) namesCups() {
	c, p := f.course, f.against
	if p.more == 0 || f.released {
		return
	}
	c.because(noteOf("why_cups_against", p.more, f.clock(p.since)))
	take, at := noteOf("then_take_jug_away"), len(c.Then)
	if nothing := slices.IndexFunc(c.Then, func(n quantity.Note) bool { return n.Code == "act_change_nothing" }); nothing >= 0 {
		at = nothing + 1
	} else if c.Now.Code == "act_change_nothing" { // after the air
		at = min(1, at)
	}
	c.Then = slices.Insert(c.Then, at, take)
}
