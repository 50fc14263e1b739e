//go:build cgo

package store

import (
	"errors"
	"syscall"

	"github.com/mattn/go-sqlite3" // the driver, which registers itself
)

// causeOfSQLite names why SQLite does not answer; nil if it does.
func causeOfSQLite(err error) error {
	lite, ok := errors.AsType[sqlite3.Error](err)
	if !ok {
		return nil
	}
	switch lite.Code {
	case sqlite3.ErrFull:
		return ErrFull
	case sqlite3.ErrBusy, sqlite3.ErrLocked:
		return ErrBusy
	case sqlite3.ErrIoErr:
		if lite.SystemErrno == syscall.ENOSPC || lite.SystemErrno == syscall.EDQUOT {
			return ErrFull
		}
		return ErrBroken
	case sqlite3.ErrReadonly, sqlite3.ErrPerm, sqlite3.ErrCantOpen, sqlite3.ErrCorrupt, sqlite3.ErrNotADB:
		return ErrBroken
	}
	return nil
}
