package store

import (
	"errors"
	"fmt"
)

// ErrNotFound means that what was asked for is not kept here.
var ErrNotFound = errors.New("not found")

// ErrSupplement means that the operator's own entries cannot be loaded.
var ErrSupplement = errors.New("own entries not loaded")

// ErrConflict means that what was to be changed was changed by another since it was read.
var ErrConflict = errors.New("changed by another")

// ErrUntold means that the plans of a database must first be kept by another program.
var ErrUntold = errors.New("build the tag bridge-0.2 of the source, start that program on it once, which keeps them as they are, then this one")

// ErrRetry means that an idempotency key came again with another body.
var ErrRetry = errors.New("this idempotency key came with another body")

// DamagedError says that a row cannot be read as what it was stored as. The
// others can.
type DamagedError struct {
	ID  string
	Err error
}

func (e *DamagedError) Error() string { return fmt.Sprintf("transfer %q, as stored: %v", e.ID, e.Err) }
func (e *DamagedError) Unwrap() error { return e.Err }

// ErrSpent means that an idempotency key saved a transfer before, whose key is not given again.
var ErrSpent = errors.New("this idempotency key has done its work")

// NotFoundError is an ErrNotFound that names what was sought.
type NotFoundError struct {
	Kind string // of thing: "species"
	ID   string // as asked for
}

func (e *NotFoundError) Error() string {
	return fmt.Sprintf("%s %q: not found", e.Kind, e.ID)
}

// Is makes errors.Is(err, ErrNotFound) true.
func (e *NotFoundError) Is(target error) bool { return target == ErrNotFound }

// UnclearError is an ErrNotFound of a species that was named by what is no name
// of one alone.
type UnclearError struct {
	Name       string      // as asked for
	Outcome    Outcome     // Several, Spelling or NotThere
	Candidates []Candidate // that it may mean; for NotThere those that come near
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
