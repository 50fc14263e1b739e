// Package store keeps what outlives a request: the species table and saved transfers, in one
// SQLite file next to the program or in PostgreSQL, which several programs can share.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"sync/atomic"
	"time"
)

// DB is an open database. It is safe for concurrent use.
//
// The statements are the same for both engines, with values as $1, $2 in ascending order. The few
// lines that differ ask db.postgres.
type DB struct {
	write    *sql.DB // a single connection for SQLite, which has one writer
	read     *sql.DB
	postgres bool
	index    *index
	plans    plans

	unwritable atomic.Pointer[error] // why the last change failed; nil if it did not

	version string           // of the data
	Now     func() time.Time // of the clock; Open sets time.Now

	MostTransfers int    // kept at a time; 0 means no limit
	Reserve       uint64 // bytes of SQLite's disk that new transfers must leave, so that those under way can go on

	Observe func(ctx context.Context, act string, start time.Time, err error) // of each act on transfers, when it is over; nil does not

	folder string      // of SQLite's file
	path   string      // of that file
	opened os.FileInfo // of that file; nil if there is none
}

// Open opens the database at an address: a SQLite file, created if missing, or PostgreSQL by its
// URL (postgres://…). It brings the schema up to date and loads the species table if the embedded
// edition differs from the stored one. supplements name files with the operator's own entries.
func Open(ctx context.Context, address string, supplements ...string) (*DB, error) {
	db, err := connect(address)
	if err != nil {
		return nil, fmt.Errorf("open database %q: %w", Shown(address), err)
	}
	if err := db.prepare(ctx, supplements); err != nil {
		return nil, errors.Join(fmt.Errorf("open database %q: %w", Shown(address), err), db.Close())
	}
	return db, nil
}

// connect makes the pools of a database and leaves the database alone.
func connect(address string) (*DB, error) {
	if IsPostgres(address) {
		return openPostgres(address)
	}
	return openSQLite(address)
}

// prepare reads the species table with its index. Meanwhile it migrates and then seeds the
// database, while no other program does.
func (db *DB) prepare(ctx context.Context, supplements []string) error {
	var species edition
	indexed := make(chan error, 1)
	go func() {
		var err error
		if species, err = readEdition(supplements); err == nil {
			db.version, db.index = species.version, species.index
		}
		indexed <- err
	}()
	done, err := db.alone(ctx)
	if err != nil {
		return errors.Join(err, <-indexed)
	}
	defer done()
	if err := errors.Join(db.migrate(ctx), <-indexed); err != nil {
		return err
	}
	return db.seed(ctx, species)
}

// alone waits until no other program prepares the database; call done afterwards.
func (db *DB) alone(ctx context.Context) (done func(), err error) {
	if db.postgres {
		return db.lockPostgres(ctx)
	}
	return func() {}, db.useWAL(ctx)
}

// timed begins an act; the function it returns ends it.
func (db *DB) timed(ctx context.Context, act string) (done func(error)) {
	if db.Observe == nil {
		return func(error) {}
	}
	start := time.Now()
	return func(err error) { db.Observe(ctx, act, start, err) }
}

// mostReaders is how many connections read at the same time. More would only wait for each other's
// locks.
const mostReaders = 8

// Close closes the database.
func (db *DB) Close() error { return errors.Join(db.read.Close(), db.write.Close()) }

// tx runs f in one writing transaction. If another process holds SQLite's only lock it asks again
// until ctx ends, so that nobody waits longer than they want to.
func (db *DB) tx(ctx context.Context, f func(*sql.Tx) error) error {
	for {
		tx, err := db.write.BeginTx(ctx, nil)
		if err == nil {
			if err := f(tx); err != nil {
				return errors.Join(err, tx.Rollback())
			}
			return tx.Commit()
		}
		if !errors.Is(fault(ctx, err), ErrBusy) || db.postgres {
			return err
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("%w: %w", ErrBusy, err)
		case <-time.After(busyPause):
		}
	}
}
