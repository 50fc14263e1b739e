package hydraulics

import "math"

// SurfaceTensionMethod is the key of the surface tension of DropVolume in Methods.
const SurfaceTensionMethod = "surface-tension-iapws"

// surfaceTension is that of sea water against air, N/m, for an Absolute Salinity
// in g/kg and a temperature in °C: the formula of pure water [IAPWS14] times that of salt
// [IAPWS19]. Soap, oil and food in the water lower it and make drops smaller.
func surfaceTension(sa, t float64) float64 {
	tau := 1 - (t+273.15)/647.096
	water := 0.2358 * math.Pow(tau, 1.256) * (1 - 0.625*tau)
	return water * (1 + sa*(3.766e-4+2.347e-6*t))
}
