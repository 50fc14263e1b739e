package followup

import (
	"slices"

	"saltlock/chem/transfer"
)

// inBagFor is how long after the start a report may still be of animals in the bag, h. Moving them
// takes minutes. Proposed here.
const inBagFor = 0.25

// outOfBag reports whether a leg brings animals out of the foul water of a bag.
func (l Leg) outOfBag() bool { return l.Plan != nil && l.Plan.Route == transfer.OutOfBag }

// LeftBag reports whether a log shows that animals are out of the bag in which they came: well, or
// with something read in their water, a quarter of an hour after the start or later. Distress
// alone shows nothing, because it is seen through the bag as well.
//
//	r    the request of the transfer, with its start
//	log  its entries, each with its time
func (l Leg) LeftBag(r transfer.Request, log []LogEntry) bool {
	return slices.ContainsFunc(log, func(e LogEntry) bool {
		seen := e.Behaviour != nil && !e.Distressed() || e.Temperature != nil || e.Salinity != nil || e.TAN != nil
		return seen && e.hours(r) >= l.At+inBagFor-soon
	})
}

// inBag reports whether animals may still be in a foul bag, which they leave before anything else.
func (f *following) inBag() bool {
	return f.leg().outOfBag() && !f.released && !f.leg().LeftBag(f.base.Request, f.log)
}
