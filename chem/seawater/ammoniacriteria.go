package seawater

import (
	"errors"
	"fmt"
	"math"

	"saltlock/chem/quantity"
)

// AmmoniaCriterionMethod is the key of the criteria for ammonia in Methods.
const AmmoniaCriterionMethod = "ammonia-criteria-epa2013"

// AmmoniaCriterion is one of the criteria for fresh water.
type AmmoniaCriterion string

// The criteria: for an hour, with or without salmon and trout, and for thirty days.
const (
	AcuteWithTrout    AmmoniaCriterion = "acute_Oncorhynchus_present"
	AcuteWithoutTrout AmmoniaCriterion = "acute_Oncorhynchus_absent"
	Chronic           AmmoniaCriterion = "chronic"
)

var (
	criterionTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 30}
	criterionPH          = quantity.Range[quantity.PH]{Lo: 6.5, Hi: 9}
)

// AmmoniaLimit returns the total ammonia nitrogen that a criterion for fresh water allows.
//
//	c   the criterion
//	ph  6.5 to 9
//	t   temperature, 0 to 30 °C
//
// Standard uncertainty: the criterion is a convention. Mussels determine it; most fish
// tolerate more.
// Check value: pH 7 at 20 °C gives 17 mg/L N for an hour and 1.9 for thirty days.
//
// Source: US EPA 822-R-13-001 [EPA2013], the equations of the criteria.
func AmmoniaLimit(c AmmoniaCriterion, ph quantity.PH, t quantity.Celsius) (quantity.AmmoniaNitrogen, error) {
	if err := errors.Join(criterionPH.Check("ph", ph), criterionTemperature.Check("temperature", t)); err != nil {
		return 0, err
	}
	switch limit := ammoniaLimits(float64(ph), float64(t)); c {
	case AcuteWithTrout:
		return quantity.AmmoniaNitrogen(limit.withTrout), nil
	case AcuteWithoutTrout:
		return quantity.AmmoniaNitrogen(limit.withoutTrout), nil
	case Chronic:
		return quantity.AmmoniaNitrogen(limit.chronic), nil
	}
	return 0, fmt.Errorf("there is no criterion %q for ammonia", string(c))
}

type ammoniaLimit struct{ withTrout, withoutTrout, chronic float64 }

// ammoniaLimits evaluates the three criteria, mg/L N.
func ammoniaLimits(ph, t float64) ammoniaLimit {
	share := func(low, high, at float64) float64 {
		return low/(1+math.Pow(10, at-ph)) + high/(1+math.Pow(10, ph-at))
	}
	acute := 0.7249 * share(0.0114, 1.6181, 7.204)
	warm := 23.12 * math.Pow(10, 0.036*(20-t))
	return ammoniaLimit{
		withTrout:    min(share(0.275, 39.0, 7.204), acute*warm),
		withoutTrout: acute * min(51.93, warm),
		chronic:      0.8876 * share(0.0278, 1.1994, 7.688) * 2.126 * math.Pow(10, 0.028*(20-max(t, 7))),
	}
}
