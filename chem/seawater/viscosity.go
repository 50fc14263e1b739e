package seawater

import (
	"errors"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// ViscosityMethod is the key of Viscosity in Methods.
const ViscosityMethod = "viscosity-sharqawy2010"

// ViscosityFit is 1.5 % of the viscosity of sea water at 25 °C, as the source states. For
// pure water the formula is good to 0.05 %.
const ViscosityFit quantity.Viscosity = 0.015

// The source gives the formula up to 180 °C and 150 g/kg.
var (
	viscositySalinity    = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 120}
	viscosityTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
)

// Viscosity returns the dynamic viscosity of sea water.
//
//	sa  Absolute Salinity, 0 to 120 g/kg
//	t   temperature, 0 to 40 °C
//
// Standard uncertainty: 1.5 %, about 0.015 mPa·s (ViscosityFit).
// Check value: sa = 0 g/kg, t = 25 °C gives 0.8900 mPa·s within 0.02 % (IAPWS, 0.1 MPa).
//
// Source: [Sharqawy2010], equations 22 and 23, after Isdale et al. 1972.
func Viscosity(sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.Viscosity, error) {
	if !viscositySalinity.Contains(sa) || !viscosityTemperature.Contains(t) {
		return 0, errors.Join(
			viscositySalinity.Check("salinity", sa),
			viscosityTemperature.Check("temperature", t),
		)
	}
	return quantity.Viscosity(viscosity(float64(sa), float64(t))), nil
}

func viscosity(sa, t float64) float64 {
	s := sa / 1000
	a := numeric.Quadratic(t, 1.5409136040, 1.9981117208e-2, -9.5203865864e-5)
	b := numeric.Quadratic(t, 7.9739318223, -7.5614568881e-2, 4.7237011074e-4)
	water := 4.2844324477e-5 + 1/(0.15700386464*(t+64.992620050)*(t+64.992620050)-91.296496657)
	return 1000 * water * (1 + s*(a+s*b))
}
