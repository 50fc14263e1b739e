package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"time"
)

// openSQLite makes the two pools. The pragmas are in the DSN, since one sent through a pool
// reaches only one of its connections. With WAL a commit is in the hands of the operating system
// before it is acknowledged, so it survives the death of the process; synchronous FULL makes it
// survive a power cut as well. The file itself remembers WAL, so useWAL asks for it once.
func openSQLite(path string) (*DB, error) {
	// Anyone who may read the file may read every transfer in it: a new file belongs to its owner
	// alone, and so does what SQLite writes next to it. Other faults of the path SQLite words
	// itself.
	if file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o600); err == nil {
		if err := file.Close(); err != nil {
			return nil, err
		}
	}
	pool := func(wait time.Duration, more string) (*sql.DB, error) {
		return sql.Open("sqlite3", "file:"+(&url.URL{Path: path}).EscapedPath()+"?_synchronous=FULL&_foreign_keys=on&_busy_timeout="+strconv.FormatInt(wait.Milliseconds(), 10)+more)
	}
	write, err := pool(busyWait, "&_txlock=immediate")
	if err != nil {
		return nil, err
	}
	write.SetMaxOpenConns(1)
	read, err := pool(answerWait, "&_query_only=on")
	if err != nil {
		return nil, errors.Join(err, write.Close())
	}
	read.SetMaxOpenConns(mostReaders)
	read.SetMaxIdleConns(mostReaders)
	opened, err := os.Stat(path)
	if err != nil {
		opened = nil // SQLite says what is wrong with it
	}
	return &DB{write: write, read: read, Now: time.Now, folder: filepath.Dir(path), path: path, opened: opened}, nil
}

// inPlace fails with ErrBroken if another file lies where SQLite's was opened, or none: what is
// written to the open one then would be lost with the program.
func (db *DB) inPlace() error {
	if db.opened == nil {
		return nil
	}
	if now, err := os.Stat(db.path); err == nil && os.SameFile(now, db.opened) {
		return nil
	}
	return fmt.Errorf("%w: %s was removed or replaced since it was opened; restart the program", ErrBroken, db.path)
}

// A writer of SQLite sleeps for busyWait while another process writes, and nothing wakes it; then
// it asks again.
const (
	busyWait  = 100 * time.Millisecond
	busyPause = 10 * time.Millisecond
	busyTries = int(answerWait / busyWait) // for writers that must wait their turn and can ask only now and then
)

// useWAL sets the journal of the file. SQLite's busy timeout does not cover this change, since two
// that wait for each other here would never end: whoever meets another opening the file tries
// again.
func (db *DB) useWAL(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, answerWait)
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
