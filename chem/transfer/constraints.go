package transfer

import (
	"errors"
	"math"

	"saltlock/chem/drip"
	"saltlock/chem/hydraulics"
	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
)

// constraintKind is what a constraint of a drip is about.
type constraintKind int

const (
	ofLife   constraintKind = iota // oxygen and ammonia
	ofHunger                       // how long animals are held without food
	ofRoom                         // how fast and how far the room takes the container's temperature
	ofSource                       // what the source holds
	ofHead                         // what is left of the head
	ofBore                         // what runs through the open line
)

// spare keeps what the search finds a little inside a limit, so that what is computed again for
// the plan lies inside too.
const spare = 1e-4

// constrain adds every limit that depends on what happened before in the drip.
func (t *task) constrain(p *problem, v vat) error {
	add := func(kind constraintKind, c drip.Constraint) {
		p.Constraints, p.kinds = append(p.Constraints, c), append(p.kinds, kind)
	}
	if t.keep != nil {
		if err := t.constrainLife(p, v, add); err != nil {
			return err
		}
	}
	if t.unheld() {
		add(ofRoom, t.roomConstraint(v))
	}
	return t.constrainLine(v, add)
}

// within1 limits something that only grows from leg to leg.
func within1(of func(drip.Leg) float64, most float64) drip.Constraint {
	return drip.Constraint{Leg: func(_, _ []float64, l drip.Leg) float64 { return (most*(1+inside) - of(l)) / most }}
}

// spellOf is a leg in litres.
func (t *task) spellOf(l drip.Leg, v vat, rho func(left float64) float64) lifesupport.Spell {
	from := l.FromMass / rho(l.FromGap/t.gap)
	s := lifesupport.Spell{Start: l.Start, Hours: l.Hours, Volume: from, FromSalinity: t.salinityAt(l.FromGap), ToSalinity: t.salinityAt(l.ToGap)}
	switch {
	case l.Flow == 0 || l.Hours == 0:
	case l.Overflow:
		s.Inflow = l.Flow / v.dropMass * v.drop
		s.Overflow = s.Inflow
	default: // the two volumes do not quite add up; what they come to is what counts
		s.Inflow = (l.ToMass/rho(l.ToGap/t.gap) - from) / l.Hours
	}
	return s
}

// heldAfter is the time after the drip in which the animals rest until their release.
func (t *task) heldAfter(a drip.Act, v vat, rho func(left float64) float64) lifesupport.Spell {
	sa := t.salinityAt(a.Gap)
	return lifesupport.Spell{Start: a.Time, Hours: v.held(a.Time, t.rest(t.tolerance)), Volume: a.ToMass / rho(a.Gap/t.gap), FromSalinity: sa, ToSalinity: sa}
}

// constrainLife limits oxygen and ammonia up to the release, and the time without food.
func (t *task) constrainLife(p *problem, v vat, add func(constraintKind, drip.Constraint)) error {
	k := t.keep
	rho, err := t.densities()
	if err != nil {
		return err
	}
	tracker, err := lifesupport.NewTracker(k.animals, k.start, k.in, k.care, k.limits.Oxygen, quantity.Volume(v.start), quantity.AbsoluteSalinity(t.from.sa), quantity.AbsoluteSalinity(t.to.sa))
	if err != nil {
		return err
	}
	oxygen, ammonia := float64(k.limits.Oxygen)*(1-inside), float64(k.limits.Ammonia)*(1-10*spare)
	follow := func(next, state []float64, s lifesupport.Spell) float64 {
		least, most := tracker.Follow(next, state, s)
		return min((least-oxygen)/max(oxygen, 1), (ammonia-most)/ammonia)
	}
	add(ofLife, drip.Constraint{Start: tracker.Start(),
		Leg: func(next, state []float64, l drip.Leg) float64 { return follow(next, state, t.spellOf(l, v, rho)) },
		Act: func(next, state []float64, a drip.Act) float64 {
			if !a.End {
				return keepState(next, state, a)
			}
			return follow(next, state, t.heldAfter(a, v, rho))
		}})
	add(ofHunger, within1(func(l drip.Leg) float64 { return l.End() + v.held(l.End(), t.rest(t.tolerance)) }, longestHeld))
	return nil
}

// roomConstraint keeps the room from warming or cooling an unheated container too fast or too
// much. As long as the change is too small to count, any pace will do.
func (t *task) roomConstraint(v vat) drip.Constraint {
	rho, _ := t.densities() // stating the problem has already reported an error
	room, water := float64(t.request.RoomTemperature.Value), t.to.t
	fast, far := t.rules.slowest()-lifesupport.WarmthError, t.rules.roomOfDay-lifesupport.WarmthError
	follow := func(next, state []float64, s lifesupport.Spell) float64 {
		after, fastest, furthest := lifesupport.Warmth(state[0], s, water, room)
		next[0], next[1] = after, max(state[1], fastest)
		next[2] = max(state[2], math.Abs(state[0]-t.from.t)+furthest)
		return max(countedDifference-lifesupport.WarmthError-next[2], min((fast-next[1])/fast, (far-next[2])/far))
	}
	return drip.Constraint{Start: []float64{t.from.t, 0, 0},
		Leg: func(next, state []float64, l drip.Leg) float64 { return follow(next, state, t.spellOf(l, v, rho)) },
		Act: func(next, state []float64, a drip.Act) float64 {
			if !a.End {
				return keepState(next, state, a)
			}
			return follow(next, state, t.heldAfter(a, v, rho))
		}}
}

// constrainLine keeps what is drawn within what source, head and hose can give. The state is what
// was drawn so far, L. A hose end that would come out of the water is no constraint: hanging it
// deeper costs nothing, so the plan says that instead.
func (t *task) constrainLine(v vat, add func(constraintKind, drip.Constraint)) error {
	drawing := func(margin func(l drip.Leg, drawn float64) float64) drip.Constraint {
		return drip.Constraint{Start: []float64{0}, Leg: func(next, state []float64, l drip.Leg) float64 {
			next[0] = state[0] + l.Flow*l.Hours/v.dropMass*v.drop
			return margin(l, next[0])
		}, Act: keepState}
	}
	if source := t.request.SourceTank; source != nil {
		most := float64(source.Volume.Value)
		add(ofSource, drawing(func(_ drip.Leg, drawn float64) float64 { return (most*(1-inside) - drawn) / most }))
	}
	line := t.request.Line
	if line == nil || line.Head == nil || line.Head.Value <= 0 || t.runsOver() {
		return nil // having no head at all is reported separately
	}
	heads, err := t.headOf(v)
	if err != nil {
		return err
	}
	first := max(float64(line.Head.Value), 1)
	add(ofHead, drawing(func(l drip.Leg, drawn float64) float64 {
		return (heads(drawn, l.ToGap, l.ToMass) - float64(hydraulics.Head.Lo)*(1+spare)) / first
	}))
	if line.Bore == nil {
		return nil
	}
	passes, err := t.passedUnder(float64(line.Head.Value))
	if err != nil {
		return err
	}
	add(ofBore, drawing(func(l drip.Leg, drawn float64) float64 {
		if l.Flow == 0 {
			return 1
		}
		asked := v.drip(l.Flow) * 60 * v.drop * 1000 // mL/min
		return min(1, passes(heads(drawn, l.ToGap, l.ToMass))*(1-10*spare)/asked-1)
	}))
	return nil
}

func keepState(next, state []float64, _ drip.Act) float64 {
	copy(next, state)
	return 1
}

// headOf returns the head, cm, from what was drawn, L, and the container's mass at a gap.
func (t *task) headOf(v vat) (func(drawn, gap, mass float64) float64, error) {
	if !t.submerged() || !t.shaped() {
		return func(drawn, _, _ float64) float64 { return t.headAfter(drawn, 0) }, nil
	}
	rho, noDensity := t.densities()
	// The level by volume, from a table that errs to the safe side by less than it bends.
	const steps = 64
	var levels [steps + 1]float64
	faults := []error{noDensity}
	for i := range steps + 1 {
		l, err := t.request.Container.level(v.start/2 + (v.capacity-v.start/2)*float64(i)/steps)
		if faults = append(faults, err); err == nil {
			levels[i] = float64(l.Value)
		}
	}
	first, err := t.request.Container.level(v.start)
	if err := errors.Join(append(faults, err)...); err != nil {
		return nil, err
	}
	return func(drawn, gap, mass float64) float64 {
		x := min(max((mass/rho(gap/t.gap)-v.start/2)/(v.capacity-v.start/2), 0), 1) * steps
		i := min(int(x), steps-1)
		return t.headAfter(drawn, levels[i]+(x-float64(i))*(levels[i+1]-levels[i])-float64(first.Value))
	}, nil
}

// passedUnder returns what runs through the open line under a head, mL/min, from a table up to the
// greatest head. The flow rises with the head and bends down, so the straight lines of the table
// stay below it.
func (t *task) passedUnder(greatest float64) (func(head float64) float64, error) {
	l := t.request.Line
	const steps = 96
	var flows [steps + 1]float64
	at := func(i int) float64 { x := float64(i) / steps; return greatest * x * x }
	for i := 1; i <= steps; i++ {
		head := quantity.Length(at(i))
		if head < hydraulics.Head.Lo {
			continue // less runs than under the least head the formula covers
		}
		s, err := t.run(l.Bore.Value, l.Length.Value, head)
		if err != nil {
			return nil, err
		}
		flows[i] = float64(s.Flow)
	}
	return func(head float64) float64 {
		x := math.Sqrt(min(max(head/greatest, 0), 1)) * steps
		i := min(int(x), steps-1)
		return flows[i] + (head-at(i))/(at(i+1)-at(i))*(flows[i+1]-flows[i])
	}, nil
}
