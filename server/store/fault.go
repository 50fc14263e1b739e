package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// What keeps the database from answering. Each passes when the cause is mended.
var (
	ErrMany   = errors.New("as many transfers are kept as may be")
	ErrFull   = errors.New("the disk is full")
	ErrBusy   = errors.New("the database is busy")
	ErrBroken = errors.New("the database file cannot be read or written")
)

// patience is how long an answer waits for the database. It is longer than a
// connection waits for a lock, so that the cause is known.
const patience = busyTimeout + 2*time.Second

// fault names the cause of an error where it lies in the database and not in
// what it was asked.
func fault(ctx context.Context, err error) error {
	if err == nil {
		return nil
	}
	if ctx.Err() != nil { // a client that left interrupts its statement, which says so in many ways
		return errors.Join(err, ctx.Err())
	}
	if cause := causeOf(err); cause != nil {
		return fmt.Errorf("%w: %w", cause, err)
	}
	if errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("%w: %w", ErrBusy, err)
	}
	return err
}

// change runs f in one transaction of the writer within the time that an answer
// may wait, and remembers whether the database could be written.
func (db *DB) change(ctx context.Context, f func(*sql.Tx) error) error {
	within, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	err := fault(ctx, db.tx(within, f))
	switch {
	case err == nil:
		db.unwritable.Store(nil)
	case errors.Is(err, ErrFull), errors.Is(err, ErrBusy), errors.Is(err, ErrBroken):
		db.unwritable.Store(&err)
	}
	return err
}

// Limit sets how large the file may become; more is as if the disk were full.
func (db *DB) Limit(ctx context.Context, bytes int64) error {
	var page, most int64
	if err := db.write.QueryRowContext(ctx, "PRAGMA page_size").Scan(&page); err != nil {
		return fmt.Errorf("limit database: %w", err)
	}
	if err := db.write.QueryRowContext(ctx, fmt.Sprintf("PRAGMA max_page_count = %d", max(1, bytes/page))).Scan(&most); err != nil {
		return fmt.Errorf("limit database: %w", err)
	}
	return nil
}

// probe is what Ping writes to find out whether there is room again.
const probe = 64 << 10

// Ping says whether the database answers. Where the last change failed it also
// tries to write, and says why it cannot.
func (db *DB) Ping(ctx context.Context) error {
	var one int
	if err := db.read.QueryRowContext(ctx, "SELECT 1 FROM seeds LIMIT 1").Scan(&one); err != nil {
		return fmt.Errorf("ping database: %w", fault(ctx, err))
	}
	if db.unwritable.Load() == nil {
		return nil
	}
	err := db.change(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "INSERT INTO probes (room) VALUES (zeroblob($1))", probe); err != nil {
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
