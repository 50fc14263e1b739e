package followup

import (
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// muchGone is the part of a tank's water below which a level means that a good deal is missing: no
// change of water takes out as much. Proposed here.
const muchGone = 0.75

// farCount is the factor by which the drops counted must outnumber those set to close the clamp.
// Proposed here.
const farCount = 2

// levelOff answers if the latest level, or count of drops, is far from what a plan that is not
// followed by its drip has there: in the drip of a part, or in a tank.
func (f *following) levelOff() bool {
	leg := f.leg()
	if leg.Plan == nil {
		return false
	}
	for i := len(f.log) - 1; i >= 0 && !f.log[i].is(Restarted) && f.log[i].hours(f.base.Request) >= leg.closes(); i-- {
		v, err := f.volumeRead(f.log[i])
		if f.log[i].Volume == nil || err != nil {
			if f.log[i].Drops != nil && f.drippedFar(i) {
				return true
			}
			continue
		}
		at := f.log[i].hours(f.base.Request) - leg.At
		if p := dripAt(leg.Plan, at); p != nil {
			return f.partOff(i, v.value, at, *p) || f.drippedFar(i)
		}
		return f.tankOff(v.value)
	}
	return false
}

// dripAt is the drip that runs at an hour of a plan, nil without one. It may run late.
func dripAt(p *transfer.Plan, at float64) *transfer.Phase {
	for i, phase := range p.Phases {
		last := i+1 == len(p.Phases)
		if phase.Kind == transfer.Fill && phase.FromVolume != nil && phase.ToVolume != nil && float64(phase.Start.Value) <= at+soon &&
			(last || at < float64(p.Phases[i+1].Start.Value)) {
			return &p.Phases[i]
		}
	}
	return nil
}

// partOff judges a level in the drip of a part. One that is much higher than the drip can have made
// it closes the clamp until the salinity is read. One that is much lower is read once more, and if it
// goes on falling, it leaks.
func (f *following) partOff(i int, litres, at float64, p transfer.Phase) bool {
	c := f.course
	from, to := float64(p.FromVolume.Value), float64(p.ToVolume.Value)
	expected := from + (to-from)*min(1, (at-float64(p.Start.Value))/max(float64(p.Duration.Value), soon))
	switch {
	case litres > fuller*max(expected, f.filledTo(p)) && !f.saltRead(i):
		c.pause(noteOf("act_close_and_read"))
	case litres*fuller < from && f.partFalls(i, litres):
		c.pause(noteOf("act_look_under"))
		c.Then = append(c.Then, noteOf("then_read_all"))
	case litres*fuller < from:
		c.pause(noteOf("now_read_volume"))
		c.Then = append(c.Then, noteOf("then_look_under"))
	default:
		return false
	}
	c.because(noteOf("why_volume_far", f.mark(litres), f.mark(expected)))
	return true
}

// filledTo is the level just before a phase of a drip, from which the keeper may pour off late, L; 0 if
// no drip came just before.
func (f *following) filledTo(p transfer.Phase) (litres float64) {
	for _, phase := range f.leg().Plan.Phases {
		switch {
		case phase.Start.Value >= p.Start.Value && phase.Kind == transfer.Fill:
			return litres
		case phase.Kind == transfer.Fill && phase.ToVolume != nil:
			litres = float64(phase.ToVolume.Value)
		case phase.Kind != transfer.PourOff && phase.Kind != transfer.Rest:
			litres = 0
		}
	}
	return litres
}

// partFalls reports whether the level before that of an entry was higher.
func (f *following) partFalls(i int, litres float64) bool {
	for i--; i >= 0 && !f.log[i].is(Restarted); i-- {
		if v, err := f.volumeRead(f.log[i]); err == nil && v.u > 0 {
			return litres < (1-usualMarks)*v.value
		}
	}
	return false
}

// saltRead reports whether the salinity was read with an entry or after it.
func (f *following) saltRead(i int) bool {
	for _, e := range f.log[i:] {
		if e.Salinity != nil {
			return true
		}
	}
	return false
}

// drippedFar answers if many more drops were counted than are set.
func (f *following) drippedFar(i int) bool {
	e, leg := f.log[i], f.leg()
	if e.Drops == nil || e.DropsIn == nil || f.saltRead(i) {
		return false
	}
	p := dripAt(leg.Plan, e.hours(f.base.Request)-leg.At)
	if p == nil || p.Drip == nil {
		return false
	}
	counted := float64(*e.Drops) / (3600 * float64(e.DropsIn.Value))
	if counted <= farCount*float64(p.Drip.Value) {
		return false
	}
	f.course.pause(noteOf("act_close_and_read"))
	f.course.because(noteOf("why_drops_far", dripOf(counted), dripOf(float64(p.Drip.Value))))
	return true
}

// tankOff answers if a tank whose water is changed holds much less than the changes were planned for,
// or more: the salt for them would bring it to another salinity.
func (f *following) tankOff(litres float64) bool {
	tank, c := f.tankVolume(), f.course
	if !f.inTank() || tank <= 0 || litres >= muchGone*tank && litres <= fuller*tank {
		return false
	}
	c.pause(noteOf("now_read_tank"))
	if litres < tank {
		c.Now = noteOf("act_tank_low")
	}
	c.because(noteOf("why_volume_far", quantity.Exactly(quantity.Volume(litres)).Measure(), quantity.Exactly(quantity.Volume(tank)).Measure()))
	return true
}

// tankVolume is what the tank holds that the animals are in, L, 0 if nobody said.
func (f *following) tankVolume() float64 {
	r := f.leg().Request
	switch tank := r.HoldingTanks; {
	case r.HomeTank != nil:
		return float64(r.HomeTank.Volume.Value)
	case tank != nil && tank.Volume != nil:
		return float64(tank.Volume.Value)
	}
	return 0
}
