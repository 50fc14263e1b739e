package store

import (
	"context"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"
)

// Transfer is a saved transfer. Anyone who knows its ID may read it, and whoever has its key may
// change it; the key itself is not stored.
type Transfer struct {
	ID      string
	Created time.Time
	Expires time.Time // when it is deleted
	Version int       // counts changes, from 1
	Kept

	keyHash []byte
}

// Opens reports whether a key is the transfer's own.
func (t Transfer) Opens(key string) bool {
	hash := sha256.Sum256([]byte(key))
	return subtle.ConstantTimeCompare(hash[:], t.keyHash) == 1
}

// OpensLog reports whether a key opens the log: the transfer's own, or its helper's.
func (t Transfer) OpensLog(key string) bool {
	hash := sha256.Sum256([]byte(key))
	return t.Opens(key) || len(t.Helper) > 0 && subtle.ConstantTimeCompare(hash[:], t.Helper) == 1
}

// NewHelper makes a key for a helper, which replaces an earlier one.
func (t *Transfer) NewHelper() (key string) {
	key = strings.ToLower(rand.Text() + rand.Text())
	hash := sha256.Sum256([]byte(key))
	t.Helper = hash[:]
	return key
}

// keyOf derives the secret key of a transfer from the idempotency key, so that a client which lost
// the answer gets the same key by asking again, while the database alone does not reveal it.
func keyOf(salt []byte, retry string) string {
	h := hmac.New(sha256.New, salt)
	h.Write([]byte(retry))
	return hex.EncodeToString(h.Sum(nil))
}

// SaveTransfer stores a transfer and returns it with its key. The same idempotency key with the
// same body returns the transfer saved before, in its present state. A few expired transfers are
// deleted on the way.
func (db *DB) SaveTransfer(ctx context.Context, k Kept, expires time.Time, retry string, body []byte) (t Transfer, key string, err error) {
	value, plans, told, err := k.columns()
	if err != nil {
		return t, "", fmt.Errorf("save transfer: %w", err)
	}
	salt := make([]byte, 32)
	if _, err := rand.Read(salt); err != nil {
		return t, "", fmt.Errorf("save transfer: %w", err)
	}
	secret := retry
	if retry == "" {
		secret = rand.Text()
	}
	sent := NewSent(secret, body)
	var retryHash []byte
	if retry != "" {
		retryHash = sent.Retry
	}
	err = db.change(ctx, "save", func(ctx context.Context, tx *sql.Tx) error {
		now := db.Now().UTC().Truncate(time.Second)
		if err := db.deleteExpired(ctx, tx, now); err != nil {
			return err
		}
		before := func() (err error) {
			t, key, err = db.savedBefore(tx.QueryRowContext(ctx, selectBefore, retryHash, now.Unix()), retry, body, now)
			return err
		}
		if retry != "" {
			if err := before(); !errors.Is(err, ErrNotFound) {
				return err
			}
		}
		if err := db.hasRoom(ctx, tx); err != nil {
			return err
		}
		key = keyOf(salt, secret)
		hash := sha256.Sum256([]byte(key))
		t = Transfer{ID: strings.ToLower(rand.Text()), Created: now, Expires: expires.UTC().Truncate(time.Second), Version: 1, Kept: k, keyHash: hash[:]}
		err := one(tx.ExecContext(ctx, `INSERT INTO transfers (id, key_hash, salt, retry_hash, body_hash, created_at, expires_at, version, value, told, plans)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11) ON CONFLICT (retry_hash) DO NOTHING`, t.ID, hash[:], salt, retryHash, sent.Body, now.Unix(), t.Expires.Unix(), 1, value, told, plans))
		if errors.Is(err, ErrConflict) { // another replica saved it meanwhile
			return before()
		}
		return err
	})
	if err != nil {
		return Transfer{}, "", fmt.Errorf("save transfer: %w", err)
	}
	return t, key, nil
}

// mostExpired is how many expired transfers one save deletes, so that nobody waits long for what
// others left.
const mostExpired = 100

// deleteExpired deletes expired transfers, oldest first. It skips those that another replica is
// deleting.
func (db *DB) deleteExpired(ctx context.Context, tx *sql.Tx, now time.Time) error {
	lock := ""
	if db.postgres {
		lock = "FOR UPDATE SKIP LOCKED"
	}
	_, err := tx.ExecContext(ctx, "DELETE FROM transfers WHERE id IN (SELECT id FROM transfers WHERE expires_at <= $1 ORDER BY expires_at LIMIT $2 "+lock+")", now.Unix(), mostExpired)
	return err
}

// hasRoom fails with ErrMany if as many transfers are stored as allowed, and with ErrFull if the
// disk has only the room reserved for those under way.
func (db *DB) hasRoom(ctx context.Context, tx *sql.Tx) error {
	if room, known := roomIn(db.folder); known && !db.postgres && room < db.Reserve {
		return ErrFull
	}
	if db.MostTransfers == 0 {
		return nil
	}
	var kept int
	if err := tx.QueryRowContext(ctx, "SELECT COUNT(*) FROM transfers").Scan(&kept); err != nil {
		return err
	}
	if kept >= db.MostTransfers {
		return ErrMany
	}
	return nil
}

// SavedBefore returns the transfer that an idempotency key saved, with its key, or an ErrNotFound.
// It fails with ErrRetry if the idempotency key came with another body then, and with ErrSpent if
// it may be another client's.
func (db *DB) SavedBefore(ctx context.Context, retry string, body []byte) (Transfer, string, error) {
	within, cancel := context.WithTimeout(ctx, answerWait)
	defer cancel()
	now := db.Now().UTC()
	t, key, err := db.savedBefore(db.read.QueryRowContext(within, selectBefore, NewSent(retry, body).Retry, now.Unix()), retry, body, now)
	if err != nil && !errors.Is(err, ErrNotFound) {
		return t, "", fmt.Errorf("transfer saved before: %w", fault(ctx, err))
	}
	return t, key, err
}

func (db *DB) savedBefore(row *sql.Row, retry string, body []byte, now time.Time) (Transfer, string, error) {
	sent := NewSent(retry, body)
	before := Sent{Retry: sent.Retry}
	var salt []byte
	t, err := db.scanTransfer(row, &salt, &before.Body)
	if errors.Is(err, sql.ErrNoRows) {
		return t, "", ErrNotFound
	}
	if err != nil {
		return t, "", err
	}
	if _, err := sent.Before(&before); err != nil {
		return t, "", err
	}
	if !CanRetry(retry) || t.Version > 1 || now.Sub(t.Created) > retryWithin {
		return t, "", ErrSpent
	}
	return t, keyOf(salt, retry), nil
}

// Two clients may choose the same idempotency key and send the same body, if the key is one that
// people think of or copy. So the key of a transfer is repeated only for an idempotency key that
// cannot be met by chance, only while a retry is plausible, and only before anybody has used it.
const retryWithin = 24 * time.Hour

// CanRetry reports whether an idempotency key gets the key of its transfer again.
func CanRetry(retry string) bool { return randomUUID.MatchString(retry) }

// randomUUID is one of version 4 or 7 [RFC 9562].
var randomUUID = regexp.MustCompile(`^(?i)[0-9a-f]{8}-[0-9a-f]{4}-[47][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`)

const (
	selectTransfer = "SELECT id, key_hash, created_at, expires_at, version, value, told, plans"
	selectBefore   = selectTransfer + ", salt, body_hash FROM transfers WHERE retry_hash = $1 AND expires_at > $2"
)

// scanTransfer reads a row of selectTransfer, and whatever was selected beside it.
func (db *DB) scanTransfer(row *sql.Row, beside ...any) (Transfer, error) {
	var t Transfer
	var created, expires int64
	var value, told []byte
	var plans string
	if err := row.Scan(append([]any{&t.ID, &t.keyHash, &created, &expires, &t.Version, &value, &told, &plans}, beside...)...); err != nil {
		if t.ID != "" && causeOfSQLite(err) == nil && causeOfPostgres(err) == nil { // there is a row, and the engine is well
			return t, &DamagedError{t.ID, err}
		}
		return t, err
	}
	t.Created, t.Expires = time.Unix(created, 0).UTC(), time.Unix(expires, 0).UTC()
	kept, err := db.kept(value, plans)
	if err != nil {
		return t, &DamagedError{t.ID, err}
	}
	t.Kept = kept
	if err := errors.Join(t.remember(told), t.whole()); err != nil {
		return t, &DamagedError{t.ID, err}
	}
	return t, nil
}

// Transfer returns a saved transfer, or a *NotFoundError; an expired one counts as gone.
func (db *DB) Transfer(ctx context.Context, id string) (Transfer, error) {
	within, cancel := context.WithTimeout(ctx, answerWait)
	defer cancel()
	done := db.timed(ctx, "read")
	t, err := db.scanTransfer(db.read.QueryRowContext(within, selectTransfer+" FROM transfers WHERE id = $1 AND expires_at > $2", id, db.Now().Unix()))
	err = fault(ctx, err)
	done(err)
	if errors.Is(err, sql.ErrNoRows) {
		return Transfer{}, &NotFoundError{Kind: "transfer", ID: id}
	}
	if err != nil {
		return Transfer{}, fmt.Errorf("transfer: %w", err)
	}
	return t, nil
}

// ChangeTransfer stores a transfer that was changed since it was read, or fails with ErrConflict
// if somebody else changed or deleted it meanwhile.
func (db *DB) ChangeTransfer(ctx context.Context, t Transfer) (Transfer, error) {
	value, plans, told, err := t.columns()
	if err != nil {
		return t, fmt.Errorf("change transfer: %w", err)
	}
	t.Expires = t.Expires.UTC().Truncate(time.Second)
	err = db.change(ctx, "change", func(ctx context.Context, tx *sql.Tx) error {
		return one(tx.ExecContext(ctx, "UPDATE transfers SET expires_at = $1, version = version + 1, value = $2, told = $3, plans = $4 WHERE id = $5 AND version = $6",
			t.Expires.Unix(), value, told, plans, t.ID, t.Version))
	})
	if err != nil {
		return t, fmt.Errorf("change transfer: %w", err)
	}
	t.Version++
	return t, nil
}

// DeleteTransfer deletes a transfer as it was read, or fails with ErrConflict.
func (db *DB) DeleteTransfer(ctx context.Context, t Transfer) error {
	err := db.change(ctx, "delete", func(ctx context.Context, tx *sql.Tx) error {
		return one(tx.ExecContext(ctx, "DELETE FROM transfers WHERE id = $1 AND version = $2", t.ID, t.Version))
	})
	if err != nil {
		return fmt.Errorf("delete transfer: %w", err)
	}
	return nil
}

// one turns a statement that met no row into an ErrConflict.
func one(result sql.Result, err error) error {
	if err != nil {
		return err
	}
	n, err := result.RowsAffected()
	if err == nil && n == 0 {
		return ErrConflict
	}
	return err
}
