package followup

import (
	"errors"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// planAgain returns the leg that plans the rest, and asks for that plan only if that was not
// done when this very log came in. Without a way on it says so, and is not ok.
func (f *following) planAgain(plan func() (Leg, error)) (leg Leg, ok bool, err error) {
	c := f.course
	if f.now+1 < len(c.Legs) && c.Legs[f.now+1].Entries == len(f.log) {
		return c.Legs[f.now+1], true, nil
	}
	c.Legs = c.Legs[:f.now+1]
	leg, err = plan()
	if refused, none := errors.AsType[*transfer.InfeasibleError](err); none {
		c.Verdict, c.Plan, c.Now = NoWayOn, nil, noteOf("act_change_nothing")
		for _, fault := range refused.Faults {
			c.warn(fault.Note)
		}
		return leg, false, nil
	}
	if err == nil && f.rescue {
		leg.Plan.NoWayBack()
	}
	if err == nil && f.base.Request.Limits.PerHour == nil { // the keeper did not give the slower limit
		leg.Plan.Cautions = slices.DeleteFunc(leg.Plan.Cautions, func(n quantity.Note) bool {
			return (n.Code == "limit_given" || n.Code == "limit_looser") && n.Params[0] == "per_hour"
		})
	}
	if err == nil {
		c.Legs = append(c.Legs, leg)
	}
	return leg, err == nil, err
}
