package seawater

import (
	"errors"
	"fmt"
	"math"

	"saltlock/chem/quantity"
)

// Keys in Methods of the dissociation of ammonium, by pH scale.
const (
	AmmoniaMethod      = "ammonia-emerson1975-khoo1977"
	AmmoniaTotalMethod = "ammonia-clegg-whitfield1995"
)

// PHScale is the scale of a pH.
type PHScale string

// NBSScale is the scale of meters and kits calibrated with NBS (NIST) buffers. The other
// two are used in oceanography, in mol per kg of sea water.
const (
	NBSScale   PHScale = "nbs"
	TotalScale PHScale = "total"
	FreeScale  PHScale = "free"
)

// The standard uncertainty of pK: 15 % of the un-ionized share on the NBS scale, where
// sources differ with the electrode, and 5 % on the others, as the source states.
const (
	AmmoniaPKFit      quantity.PH = 0.06
	AmmoniaPKTotalFit quantity.PH = 0.02
)

var (
	ammoniaSalinity    = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 40}
	ammoniaTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
	ammoniaPH          = quantity.Range[quantity.PH]{Lo: 0, Hi: 14}
)

// AmmoniaPK returns the pH at which half of the ammonia in a water is un-ionized.
//
//	sp     practical salinity, 0 to 40
//	t      temperature, 0 to 40 °C
//	scale  of the pH
//
// Standard uncertainty: 0.06 on the NBS scale (AmmoniaPKFit), 0.02 on the others (AmmoniaPKTotalFit).
// Check value: sp = 0, t = 25 °C gives 9.2446 on the total scale, which in fresh water equals the free scale.
//
// Source: for the NBS scale, [Emerson1975] in fresh water plus the ionic-strength term of
// [Khoo1977]. The combination is common practice, not a standard; it agrees with
// [BowerBidwell1978] within 1.4 % of the share. For the total and the free scale,
// [CleggWhitfield1995], equation 18 and the one for the free scale, converted from molal to
// mol per kg of sea water.
func AmmoniaPK(sp quantity.Salinity, t quantity.Celsius, scale PHScale) (quantity.PH, error) {
	if err := errors.Join(
		ammoniaSalinity.Check("salinity", sp),
		ammoniaTemperature.Check("temperature", t),
		scale.check(),
	); err != nil {
		return 0, err
	}
	return quantity.PH(ammoniaPK(float64(sp), float64(t), scale)), nil
}

// UnionizedAmmonia returns the share of total ammonia that is un-ionized (NH3), the toxic form.
//
//	ph     pH, 0 to 14, on the scale named
//	sp     practical salinity, 0 to 40
//	t      temperature, 0 to 40 °C
//	scale  of the pH
//
// Standard uncertainty: that of AmmoniaPK, 15 % of the share on the NBS scale. An error
// of 0.1 in the pH adds 26 %.
// Check value: ph = 8, sp = 0, t = 24 °C on the NBS scale gives 0.0502.
//
// Source: equilibrium NH4+ = NH3 + H+ with the pK of AmmoniaPK [Emerson1975].
func UnionizedAmmonia(ph quantity.PH, sp quantity.Salinity, t quantity.Celsius, scale PHScale) (quantity.Fraction, error) {
	pK, err := AmmoniaPK(sp, t, scale)
	if err := errors.Join(ammoniaPH.Check("ph", ph), err); err != nil {
		return 0, err
	}
	return quantity.Fraction(unionized(float64(ph), float64(pK))), nil
}

func unionized(ph, pK float64) float64 { return 1 / (1 + math.Pow(10, pK-ph)) }

// check refuses a word that is not the name of a scale.
func (s PHScale) check() error {
	switch s {
	case NBSScale, TotalScale, FreeScale:
		return nil
	}
	return fmt.Errorf("pH scale %q is none of %s, %s, %s", string(s), NBSScale, TotalScale, FreeScale)
}

// ammoniaPK is AmmoniaPK without the range check.
func ammoniaPK(sp, t float64, scale PHScale) float64 {
	kelvin := quantity.Celsius(t).Kelvin()
	switch scale {
	case TotalScale:
		return pKTotalMolal(sp, kelvin) - math.Log10(waterShare(sp))
	case FreeScale:
		return pKFreeMolal(sp, kelvin) - math.Log10(waterShare(sp))
	}
	return pKNBS(sp, t)
}

// pKNBS is Emerson et al. plus the salt effect of Khoo et al., in ionic strength.
func pKNBS(sp, t float64) float64 {
	ionic := 19.9273 * sp / (1000 - 1.005109*sp)
	return 0.09018 + 2729.92/quantity.Celsius(t).Kelvin() + (0.1552-0.0003142*t)*ionic
}

// pKTotalMolal is equation 18 of Clegg & Whitfield, T in kelvin, the constant in mol per kg of water.
func pKTotalMolal(s, T float64) float64 {
	root := math.Sqrt(T)
	return pKFresh(T) +
		(0.04203362-11.24742/T)*math.Pow(s, 0.25) +
		(-13.6416+1.176949*root-0.02860785*T+545.4834/T)*math.Sqrt(s) +
		(-0.1462507+0.0090226468*root-0.0001471361*T+10.5425/T)*s*math.Sqrt(s) +
		(0.004669309-0.0001691742*root-0.5677934/T)*s*s +
		(-2.354039e-5+0.009698623/T)*s*s*math.Sqrt(s)
}

// pKFreeMolal is the equation of Clegg & Whitfield for the free scale.
func pKFreeMolal(s, T float64) float64 {
	return pKFresh(T) +
		(0.0500616-9.412696/T-2.029559e-7*T*T)*math.Sqrt(s) +
		(-0.0142372+1.46041e-5*T+3.730005/T)*s +
		(7.14045e-5-0.0229021/T)*s*s +
		(-5.521278e-7+1.95413e-4/T)*s*s*s
}

func pKFresh(T float64) float64 { return 9.244605 - 2729.33*(1/298.15-1/T) }

// waterShare is the mass of water in a mass of sea water. It converts a constant from mol
// per kg of water to mol per kg of sea water.
func waterShare(sp float64) float64 { return 1 - 0.001005*sp }
