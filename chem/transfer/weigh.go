package transfer

import (
	"errors"
	"strconv"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// weigh fills in the mass of an animal that was measured instead.
func (t *task) weigh(i int, a *Animal) error {
	at := "animals." + strconv.Itoa(i)
	switch {
	case a.Length == nil:
		return nil
	case a.Mass != nil:
		return &instrument.ConflictError{Name: at + ".length", Other: at + ".mass", Why: "the length stands in for the mass; give one of the two", Note: quantity.Note{Code: "length_or_mass"}}
	case a.Known == nil:
		return &instrument.MissingError{Name: at + ".species", Why: "only of a species of the table is it known what a fish of this length weighs; name it, or give the mass", Note: quantity.Note{Code: "length_needs_species"}}
	}
	mass, err := tolerance.MassFromLength(a.Known.Shape, *a.Length)
	if _, ok := errors.AsType[*tolerance.ShapeError](err); ok {
		return &instrument.MissingError{Name: at + ".mass", Why: "no relation of length and mass is known for " + a.Known.Name + "; weigh one", Note: quantity.Note{Code: "length_relation_unknown", Params: []any{a.Known.Name}}}
	}
	if limit, ok := errors.AsType[*quantity.RangeError](err); ok {
		named := *limit
		named.Name = at + ".length"
		return &named
	}
	if err != nil {
		return err
	}
	a.Mass = &mass
	t.assume(noteOf("mass_from_length", *a.Length, a.Known.Name, mass))
	return nil
}
