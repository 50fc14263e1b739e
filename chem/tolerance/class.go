package tolerance

import (
	"fmt"
	"slices"

	"saltlock/chem/quantity"
)

// Class says how carefully a life stage must be moved. It selects the limits of
// DefaultLimits. It does not say in which water the animal lives.
type Class string

// The sensitivity classes.
const (
	Hardy             Class = "hardy"              // euryhaline, tolerates large steps in the laboratory
	Moderate          Class = "moderate"           // tolerates changes over days
	Delicate          Class = "delicate"           // pipefish, larvae, fry, thin or new imports
	Invertebrate      Class = "invertebrate"       // snails, shrimps, crabs
	StenohalineFresh  Class = "stenohaline-fresh"  // a fish of fresh water that regulates poorly in salt
	StenohalineMarine Class = "stenohaline-marine" // a fish of sea water that regulates poorly in fresh
	Plant             Class = "plant"              // plants and algae
)

// Classes returns the sensitivity classes in the order of the documentation.
func Classes() []Class {
	return []Class{Hardy, Moderate, Delicate, Invertebrate, StenohalineFresh, StenohalineMarine, Plant}
}

// Check returns nil if the class is one of Classes.
func (c Class) Check() error {
	if slices.Contains(Classes(), c) {
		return nil
	}
	return fmt.Errorf("sensitivity class %q is none of %v", string(c), Classes())
}

// Origin says where an animal was reared.
type Origin string

// The origins. The zero value counts as UnknownOrigin.
const (
	Captive       Origin = "captive"
	Wild          Origin = "wild"
	UnknownOrigin Origin = "unknown"
)

// noteOf makes a Note from a code and its parameters.
func noteOf(code quantity.Code, params ...any) quantity.Note {
	return quantity.Note{Code: code, Params: params}
}
