package transfer

import (
	"errors"
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Each refusal names the field that is in the way.
func TestRefused(t *testing.T) {
	for name, c := range map[string]struct {
		change      func(*Request)
		where, code string
	}{
		"air stone not said":   {func(r *Request) { r.Container.Aerated = nil }, "container.aerated", "no_air_stone"},
		"no air stone":         {func(r *Request) { r.Container.Aerated = new(false) }, "container.aerated", "no_air_stone"},
		"sick":                 {func(r *Request) { r.Animals = []Animal{{Condition: new(Sick)}} }, "animals.0.condition", "no_step_while_sick"},
		"medicated":            {func(r *Request) { r.Animals = []Animal{{}, {Condition: new(Medicated)}} }, "animals.1.condition", "no_step_while_medicated"},
		"just shipped":         {func(r *Request) { r.Animals = []Animal{{Condition: new(JustShipped)}} }, "animals.0.condition", "no_step_just_shipped"},
		"moulting":             {func(r *Request) { r.Animals = []Animal{{Condition: new(Moulting)}} }, "animals.0.condition", "no_step_while_moulting"},
		"more than a day's":    {func(r *Request) { r.Limits.Per24Hours = read[quantity.AbsoluteSalinity](t, "6 g/kg") }, "to.salinity", "over_24_hours"},
		"the day is used up":   {func(r *Request) { r.RecentChange = read[quantity.AbsoluteSalinity](t, "35 g/kg") }, "to.salinity", "day_used_up"},
		"no last step":         {func(r *Request) { r.Tolerance = read[quantity.AbsoluteSalinity](t, "0 g/kg") }, "tolerance", "tolerance_of_zero"},
		"last step too large":  {func(r *Request) { r.Limits.AtOnce = read[quantity.AbsoluteSalinity](t, "3 g/kg") }, "tolerance", "tolerance_over_at_once"},
		"start above the rim":  {func(r *Request) { r.Container.StartVolume = read[quantity.Volume](t, "21 L") }, "container.start_volume", "start_leaves_no_room"},
		"start at the rim":     {func(r *Request) { r.Container.StartVolume = read[quantity.Volume](t, "20 L") }, "container.start_volume", "start_leaves_no_room"},
		"start below least":    {func(r *Request) { r.Container.StartVolume = read[quantity.Volume](t, "5 L") }, "container.start_volume", "start_below_least"},
		"all freeboard":        {func(r *Request) { r.Container.Freeboard = read[quantity.Volume](t, "20 L") }, "container.freeboard", "freeboard_takes_all"},
		"slowest over fastest": {func(r *Request) { r.Line.LeastDrip = read[quantity.DripRate](t, "101 drops/s") }, "line.least_drip", "least_drip_above_greatest"},
		"asked for one step": {func(r *Request) {
			r.Route, r.Limits.AtOnce = new(Direct), read[quantity.AbsoluteSalinity](t, "4 g/kg")
		}, "route", "gap_over_at_once"},
		"source too small": {func(r *Request) { r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "5 L")} }, "source_tank.volume", "source_runs_dry"},
	} {
		t.Run(name, func(t *testing.T) {
			r := sixLitres(t, "20 L", "3.282 g/kg", 2)
			c.change(&r)
			refused(t, r, c.where, c.code)
		})
	}
}

// Everything that is in the way is reported at once.
func TestAllFaultsAtOnce(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 2)
	r.Animals = []Animal{{Condition: new(Sick)}}
	r.Limits.Per24Hours = read[quantity.AbsoluteSalinity](t, "6 g/kg")
	r.Container.Aerated = new(false)
	r.Container.StartVolume = read[quantity.Volume](t, "21 L")
	for where, code := range map[string]string{"animals.0.condition": "no_step_while_sick", "to.salinity": "over_24_hours",
		"container.aerated": "no_air_stone", "container.start_volume": "start_leaves_no_room"} {
		refused(t, r, where, code)
	}
	r.Line.Settings, r.From.Temperature.Value = new(0), 60
	_, err := NewPlan(t.Context(), r)
	if limit, ok := errors.AsType[*quantity.RangeError](err); !ok || limit.Name != "from.temperature" {
		t.Errorf("%v, want a range error of from.temperature first", err)
	}
	r.From.Temperature.Value = 25
	if limit, ok := errors.AsType[*quantity.RangeError](second(NewPlan(t.Context(), r))); !ok || limit.Name != "line.settings" {
		t.Errorf("%v, want a range error of line.settings", limit)
	}
}

func second(_ Plan, err error) error { return err }

// Cups need to know how much water there is; a drip can go by marks.
func TestNoContainer(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 2)
	r.Container = Container{Aerated: new(true)}
	r.Route = new(ByCups)
	if none, ok := errors.AsType[*InfeasibleError](second(NewPlan(t.Context(), r))); !ok || none.Faults[0].Note.Code != "container_not_measured" {
		t.Errorf("%v, want it to say how to measure the container", none)
	}
}

// Each change that a refusal offers leads to a plan, and a little less than the least does not. It
// is long because of the table of changes.
func TestSmallestChangeFrees(t *testing.T) {
	fast := sixLitres(t, "20 L", "3.282 g/kg", 2)
	fast.Line.LeastDrip = read[quantity.DripRate](t, "9 drops/s")
	stuck := sixLitres(t, "6.5 L", "0.5 g/kg", 2)
	stuck.Animals = []Animal{animal(tolerance.Hardy)}
	warm := fromTank(t, sixLitres(t, "20 L", "3.282 g/kg", 2))
	warm.To = water(t, "10 ppt", "29 C")
	zero := sixLitres(t, "20 L", "0 g/kg", 2)
	zero.Limits.PerHour = read[quantity.SalinityRate](t, "5 g/kg/h") // so that the way to the least tolerance fits into a day
	for _, c := range []struct {
		r           Request
		where, code string
		param       int
		set         func(r *Request, to any, by float64)
		less        float64 // what a little less is, as a factor; 0 where more than the least is offered
	}{
		{fast, "line.least_drip", "needs_slower_drip", 0, func(r *Request, to any, by float64) {
			r.Line.LeastDrip = new(scaled(to.(quantity.Estimate[quantity.DripRate]), by))
		}, 1.001},
		{fast, "line.drop_volume", "needs_smaller_drop", 0, func(r *Request, to any, by float64) {
			r.Line.DropVolume = new(scaled(to.(quantity.Estimate[quantity.Volume]), by))
		}, 1.001},
		{fast, "container.start_volume", "needs_more_water", 0, func(r *Request, to any, by float64) {
			r.Container.StartVolume = new(scaled(to.(quantity.Estimate[quantity.Volume]), by))
		}, 0.999},
		{stuck, "container.capacity", "needs_larger_container", 0, func(r *Request, to any, by float64) {
			r.Container.Capacity = new(scaled(to.(quantity.Estimate[quantity.Volume]), by))
		}, 0},
		{stuck, "tolerance", "tolerance_out_of_reach", 0, func(r *Request, to any, by float64) {
			r.Tolerance = new(scaled(to.(quantity.Estimate[quantity.AbsoluteSalinity]), by))
		}, 0.999},
		{zero, "tolerance", "tolerance_of_zero", 0, func(r *Request, to any, by float64) {
			r.Tolerance = new(scaled(to.(quantity.Estimate[quantity.AbsoluteSalinity]), by))
		}, 0},
		{warm, "to.temperature", "temperature_over_24_hours", 2, func(r *Request, to any, by float64) {
			r.To.Temperature = scaled(to.(quantity.Estimate[quantity.Celsius]), by)
		}, 1.001},
	} {
		f := refused(t, c.r, c.where, c.code)
		if f.Where == "" {
			continue
		}
		freed, short := copied(c.r), copied(c.r)
		c.set(&freed, f.Note.Params[c.param], 1+(1-c.less)*1e-4)
		if _, err := NewPlan(t.Context(), freed); err != nil {
			t.Errorf("%s (%s): with what it asks for, still %v", c.where, c.code, err)
		}
		if c.less == 0 {
			continue
		}
		c.set(&short, f.Note.Params[c.param], c.less)
		refused(t, short, c.where, c.code)
	}
}

func scaled[Q quantity.Quantity](e quantity.Estimate[Q], by float64) quantity.Estimate[Q] {
	return quantity.Of[Q](float64(e.Value)*by, 0)
}

// copied is a request whose line may be changed without changing the first.
func copied(r Request) Request {
	line := *r.Line
	r.Line = &line
	return r
}

// What is said of an instrument that is not named is told by its place in the request.
func TestInstrumentOfAnotherKind(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 2)
	r.Instrument = &instrument.Setup{TdsFactor: new(0.5)}
	_, err := NewPlan(t.Context(), r)
	if c, ok := errors.AsType[*instrument.ConflictError](err); !ok || c.Name != "instrument.tds_factor" {
		t.Errorf("a factor without a meter: %v", err)
	}
}

// No slow route is shown to a water that the animals should not be in.
func TestNoLongWayOutside(t *testing.T) {
	r := sixLitres(t, "20 L", "3.282 g/kg", 2)
	r.Limits = nil
	r.Animals = []Animal{animal(tolerance.StenohalineFresh)}
	_, err := NewPlan(t.Context(), r)
	infeasible, ok := errors.AsType[*InfeasibleError](err)
	if !ok {
		t.Fatalf("%v, want a refusal", err)
	}
	for _, f := range infeasible.Faults {
		if f.Note.Code == "holding_tanks_would_do" || f.Note.Code == "combined_would_do" || f.Note.Code == "ramp_would_do" {
			t.Errorf("offered %s to a fish that keeps to fresh water", f.Note.Code)
		}
	}
}

// An instrument that cannot show one of the waters does not prevent a plan.
func TestOffScale(t *testing.T) {
	r := sixLitres(t, "20 L", "2 g/kg", 2)
	r.From, r.To = water(t, "4 ppt", "37 C"), water(t, "0 ppt", "37 C")
	r.Instrument = &instrument.Setup{Kind: new(instrument.Refractometer), TemperatureCompensated: new(false)}
	p := plan(t, r)
	if !says(p.Warnings, "instrument_off_scale") || p.Checkpoints[len(p.Checkpoints)-1].Reading != nil {
		t.Errorf("warnings %v, last look %v", p.Warnings, p.Checkpoints[len(p.Checkpoints)-1])
	}
}
