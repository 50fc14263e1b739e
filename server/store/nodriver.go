//go:build !cgo

package store

import (
	"errors"

	_ "github.com/mattn/go-sqlite3" // a stub, without cgo
)

// A program built without a C compiler has a stub in place of SQLite, whose every
// call fails with its own words.
func causeOf(err error) error {
	if err == nil {
		return nil
	}
	return errors.New("built without a C compiler, the program has no database: install gcc and build with CGO_ENABLED=1")
}
