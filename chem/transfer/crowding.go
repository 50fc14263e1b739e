package transfer

import (
	"context"
	"errors"
	"slices"

	"saltlock/chem/drip"
	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
)

// explainLife says what would help animals that no drip keeps well. Of the drips that ignore life
// support, the fastest one and the one that takes the least water, and so holds them in the least,
// show by how much it fails.
func (t *task) explainLife(ctx context.Context, p problem, fastest *solved, v vat) error {
	best := fastest
	var err error
	if best.life, err = t.live(t.keep.animals, best, v); err != nil {
		return err
	}
	for pours := 1; pours <= morePours; pours++ {
		s, err := t.solve(ctx, p, drip.Duration, v.settings, pours)
		if _, none := errors.AsType[*drip.Obstacle](err); none {
			continue // the budget ended first
		}
		if err != nil {
			return err
		}
		if s.life, err = t.live(t.keep.animals, s, v); err != nil {
			return err
		}
		if t.keep.mostAnimals(s.life) > t.keep.mostAnimals(best.life) {
			best = s
		}
	}
	return t.refuseLife(ctx, best, v)
}

// refuseLife says what the best of the drips breaks, and what would help.
func (t *task) refuseLife(ctx context.Context, best *solved, v vat) error {
	k := t.keep
	if !k.shortOfOxygen(best.life) && !k.fouled(best.life) {
		return nil // life support is not the obstacle
	}
	empty, err := t.live(nil, best, v)
	if err != nil {
		return err
	}
	switch {
	case k.shortOfOxygen(empty):
		t.refuse("limits.oxygen", noteOf("water_holds_too_little_oxygen", quantity.Exactly(empty.LeastOxygen.Worst), quantity.Exactly(k.limits.Oxygen)))
	case k.fouled(empty) && k.start.Ammonia > k.in.Ammonia:
		t.refuse("from.tan", noteOf("water_brings_ammonia", quantity.Exactly(empty.GreatestAmmonia.Worst), quantity.Exactly(k.limits.Ammonia)))
	case k.fouled(empty):
		t.refuse("to.tan", noteOf("new_water_brings_ammonia", quantity.Exactly(empty.GreatestAmmonia.Worst), quantity.Exactly(k.limits.Ammonia)))
	default:
		if found, err := t.offerUncounted(ctx, v, Fault{Where: "line.greatest_drip", Note: k.tooLong(best.life, v)}); err != nil || found {
			return err
		}
		if err := t.offerFewerAnimals(ctx, best, v); err != nil {
			return err
		}
	}
	if k.fouled(best.life) && !t.acidityKnown() {
		t.offer("to.alkalinity", noteOf("acidity_would_help", quantity.Exactly(lifesupport.UnknownPHInAir)))
	}
	return nil
}

// tooLong says what becomes of the water during a drip of counted drops.
func (k *keep) tooLong(c lifesupport.Course, v vat) quantity.Note {
	if k.shortOfOxygen(c) {
		return noteOf("too_little_oxygen_in_drops", drops(v.mostDrip), quantity.Exactly(c.LeastOxygen.Worst), quantity.Exactly(k.limits.Oxygen))
	}
	return noteOf("too_much_ammonia_in_drops", drops(v.mostDrip), quantity.Exactly(c.GreatestAmmonia.Worst), quantity.Exactly(k.limits.Ammonia))
}

// largestOffered is the largest container offered, L: a tub. Beyond it, fewer animals at a time
// are the cure.
const largestOffered = 150

// offerFewerAnimals says how many animals there is room for, and which container would hold all.
// It is long because both are tried before they are offered.
func (t *task) offerFewerAnimals(ctx context.Context, best *solved, v vat) error {
	most := t.keep.mostAnimals(best.life)
	left := 0
	if len(t.request.Animals) == 1 {
		count := *t.request.Animals[0].Count
		left = int(float64(count) * most)
		for tries := 0; left > 0; left, tries = fewer(left, tries), tries+1 {
			r := t.request
			r.Animals = slices.Clone(r.Animals)
			r.Animals[0].Count = new(left)
			if ok, err := t.feasible(ctx, r, nil); err != nil {
				return err
			} else if ok {
				break
			}
		}
		if one := float64(count)*most < 1; left > 0 || one {
			most = min(most, (float64(left)+0.5)/float64(count))
		} else {
			left = -1 // some would fit, but no drip was found for them
		}
	}
	t.refuseAnimals(left, t.keep.shortOfOxygen(best.life), best.life)
	room := v.capacity / max(most, 1e-9)
	for range 6 {
		r := t.request
		r.Container = r.Container.scaled(room / v.capacity)
		line := r.Line.WithDefaults()
		line.GreatestDrip = new(drops(min(float64(line.GreatestDrip.Value)*room/v.capacity, float64(dripRange.Hi))))
		r.Line = &line
		if room > largestOffered {
			return nil
		}
		if ok, err := t.feasible(ctx, r, nil); err != nil {
			return err
		} else if ok {
			code := quantity.Code("needs_room_for_animals")
			if *t.request.Route == ByCups {
				code = "needs_room_for_cups"
			}
			t.offer("container.capacity", noteOf(code, litres(room)), t.roomierTo(v, room)...)
			return nil
		}
		room *= 1.15
	}
	return nil
}

// roomierTo is a container of so many litres, filled in proportion, with a faster drip.
func (t *task) roomierTo(v vat, room float64) []Change {
	c, by := t.request.Container, room/v.capacity
	if c.Shape != nil {
		return nil
	}
	changes := []Change{capacityTo(roundedUp(room))}
	if *t.request.Route != ByCups {
		line := t.request.Line.WithDefaults()
		changes = append(changes, greatestDripTo(min(roundedUp(float64(line.GreatestDrip.Value)*by), float64(dripRange.Hi))))
	}
	for _, part := range []struct {
		given *quantity.Estimate[quantity.Volume]
		to    func(float64) Change
	}{{c.StartVolume, startTo}, {c.LeastVolume, leastTo}, {c.Freeboard, freeboardTo}} {
		if part.given != nil {
			changes = append(changes, part.to(roundedUp(float64(part.given.Value)*by)))
		}
	}
	return changes
}

// fewer is the next number of animals to try: one fewer, then half as many each time.
func fewer(n, tries int) int {
	if tries == 0 {
		return n - 1
	}
	return n / 2
}

// scaled is a container with the volume multiplied, filled in proportion.
func (c Container) scaled(by float64) Container {
	times := func(e *quantity.Estimate[quantity.Volume]) *quantity.Estimate[quantity.Volume] {
		if e == nil {
			return nil
		}
		return new(litres(float64(e.Value) * by))
	}
	full, err := capacity(c)
	if err != nil {
		return c
	}
	larger := Container{Capacity: new(litres(full * by)), Freeboard: times(c.Freeboard), StartVolume: times(c.StartVolume), LeastVolume: times(c.LeastVolume),
		Aerated: c.Aerated, Heated: c.Heated, InBath: c.InBath, Overflow: c.Overflow, WasteCapacity: times(c.WasteCapacity)}
	return larger
}

// refuseAnimals says that the container cannot keep the animals, and how many of a single kind it
// could; below 0 nobody knows.
func (t *task) refuseAnimals(left int, short bool, life lifesupport.Course) {
	oxygen, ammonia := quantity.Exactly(life.LeastOxygen.Worst), quantity.Exactly(life.GreatestAmmonia.Worst)
	least, greatest := quantity.Exactly(t.keep.limits.Oxygen), quantity.Exactly(t.keep.limits.Ammonia)
	if len(t.request.Animals) > 1 || left < 0 {
		if short {
			t.refuse("animals", noteOf("too_little_oxygen_for_all", oxygen, least))
		} else {
			t.refuse("animals", noteOf("too_much_ammonia_of_all", ammonia, greatest))
		}
		return
	}
	var fewer []Change
	if left > 0 {
		fewer = append(fewer, countTo(left))
	}
	if short {
		t.refuseWith("animals.0.count", noteOf("too_little_oxygen", oxygen, least, left), noteOf("too_little_oxygen_for_all", oxygen, least), fewer...)
	} else {
		t.refuseWith("animals.0.count", noteOf("too_much_ammonia", ammonia, greatest, left), noteOf("too_much_ammonia_of_all", ammonia, greatest), fewer...)
	}
}
