//go:build !cgo

package store

import (
	"errors"
	"strings"

	_ "github.com/mattn/go-sqlite3" // a stub, without cgo
)

// A program built without a C compiler has a stub in place of SQLite, which fails at every call
// with its own words. PostgreSQL does not need one.
func causeOfSQLite(err error) error {
	if err == nil || !strings.Contains(err.Error(), "CGO_ENABLED=0") {
		return nil
	}
	return errors.New("built without a C compiler, the program has no SQLite: install gcc and build with CGO_ENABLED=1, or use PostgreSQL")
}
