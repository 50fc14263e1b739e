package transfer

import (
	"errors"
	"fmt"
	"math"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// TargetPoint is the salinity that a tank should have reached at a time, and need not reach
// before.
type TargetPoint struct {
	Time     quantity.Estimate[quantity.Duration] `json:"time"` // from the start of the ramp
	Salinity quantity.Reading                     `json:"salinity"`
}

var curveTimes = quantity.Range[quantity.Duration]{Lo: 0, Hi: 1000 * 24}

// nearCurve is how far the end of a curve may be from the new water, and a point behind the one
// before it, since readings are rounded, g/kg.
const nearCurve = 0.2

// along turns a target curve into the salinity of each day, on straight lines between its points;
// nil if there is none. The curve must go one way, in time and in salinity, and end in the new
// water.
func (t *task) along(curve []TargetPoint) (func(day float64) float64, error) {
	if len(curve) == 0 {
		return nil, nil
	}
	days, salinities := make([]float64, len(curve)), make([]float64, len(curve))
	sign := math.Copysign(1, t.to.sa-t.from.sa)
	var faults []error
	for i, p := range curve {
		at := fmt.Sprintf("home_tank.target_curve.%d", i)
		sa, err := instrument.SalinityOf(at+".salinity", p.Salinity)
		faults = append(faults, err, curveTimes.Check(at+".time", p.Time.Value))
		days[i], salinities[i] = float64(p.Time.Value)/24, float64(sa.Value)
		if i > 0 && days[i] <= days[i-1] {
			faults = append(faults, &instrument.ConflictError{Name: at + ".time", Other: fmt.Sprintf("home_tank.target_curve.%d.time", i-1), Why: "a point must come after the one before it", Note: quantity.Note{Code: "curve_out_of_order"}})
		}
		if i > 0 && sign*(salinities[i]-salinities[i-1]) < -nearCurve {
			faults = append(faults, &instrument.ConflictError{Name: at + ".salinity", Other: "to.salinity", Why: "the curve turns back; a ramp goes one way only", Note: quantity.Note{Code: "curve_turns_back"}})
		}
	}
	if last := salinities[len(curve)-1]; math.Abs(last-t.to.sa) > nearCurve {
		faults = append(faults, &instrument.ConflictError{Name: fmt.Sprintf("home_tank.target_curve.%d.salinity", len(curve)-1), Other: "to.salinity",
			Why: fmt.Sprintf("the curve must end in the new water, within %g g/kg", nearCurve), Note: quantity.Note{Code: "curve_ends_elsewhere", Params: []any{quantity.AbsoluteSalinity(nearCurve)}}})
	}
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	t.assume(noteOf("ramp_follows_curve", curve[len(curve)-1].Time))
	salinities[len(curve)-1] = t.to.sa
	return func(day float64) float64 {
		if day < days[0] {
			return t.from.sa + (salinities[0]-t.from.sa)*day/days[0]
		}
		for i := 1; i < len(days); i++ {
			if day <= days[i] {
				return salinities[i-1] + (salinities[i]-salinities[i-1])*(day-days[i-1])/(days[i]-days[i-1])
			}
		}
		return t.to.sa
	}, nil
}
