package hydraulics

import (
	"errors"
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// OpenFlowMethod is the key of OpenFlow in Methods.
const OpenFlowMethod = "open-line-flow"

// OpenFlowFit is the standard uncertainty of OpenFlow, as a part of the flow, where it is
// largest: between laminar and turbulent flow. Proposed by Saltlock. The bore contributes
// more, since in a narrow line the flow rises with its fourth power.
const OpenFlowFit quantity.Fraction = 0.15

// The ranges of a Line.
var (
	Bore       = quantity.Range[quantity.Length]{Lo: 0.02, Hi: 2}
	HoseLength = quantity.Range[quantity.Length]{Lo: 1, Hi: 10000}
	Head       = quantity.Range[quantity.Length]{Lo: 0.1, Hi: 300}
)

// Line is a smooth hose full of water with nothing shut in it. An open valve, bends and
// couplings take further head that it ignores, so less runs in reality.
type Line struct {
	Bore   quantity.Length // inner diameter
	Length quantity.Length // from end to end
	Head   quantity.Length // of the source's surface above the outlet, or above the water the outlet is in
}

// Regime is the kind of flow in a line.
type Regime string

// The regimes a line can have.
const (
	Laminar      Regime = "laminar"
	Transitional Regime = "transitional" // alternately both
	Turbulent    Regime = "turbulent"
)

// Stream is the water that runs through a line.
type Stream struct {
	Flow     quantity.Flow
	Reynolds float64 // number of Reynolds, on the bore
	Regime   Regime
}

// Where a line stops being laminar, and where it is turbulent.
const (
	lastLaminar    = 2300
	firstTurbulent = 4000
)

// Losses at the ends of a line, in velocity heads: the hose is cut square, and all of the
// velocity is lost at the outlet.
const (
	entranceLoss = 0.5
	exitLoss     = 1
)

const gravity = 9.80665 // standard, m/s²

// OpenFlow returns the flow through an open line under a constant head.
//
//	line  bore 0.2 to 20 mm, length 1 cm to 100 m, head 1 mm to 3 m
//	sa    Absolute Salinity, 0 to 120 g/kg
//	t     temperature, 0 to 40 °C
//
// Standard uncertainty: 15 % of the flow at the most (OpenFlowFit), 2 % in a long
// narrow line, for an exact bore.
// Check value: bore 6 mm, length 1 m, head 0.3 m, sea water at 25 °C
// gives 1494 mL/min at a Reynolds number of 5638.
//
// Between the Reynolds numbers 2300 and 4000 neither law of friction holds. There the
// friction is interpolated linearly from one law to the other, a convention that lets the
// flow rise with the head without a jump. The two laws differ there by a factor of 1.6 to
// 2.5.
//
// Source: Darcy and Weisbach's balance of head with 64/Re below 2300 (Hagen and
// Poiseuille) and 0.3164 Re^-0.25 above 4000 [Blasius1913]; losses at the ends from
// textbooks, from memory. Blasius' law is used up to 2e5, twice as far as it was measured.
// Its friction is then 4 % too low and the flow on the safe side.
func OpenFlow(line Line, sa quantity.AbsoluteSalinity, t quantity.Celsius) (Stream, error) {
	nu, err := kinematicViscosity(sa, t)
	if err := errors.Join(line.check(), err); err != nil {
		return Stream{}, err
	}
	d, l, h := float64(line.Bore)/100, float64(line.Length)/100, float64(line.Head)/100
	const k = entranceLoss + exitLoss
	// Without friction, or without losses at the ends, the flow would be faster.
	fastest := min(math.Sqrt(2*gravity*h/k), 2*gravity*h*d*d/(laminarResistance*nu*l))
	v, err := numeric.Root(func(v float64) float64 {
		return headLoss(v, d, l, k, nu) - h
	}, 0, 2*fastest)
	if err != nil {
		return Stream{}, err
	}
	re := v * d / nu
	return Stream{Flow: quantity.Flow(v * math.Pi / 4 * d * d * 60e6), Reynolds: re, Regime: regime(re)}, nil
}

func (l Line) check() error {
	return errors.Join(
		Bore.Check("line.bore", l.Bore),
		HoseLength.Check("line.length", l.Length),
		Head.Check("line.head", l.Head),
	)
}

// kinematicViscosity is viscosity over density, m²/s.
func kinematicViscosity(sa quantity.AbsoluteSalinity, t quantity.Celsius) (float64, error) {
	mu, err := seawater.Viscosity(sa, t)
	if err != nil {
		return 0, err
	}
	rho, err := seawater.Density(sa, t)
	return float64(mu) / 1000 / float64(rho), err
}

// headLoss is the head that a velocity takes, m, for a bore d, a length l, losses k at the
// ends, and a kinematic viscosity nu, all in SI units. It uses the friction factor times
// Re, which stays finite as v goes to 0.
func headLoss(v, d, l, k, nu float64) float64 {
	return (resistance(v*d/nu)*nu*l/(d*d)*v + k*v*v) / (2 * gravity)
}

// laminarResistance is the friction factor times Re in laminar flow.
const laminarResistance = 64

// resistance is the friction factor times Re. It never falls as Re rises.
func resistance(re float64) float64 {
	turbulent := 0.3164 * math.Pow(re, 0.75)
	switch share := (re - lastLaminar) / (firstTurbulent - lastLaminar); {
	case share <= 0:
		return laminarResistance
	case share < 1:
		return laminarResistance + share*(turbulent-laminarResistance)
	}
	return turbulent
}

func regime(re float64) Regime {
	switch {
	case re < lastLaminar:
		return Laminar
	case re <= firstTurbulent:
		return Transitional
	}
	return Turbulent
}
