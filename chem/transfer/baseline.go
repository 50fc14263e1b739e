package transfer

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
)

// Baseline is what a plan under way is compared with, on plain numbers: the two waters, the limits
// that matter for a change of plan and, for a drip, the container as the keeper was asked to fill
// it.
type Baseline struct {
	Request  Request    // with its defaults
	From, To float64    // g/kg
	Doubts   [2]float64 // standard uncertainties of the two
	Doubt    float64    // of the gap
	Gap      float64    // g/kg
	// Tolerance is the difference that may remain at the release, AtOnce the limit of a step, Hold
	// how many hours animals rest after a full day's change.
	Tolerance, AtOnce, Hold float64
	PerHour                 func(salinity float64) float64 // the limit of a drip, g/kg/h
	task                    *task
}

// NewBaseline resolves a request as its plan does.
func NewBaseline(r Request) (Baseline, error) {
	t, err := newTask(r.WithDefaults())
	if err != nil {
		return Baseline{}, err
	}
	return Baseline{Request: t.request, From: t.from.sa, To: t.to.sa, Doubts: t.doubts, Doubt: t.doubt, Gap: t.gap,
		Tolerance: t.tolerance, AtOnce: t.rules.atOnce, Hold: t.rules.hold, PerHour: t.rules.perHour, task: t}, nil
}

// AtOnceBack is the limit of a step, the stricter of both directions, g/kg.
func (b Baseline) AtOnceBack() (float64, error) {
	r := b.Request
	r.From, r.To = r.To, r.From
	r.From.HoursInBag, r.To.HoursInBag = nil, nil
	back, err := newTask(r)
	if err != nil {
		return 0, err
	}
	return min(b.AtOnce, back.rules.atOnce), nil
}

// Temperature is the temperature of the mixture at a gap, °C.
func (b Baseline) Temperature(gap float64) (float64, error) {
	s, err := b.task.at(gap)
	return s.t, err
}

// WarmthPerHour is by how much the animals may be warmed in an hour, or cooled if the change is
// negative, K/h.
func (b Baseline) WarmthPerHour(by float64) (float64, error) {
	all, err := b.task.proposed()
	least := math.Inf(1)
	for _, l := range all {
		perHour, _ := temperatureLimits(l, by)
		least = min(least, perHour)
	}
	return least, err
}

// WayBack is how a temperature returns to another: at RateToEdge to the edge of what the animals
// live in, if it is beyond that, and from there at the rate of their class, K/h. It also returns
// how many hours that takes.
func (b Baseline) WayBack(now, to float64) (edge, perHour, hours float64, err error) {
	perHour, err = b.WarmthPerHour(to - now)
	t := *b.task
	t.from.t, t.warmth = now, to
	edge = t.edge()
	return edge, perHour, math.Abs(edge-now)/RateToEdge + math.Abs(to-edge)/perHour, err
}

// HalfWay is where distressed animals go at once out of a water, g/kg, that they do not live in:
// half way to where they do. It is not ok if all of them live in that water. They cross no more
// than that: a change is a shock of its own.
func (b Baseline) HalfWay(now float64) (half float64, ok bool) {
	t := *b.task
	t.from.sa = now
	for _, a := range t.request.Animals {
		ok = ok || a.Known != nil && a.Known.Stage.Past(quantity.AbsoluteSalinity(now)) != 0
	}
	return t.half(), ok
}

// FromDensity is the density of the animals' own water, kg/L.
func (b Baseline) FromDensity() (float64, error) { return density(b.task.from) }

// DripBaseline is a container and its line, as given or assumed.
type DripBaseline struct {
	Start, Least float64                    // L
	Capacity     float64                    // L; assumed if nothing gives it
	Brim         float64                    // L to which it may be filled
	Drop         float64                    // L
	Density      func(left float64) float64 // kg/L, by the share of the gap that is left
	Rate         func(gap float64) float64  // the hourly limit, g/kg/h
	dropMass     float64
}

// Flow is kg/h at a drip.
func (d DripBaseline) Flow(drip float64) float64 { return drip * 3600 * d.dropMass }

// Drip resolves container and line.
func (b Baseline) Drip() (DripBaseline, error) {
	rho, noDensity := b.task.densities()
	vat, noVat := b.task.newVat()
	rate, noRate := b.task.rateLimit()
	b.task.assumptions, b.task.faults = nil, nil // those of the plan, which has already said them
	return DripBaseline{Start: vat.start, Least: vat.least, Capacity: vat.capacity, Brim: vat.brim, Drop: vat.drop, Density: rho, Rate: rate.at, dropMass: vat.dropMass}, errors.Join(noDensity, noVat, noRate)
}
