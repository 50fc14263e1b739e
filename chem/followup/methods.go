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
	{Key: ReadingsMethod, Title: "Real drip and state of the container from what was read on the way: least squares, each number weighed by its uncertainty, against gap times mass being constant",
		Source:   "conservation of salt; least squares with known variances; a number over 3.5 standard deviations off is laid aside (proposed here)",
		Validity: "a keeper who waits for the marks of the plan; readings independent of each other", Uncertainty: "told with every estimate; an instrument that is off by the same each time stays unseen", Standing: quantity.Proposed},
}
