package lifesupport

import (
	"errors"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// BagWaterMethod is the key in Methods of BagVerdict.
const BagWaterMethod = "bag-water"

// BagDrip says whether animals may be dripped in the water of their bag.
type BagDrip string

// The verdicts on a drip in bag water.
const (
	DripAllowed BagDrip = "allowed"
	DripRefused BagDrip = "refused"
)

// Thresholds of un-ionized ammonia as nitrogen, and of time; customary, from memory.
const (
	HarmlessAmmonia quantity.AmmoniaNitrogen = 0.02
	HarmfulAmmonia  quantity.AmmoniaNitrogen = 0.05
	HarmlessNitrite quantity.NitriteNitrogen = 0.2 // a criterion of the trade, from a secondary source
	LongestUnknown  quantity.Duration        = 1   // in a bag whose ammonia was not measured
)

var bagTime = quantity.Range[quantity.Duration]{Lo: 0, Hi: 1000}

// BagVerdict says whether the ammonia of a bag's water is low enough to drip the
// animals in it. In the closed bag, carbon dioxide keeps the pH low and ammonia
// harmless. With air or new water the pH rises, and with it the share of NH3.
//
//	tan       total ammonia of the bag's water, 0 to 500 mg/L N; nil if unknown
//	inBag     time since it was closed; nil if unknown, which counts as long
//	ph        the highest that the mixture may reach, 4 to 11, as by HighestPH
//	salinity  of the bag's water, 0 to 40 g/kg
//	t         temperature, 0 to 40 °C
//
// Uncertainty: 15 % of the share from pK, and 26 % for every 0.1 of pH.
// Check value: 5 mg/L N in fresh water of 25 °C and pH 8 is 0.27 mg/L N of NH3 [Emerson1975]: refused.
//
// Source: the threshold of 0.02 mg/L is customary, from memory. That it decides what to
// do first on arrival is common practice, no source.
func BagVerdict(tan *quantity.AmmoniaNitrogen, inBag *quantity.Duration, ph quantity.PH, salinity quantity.AbsoluteSalinity, t quantity.Celsius) (BagDrip, error) {
	faults := []error{waterPH.Check("from.ph", ph), waterSalinity.Check("from.salinity", salinity), waterTemperature.Check("from.temperature", t)}
	if tan != nil {
		faults = append(faults, waterAmmonia.Check("from.tan", *tan))
	}
	if inBag != nil {
		faults = append(faults, bagTime.Check("from.hours_in_bag", *inBag))
	}
	if err := errors.Join(faults...); err != nil {
		return "", err
	}
	if tan == nil {
		if inBag != nil && *inBag <= LongestUnknown {
			return DripAllowed, nil
		}
		return DripRefused, nil
	}
	sp, noSalinity := seawater.Salinity(salinity)
	share, noShare := seawater.UnionizedAmmonia(ph, sp, t, seawater.NBSScale)
	return dripWith(*tan * quantity.AmmoniaNitrogen(share)), errors.Join(noSalinity, noShare)
}

func dripWith(nh3 quantity.AmmoniaNitrogen) BagDrip {
	if nh3 <= HarmlessAmmonia {
		return DripAllowed
	}
	return DripRefused
}
