package transfer

import (
	"errors"
	"fmt"

	"saltlock/chem/instrument"
	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
)

// What a container may hold, and the volume of a drop.
var (
	ContainerVolume = quantity.Range[quantity.Volume]{Lo: 0.05, Hi: 10000}
	DropVolume      = quantity.Range[quantity.Volume]{Lo: 0.001e-3, Hi: 1e-3}
)

// What the numbers of a request may be: wider than any keeper needs, and narrow enough that
// nothing overflows.
var (
	limitRange       = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0.01, Hi: 50}
	changeRange      = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 50}
	rateRange        = quantity.Range[quantity.SalinityRate]{Lo: 0.01, Hi: 100}
	temperatureRange = quantity.Range[quantity.TemperatureRate]{Lo: 0.01, Hi: 100}
	ammoniaRange     = quantity.Range[quantity.AmmoniaNitrogen]{Lo: 0.001, Hi: 10}
	nitriteRange     = quantity.Range[quantity.NitriteNitrogen]{Lo: 0, Hi: 100}
	oxygenRange      = quantity.Range[quantity.DissolvedOxygen]{Lo: 0, Hi: 20}
	freeboardRange   = quantity.Range[quantity.Volume]{Lo: 0, Hi: 10000}
	tankRange        = quantity.Range[quantity.Volume]{Lo: 0.05, Hi: 1e6}
	surfaceRange     = quantity.Range[quantity.Area]{Lo: 1, Hi: 1e8}
	dripRange        = quantity.Range[quantity.DripRate]{Lo: 0.001, Hi: 1000}
	visitRange       = quantity.Range[quantity.Duration]{Lo: 0, Hi: 168} // h
	settingsRange    = [2]int{1, 12}
)

// inRange checks all numbers of a request at once: one line for each, which makes it long.
func inRange(r Request) error {
	c, l := r.Container, r.Line
	if l == nil {
		l = &Line{}
	}
	faults := []error{
		within(limitRange, "limits.at_once", r.Limits.AtOnce),
		within(rateRange, "limits.per_hour", r.Limits.PerHour),
		within(limitRange, "limits.per_24_hours", r.Limits.Per24Hours),
		within(temperatureRange, "limits.temperature_per_hour", r.Limits.TemperaturePerHour),
		within(ammoniaRange, "limits.nh3", r.Limits.NH3),
		within(nitriteRange, "from.nitrite", r.From.Nitrite),
		within(nitriteRange, "to.nitrite", r.To.Nitrite),
		within(oxygenRange, "limits.oxygen", r.Limits.Oxygen),
		within(changeRange, "tolerance", r.Tolerance),
		within(changeRange, "recent_change", r.RecentChange),
		within(ContainerVolume, "container.capacity", c.Capacity),
		within(freeboardRange, "container.freeboard", c.Freeboard),
		within(ContainerVolume, "container.start_volume", c.StartVolume),
		within(ContainerVolume, "container.least_volume", c.LeastVolume),
		within(ContainerVolume, "container.waste_capacity", c.WasteCapacity),
		within(DropVolume, "line.drop_volume", l.DropVolume),
		within(dripRange, "line.least_drip", l.LeastDrip),
		within(dripRange, "line.greatest_drip", l.GreatestDrip),
		l.check(),
	}
	if h := r.To.HoursInBag; h != nil {
		faults = append(faults, &instrument.ConflictError{Name: "to.hours_in_bag", Other: "to", Why: "the water they go to is not that of a bag; give it of the one they are in", Note: quantity.Note{Code: "new_water_in_bag"}})
	}
	if s := r.SourceTank; s != nil {
		faults = append(faults, within(tankRange, "source_tank.volume", &s.Volume), within(surfaceRange, "source_tank.surface", s.Surface))
	}
	if v := r.Visits; v != nil {
		faults = append(faults, within(visitRange, "visits.every", v.Every), within(visitRange, "visits.first", v.First))
	}
	if n := l.Settings; n != nil && (*n < settingsRange[0] || *n > settingsRange[1]) {
		faults = append(faults, &quantity.RangeError{Name: "line.settings", Value: float64(*n), Lo: float64(settingsRange[0]), Hi: float64(settingsRange[1]), Unit: "settings"})
	}
	for i, a := range r.Animals {
		faults = append(faults, within(lifesupport.AnimalMass, fmt.Sprintf("animals.%d.mass", i), a.Mass))
		if !a.Condition.known() {
			faults = append(faults, fmt.Errorf("animals.%d.condition: %q is none of the conditions", i, string(*a.Condition)))
		}
	}
	return errors.Join(faults...)
}

func within[Q quantity.Quantity](r quantity.Range[Q], name string, e *quantity.Estimate[Q]) error {
	if e == nil {
		return nil
	}
	return r.Check(name, e.Value)
}
