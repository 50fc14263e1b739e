package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// inRoom is a drip of hardy fish in a container that the room warms or cools.
func inRoom(t testing.TB, room string) Request {
	t.Helper()
	return Request{From: water(t, "2 ppt", "26 C"), To: water(t, "8 ppt", "26 C"),
		Animals:   []Animal{animal(tolerance.Hardy)},
		Line:      &Line{DropVolume: read[quantity.Volume](t, "0.05 mL")},
		Container: Container{Capacity: read[quantity.Volume](t, "20 L"), Aerated: new(true)}, RoomTemperature: read[quantity.Celsius](t, room)}
}

// A bucket of 6 L in a room 6 °C colder: 3.6 W/K at 20 L, of which two thirds in
// area at a third of the volume or so, over 25 kJ/K come to some 2 K/h, more
// than the 0.5 that a hardy fish may be cooled by while its salinity changes.
func TestColdRoom(t *testing.T) {
	r := inRoom(t, "20 C")
	refused(t, r, "container.heated", "room_changes_too_fast")
	for _, held := range []func(*Container){func(c *Container) { c.Heated = new(true) }, func(c *Container) { c.InBath = new(true) }} {
		r := inRoom(t, "20 C")
		r.Animals[0].Count, r.Animals[0].Mass = new(2), read[quantity.Mass](t, "1 g")
		held(&r.Container)
		p := plan(t, r)
		for _, c := range p.Curve {
			if math.Abs(float64(c.Temperature.Value)-26) > 0.1 {
				t.Fatalf("held, the container is at %g °C", float64(c.Temperature.Value))
			}
		}
	}
}

// In a room that is a little colder nothing is refused, and curve and checkpoints give the same
// falling temperature, which never passes the room's.
func TestMildRoom(t *testing.T) {
	p := plan(t, inRoom(t, "25.2 C"))
	kept(t, p)
	before := 26.01
	for _, c := range p.Curve {
		now := float64(c.Temperature.Value)
		if now > before+1e-3 || now < 25.2 {
			t.Errorf("at %.2f h the container is at %.4f °C, before at %.4f", float64(c.Time.Value), now, before)
		}
		before = now
	}
	if before > 25.6 {
		t.Errorf("after %.1f h the container is still at %.2f °C", float64(p.Duration.Value), before)
	}
	for _, c := range p.Checkpoints {
		if c.Volume != nil && c.Time.Value > 1 && c.Temperature.Value > 25.95 {
			t.Errorf("the look at %.1f h expects %.2f °C", float64(c.Time.Value), float64(c.Temperature.Value))
		}
	}
}

// A room just 1 °C colder never brings the container a change that counts, however
// fast it cools at first: no limit on temperature is told, and none is broken.
func TestRoomThatDoesNotCount(t *testing.T) {
	r := inRoom(t, "25 C")
	r.Animals, r.To = []Animal{animal(tolerance.Delicate)}, water(t, "3.5 ppt", "26 C")
	p := plan(t, r)
	kept(t, p)
	for _, l := range p.Limits {
		if l.Name == "temperature_per_hour" {
			t.Errorf("the temperature is told to change by %g of at most %g %s", l.Extreme.Value, l.Limit.Value, l.Limit.Unit)
		}
	}
}
