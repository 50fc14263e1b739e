package contract

import (
	"fmt"

	"github.com/getkin/kin-openapi/openapi3"
)

// Class is what it takes to answer an operation: by it requests are let in and counted,
// and answers kept. Each operation of the contract names its own as x-class.
type Class string

// The classes.
const (
	Document Class = "document" // about the service: pages, the contract, probes
	Lookup   Class = "lookup"   // from tables, asked alike by many, so that its answers are kept
	Formula  Class = "formula"  // one computation that takes no time to speak of
	Batch    Class = "batch"    // many of them
	Plan     Class = "plan"     // a search that may take seconds
	Saved    Class = "saved"    // reads what is saved
	Write    Class = "write"    // changes what is saved
)

// Stored says that an answer depends on what is saved, not on the request alone.
func (c Class) Stored() bool { return c == Saved || c == Write }

// classOf is the class that an operation names.
func classOf(op *openapi3.Operation) (Class, error) {
	name, _ := op.Extensions["x-class"].(string)
	switch c := Class(name); c {
	case Document, Lookup, Formula, Batch, Plan, Saved, Write:
		return c, nil
	}
	return "", fmt.Errorf("contract: %s has the x-class %q; name document, lookup, formula, batch, plan, saved or write", op.OperationID, name)
}
