package instrument

import (
	"fmt"

	"saltlock/chem/quantity"
)

// MissingError says that an input is needed but was not given.
type MissingError struct {
	Name string        // of the input, as the contract spells it
	Why  string        // what needs it
	Note quantity.Note // the same as a sentence of the catalogue, if it has one
}

func (e *MissingError) Error() string {
	return fmt.Sprintf("%s is missing: %s", e.Name, e.Why)
}

// ConflictError says that two inputs contradict each other.
type ConflictError struct {
	Name, Other string        // of the inputs, as the contract spells them
	Why         string        // how they contradict, and what to do
	Note        quantity.Note // the same as a sentence of the catalogue, if it has one
}

func (e *ConflictError) Error() string {
	return fmt.Sprintf("%s contradicts %s: %s", e.Name, e.Other, e.Why)
}
