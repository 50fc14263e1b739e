// Package store keeps what outlives a request: the species table and saved
// transfers, in one SQLite file beside the program.
package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"strconv"
	"strings"
	"sync/atomic"
	"time"
)

// DB is an open database. It is safe for concurrent use.
type DB struct {
	write *sql.DB // one connection: SQLite has one writer
	read  *sql.DB
	index *index

	unwritable atomic.Pointer[error] // why the last change failed; nil if it did not

	version string           // of the data
	Now     func() time.Time // of the clock; Open sets time.Now

	MostTransfers int // kept at a time; 0 is no limit
}

//go:embed migrations/*.sql
var migrations embed.FS

// Open opens the database file at path, makes it if it is not there, brings
// its schema up to date and loads the species table if the embedded edition is
// another than the stored one. supplements name files of the operator's
// own entries.
func Open(ctx context.Context, path string, supplements ...string) (*DB, error) {
	db, err := open(path)
	if err != nil {
		return nil, fmt.Errorf("open database %q: %w", path, err)
	}
	if err := db.prepare(ctx, supplements); err != nil {
		return nil, errors.Join(fmt.Errorf("open database %q: %w", path, err), db.Close())
	}
	return db, nil
}

// open makes the two pools. The pragmas stand in the DSN, since one sent
// through a pool reaches only one of its connections. With WAL a commit is in
// the operating system's hands before it is acknowledged, so it survives the
// death of the process; synchronous FULL makes it survive a power cut as well.
// WAL itself is kept in the file, so prepare asks for it once.
func open(path string) (*DB, error) {
	file := "file:" + (&url.URL{Path: path}).EscapedPath()
	pragmas := "?_busy_timeout=" + strconv.FormatInt(busyTimeout.Milliseconds(), 10) + "&_synchronous=FULL&_foreign_keys=on"
	write, err := sql.Open("sqlite3", file+pragmas+"&_txlock=immediate")
	if err != nil {
		return nil, err
	}
	write.SetMaxOpenConns(1)
	read, err := sql.Open("sqlite3", file+pragmas+"&_query_only=on")
	if err != nil {
		return nil, errors.Join(err, write.Close())
	}
	// More readers than this only wait for each other's locks.
	read.SetMaxOpenConns(mostReaders)
	read.SetMaxIdleConns(mostReaders)
	return &DB{write: write, read: read, Now: time.Now}, nil
}

// prepare migrates, seeds and builds the index.
func (db *DB) prepare(ctx context.Context, supplements []string) error {
	if err := db.useWAL(ctx); err != nil {
		return err
	}
	if err := db.migrate(ctx); err != nil {
		return err
	}
	if err := db.seed(ctx, supplements); err != nil {
		return err
	}
	taxa, err := db.taxa(ctx)
	if err != nil {
		return err
	}
	db.index, err = newIndex(taxa)
	return err
}

// useWAL sets the journal of the file. SQLite's busy timeout does not cover this
// change, since two that wait here for each other would never end: who meets
// another that opens the file tries again.
func (db *DB) useWAL(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, busyTimeout)
	defer cancel()
	for {
		_, err := db.write.ExecContext(ctx, "PRAGMA journal_mode=WAL")
		if err = fault(ctx, err); !errors.Is(err, ErrBusy) {
			return err
		}
		select {
		case <-ctx.Done():
			return err
		case <-time.After(busyPause):
		}
	}
}

// mostReaders is how many connections read at the same time.
const mostReaders = 8

// How long a connection waits for another, and how often it looks.
const (
	busyTimeout = 5 * time.Second
	busyPause   = 10 * time.Millisecond
)

// Close closes the database.
func (db *DB) Close() error { return errors.Join(db.read.Close(), db.write.Close()) }

// tx runs f in one transaction of the writer.
func (db *DB) tx(ctx context.Context, f func(*sql.Tx) error) error {
	tx, err := db.write.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	if err := f(tx); err != nil {
		return errors.Join(err, tx.Rollback())
	}
	return tx.Commit()
}

// migrate runs the migrations that the file has not seen, all or nothing: a file
// that is refused stays as the program before left it.
// Their names start with their number, from 0001 without a gap.
func (db *DB) migrate(ctx context.Context) error {
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return err
	}
	return db.tx(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "CREATE TABLE IF NOT EXISTS schema_version (version INTEGER NOT NULL PRIMARY KEY)"); err != nil {
			return err
		}
		var have int
		if err := tx.QueryRowContext(ctx, "SELECT COALESCE(MAX(version), 0) FROM schema_version").Scan(&have); err != nil {
			return err
		}
		if have > len(names) {
			return fmt.Errorf("its schema is version %d, this program knows %d: use a newer program or another file", have, len(names))
		}
		for i, name := range names[have:] {
			script, err := migrations.ReadFile(name)
			if err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, string(script)); err != nil {
				return fmt.Errorf("migration %s: %w", strings.TrimPrefix(name, "migrations/"), err)
			}
			if _, err := tx.ExecContext(ctx, "INSERT INTO schema_version (version) VALUES ($1)", have+i+1); err != nil {
				return err
			}
		}
		if have < told {
			return checkTold(ctx, tx, db.Now())
		}
		return nil
	})
}
