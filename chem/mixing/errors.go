package mixing

import (
	"fmt"

	"saltlock/chem/quantity"
)

// UnreachableError says that no mix of the given waters reaches the target.
type UnreachableError struct {
	Name   string // of the target, as the contract spells it
	Target quantity.AbsoluteSalinity
	Lo, Hi quantity.AbsoluteSalinity // what can be reached
	Why    string                    // what sets the limit, and what to do
	Note   quantity.Note             // Why as a sentence of the catalogue
}

func (e *UnreachableError) Error() string {
	return fmt.Sprintf("%s: %g g/kg is outside the %g to %g g/kg that can be reached: %s",
		e.Name, float64(e.Target), float64(e.Lo), float64(e.Hi), e.Why)
}
