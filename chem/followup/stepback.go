package followup

import (
	"math"

	"saltlock/chem/quantity"
)

// backStep is the share of a step by which animals in distress are moved back. Proposed here;
// a whole step would be another shock.
const backStep = 0.5

// mostTakenOut is the most of the container's water that is taken out with the animals in it. A
// step back that needs more is made smaller, because handling harms them more than that helps.
const mostTakenOut = 0.5

// leastMixed is the least share of their own water that is mixed into a step back.
const leastMixed = 0.05

// readAfter uses what was read after a stop unchanged. Of water that was filled up since, of what
// salt nobody knows, there is no telling how much must change.
func (f *following) readAfter() {
	c := f.course
	f.mixed = f.bank != nil && f.bank.latest.trace != nil && f.bank.latest.trace.unread
	for _, e := range f.log[f.state.stopped:] {
		if e.is(Refilled) {
			f.mixed = true
		}
		if e.Salinity != nil {
			if sa, err := e.salinity(f.base.Request); err == nil {
				f.mixed = false
				f.tellSalinity(float64(sa.Value), float64(sa.U))
			}
		}
		if v, err := f.volumeRead(e); err == nil && v.u > 0 && f.tub.Density != nil {
			c.Volume, c.Level = e.Volume, e.Level
			if e.Volume == nil {
				c.Volume = new(quantity.Of[quantity.Volume](v.value, v.u))
			} else if c.Level, err = f.base.Request.Container.Level(e.Volume.Value); err != nil { // it runs over
				c.Level = nil
			}
			f.moment.volume, f.unmeasured = v.value, false
			f.moment.mass = f.moment.volume * f.tub.Density(f.moment.left)
		}
	}
	if f.mixed {
		c.Volume, c.Level = nil, nil
	}
}

// back offers half a step towards the water from which the animals came: half of the largest
// step allowed, in the stricter direction, and never beyond that water. It is long because the
// water may be in a container, in a tank or nowhere.
func (f *following) back() error {
	c, b := f.course, f.base
	mass, volume := f.moment.mass, f.moment.volume
	followed := f.tub.Density != nil // there is a container
	released := f.released || followed && !f.leg().InContainer() && f.over(f.log[f.state.stopped])
	if released && followed { // it is free to be filled again
		c.PracticalSalinity = new(practical(b.To))
		volume = f.tub.Start
		mass = volume * f.tub.Density(0)
	}
	atOnce, err := b.AtOnceBack()
	if err != nil {
		return err
	}
	sa := float64(c.PracticalSalinity.Value * quantity.GramsPerPractical)
	apart := math.Abs(sa - b.From)
	change := min(backStep*atOnce, apart)
	switch {
	case change < 0.01, f.leg().outOfBag() && !f.released: // they are in the water from which they came, or that was foul
		return nil
	case f.mixed, f.unmeasured, followed && !released && float64(c.PracticalSalinity.U) > max(change, 1.5*unknownInstrument): // how far, only a reading says
		c.Then = append(c.Then, noteOf("then_read_all"))
		return nil
	}
	rho, err := b.FromDensity()
	if err != nil {
		return err
	}
	old := mass * change / apart / rho
	if most := min(f.tub.Start, mostTakenOut*volume); followed && !released && old > most {
		old, change = most, change*most/old
	}
	c.StepBack = &StepBack{PracticalSalinity: practical(sa + math.Copysign(change, b.From-sa)), Change: salinity(change)}
	if !followed {
		n := noteOf("step_back_to", c.StepBack.PracticalSalinity, c.StepBack.Change)
		if f.inTank() { // from which nobody catches them out
			n.Code = "step_back_tank"
		}
		c.Then = append(c.Then, n)
		return nil
	}
	f.sayStepBack(min(old, f.tub.Start), volume, released)
	return nil
}

// sayStepBack says how the step back is made with so much of the water set aside: around the
// animals, or, after the release, in the container that they are moved back into.
func (f *following) sayStepBack(oldWater, volume float64, released bool) {
	c := f.course
	to, change := c.StepBack.PracticalSalinity, c.StepBack.Change
	old, rest := litres(oldWater), litres(volume-oldWater)
	c.StepBack.OldWater = &old
	n := noteOf("step_back_pour", old, old, to, change)
	switch {
	case released && oldWater > (1-leastMixed)*volume: // nobody measures so little of theirs
		n = noteOf("step_back_all", to, change)
	case released:
		n = noteOf("step_back_mix", old, rest, to, change)
	}
	c.Then = append(c.Then, n)
}
