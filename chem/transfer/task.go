package transfer

import (
	"errors"
	"math"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
)

// state is a water on plain numbers: g/kg, °C, J/kg.
type state struct{ sa, t, h float64 }

// task is a request made into numbers: what is to be crossed, under which
// rules, to within what.
type task struct {
	request   Request
	from, to  state
	gap       float64
	up        bool
	rules     rules
	tolerance float64
	setup     *instrument.Setup
	faults    []Fault

	warnings, assumptions, cautions []quantity.Note
}

func (t task) warmer() float64 { return t.to.t - t.from.t }

// newTask resolves the waters and the rules. Its error is about values that
// no formula covers; what stands against the animals is kept as faults.
func newTask(r Request) (*task, error) {
	t := &task{request: r, setup: r.Instrument,
		warnings: []quantity.Note{}, assumptions: []quantity.Note{}, cautions: []quantity.Note{}}
	var noFrom, noTo error
	t.from, noFrom = t.resolve("from", r.From)
	t.to, noTo = t.resolve("to", r.To)
	if err := errors.Join(noFrom, noTo, positive(r)); err != nil {
		return nil, err
	}
	t.gap = math.Abs(t.to.sa - t.from.sa)
	t.up = t.to.sa > t.from.sa
	var err error
	if t.rules, err = rulesOf(r, t.up, t.warmer()); err != nil {
		return nil, err
	}
	t.assumptions = append(t.assumptions, t.rules.notes...)
	t.checkAnimals()
	t.checkDay()
	return t, t.chooseTolerance()
}

// resolve reads one of the two waters. A specific gravity is taken as read on
// the keeper's own hydrometer.
func (t *task) resolve(name string, w Water) (state, error) {
	temperature := w.Temperature.Value
	if err := operating.Check(name+".temperature", temperature); err != nil {
		return state{}, err
	}
	setup := instrument.Setup{}
	if t.setup != nil && w.Salinity.Scale == quantity.SpecificGravityScale && w.Salinity.Convention == nil {
		setup = *t.setup
	}
	sa, err := instrument.AbsoluteSalinity(w.Salinity, &temperature, setup)
	if err != nil {
		return state{}, instrument.Named(name+".salinity", err)
	}
	if err := planned.Check(name+".salinity", sa); err != nil {
		return state{}, err
	}
	h, err := seawater.SpecificEnthalpy(sa, temperature)
	return state{float64(sa), float64(temperature), float64(h)}, err
}

var (
	operating = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
	planned   = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 42}
)

// positive refuses numbers that must be above zero.
func positive(r Request) error {
	line := r.Line.withDefaults()
	faults := []error{
		above(r.Limits.AtOnce, "limits.at_once"), above(r.Limits.PerHour, "limits.per_hour"), above(r.Limits.Per24Hours, "limits.per_24_hours"),
		above(r.Limits.TemperaturePerHour, "limits.temperature_per_hour"),
		above(r.Container.Capacity, "container.capacity"), above(r.Container.StartVolume, "container.start_volume"), above(r.Container.LeastVolume, "container.least_volume"),
		above(line.DropVolume, "line.drop_volume"), above(line.LeastDrip, "line.least_drip"), above(line.GreatestDrip, "line.greatest_drip"),
	}
	if r.Container.Freeboard != nil && r.Container.Freeboard.Value < 0 {
		faults = append(faults, above(r.Container.Freeboard, "container.freeboard"))
	}
	if r.RecentChange.Value < 0 {
		faults = append(faults, above(r.RecentChange, "recent_change"))
	}
	if s := r.SourceTank; s != nil {
		faults = append(faults, above(&s.Volume, "source_tank.volume"), above(s.Surface, "source_tank.surface"))
	}
	return errors.Join(faults...)
}

func above[Q quantity.Quantity](e *quantity.Estimate[Q], name string) error {
	if e == nil {
		return nil
	}
	return quantity.Range[Q]{Lo: 1e-9, Hi: 1e9}.Check(name, e.Value)
}

func (t *task) fault(where, code string, params ...any) {
	t.faults = append(t.faults, Fault{where, noteOf(code, params...)})
}

// checkAnimals refuses any step for animals that must not be moved.
func (t *task) checkAnimals() {
	for _, a := range t.request.Animals {
		switch *a.Condition {
		case Sick:
			t.fault("animals.0.condition", "no_step_while_sick")
		case Medicated:
			t.fault("animals.0.condition", "no_step_while_medicated")
		case JustShipped:
			t.fault("animals.0.condition", "no_step_just_shipped")
		case Moulting:
			t.fault("animals.0.condition", "no_step_while_moulting")
		}
		if a.Sensitivity != nil && *a.Sensitivity == tolerance.StenohalineFresh && t.up {
			t.warnings = append(t.warnings, noteOf("stenohaline_stays_in_its_band"))
		}
	}
}

// checkDay refuses more change than a day allows: that is no job for a bucket.
func (t *task) checkDay() {
	recent := float64(t.request.RecentChange.Value)
	if left := t.rules.perDay - recent; t.gap > left*(1+inside) {
		reach := t.from.sa + math.Copysign(max(left, 0), t.to.sa-t.from.sa)
		t.fault("to.salinity", "over_24_hours", salinity(t.gap), salinity(t.rules.perDay), salinity(recent), practical(reach))
	}
}

// chooseTolerance takes the gap that may remain at the release.
func (t *task) chooseTolerance() error {
	u := 0.0
	if t.setup != nil {
		e, err := instrument.DefaultUncertainty(*t.setup, quantity.AbsoluteSalinity(t.to.sa), quantity.Celsius(t.to.t))
		if err != nil {
			return err
		}
		u = float64(e)
	}
	if u > t.rules.atOnce {
		t.warnings = append(t.warnings, noteOf("instrument_cannot_verify", salinity(u), salinity(t.rules.atOnce)))
	}
	if given := t.request.Tolerance; given != nil {
		t.tolerance = float64(given.Value)
		switch {
		case !(t.tolerance > 0):
			t.fault("tolerance", "tolerance_of_zero", salinity(t.rules.atOnce/2))
		case t.tolerance > t.rules.atOnce*(1+inside):
			t.fault("tolerance", "tolerance_over_at_once", salinity(t.tolerance), salinity(t.rules.atOnce))
		}
		return nil
	}
	t.tolerance = min(max(t.rules.atOnce/2, u), t.rules.atOnce)
	t.assumptions = append(t.assumptions, noteOf("tolerance_assumed", salinity(t.tolerance)))
	return nil
}

// salinity, practical and the like make what a plan tells of plain numbers.
func salinity(g float64) quantity.Estimate[quantity.AbsoluteSalinity] {
	return quantity.Exactly(quantity.AbsoluteSalinity(g))
}

func practical(g float64) quantity.Estimate[quantity.Salinity] {
	return quantity.Exactly(quantity.Salinity(g * 35 / 35.16504))
}

func hours(h float64) quantity.Estimate[quantity.Duration] {
	return quantity.Exactly(quantity.Duration(h))
}

func litres(v float64) quantity.Estimate[quantity.Volume] {
	return quantity.Exactly(quantity.Volume(v))
}

// density returns kg/L.
func density(sa, t float64) (float64, error) {
	rho, err := seawater.Density(quantity.AbsoluteSalinity(sa), quantity.Celsius(t))
	return float64(rho) / 1000, err
}

// at returns the water in the container when the gap has come down to a value.
// Salt and enthalpy mix alike, so both lie on the line between the two waters.
func (t *task) at(gap float64) (state, error) {
	if t.gap == 0 {
		return t.from, nil
	}
	left := gap / t.gap
	s := state{sa: t.to.sa + (t.from.sa-t.to.sa)*left, h: t.to.h + (t.from.h-t.to.h)*left}
	temperature, err := seawater.TemperatureFromEnthalpy(quantity.SpecificEnthalpy(s.h), quantity.AbsoluteSalinity(s.sa))
	s.t = float64(temperature)
	return s, err
}

// capacity returns what the container holds to the rim; 0 where nobody says.
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

// inContainer names what a vessel lacks as the container's.
func inContainer(err error) error {
	if missing, ok := errors.AsType[*instrument.MissingError](err); ok {
		return &instrument.MissingError{Name: "container." + missing.Name, Why: missing.Why}
	}
	if limit, ok := errors.AsType[*quantity.RangeError](err); ok {
		named := *limit
		named.Name = "container." + limit.Name
		return &named
	}
	return err
}
