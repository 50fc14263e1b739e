package transfer

import (
	"errors"
	"math"
	"sort"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
)

// unheld reports whether the container drifts towards the temperature of the room: the room's is
// known, and neither heater nor bath holds the container's.
func (t *task) unheld() bool {
	c := t.request.Container
	held := c.Heated != nil && *c.Heated || c.InBath != nil && *c.InBath
	return t.request.RoomTemperature != nil && !held
}

// towardsRoom is by how much the room is warmer than the animals' water.
func (t *task) towardsRoom() float64 {
	return float64(t.request.RoomTemperature.Value) - t.from.t
}

// roomCounts reports whether what the room does to the container is a change of its own.
func (t *task) roomCounts() bool {
	return t.unheld() && math.Abs(t.towardsRoom()) >= countedDifference
}

// roomMatters is the difference from the room, °C, from which whatever the animals stay in needs
// its own warmth: what may come at once on arrival. Proposed here.
const roomMatters = atOnceWarmth

// sayRoom says how to hold the temperature of water that stands in a room outside all that the
// animals come through, where the plan does not follow it. A heater cools nothing.
func (t *task) sayRoom() {
	if t.request.RoomTemperature == nil || t.course != nil {
		return
	}
	c, room := t.request.Container, float64(t.request.RoomTemperature.Value)
	heated, inBath := c.Heated != nil && *c.Heated, c.InBath != nil && *c.InBath
	switch {
	case inBath:
	case room >= max(t.from.t, t.warmth)+roomMatters:
		t.warn(noteOf("keep_cool", celsius(room)))
	case !heated && room <= min(t.from.t, t.warmth)-roomMatters:
		t.warn(noteOf("keep_heated", celsius(room)))
	}
}

// followRoom follows the temperature of an unheated container, and refuses one that changes
// faster, or by more, than the animals may.
func (t *task) followRoom(s *solved, v vat) error {
	if !t.unheld() {
		return nil
	}
	room := t.request.RoomTemperature.Value
	stretches, err := t.stretches(s, v, lifesupport.State{Temperature: quantity.Celsius(t.to.t)})
	if err != nil {
		return err
	}
	// Oxygen and ammonia are followed separately; neither affects the temperature.
	course, err := lifesupport.Support(nil, lifesupport.State{Temperature: quantity.Celsius(t.from.t)}, stretches, lifesupport.Care{Aerated: true, Room: room, PH: 7})
	if err != nil {
		return err
	}
	t.course = &course
	most := t.drifted()
	if most < countedDifference {
		return nil
	}
	fastest, allowed := float64(max(course.Warming, course.Cooling)), t.rules.slowest()
	switch {
	case fastest > allowed*(1+inside):
		t.refuse("container.heated", noteOf("room_changes_too_fast", kelvinsPerHour(fastest), kelvinsPerHour(allowed), celsius(float64(room))), heated())
	case most > t.rules.roomOfDay*(1+inside):
		t.refuse("container.heated", noteOf("room_changes_too_much", kelvins(most), kelvins(t.rules.roomOfDay), celsius(float64(room))), heated())
	}
	if left := math.Abs(t.to.t - float64(course.Points[len(course.Points)-1].Temperature)); left >= countedDifference {
		t.warn(noteOf("temperature_left_at_release", kelvins(left)))
	}
	return nil
}

// drifted is how far an unheated container moves from the temperature it started at.
func (t *task) drifted() float64 {
	most := 0.0
	for _, p := range t.course.Points {
		most = max(most, math.Abs(float64(p.Temperature)-t.from.t))
	}
	return most
}

// slowest is the tighter of the limits on temperature, by the new water and by the room.
func (u rules) slowest() float64 { return min(u.temperature, u.room) }

// roomLimits says how close an unheated container comes to the limits on temperature, if its
// change counts.
func (t *task) roomLimits() []Limit {
	if t.course == nil || t.drifted() < countedDifference {
		return nil
	}
	return []Limit{atMost("temperature_per_hour", quantity.TemperatureRate(t.rules.slowest()), max(t.course.Warming, t.course.Cooling), false,
		standing(t.request.Limits.TemperaturePerHour, quantity.Proposed))}
}

// warmthAt is the temperature at an hour of the drip of water that would be at s but for the room.
func (t *task) warmthAt(hour float64, s state) float64 {
	if t.course == nil {
		return s.t
	}
	points := t.course.Points
	i := sort.Search(len(points), func(i int) bool { return float64(points[i].Time) >= hour })
	if i == 0 || i == len(points) {
		return float64(points[min(i, len(points)-1)].Temperature)
	}
	a, b := points[i-1], points[i]
	part := (hour - float64(a.Time)) / float64(b.Time-a.Time)
	return float64(a.Temperature) + part*float64(b.Temperature-a.Temperature)
}

// stretches is a drip as package lifesupport follows it, up to the release.
func (t *task) stretches(s *solved, v vat, in lifesupport.State) ([]lifesupport.Stretch, error) {
	list := make([]lifesupport.Stretch, 0, len(s.legs)+1)
	for _, leg := range s.legs {
		from, start, noStart := t.volume(leg, leg.from)
		to, end, noEnd := t.volume(leg, leg.to)
		if err := errors.Join(noStart, noEnd); err != nil {
			return nil, err
		}
		if n := len(list); leg.wait > 0 {
			list = append(list, shut(list[n-1], leg.wait))
		}
		// The two volumes do not quite add up; what they come to is what counts.
		inflow, overflow := quantity.Flow((to-from)/leg.hours()*1000/60), quantity.Flow(0)
		if leg.held != nil {
			inflow = quantity.Flow(v.drip(leg.flow) * v.drop * 60 * 1000)
			overflow = inflow
		}
		list = append(list, lifesupport.Stretch{Time: quantity.Duration(leg.hours()), Volume: quantity.Volume(from), Inflow: inflow, Overflow: overflow, Water: in,
			SalinityAtStart: quantity.AbsoluteSalinity(start.sa), SalinityAtEnd: quantity.AbsoluteSalinity(end.sa)})
	}
	return append(list, shut(list[len(list)-1], v.held(s.rounded, t.rest(t.tolerance)))), nil
}

// shut is the container after a stretch, with the valve closed.
func shut(after lifesupport.Stretch, hours float64) lifesupport.Stretch {
	after.Volume = after.End()
	after.Time, after.Inflow, after.Overflow, after.SalinityAtStart = quantity.Duration(hours), 0, 0, after.SalinityAtEnd
	return after
}
