package followup

import (
	"context"
	"errors"
	"math"
	"sort"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// withoutDrip follows a move in one step, a ramp, or a move through holding tanks. Each
// salinity is judged against the plan. If two readings in a row are off, the rest is planned
// again from the latest.
func (f *following) withoutDrip(ctx context.Context) error {
	c, b, g := f.course, f.base, f.filterGate()
	latest, err := f.judgeSalinities(g)
	if err != nil {
		return err
	}
	leg, sure := f.leg(), f.agree() || f.log[len(f.log)-1].is(Restarted)
	f.misfits()
	planned := salinityAt(leg.Plan, g.until(f.last)-leg.At)
	c.PracticalSalinity = new(practical(f.besidePlan(planned)))
	if done, err := f.event(); done || err != nil {
		return err
	}
	if f.levelOff() {
		return nil
	}
	c.PracticalSalinity = new(practical(planned))
	tank, s := latest, f.salts()
	if len(s) == 0 || s[len(s)-1].Suspect && !sure {
		tank = quantity.Of[quantity.AbsoluteSalinity](planned, b.Doubts[0])
	}
	switch done, err := f.byGate(ctx, g, tank); {
	case done || err != nil:
		return err
	case sure:
		return f.fromReading(ctx, latest)
	case f.aheadOnce(), f.held():
		return nil
	}
	c.Verdict, c.Now, c.Plan = OnCourse, noteOf("now_watch"), leg.Plan
	if len(s) > 0 && s[len(s)-1].far < 0 {
		c.Now = noteOf("now_read_once_more")
		return nil
	}
	f.sayNextChange(leg)
	return nil
}

// besidePlan is where the animals are by the latest reading, or when the plan was stopped, g/kg: as far
// from the plan as it was then. One that fits nothing counts only if it is further from the target, because nothing must
// lead nearer to that by mistake.
func (f *following) besidePlan(planned float64) float64 {
	n := len(f.course.Readings)
	for n > 0 && float64(f.course.Readings[n-1].Time.Value) > f.last+soon {
		n--
	}
	if n == 0 {
		return planned
	}
	last := f.course.Readings[n-1]
	off := last.Read.Value - last.Expected.Value
	if last.Suspect && off*(f.base.To-f.base.From) > 0 {
		return planned
	}
	return max(0, planned+off)
}

// aheadFrom is from how many standard deviations on a salinity is far off that the next change was
// to bring: it would be brought further still.
const aheadFrom = 1.

// ahead reports whether a salinity is already where the next change of water was to bring it.
func (f *following) ahead(leg Leg, hours, sa float64) bool {
	for _, phase := range leg.Plan.Phases {
		if phase.Kind == transfer.WaterChange && float64(phase.Start.Value) > hours {
			return (sa-float64(phase.ToSalinity.Value*quantity.GramsPerPractical))*(f.base.To-f.base.From) >= 0
		}
	}
	return false
}

// judgeSalinities judges each salinity of the log against the plan of its time, and returns the
// latest one.
func (f *following) judgeSalinities(g gate) (latest quantity.Estimate[quantity.AbsoluteSalinity], err error) {
	c, b := f.course, f.base
	for i, e := range f.log {
		h := e.hours(b.Request)
		leg := f.course.Legs[f.legAt(h)]
		if e.Salinity == nil || leg.Plan == nil {
			continue
		}
		sa, err := e.salinity(b.Request)
		if err != nil {
			return latest, err
		}
		from := float64(unlikely)
		if f.ahead(leg, g.until(h)-leg.At, float64(sa.Value)) {
			from = aheadFrom
		}
		read := reading{float64(sa.Value), math.Hypot(float64(sa.U), b.Doubt)}
		c.Readings = append(c.Readings, f.judgedSalinity(f.number[i], h, read, salinityAt(leg.Plan, g.until(h)-leg.At), from))
		latest = sa
	}
	return latest, nil
}

// sayNextChange says what the plan does next, and when.
func (f *following) sayNextChange(leg Leg) {
	c := f.course
	for _, phase := range leg.Plan.Phases {
		if from := float64(phase.Start.Value); from > f.last-leg.At {
			if c.Now = withoutDay(phase.Instruction); from > f.last-leg.At+1 {
				c.Now = noteOf("now_until_change", f.clock(leg.At+from))
				c.Then = append(c.Then, withoutDay(phase.Instruction))
			}
			return
		}
	}
}

// fromReading plans the rest from what was read.
func (f *following) fromReading(ctx context.Context, sa quantity.Estimate[quantity.AbsoluteSalinity]) error {
	c := f.course
	c.PracticalSalinity = new(quantity.Of[quantity.Salinity](float64(sa.Value)/quantity.GramsPerPractical, float64(sa.U)/quantity.GramsPerPractical))
	leg, ok, err := f.planAgain(func() (Leg, error) {
		leg, err := f.legFrom(ctx, sa, 0)
		if hold := f.hold(); err == nil && max(leg.begins(), leg.At+float64(leg.Plan.Phases[0].Start.Value)) < f.last+hold { // it does not wait by itself
			return f.legFrom(ctx, sa, hold)
		}
		return leg, err
	})
	if !ok {
		if err == nil && f.agreed() {
			c.Why = append(c.Why, noteOf("why_salinity_twice", *c.PracticalSalinity))
			f.namesStep()
		}
		return err
	}
	c.Verdict, c.Plan = Corrected, leg.Plan
	c.Why = append(c.Why, noteOf("why_from_reading", *c.PracticalSalinity))
	f.namesStep()
	first := c.Plan.Phases[0]
	from := leg.At + float64(first.Start.Value)
	switch until := max(from, leg.begins()); {
	case f.isAhead() && until > f.last+soon:
		c.Now = withoutDay(first.Instruction)
		f.tellBroken()
		f.holds(until)
	case from > f.last+1:
		c.Now = noteOf("now_until_change", f.clock(from))
		c.Then = append(c.Then, withoutDay(first.Instruction))
	default:
		c.Now = withoutDay(first.Instruction)
	}
	return nil
}

// agreed reports whether the latest two salinities agree.
func (f *following) agreed() bool {
	s := f.salts()
	return len(s) > 1 && s[len(s)-1].sameAs(s[len(s)-2])
}

// namesStep says of a move in one step that it was larger than the limit, by what was read since.
func (f *following) namesStep() {
	c, b := f.course, f.base
	is := float64(c.PracticalSalinity.Value * quantity.GramsPerPractical)
	step := math.Abs(is - b.From)
	if f.now > 0 || f.leg().Plan.Route != transfer.Direct || step <= b.AtOnce+float64(c.PracticalSalinity.U) {
		return
	}
	c.Why = append(c.Why, noteOf("why_moved_early", practical(b.From), *c.PracticalSalinity, salinity(step), salinity(b.AtOnce)))
	c.Then = append(c.Then, noteOf("then_keep_old_water"))
}

// legFrom plans the rest of a move without a drip from a salinity.
func (f *following) legFrom(ctx context.Context, sa quantity.Estimate[quantity.AbsoluteSalinity], hold float64) (Leg, error) {
	r := f.base.Request
	r.From.Salinity = quantity.Reading{Value: max(0, float64(sa.Value)), U: float64(sa.U), Scale: quantity.AbsoluteScale}
	r.From.HoursInBag = nil
	r.From.Temperature = f.warmth(r.From.Temperature)
	r.Start = new(r.Start.Add(time.Duration((f.last + hold) * float64(time.Hour))))
	f.slow(&r)
	day := f.base.From
	if leg := f.leg(); leg.Plan != nil && f.last-24 > leg.At {
		day = salinityAt(leg.Plan, f.last-24-leg.At)
	}
	r.RecentChange = new(salinity(math.Abs(float64(sa.Value) - day)))
	p, err := transfer.NewPlan(ctx, r)
	if _, ok := errors.AsType[*transfer.InfeasibleError](err); ok { // from here another route may lead on
		r.Route = new(transfer.Auto)
		p, err = transfer.NewPlan(ctx, r)
	}
	if err != nil {
		return Leg{}, err
	}
	leg := NewLeg(f.last+hold, r, p)
	leg.Held, leg.Entries = hold, len(f.log)
	return leg, nil
}

// changesNow are the codes of a ramp's changes without a day, for notes that state the time:
// the days of a new plan count from its own start.
var changesNow = map[quantity.Code]quantity.Code{
	"change_water": "now_change_water", "change_water_no_salt": "now_change_water_no_salt", "top_off_with_stock": "now_top_off_with_stock",
}

// withoutDay is the instruction of a ramp's change without the day of the plan.
func withoutDay(n quantity.Note) quantity.Note {
	code, ok := changesNow[n.Code]
	if !ok {
		return n
	}
	return quantity.Note{Code: code, Params: n.Params[1:]}
}

// drips reports whether the water changes all the time during a phase.
func drips(k transfer.PhaseKind) bool {
	return k == transfer.Fill || k == transfer.RunOver || k == transfer.Cups
}

// during is the salinity at an hour of a phase, g/kg. A drip by marks has no curve.
func during(p *transfer.Plan, phase transfer.Phase, hours float64) float64 {
	if len(p.Curve) > 0 {
		return onCurve(p, hours)
	}
	part := (hours - float64(phase.Start.Value)) / max(float64(phase.Duration.Value), soon)
	return float64(phase.FromSalinity.Value+(phase.ToSalinity.Value-phase.FromSalinity.Value)*quantity.Salinity(max(0, part))) * quantity.GramsPerPractical
}

// onCurve is the salinity of the curve at an hour, g/kg.
func onCurve(p *transfer.Plan, hours float64) float64 {
	i := sort.Search(len(p.Curve)-1, func(i int) bool { return float64(p.Curve[i].Time.Value) >= hours })
	a, b := p.Curve[max(i-1, 0)], p.Curve[i]
	part := 1.0
	if span := float64(b.Time.Value - a.Time.Value); span > 0 {
		part = (hours - float64(a.Time.Value)) / span
	}
	return float64(a.PracticalSalinity.Value+(b.PracticalSalinity.Value-a.PracticalSalinity.Value)*quantity.Salinity(part)) * quantity.GramsPerPractical
}

// salinityAt is the salinity, g/kg, after some hours of a plan whose drip, if it has one, is
// not followed.
func salinityAt(p *transfer.Plan, hours float64) float64 {
	sp := p.Phases[0].FromSalinity.Value
	for _, phase := range p.Phases {
		if start := float64(phase.Start.Value); drips(phase.Kind) && start <= hours+soon && hours <= start+float64(phase.Duration.Value) {
			return during(p, phase, hours)
		}
		if float64(phase.Start.Value) <= hours+soon {
			sp = phase.ToSalinity.Value
		}
	}
	return float64(sp * quantity.GramsPerPractical)
}

// suspectFrom is the number of standard deviations above which a reading is set aside.
const suspectFrom = 3.5
