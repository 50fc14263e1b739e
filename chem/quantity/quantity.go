// Package quantity names the quantities Saltlock computes with, each a float64
// in one fixed unit, and reads and writes them as people do: "120 gal",
// "77 F", "1.010 ± 0.001 SG".
package quantity

// Quantity is any quantity of this package. Its unit is part of its type.
type Quantity interface {
	~float64
	Unit() string          // the unit of the float64, as answers print it
	dimension() *dimension // its name and units for people
}

// Salinity is practical salinity on PSS-78, which has no unit. On the wire it is "ppt",
// because the trade marks its instruments so that sea water reads 35.
type Salinity float64

// AbsoluteSalinity is the mass of sea salt in a mass of water, g/kg.
// It also carries differences of salinity.
type AbsoluteSalinity float64

// SaltPerLitre is the mass of sea salt per volume of water at a stated temperature, g/L.
type SaltPerLitre float64

// Chlorinity is the chlorine equivalent of the halides in a mass of water, g/kg.
type Chlorinity float64

// SpecificGravity is the density of a water over that of pure water, each at
// its own temperature; see Convention.
type SpecificGravity float64

// Density is a density, kg/m³.
type Density float64

// Conductivity is an electrical conductivity, mS/cm.
type Conductivity float64

// RefractiveIndex is a refractive index at 589.3 nm relative to air.
type RefractiveIndex float64

// Osmolality is an amount of osmotically active solute per mass of water, mOsm/kg.
type Osmolality float64

// Celsius is a temperature on ITS-90, °C.
type Celsius float64

// TemperatureDifference is a difference of temperatures, K.
type TemperatureDifference float64

// TemperatureRate is a change of temperature in time, K/h.
type TemperatureRate float64

// SalinityRate is a change of absolute salinity in time, g/kg/h.
type SalinityRate float64

// Volume is a volume, L.
type Volume float64

// Mass is a mass, kg.
type Mass float64

// Length is a length, cm.
type Length float64

// Area is an area, cm².
type Area float64

// VolumePerLength is the volume of a vessel per length of level, L/cm.
type VolumePerLength float64

// Duration is a length of time, h.
type Duration float64

// Flow is a volume flow, mL/min.
type Flow float64

// DripRate is a count of drops in time, drops/s.
type DripRate float64

// Alkalinity is total alkalinity, meq/L.
type Alkalinity float64

// PH is a pH as hobby meters and kits measure it, by NBS (NIST) buffers.
type PH float64

// AmmoniaNitrogen is total ammonia nitrogen, or un-ionized ammonia counted as nitrogen, mg/L N.
type AmmoniaNitrogen float64

// NitriteNitrogen is nitrite counted as nitrogen, mg/L N.
type NitriteNitrogen float64

// DissolvedOxygen is a concentration of dissolved oxygen, mg/L.
type DissolvedOxygen float64

// Fraction is a share of a whole, 1 being all of it.
type Fraction float64

// SpecificHeat is a heat capacity per mass, J/(kg·K).
type SpecificHeat float64

// SpecificEnthalpy is an enthalpy per mass, J/kg.
type SpecificEnthalpy float64

// Viscosity is a dynamic viscosity, mPa·s.
type Viscosity float64

// Kelvin returns the temperature on the thermodynamic scale, K.
func (c Celsius) Kelvin() float64 { return float64(c) + 273.15 }

// T68 returns the temperature on IPTS-68, on which PSS-78 is defined, °C.
//
// Source: Saunders 1990 [TEOS10, appendix A.1].
func (c Celsius) T68() float64 { return 1.00024 * float64(c) }
