package lifesupport

import (
	"errors"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// HighestPHMethod is the key in Methods of HighestPH.
const HighestPHMethod = "highest-ph"

// UnknownPHInAir is the pH that a water of unknown alkalinity is assumed to reach in air:
// that of hard water. From memory.
const UnknownPHInAir quantity.PH = 8.6

// Acidity is what is known of the pH of a water.
type Acidity struct {
	PH          *quantity.Estimate[quantity.PH]
	Alkalinity  *quantity.Estimate[quantity.Alkalinity]
	Salinity    quantity.AbsoluteSalinity
	Temperature quantity.Celsius
}

var waterAlkalinity = quantity.Range[quantity.Alkalinity]{Lo: 0, Hi: 20}

// HighestPH returns the pH at which ammonia is judged while one water turns into another:
// the highest of their own and of those they reach in air, since open and stirred water
// tends towards that.
//
//	from, to  pH 4 to 11, alkalinity 0 to 20 meq/L, salinity 0 to 40 g/kg, temperature 0 to 40 °C
//
// Standard uncertainty: 0.2 if it is the pH of a water in air.
// Check value: unknown alkalinities give 8.6, unless a pH is higher.
//
// Source: a choice on the safe side, proposed here; the pH in air is seawater.PHInAir [Millero2010].
func HighestPH(from, to Acidity) (quantity.PH, error) {
	a, noA := from.highest("from")
	b, noB := to.highest("to")
	return max(a, b), errors.Join(noA, noB)
}

func (a Acidity) highest(where string) (quantity.PH, error) {
	if err := a.check(where); err != nil {
		return 0, err
	}
	ph := UnknownPHInAir
	if a.Alkalinity != nil {
		rho, noDensity := seawater.Density(a.Salinity, a.Temperature)
		sp, noSalinity := seawater.Salinity(a.Salinity)
		if err := errors.Join(noDensity, noSalinity); err != nil {
			return 0, err
		}
		var err error
		perKilogram := 1e6 * float64(a.Alkalinity.Value) / float64(rho)
		if ph, err = seawater.PHInAir(perKilogram, sp, a.Temperature, seawater.NBSScale); err != nil {
			return 0, err
		}
	}
	if a.PH != nil {
		ph = max(ph, a.PH.Value)
	}
	return ph, nil
}

func (a Acidity) check(where string) error {
	faults := []error{waterSalinity.Check(where+".salinity", a.Salinity), waterTemperature.Check(where+".temperature", a.Temperature)}
	if a.PH != nil {
		faults = append(faults, waterPH.Check(where+".ph", a.PH.Value))
	}
	if a.Alkalinity != nil {
		faults = append(faults, waterAlkalinity.Check(where+".alkalinity", a.Alkalinity.Value))
	}
	return errors.Join(faults...)
}
