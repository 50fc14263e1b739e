package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// Why the database does not answer. Each passes once the cause is mended.
var (
	ErrMany   = errors.New("as many transfers are kept as may be")
	ErrFull   = errors.New("the disk is full")
	ErrBusy   = errors.New("the database is busy")
	ErrGone   = errors.New("the database cannot be reached")
	ErrBroken = errors.New("the database file cannot be read or written")
)

// answerWait is how long an answer waits for the database. probeWait is how long a probe does: less
// than the patience of whoever asks for it.
const (
	answerWait = 5 * time.Second
	probeWait  = 800 * time.Millisecond
)

// fault names the cause of an error if it lies in the database and not in the request.
func fault(ctx context.Context, err error) error {
	if err == nil {
		return nil
	}
	if ctx.Err() != nil { // a client that left interrupts its statement, which says so in many ways
		return errors.Join(err, ctx.Err())
	}
	for _, causeOf := range []func(error) error{causeOfSQLite, causeOfPostgres} {
		if cause := causeOf(err); cause != nil {
			return fmt.Errorf("%w: %w", cause, err)
		}
	}
	if errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("%w: %w", ErrBusy, err)
	}
	return err
}

// change runs f in one transaction, within the time that an answer may wait, and remembers whether
// the database could be written.
func (db *DB) change(ctx context.Context, act string, f func(context.Context, *sql.Tx) error) error {
	return db.changeWithin(ctx, act, answerWait, f)
}

func (db *DB) changeWithin(ctx context.Context, act string, wait time.Duration, f func(context.Context, *sql.Tx) error) error {
	within, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	done := db.timed(ctx, act)
	err := db.inPlace()
	if err == nil {
		err = fault(ctx, db.tx(within, func(tx *sql.Tx) error { return f(within, tx) }))
	}
	done(err)
	switch {
	case err == nil:
		db.unwritable.Store(nil)
	case errors.Is(err, ErrFull), errors.Is(err, ErrBusy), errors.Is(err, ErrBroken), errors.Is(err, ErrGone):
		db.unwritable.Store(&err)
	}
	return err
}

// Limit sets how large SQLite's file may become; more counts as a full disk. PostgreSQL's space is
// limited on its own machine.
func (db *DB) Limit(ctx context.Context, bytes int64) error {
	if db.postgres {
		return nil
	}
	var page, most int64
	if err := db.write.QueryRowContext(ctx, "PRAGMA page_size").Scan(&page); err != nil {
		return fmt.Errorf("limit database: %w", err)
	}
	if err := db.write.QueryRowContext(ctx, fmt.Sprintf("PRAGMA max_page_count = %d", max(1, bytes/page))).Scan(&most); err != nil {
		return fmt.Errorf("limit database: %w", err)
	}
	return nil
}

// probe is how many bytes Ping writes to find out whether there is room again.
const probe = 64 << 10

// Ping reports whether the database answers. If the last change failed it also tries to write, and
// says why it cannot.
func (db *DB) Ping(ctx context.Context) error {
	within, cancel := context.WithTimeout(ctx, probeWait)
	defer cancel()
	if err := db.inPlace(); err != nil {
		return fmt.Errorf("ping database: %w", err)
	}
	var one int
	if err := db.read.QueryRowContext(within, "SELECT 1 FROM seeds LIMIT 1").Scan(&one); err != nil {
		return fmt.Errorf("ping database: %w", fault(ctx, err))
	}
	if db.unwritable.Load() == nil {
		return nil
	}
	err := db.changeWithin(ctx, "probe", probeWait, func(ctx context.Context, tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "INSERT INTO probes (room) VALUES ($1)", make([]byte, probe)); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "DELETE FROM probes")
		return err
	})
	if err != nil {
		return fmt.Errorf("ping database: %w", err)
	}
	return nil
}
