package server

import "saltlock/chem/quantity"

// keyError says that the key of a saved transfer is missing or wrong.
type keyError struct{ missing bool }

func (e *keyError) Error() string {
	if e.missing {
		return "missing; send the key that came when the transfer was saved, as Bearer KEY"
	}
	return "this is not the key of the transfer"
}

// conflictError says that a saved transfer in its present state does not allow a change.
type conflictError struct {
	where string
	why   quantity.Note
}

func (e *conflictError) Error() string { return e.where + ": " + string(e.why.Code) }

// conflictOf is the conflict at a place, in words of the catalogue.
func conflictOf(where string, code quantity.Code, params ...any) error {
	return &conflictError{where, quantity.Note{Code: code, Params: params}}
}

// changedError says that a saved transfer is no longer the version that If-Match names.
type changedError struct{}

func (*changedError) Error() string {
	return "the transfer was changed since it was read; read it again and send its new ETag"
}
