package followup

import (
	"slices"

	"saltlock/chem/quantity"
)

// ReadingsMethod is the key in Methods of Follow.
const ReadingsMethod = "drip-readings"

// Methods lists every formula of the package.
func Methods() []quantity.Method { return slices.Clone(methods) }

var methods = []quantity.Method{
	{Key: ReadingsMethod, Title: "Real drip and state of the container from what was read on the way: a bank of Kalman filters, one for each way in which the readings can have come about",
		Source:   "conservation of salt; Kalman filters with multiple hypotheses (Bar-Shalom, Li, Kirubarajan 2001); how a drip wanders and how likely faults are is proposed here",
		Validity: "flows that wander by about 12 % an hour between faults; a fault is named once two readings show it", Uncertainty: "with every estimate; an instrument that is always off by the same stays unseen where no volume is read", Standing: quantity.Proposed},
}
