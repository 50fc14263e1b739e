package seawater

import (
	"errors"

	"saltlock/chem/quantity"
)

// EnthalpyMethod is the key of enthalpy and heat capacity in Methods.
const EnthalpyMethod = "enthalpy-iapws08"

// SpecificHeatFit is the standard uncertainty of the heat capacity of sea water (from
// memory). From 0 to 40 °C it adds up to SpecificEnthalpyFit in an enthalpy.
const (
	SpecificHeatFit     quantity.SpecificHeat     = 0.5
	SpecificEnthalpyFit quantity.SpecificEnthalpy = 20
)

// SpecificEnthalpy returns the enthalpy of sea water relative to that of standard sea
// water (35.16504 g/kg) at 0 °C.
//
//	sa  Absolute Salinity, 0 to 120 g/kg
//	t   temperature, ITS-90, -1 to 41 °C
//
// Standard uncertainty: 20 J/kg (SpecificEnthalpyFit), from memory, for the difference
// between two temperatures.
// Check value: sa = 0 g/kg, t = 40 °C gives 167616.267 J/kg.
//
// Source: IAPWS R13-08 [IAPWS08] over IAPWS SR7-09 water [IAPWS09], Table 6.
func SpecificEnthalpy(sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.SpecificEnthalpy, error) {
	if !gibbsSalinity.Contains(sa) || !gibbsTemperature.Contains(t) {
		return 0, checkGibbs(sa, t)
	}
	return quantity.SpecificEnthalpy(specificEnthalpy(float64(sa), float64(t))), nil
}

// SpecificHeat returns the heat capacity of sea water at constant pressure.
//
//	sa  Absolute Salinity, 0 to 120 g/kg
//	t   temperature, ITS-90, -1 to 41 °C
//
// Standard uncertainty: 0.5 J/(kg·K) (SpecificHeatFit), from memory.
// Check value: sa = 0 g/kg, t = 0 °C gives 4219.41153 J/(kg·K).
//
// Source: IAPWS R13-08 [IAPWS08] over IAPWS SR7-09 water [IAPWS09], Table 6.
func SpecificHeat(sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.SpecificHeat, error) {
	if !gibbsSalinity.Contains(sa) || !gibbsTemperature.Contains(t) {
		return 0, checkGibbs(sa, t)
	}
	return quantity.SpecificHeat(specificHeat(float64(sa), float64(t))), nil
}

// TemperatureFromEnthalpy returns the temperature of a sea water of known enthalpy, such
// as a mixture.
//
//	h   specific enthalpy, from that at -1 °C to that at 41 °C
//	sa  Absolute Salinity, 0 to 120 g/kg
//
// Standard uncertainty: 0.005 °C, SpecificEnthalpyFit over the heat capacity.
// Check value: h = 167616.267 J/kg, sa = 0 g/kg gives 40 °C.
//
// Source: inverse of SpecificEnthalpy [IAPWS08], [IAPWS09].
func TemperatureFromEnthalpy(h quantity.SpecificEnthalpy, sa quantity.AbsoluteSalinity) (quantity.Celsius, error) {
	if !gibbsSalinity.Contains(sa) {
		return 0, gibbsSalinity.Check("salinity", sa)
	}
	g := gibbsOf(float64(sa))
	if t := quantity.Celsius(g.temperature(float64(h))); gibbsTemperature.Contains(t) {
		return t, nil
	}
	return atEnd("enthalpy", h, g.enthalpy, gibbsTemperature)
}

func checkGibbs(sa quantity.AbsoluteSalinity, t quantity.Celsius) error {
	return errors.Join(
		gibbsSalinity.Check("salinity", sa),
		gibbsTemperature.Check("temperature", t),
	)
}

func specificEnthalpy(sa, t float64) float64 {
	g := gibbsOf(sa)
	return g.enthalpy(t)
}

func specificHeat(sa, t float64) float64 {
	g := gibbsOf(sa)
	_, heat := g.enthalpyAndHeat(t)
	return heat
}

func (p *inTemperature) enthalpy(t float64) float64 {
	h, _ := p.enthalpyAndHeat(t)
	return h
}

// enthalpyAndHeat returns h = g − T·∂g/∂T and its derivative cp = −T·∂²g/∂T².
func (p *inTemperature) enthalpyAndHeat(t float64) (h, cp float64) {
	g, gt, gtt := p.derivatives(t)
	kelvin := quantity.Celsius(t).Kelvin()
	return g - kelvin*gt, -kelvin * gtt
}

// temperature is the inverse of enthalpy. The heat capacity changes by only a few parts in
// a thousand between 0 and 40 °C, so four Newton steps from the middle reach the last bit.
func (p *inTemperature) temperature(enthalpy float64) float64 {
	t := 20.
	for range 4 {
		h, cp := p.enthalpyAndHeat(t)
		t -= (h - enthalpy) / cp
	}
	return t
}
