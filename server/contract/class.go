package contract

import (
	"fmt"

	"github.com/getkin/kin-openapi/openapi3"
)

// Class says how much work an operation is: requests are let in and counted by it, and answers
// kept by it. Each operation of the contract names its class as x-class.
type Class string

// The classes.
const (
	Document Class = "document" // about the service: pages, the contract, probes
	Lookup   Class = "lookup"   // from tables, asked alike by many, so that its answers are kept
	Formula  Class = "formula"  // one computation that takes hardly any time
	Batch    Class = "batch"    // many of them
	Plan     Class = "plan"     // a search that may take seconds
	Saved    Class = "saved"    // reads what is saved
	Write    Class = "write"    // changes what is saved
)

// Stored reports whether an answer depends on saved transfers, and not on the request alone.
func (c Class) Stored() bool { return c == Saved || c == Write }

// classOf is the class an operation names.
func classOf(op *openapi3.Operation) (Class, error) {
	name, _ := op.Extensions["x-class"].(string)
	switch c := Class(name); c {
	case Document, Lookup, Formula, Batch, Plan, Saved, Write:
		return c, nil
	}
	return "", fmt.Errorf("contract: %s has the x-class %q; name document, lookup, formula, batch, plan, saved or write", op.OperationID, name)
}
