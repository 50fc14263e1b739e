package store

import (
	"errors"
	"fmt"
)

// ErrNotFound means that what was asked for does not exist here.
var ErrNotFound = errors.New("not found")

// ErrSupplement means that the operator's own entries could not be loaded.
var ErrSupplement = errors.New("own entries not loaded")

// ErrConflict means that somebody else changed what was to be changed since it was read.
var ErrConflict = errors.New("changed by another")

// ErrUntold means that another program must first store the plans of a database.
var ErrUntold = errors.New("build the tag bridge-0.2 of the source, start that program on it once, which keeps them as they are, then this one")

// ErrRetry means that an idempotency key came again with another body.
var ErrRetry = errors.New("this idempotency key came with another body")

// DamagedError says that one row cannot be read as what it was stored as. Other rows can.
type DamagedError struct {
	ID  string
	Err error
}

func (e *DamagedError) Error() string { return fmt.Sprintf("transfer %q, as stored: %v", e.ID, e.Err) }
func (e *DamagedError) Unwrap() error { return e.Err }

// ErrSpent means that an idempotency key saved a transfer before whose key is no longer repeated.
var ErrSpent = errors.New("this idempotency key has done its work")

// NotFoundError is an ErrNotFound that names what was looked for.
type NotFoundError struct {
	Kind string // of thing: "species"
	ID   string // as asked for
}

func (e *NotFoundError) Error() string {
	return fmt.Sprintf("%s %q: not found", e.Kind, e.ID)
}

// Is makes errors.Is(err, ErrNotFound) true.
func (e *NotFoundError) Is(target error) bool { return target == ErrNotFound }

// UnclearError is an ErrNotFound for a species whose name does not belong to it alone.
type UnclearError struct {
	Name       string      // as asked for
	Outcome    Outcome     // Several, Spelling or NotThere
	Candidates []Candidate // species it may mean; for NotThere those that come near
}

func (e *UnclearError) Error() string {
	s := fmt.Sprintf("species %q: %s", e.Name, e.Outcome)
	for _, c := range e.Candidates {
		s += ", " + c.ID
	}
	return s
}

// Is makes errors.Is(err, ErrNotFound) true.
func (e *UnclearError) Is(target error) bool { return target == ErrNotFound }
