package mixing

import (
	"errors"
	"math"
	"slices"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// TopOffRequest asks about evaporation. What is missing now is given as a volume, or by the
// salinity to which it led. The effect of a period is given by its daily loss.
type TopOffRequest struct {
	Volume            quantity.Estimate[quantity.Volume]    `json:"volume"`   // of the tank when full
	Salinity          quantity.Reading                      `json:"salinity"` // when full
	Missing           *quantity.Estimate[quantity.Volume]   `json:"missing,omitempty"`
	SalinityNow       *quantity.Reading                     `json:"salinity_now,omitempty"`
	TopOffWater       *quantity.Reading                     `json:"top_off_water,omitempty"`
	EvaporationPerDay *quantity.Estimate[quantity.Volume]   `json:"evaporation_per_day,omitempty"`
	Period            *quantity.Estimate[quantity.Duration] `json:"period,omitempty"`
	Temperature       *quantity.Estimate[quantity.Celsius]  `json:"temperature,omitempty"`
}

// TopOff is what evaporation did and what to add.
type TopOff struct {
	SalinityNow   *Salinity                                     `json:"salinity_now,omitempty"`
	Missing       *quantity.Estimate[quantity.Volume]           `json:"missing,omitempty"`
	FreshWater    *quantity.Estimate[quantity.Volume]           `json:"fresh_water,omitempty"`    // pure water that restores level and salinity
	SalinityAfter *Salinity                                     `json:"salinity_after,omitempty"` // topped off with the top-off water
	Drift         *quantity.Estimate[quantity.AbsoluteSalinity] `json:"drift,omitempty"`          // over the period
	SalinityAtEnd *Salinity                                     `json:"salinity_at_end,omitempty"`
	Dominant      *quantity.Share                               `json:"dominant,omitempty"`
	Cautions      []quantity.Note                               `json:"cautions"`
	Warnings      []quantity.Note                               `json:"warnings"`
	Assumptions   []quantity.Note                               `json:"assumptions"`
	Methods       []string                                      `json:"methods"`
}

// week is the period if evaporation is given without one.
const week quantity.Duration = 7 * 24

// WithDefaults returns the request with its defaults filled in, except where omitting an
// input has a meaning of its own.
func (r TopOffRequest) WithDefaults() TopOffRequest {
	if r.Temperature == nil {
		r.Temperature = new(quantity.Exactly(standIn))
	}
	if r.TopOffWater == nil {
		r.TopOffWater = &quantity.Reading{Scale: quantity.AbsoluteScale}
	}
	if r.EvaporationPerDay != nil && r.Period == nil {
		r.Period = new(quantity.Exactly(week))
	}
	return r
}

// What animals of the sea may be changed by at once and in a day, g/kg: the strictest row of the
// limits that are proposed for fish of the sea.
const atOnceInTank, perDayInTank = 1, 2

// inDays is in how many days a tank with animals comes down to its salinity; 0 where that
// may be done at once.
func (t *TopOff) inDays() int {
	fall := float64(t.SalinityNow.Absolute.Value - t.SalinityAfter.Absolute.Value)
	if fall <= atOnceInTank {
		return 0
	}
	return int(math.Ceil(fall/perDayInTank - 0.01)) // nobody reads a hundredth of that
}

// evaporation is the joint function of a top-off, in g/kg and L.
type evaporation struct{ now, missing, fresh, after, drift, end float64 }

// TopOffTank returns what evaporation did to a tank and what restores it.
//
//	Volume       of the tank when full, 0.001 to 1e9 L, all waters at Temperature, 0 to 40 °C
//	Missing      less than the volume; or SalinityNow, above Salinity
//	Period       how long TopOffWater replaces EvaporationPerDay, up to 10 years
//
// Standard uncertainty: of the inputs given.
// Check value: when 1 L evaporates from 100 L of 35 ppt at 25 °C, 35.34 ppt are left
// (conservation over TEOS-10 density).
//
// Source: conservation: water leaves, salt stays.
func TopOffTank(given TopOffRequest) (TopOff, error) {
	r := given.WithDefaults()
	if err := r.check(); err != nil {
		return TopOff{}, err
	}
	e := r.estimates()
	if _, err := e.at(); err != nil {
		return TopOff{}, err
	}
	t := TopOff{
		Cautions:    []quantity.Note{note("top_off_with_fresh"), note("dechlorinate_first")},
		Warnings:    []quantity.Note{},
		Assumptions: assumed(given.Temperature, &r.Salinity, r.SalinityNow, r.TopOffWater),
		Methods:     []string{EvaporationMethod, seawater.DensityMethod, seawater.ReferenceSalinityMethod},
	}
	if r.asksNow() {
		t.SalinityNow = new(salinity(e, func(k evaporation) float64 { return k.now }))
		t.Missing = new(estimate[quantity.Volume](e, func(k evaporation) float64 { return k.missing }))
		t.SalinityAfter = new(salinity(e, func(k evaporation) float64 { return k.after }))
		fresh, dominant := share[quantity.Volume](e, func(k evaporation) float64 { return k.fresh })
		t.FreshWater, t.Dominant = &fresh, dominant
		if days := t.inDays(); days > 0 {
			t.Cautions = slices.Insert(t.Cautions, 0, note("top_off_by_days", days, quantity.Exactly[quantity.AbsoluteSalinity](perDayInTank)))
		}
	}
	if r.EvaporationPerDay != nil && given.Period == nil {
		t.Assumptions = append(t.Assumptions, note("period_assumed", quantity.Exactly(week)))
	}
	if r.EvaporationPerDay != nil {
		t.Cautions = slices.Insert(t.Cautions, 0, note("top_off_in_all", *r.Period, quantity.Exactly(r.EvaporationPerDay.Value*quantity.Volume(r.Period.Value/24))))
		drift, dominant := share[quantity.AbsoluteSalinity](e, func(k evaporation) float64 { return k.drift })
		t.Drift = &drift
		t.SalinityAtEnd = new(salinity(e, func(k evaporation) float64 { return k.end }))
		if t.Dominant == nil {
			t.Dominant = dominant
		}
	}
	return t, e.err
}

// asksNow reports whether the request states how much is missing now.
func (r TopOffRequest) asksNow() bool { return r.Missing != nil || r.SalinityNow != nil }

var periods = quantity.Range[quantity.Duration]{Lo: 0, Hi: 24 * 3653}

// check names every fault that can be found before anything is computed.
func (r TopOffRequest) check() error {
	faults := []error{
		volumes.Check("volume", r.Volume.Value), check(volumes, "missing", r.Missing), check(volumes, "evaporation_per_day", r.EvaporationPerDay),
		check(periods, "period", r.Period), check(temperatures, "temperature", r.Temperature),
		known("salinity", &r.Salinity, r.Temperature), known("salinity_now", r.SalinityNow, r.Temperature), known("top_off_water", r.TopOffWater, r.Temperature),
	}
	faults = append(faults, unused("evaporation_per_day", "without the loss of a day it changes nothing", quantity.Note{Code: "period_without_loss"}, idle{"period", r.Period != nil && r.EvaporationPerDay == nil}))
	switch {
	case r.Missing != nil && r.SalinityNow != nil:
		faults = append(faults, &instrument.ConflictError{Name: "missing", Other: "salinity_now", Why: "each tells the other; give one of them", Note: quantity.Note{Code: "missing_or_now"}})
	case r.Missing == nil && r.SalinityNow == nil && r.EvaporationPerDay == nil:
		faults = append(faults, &instrument.MissingError{Name: "missing", Why: "give the volume that is missing, the salinity now, or the evaporation of a day", Note: quantity.Note{Code: "top_off_needs_loss"}})
	}
	switch {
	case r.Missing == nil:
	case r.Missing.Value == r.Volume.Value:
		faults = append(faults, &instrument.ConflictError{Name: "missing", Other: "volume", Why: "nothing would be left in the tank; give the volume that has evaporated", Note: quantity.Note{Code: "nothing_left_in_tank"}})
	case r.Missing.Value > r.Volume.Value:
		faults = append(faults, &quantity.RangeError{Name: "missing", Value: float64(r.Missing.Value), Lo: 0, Hi: float64(r.Volume.Value), Unit: "L"})
	}
	return errors.Join(faults...)
}

// estimates makes the joint function of the request.
func (r TopOffRequest) estimates() *estimates[evaporation] {
	e := &estimates[evaporation]{}
	v, t := input(&e.joint, "volume", r.Volume), input(&e.joint, "temperature", *r.Temperature)
	missing, loss := optional(&e.joint, "missing", r.Missing), optional(&e.joint, "evaporation_per_day", r.EvaporationPerDay)
	period := optional(&e.joint, "period", r.Period)
	full, top := e.reading("salinity", "salinity", r.Salinity, t), e.reading("top_off_water", "top_off_water", *r.TopOffWater, t)
	now := full
	if r.SalinityNow != nil {
		now = e.reading("salinity_now", "salinity_now", *r.SalinityNow, t)
	}
	e.of = func(x []float64) (k evaporation, err error) {
		s, noFull := full(x)
		k.now, err = now(x)
		topped, noTop := top(x)
		rho, noDensity := density(s, t(x))
		pure, noPure := density(0, t(x))
		if err := errors.Join(noFull, err, noTop, noDensity, noPure); err != nil {
			return k, err
		}
		tank := tank{v(x), t(x), v(x) * rho, s}
		if r.asksNow() {
			if err := tank.evaporate(&k, missing(x), topped, pure, r.SalinityNow != nil); err != nil {
				return k, err
			}
		}
		if k.end, err = tank.toppedOff(loss(x)*period(x)/24*pure, topped); err != nil {
			return k, err
		}
		k.drift = k.end - s
		return k, nil
	}
	return e
}

// tank is a full tank: L, °C, kg and g/kg.
type tank struct{ volume, t, mass, sa float64 }

// evaporate computes what has evaporated, from the salinity or the missing volume, and the
// result of topping off with a water.
func (n tank) evaporate(k *evaporation, missing, topped, pure float64, bySalinity bool) error {
	gone := 0.0
	var err error
	if bySalinity {
		if !(k.now >= n.sa && k.now > 0) {
			return &UnreachableError{Name: "salinity_now", Target: quantity.AbsoluteSalinity(k.now), Lo: quantity.AbsoluteSalinity(n.sa), Hi: 120,
				Why: "Evaporation only raises the salinity. Salt was lost, by a water change or over the rim: correct the salinity first.", Note: quantity.Note{Code: "evaporation_only_raises"}}
		}
		gone = n.mass * (1 - n.sa/k.now)
		rho, err := density(k.now, n.t)
		if err != nil {
			return err
		}
		k.missing = n.volume - (n.mass-gone)/rho
	} else {
		k.missing = missing
		gone, err = settle(missing*pure, n.mass, func(gone float64) (float64, error) {
			rho, err := density(n.sa*n.mass/(n.mass-gone), n.t)
			if err != nil {
				return 0, n.tooMuch(missing, err)
			}
			return n.mass - (n.volume-missing)*rho, nil
		})
		if err != nil {
			return err
		}
		k.now = n.sa * n.mass / (n.mass - gone)
	}
	k.fresh = gone / pure
	k.after, err = n.toppedOff(gone, topped)
	return err
}

// tooMuch refuses an evaporation that leaves a water outside the range of density.
func (n tank) tooMuch(missing float64, err error) error {
	strongest, noDensity := density(mostSalt, n.t)
	if noDensity != nil || n.sa == 0 {
		return err
	}
	left := n.sa * n.mass / (mostSalt * strongest)
	return &quantity.RangeError{Name: "missing", Value: missing, Lo: 0, Hi: n.volume - left, Unit: "L"}
}

// toppedOff is the salinity after the evaporated water, in kg, is replaced with another up to
// the level.
func (n tank) toppedOff(gone, topped float64) (float64, error) {
	return settle(n.sa, n.sa+topped*(1+gone/n.mass), func(end float64) (float64, error) {
		rho, err := density(end, n.t)
		if err != nil {
			return 0, &UnreachableError{Name: "top_off_water", Target: quantity.AbsoluteSalinity(end), Hi: mostSalt,
				Why: "Topped off so long with such salty water, the tank leaves the range of the formulas. Use fresher water or a shorter period.", Note: quantity.Note{Code: "topped_off_too_salty"}}
		}
		mass := n.volume * rho
		return (n.sa*n.mass + topped*(mass-n.mass+gone)) / mass, nil
	})
}

// Notes returns every note of the top-off, for the renderer to fill.
func (t *TopOff) Notes() []*quantity.Note {
	return notes(t.Cautions, t.Warnings, t.Assumptions)
}
