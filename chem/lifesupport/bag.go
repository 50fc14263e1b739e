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
	HarmlessNitrite quantity.NitriteNitrogen = 0.2 // a criterion of the trade, at second hand
	LongestUnknown  quantity.Duration        = 1   // in a bag whose ammonia nobody measured
)

// Bag is the verdict on a drip in bag water.
type Bag struct {
	Drip      BagDrip
	Unionized *quantity.AmmoniaNitrogen // predicted NH3 as nitrogen; nil where the ammonia is unknown
	Methods   []string
}

var bagTime = quantity.Range[quantity.Duration]{Lo: 0, Hi: 1000}

// BagVerdict says whether the ammonia of a bag's water lets the animals be
// dripped in it. In the bag carbon dioxide keeps the pH low and ammonia
// harmless; with air or a new water the pH rises and the share of NH3 with it.
//
//	tan       total ammonia of the bag's water, 0 to 500 mg/L N; nil where unknown
//	inBag     time since it was closed; nil where unknown, taken as long
//	ph        that the mixture may come to, 4 to 11, as by HighestPH
//	salinity  of the bag's water, 0 to 40 g/kg
//	t         temperature, 0 to 40 °C
//
// Uncertainty: 15 % of the share from pK, and 26 % for every 0.1 of pH.
// Check value: 5 mg/L N in fresh water of 25 °C and pH 8 is 0.27 mg/L N of NH3 [Emerson1975]: refused.
//
// Source: the threshold of 0.02 mg/L is customary, from memory; that it decides over the
// order of things on arrival is common practice, no source.
func BagVerdict(tan *quantity.AmmoniaNitrogen, inBag *quantity.Duration, ph quantity.PH, salinity quantity.AbsoluteSalinity, t quantity.Celsius) (Bag, error) {
	faults := []error{waterPH.Check("from.ph", ph), waterSalinity.Check("from.salinity", salinity), waterTemperature.Check("from.temperature", t)}
	if tan != nil {
		faults = append(faults, waterAmmonia.Check("from.tan", *tan))
	}
	if inBag != nil {
		faults = append(faults, bagTime.Check("from.hours_in_bag", *inBag))
	}
	if err := errors.Join(faults...); err != nil {
		return Bag{}, err
	}
	if tan == nil {
		drip := DripRefused
		if inBag != nil && *inBag <= LongestUnknown {
			drip = DripAllowed
		}
		return Bag{Drip: drip, Methods: []string{BagWaterMethod}}, nil
	}
	sp, noSalinity := seawater.Salinity(salinity)
	share, noShare := seawater.UnionizedAmmonia(ph, sp, t, seawater.NBSScale)
	nh3 := *tan * quantity.AmmoniaNitrogen(share)
	return Bag{dripWith(nh3), &nh3, []string{BagWaterMethod, seawater.AmmoniaMethod}}, errors.Join(noSalinity, noShare)
}

func dripWith(nh3 quantity.AmmoniaNitrogen) BagDrip {
	if nh3 <= HarmlessAmmonia {
		return DripAllowed
	}
	return DripRefused
}
