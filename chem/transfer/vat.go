package transfer

import (
	"errors"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// vat is the holding container and its line on plain numbers: L, drops/s, and kg of the new water
// in a drop.
type vat struct {
	capacity, brim, start, least float64
	drop                         float64 // L
	leastDrip, mostDrip          float64
	settings                     int
	dropMass                     float64
	first                        int // 1 if a pour-off comes before the drip
	visits                       *timetable
}

// held is how long the animals stay in the container after the drip, including some hours of rest,
// until someone can release them.
func (v vat) held(end, rest float64) float64 { return v.visits.held(end, rest) }

// flow is kg/h at a drip, and drip the inverse.
func (v vat) flow(drip float64) float64 { return drip * 3600 * v.dropMass }
func (v vat) drip(flow float64) float64 { return flow / 3600 / v.dropMass }

// volume is that of a mass of new water, L.
func (v vat) volume(mass float64) float64 { return mass / v.dropMass * v.drop }

// newVat resolves container and line for a drip, and keeps what is in the way as faults.
func (t *task) newVat() (vat, error) {
	v := t.newLine()
	v.visits = t.visits
	if err := t.dropOfTip(&v); err != nil {
		return v, err
	}
	rho, err := density(t.to)
	v.dropMass = v.drop * rho
	if err != nil {
		return v, err
	}
	return v, t.holdIn(&v)
}

// holdIn resolves the container that animals are held in.
func (t *task) holdIn(v *vat) (err error) {
	c := t.request.Container
	if v.capacity, err = capacity(c); err != nil {
		return err
	}
	switch start := c.StartVolume; {
	case v.capacity == 0 && start == nil:
		t.refuse("container.start_volume", noteOf("container_not_measured"))
		return nil
	case v.capacity == 0:
		room := float64(start.Value) / usualStart
		if v.capacity = room / (1 - usualFreeboard); c.Freeboard != nil {
			v.capacity = room + float64(c.Freeboard.Value)
		}
		t.assume(noteOf("capacity_assumed", litres(v.capacity), *start))
	}
	v.brim = v.capacity * (1 - usualFreeboard)
	if c.Freeboard != nil {
		v.brim = v.capacity - float64(c.Freeboard.Value)
	} else {
		t.assume(noteOf("freeboard_assumed", litres(v.capacity-v.brim)))
	}
	t.fillVat(v)
	t.checkAir()
	return nil
}

// usualBucket is a bucket as most have it, and usualBucketStart a third of that, in litres.
const usualBucket, usualBucketStart = 20, 6

// checkAir refuses a drip that nothing stirs.
func (t *task) checkAir() {
	switch c := t.request.Container; {
	case c == (Container{}) && *t.request.Route == Staged: // its drips need a volume
		t.refuse("container.start_volume", noteOf("container_not_named"), aerated(), startTo(usualBucketStart), capacityTo(usualBucket))
	case c == (Container{}):
		t.refuse("container.aerated", noteOf("container_not_named"), aerated())
	case c.Aerated == nil || !*c.Aerated:
		t.refuse("container.aerated", noteOf("no_air_stone"), aerated())
	}
}

// newLine resolves the drip line.
func (t *task) newLine() vat {
	line := t.request.Line.WithDefaults()
	v := vat{drop: float64(line.DropVolume.Value), leastDrip: float64(line.LeastDrip.Value), mostDrip: float64(line.GreatestDrip.Value), settings: *line.Settings}
	given := t.request.Line
	if given == nil {
		given = &Line{}
	}
	if given.DropVolume == nil && given.TipDiameter == nil {
		t.assume(noteOf("drop_volume_assumed", litres(v.drop)))
	}
	if given.LeastDrip == nil || given.GreatestDrip == nil || given.Settings == nil {
		t.assume(noteOf("line_assumed", drops(v.leastDrip), drops(v.mostDrip), v.settings))
	}
	if v.leastDrip > v.mostDrip {
		t.refuse("line.least_drip", noteOf("least_drip_above_greatest", drops(v.leastDrip), drops(v.mostDrip)), leastDripTo(roundedDown(v.mostDrip)))
	}
	return v
}

// fillVat decides between which volumes the container is filled.
func (t *task) fillVat(v *vat) {
	c := t.request.Container
	v.start = v.brim * usualStart
	if c.StartVolume != nil {
		v.start = float64(c.StartVolume.Value)
	} else {
		if c.LeastVolume != nil {
			v.start = max(v.start, float64(c.LeastVolume.Value))
		}
		t.assume(noteOf("start_volume_assumed", litres(v.start)))
	}
	v.least = v.start
	if c.LeastVolume != nil {
		v.least = float64(c.LeastVolume.Value)
	} else {
		t.assume(noteOf("least_volume_assumed", litres(v.least)))
	}
	switch {
	case v.brim <= 0:
		t.refuse("container.freeboard", noteOf("freeboard_takes_all", litres(v.capacity)), noFreeboard())
	case t.runsOver():
		if v.start > v.brim*(1+inside) {
			t.refuse("container.start_volume", noteOf("overflow_above_the_rim", litres(v.start), litres(v.brim)), startTo(roundedDown(v.brim)))
		}
	case v.start > v.brim*(1-2*rimSpare):
		t.refuse("container.start_volume", noteOf("start_leaves_no_room", litres(v.start), litres(v.brim)), startTo(roundedDown(v.brim*usualStart)))
	}
	if v.start < v.least*(1-inside) {
		t.refuse("container.start_volume", noteOf("start_below_least", litres(v.start), litres(v.least)), startTo(roundedUp(v.least)))
	}
}

// capacity returns what the container holds to the rim; 0 if nobody says.
func capacity(c Container) (float64, error) {
	if c.Capacity != nil {
		return float64(c.Capacity.Value), nil
	}
	vessel, ok := c.vessel()
	if !ok {
		return 0, nil
	}
	v, err := vessel.Capacity()
	return float64(v), inContainer(err)
}

// Level is how high a volume reaches in the container; nil without its shape.
func (c Container) Level(volume quantity.Volume) (*quantity.Estimate[quantity.Length], error) {
	vessel, ok := c.vessel()
	if !ok {
		return nil, nil
	}
	l, err := vessel.LevelAt(volume)
	return new(quantity.Exactly(l)), inContainer(err)
}

func (c Container) level(volume float64) (*quantity.Estimate[quantity.Length], error) {
	return c.Level(quantity.Volume(volume))
}

// inContainer names what a vessel lacks as a field of the container.
func inContainer(err error) error {
	if missing, ok := errors.AsType[*instrument.MissingError](err); ok {
		return &instrument.MissingError{Name: "container." + missing.Name, Why: missing.Why, Note: missing.Note}
	}
	if limit, ok := errors.AsType[*quantity.RangeError](err); ok {
		named := *limit
		named.Name = "container." + limit.Name
		return &named
	}
	return err
}

// runsOver reports whether the container has an overflow, so that nothing is poured off.
func (t *task) runsOver() bool {
	o := t.request.Container.Overflow
	return o != nil && *o
}
