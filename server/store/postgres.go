package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"net/url"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/stdlib"
)

// IsPostgres reports whether the address of a database is a PostgreSQL URL and not a file name.
func IsPostgres(address string) bool {
	return strings.HasPrefix(address, "postgres://") || strings.HasPrefix(address, "postgresql://")
}

// Shown is the address of a database without its password, for people.
func Shown(address string) string {
	if !IsPostgres(address) {
		return address
	}
	u, err := url.Parse(address)
	if err != nil {
		return "postgres://…"
	}
	query := u.Query()
	if query.Has("password") {
		query.Set("password", "xxxxx")
		u.RawQuery = query.Encode()
	}
	return u.Redacted()
}

// openPostgres makes the two pools. A commit is on the server's disk before it is acknowledged,
// whatever the server's default. A statement that takes longer than an answer may wait is given
// up.
func openPostgres(address string) (*DB, error) {
	config, err := pgx.ParseConfig(address)
	if err != nil {
		return nil, err
	}
	if config.ConnectTimeout == 0 {
		config.ConnectTimeout = answerWait / 2
	}
	limit := fmt.Sprint(answerWait.Milliseconds())
	config.RuntimeParams["application_name"] = "saltlock"
	config.RuntimeParams["statement_timeout"] = limit
	config.RuntimeParams["idle_in_transaction_session_timeout"] = limit
	config.RuntimeParams["synchronous_commit"] = "on"
	write := stdlib.OpenDB(*config)
	reader := config.Copy()
	reader.RuntimeParams["default_transaction_read_only"] = "on"
	read := stdlib.OpenDB(*reader)
	write.SetMaxOpenConns(mostWriters)
	write.SetMaxIdleConns(mostWriters)
	read.SetMaxOpenConns(mostReaders)
	read.SetMaxIdleConns(mostReaders)
	return &DB{write: write, read: read, postgres: true, Now: time.Now}, nil
}

// mostWriters is how many connections of one program change PostgreSQL at the same time.
const mostWriters = 8

// startLock is the number of the lock that a program holds while it prepares PostgreSQL: the
// letters SALT.
const startLock = 0x53414c54

// lockPostgres waits until no other program prepares the same database.
func (db *DB) lockPostgres(ctx context.Context) (done func(), err error) {
	conn, err := db.write.Conn(ctx)
	if err != nil {
		return nil, fault(ctx, err)
	}
	for wait := true; wait; { // waiting statements are given up
		if err := conn.QueryRowContext(ctx, "SELECT NOT pg_try_advisory_lock($1)", startLock).Scan(&wait); err != nil {
			return nil, errors.Join(fault(ctx, err), conn.Close())
		}
		if wait {
			time.Sleep(busyPause)
		}
	}
	return func() {
		// A lock that cannot be released ends with its connection.
		_, _ = conn.ExecContext(context.WithoutCancel(ctx), "SELECT pg_advisory_unlock($1)", startLock)
		conn.Close()
	}, nil
}

// causeOfPostgres names why PostgreSQL does not answer; nil if it does. The codes are those of its
// manual, appendix A.
func causeOfPostgres(err error) error {
	if said, ok := errors.AsType[*pgconn.PgError](err); ok {
		switch code := said.Code; {
		case code == "53100": // disk full
			return ErrFull
		case code == "40001", code == "40P01", code == "55P03", code == "57014", code == "25P03", code == "53300": // waited too long, or for each other; too many connections
			return ErrBusy
		case strings.HasPrefix(code, "57P"), strings.HasPrefix(code, "08"), strings.HasPrefix(code, "28"), code == "3D000": // it is stopping or starting, or lets nobody in
			return ErrGone
		case code == "25006", strings.HasPrefix(code, "53"), strings.HasPrefix(code, "58"), strings.HasPrefix(code, "XX"): // read-only, no resources, system errors
			return ErrBroken
		}
		return nil
	}
	if _, ok := errors.AsType[*pgconn.ConnectError](err); ok {
		return ErrGone
	}
	if errors.Is(err, context.DeadlineExceeded) { // its type would make it a network error
		return nil
	}
	_, network := errors.AsType[net.Error](err)
	if network || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, driver.ErrBadConn) || errors.Is(err, sql.ErrConnDone) {
		return ErrGone
	}
	return nil
}
