package followup

import (
	"context"
	"math"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// What is known before anything was read, as relative standard deviations: of the volume of a
// drop, which differs widely between hoses; of one that the keeper gave; and of the volume at
// the start.
const (
	dropDoubt      = 0.3
	givenDropDoubt = 0.15
	startDoubt     = usualMarks
)

// estimate goes through the log and leaves the result in the bank. A long log takes a while.
func (f *following) estimate(ctx context.Context) error {
	sights, err := f.sightings(ctx)
	if err != nil {
		return err
	}
	f.bank = f.newBank()
	for _, s := range sights {
		if err := ctx.Err(); err != nil {
			return err
		}
		f.bank.follow(s)
	}
	f.careful()
	f.moment = f.momentOf(&f.bank.latest)
	return nil
}

// plausible is how likely an explanation must be, as a logarithm relative to the likeliest, to
// keep animals from being moved over too early.
const plausible = -3.5

// careful chooses an explanation that is not yet at the target if the likeliest one is, or for
// which the valve is set too fast by it: to drip longer than needed harms nobody.
func (f *following) careful() {
	gap := func(h *hypothesis) float64 { return math.Abs(h.x[missing]) / h.x[mass] }
	best := &f.bank.latest
	there := gap(best) <= f.base.Tolerance
	flow := f.bank.toldDrip(best) * f.bank.perDrop * best.x[dropSize]
	for i := range f.bank.before {
		h := &f.bank.before[i]
		left := gap(h)
		tooFast := h.fills < best.fills && flow*left/h.x[mass] > rateExcess*f.tub.Rate(min(left, f.base.Gap))
		if h.weight > plausible && left > f.base.Tolerance*rateExcess && (there || tooFast) {
			f.bank.latest = *h
			return
		}
	}
}

// newBank is the container as planned, before anything is read.
func (f *following) newBank() *bank {
	b, d := f.base, f.tub
	from, to := d.Density(1), d.Density(0)
	m := vesselModel{in: b.To, begins: b.From, rate: b.PerHour(b.From), fresh: from, perDrop: d.Flow(1), brim: math.Inf(1)}
	if b.To != b.From {
		m.swell = (to - from) / (b.To - b.From)
		m.fresh = from - m.swell*b.From
	}
	if c := b.Request.Container; c.Overflow != nil && *c.Overflow {
		m.brim = d.Start
	} else if c.Capacity != nil || c.Shape != nil {
		m.brim = d.Capacity
	}
	var h hypothesis
	h.x = vector{mass: d.Start * from, missing: m.lacking(d.Start*from, b.From), dropSize: 1}
	start, drop := startDoubt, dropDoubt
	if v := b.Request.Container.StartVolume; v != nil && v.U > 0 {
		start = float64(v.U / v.Value)
	}
	if l := b.Request.Line; l != nil && l.DropVolume != nil {
		if drop = givenDropDoubt; l.DropVolume.U > 0 {
			drop = float64(l.DropVolume.U / l.DropVolume.Value)
		}
	}
	h.widen(vector{mass: start * h.x[mass], missing: start * h.x[missing]})
	h.widen(vector{missing: b.Doubts[0] * h.x[mass]})
	h.p[dropSize][dropSize] = drop * drop
	bank := &bank{vesselModel: m, legs: f.course.Legs, least: d.Least}
	h.ran = f.course.Legs[0].Steps[0].Drip
	bank.begin(&h, 0)
	bank.kept = []hypothesis{h}
	return bank
}

// The part of an instrument's standard uncertainty that its readings share as one bias, and
// the part that varies from reading to reading. If the uncertainty was not stated, nearly all
// of it is shared.
const (
	sharedOfStated, noiseOfStated   = 0.5, 1.0
	sharedOfAssumed, noiseOfAssumed = 0.9, 0.45
)

// sharesOf are these parts for the salinity of an entry.
func sharesOf(e LogEntry) (shared, noise float64) {
	if e.Salinity.U == 0 {
		return sharedOfAssumed, noiseOfAssumed
	}
	return sharedOfStated, noiseOfStated
}

// modelDoubt is the uncertainty, g/kg, because the container is not perfectly stirred, and
// water may be poured off or filled up in between.
const modelDoubt = 0.05

// knownAfter is, for each entry, the least number of those after it. One that came before the entry
// shows that nobody had been told yet, at that time, what the entry asks for.
func (f *following) knownAfter() []int {
	known, least := make([]int, len(f.log)), math.MaxInt
	for i := len(f.log) - 1; i >= 0; i-- {
		known[i] = least
		least = min(least, f.number[i])
	}
	return known
}

// sightings returns the entries of the log up to the one that stopped the plan. It is long because
// every field of an entry has its place.
func (f *following) sightings(ctx context.Context) ([]sighting, error) {
	all, tested, known := make([]sighting, 0, len(f.log)), tests{-1, -1}, f.knownAfter()
	for i, e := range f.log {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		h := e.hours(f.base.Request)
		if h > f.last {
			break
		}
		tested = tested.after(i, e)
		closes, renews, err := f.closesClamp(i, tested)
		if err != nil {
			return nil, err
		}
		s := sighting{entry: f.number[i], hours: h, closes: e.Stops() || (e.is(PowerOff, PowerBack, Late) || closes) && f.number[i] < known[i], renewed: renews,
			touched: e.is(ClampTouched), refilled: e.is(Refilled), restarts: e.is(Restarted)}
		if e.Salinity != nil {
			sa, err := e.salinity(f.base.Request)
			if err != nil {
				return nil, err
			}
			shared, noise := sharesOf(e)
			s.salinity = reading{float64(sa.Value), math.Hypot(noise*float64(sa.U), modelDoubt)}
			s.bias = shared * float64(sa.U)
			if e.Instrument != nil {
				s.device = deviceOf(e.Instrument)
			}
		}
		volume, err := f.volumeRead(e)
		if err != nil {
			return nil, err
		}
		s.volume = volume
		if e.Drops != nil {
			rate := float64(*e.Drops) / (float64(e.DropsIn.Value) * 3600)
			s.drops = reading{rate, max(1/(float64(e.DropsIn.Value)*3600), setting*rate)}
			s.reset = f.resetBefore(i)
		}
		all = append(all, s)
	}
	return all, nil
}

// volumeRead is the volume of an entry, by its marks or by its level.
func (f *following) volumeRead(e LogEntry) (reading, error) {
	if v := e.Volume; v != nil {
		u := float64(v.U)
		if u == 0 {
			u = usualMarks * float64(v.Value)
		}
		return reading{float64(v.Value), u}, nil
	}
	if e.Level == nil {
		return reading{}, nil
	}
	u := float64(e.Level.U)
	if u == 0 {
		u = usualLevel
	}
	at := func(level float64) (float64, error) { return f.volumeAtLevel(level) }
	v, err := at(float64(e.Level.Value))
	if err != nil {
		return reading{}, err
	}
	above, err := at(float64(e.Level.Value) + u)
	return reading{v, max(above-v, 1e-3)}, err
}

// volumeAtLevel is the volume of water at a level, by bisection.
func (f *following) volumeAtLevel(level float64) (float64, error) {
	lo, hi := 0.0, 10*f.tub.Start+10
	if c := f.base.Request.Container.Capacity; c != nil {
		hi = max(hi, 1.5*float64(c.Value))
	}
	for range 50 {
		v := (lo + hi) / 2
		l, err := f.base.Request.Container.Level(quantity.Volume(v))
		switch {
		case err != nil: // more than it holds
			hi = v
		case float64(l.Value) < level:
			lo = v
		default:
			hi = v
		}
	}
	return (lo + hi) / 2, nil
}

// momentOf is the container according to a hypothesis.
func (f *following) momentOf(h *hypothesis) moment {
	b := f.bank
	m := moment{mass: h.x[mass], left: 1, settings: h.settings, drawn: h.drawn, fills: h.fills, filled: h.filled}
	if gap := b.in - f.base.From; gap != 0 {
		m.left = h.x[missing] / h.x[mass] / gap
	}
	m.volume = m.mass / b.density(b.salt(h.x))
	steps := b.legs[h.leg].Steps
	if h.step >= len(steps) {
		return m
	}
	if !h.open {
		m.wait = h.opens - h.at
		return m
	}
	m.told, m.wait = steps[h.step], b.toMark(h)
	if h.step+1 < len(steps) {
		m.then, m.more = steps[h.step+1], true
		m.next = m.then.PourTo
	}
	return m
}

// saltAt is the latest estimate of the salinity up to a time, g/kg.
func (f *following) saltAt(hours float64) float64 {
	for r := f.bank.latest.trace; r != nil; r = r.before {
		if r.hours <= hours {
			return r.salt
		}
	}
	return f.base.From
}

// deviceOf names an instrument; each name has a bias of its own.
func deviceOf(s *instrument.Setup) string {
	if s.Kind == nil {
		return ""
	}
	return string(*s.Kind)
}
