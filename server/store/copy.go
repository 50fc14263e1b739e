package store

import (
	"bufio"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// Backup copies a SQLite database, as it is at one moment, into a new file while others go on
// reading and writing.
func Backup(ctx context.Context, address, to string) error {
	if IsPostgres(address) {
		return errors.New("back up PostgreSQL with its own pg_dump, or export the transfers")
	}
	if _, err := os.Stat(address); err != nil {
		return fmt.Errorf("back up: %w", err)
	}
	db, err := openSQLite(address)
	if err != nil {
		return fmt.Errorf("back up %q: %w", address, err)
	}
	defer db.Close()
	err = whole(to, func(part string) error {
		_, err := db.write.ExecContext(ctx, "VACUUM INTO $1", part)
		return fault(ctx, err)
	})
	if err != nil {
		return fmt.Errorf("back up %q to %q: %w", address, to, err)
	}
	return nil
}

// whole makes a file that appears only once all of it is on disk. An existing file is left alone.
func whole(to string, write func(part string) error) error {
	if _, err := os.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
		return errors.Join(err, fs.ErrExist)
	}
	dir, err := os.MkdirTemp(filepath.Dir(to), ".saltlock") // others cannot look into it
	if err != nil {
		return err
	}
	part := filepath.Join(dir, "part")
	return errors.Join(finish(part, to, write), os.RemoveAll(dir))
}

func finish(part, to string, write func(string) error) error {
	if err := write(part); err != nil {
		return err
	}
	if err := os.Chmod(part, 0o600); err != nil {
		return err
	}
	for _, each := range []string{part, filepath.Dir(to)} {
		f, err := os.Open(each)
		if err != nil {
			return err
		}
		if err := errors.Join(f.Sync(), f.Close()); err != nil {
			return err
		}
		if each == part {
			if err := os.Link(part, to); err != nil { // unlike a rename it replaces nothing
				return err
			}
		}
	}
	return nil
}

// storedRow is a transfer as it is stored, one line of an export.
type storedRow struct {
	ID        string          `json:"id"`
	KeyHash   []byte          `json:"key_hash"`
	Salt      []byte          `json:"salt"`
	RetryHash []byte          `json:"retry_hash"`
	BodyHash  []byte          `json:"body_hash"`
	CreatedAt int64           `json:"created_at"`
	ExpiresAt int64           `json:"expires_at"`
	Version   int64           `json:"version"`
	Value     json.RawMessage `json:"value"`
	Told      json.RawMessage `json:"told"`
	Plans     string          `json:"plans,omitempty"`
}

const rowColumns = "id, key_hash, salt, retry_hash, body_hash, created_at, expires_at, version, value, told, plans"

// exported is the last line of an export; without it the export is incomplete.
type exported struct {
	Schema    int  `json:"schema"`
	Transfers *int `json:"transfers"`
}

// Export writes every saved transfer, as it is at one moment, as JSON Lines: one row a line, then
// one line that counts them. The keys of the transfers are not in it, only their hashes. A damaged
// row is left out and named in the error.
func (db *DB) Export(ctx context.Context, to io.Writer) (int, error) {
	n, damaged := 0, error(nil)
	out := bufio.NewWriter(to)
	lines := json.NewEncoder(out)
	err := db.eachRow(ctx, func(r storedRow) error {
		if !json.Valid(r.Value) || !json.Valid(r.Told) || !validLines(r.Plans) {
			damaged = errors.Join(damaged, &DamagedError{r.ID, errors.New("no JSON")})
			return nil
		}
		n++
		return lines.Encode(r)
	})
	if err != nil {
		return n, fmt.Errorf("export: %w", fault(ctx, err))
	}
	schema := 0
	if err := db.read.QueryRowContext(ctx, "SELECT MAX(version) FROM schema_version").Scan(&schema); err != nil {
		return n, fmt.Errorf("export: %w", fault(ctx, err))
	}
	return n, errors.Join(lines.Encode(exported{schema, &n}), out.Flush(), damaged)
}

// validLines reports whether each line is JSON or empty.
func validLines(text string) bool {
	for line := range strings.SplitSeq(text, "\n") {
		if line != "" && !json.Valid([]byte(line)) {
			return false
		}
	}
	return true
}

// eachRow reads all transfers with one statement, which sees them as they are when it begins.
func (db *DB) eachRow(ctx context.Context, f func(storedRow) error) error {
	conn, err := db.read.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	if db.postgres { // however long it takes
		if _, err := conn.ExecContext(ctx, "SET statement_timeout = 0"); err != nil {
			return err
		}
	}
	rows, err := conn.QueryContext(ctx, "SELECT "+rowColumns+" FROM transfers ORDER BY created_at, id")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var r storedRow
		var value, told []byte
		if err := rows.Scan(&r.ID, &r.KeyHash, &r.Salt, &r.RetryHash, &r.BodyHash, &r.CreatedAt, &r.ExpiresAt, &r.Version, &value, &told, &r.Plans); err != nil {
			return err
		}
		r.Value, r.Told = value, told
		if err := f(r); err != nil {
			return err
		}
	}
	return rows.Err()
}

// Import adds the transfers of an export, all or none, and returns how many it added and how many
// were already there. Those stay as they are.
func (db *DB) Import(ctx context.Context, from io.Reader) (added, there int, err error) {
	schema, err := db.schema(ctx)
	if err != nil {
		return 0, 0, fmt.Errorf("import: %w", err)
	}
	err = db.tx(ctx, func(tx *sql.Tx) error {
		if db.postgres {
			if _, err := tx.ExecContext(ctx, "SET LOCAL statement_timeout = 0"); err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, "SET LOCAL idle_in_transaction_session_timeout = 0"); err != nil {
				return err
			}
		}
		for lines, n := json.NewDecoder(from), 1; ; n++ {
			var line struct {
				storedRow
				exported
			}
			if err := lines.Decode(&line); err != nil {
				return fmt.Errorf("line %d: the file is cut off or damaged (%v); an export ends with the number of its transfers", n, err)
			}
			if line.Transfers != nil {
				if line.Schema != schema || *line.Transfers != n-1 {
					return fmt.Errorf("line %d: it counts %d transfers of schema %d, and there are %d, of which this program reads schema %d", n, *line.Transfers, line.Schema, n-1, schema)
				}
				return nil
			}
			if err := db.readable(line.storedRow); err != nil {
				return fmt.Errorf("line %d: %w", n, err)
			}
			switch err := insertRow(ctx, tx, line.storedRow); {
			case errors.Is(err, ErrConflict):
				there++
			case err != nil:
				return fmt.Errorf("line %d: %w", n, err)
			default:
				added++
			}
		}
	})
	if err != nil {
		return 0, 0, fmt.Errorf("import: %w", fault(ctx, err))
	}
	return added, there, nil
}

// ids are what names transfers. latest is the end of the year 9999, s since 1970.
var ids = regexp.MustCompile(`^[a-z2-7]{26}$`)

const latest = 253402300799

// readable refuses a row that could not be read once it is in.
func (db *DB) readable(r storedRow) error {
	if !ids.MatchString(r.ID) {
		return fmt.Errorf("%q names no transfer", r.ID)
	}
	if r.CreatedAt < 0 || r.CreatedAt > latest || r.ExpiresAt < 0 || r.ExpiresAt > latest {
		return fmt.Errorf("transfer %s was made or expires at an impossible time", r.ID)
	}
	kept, err := db.kept(r.Value, r.Plans)
	t := Transfer{ID: r.ID, Kept: kept}
	if err == nil {
		err = errors.Join(t.remember(r.Told), t.whole())
	}
	if err != nil {
		return &DamagedError{r.ID, err}
	}
	return nil
}

func insertRow(ctx context.Context, tx *sql.Tx, r storedRow) error {
	if r.ID == "" || len(r.KeyHash) == 0 || len(r.Salt) == 0 || len(r.BodyHash) == 0 || r.Version < 1 || len(r.Value) == 0 || len(r.Told) == 0 {
		return errors.New("no transfer, since something of it is missing")
	}
	return one(tx.ExecContext(ctx, "INSERT INTO transfers ("+rowColumns+") VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11) ON CONFLICT DO NOTHING",
		r.ID, r.KeyHash, r.Salt, r.RetryHash, r.BodyHash, r.CreatedAt, r.ExpiresAt, r.Version, string(r.Value), string(r.Told), r.Plans))
}

// ExportFile writes an export of a database, which it only reads, into a new file.
func ExportFile(ctx context.Context, address, to string) (n int, err error) {
	if _, err := os.Stat(address); err != nil && !IsPostgres(address) { // it must not be created
		return 0, fmt.Errorf("export: %w", err)
	}
	db, err := connect(address)
	if err != nil {
		return 0, fmt.Errorf("export %q: %w", Shown(address), err)
	}
	defer db.Close()
	var damaged error
	err = whole(to, func(part string) error {
		f, err := os.Create(part)
		if err != nil {
			return err
		}
		n, err = db.Export(ctx, f)
		if _, ok := errors.AsType[*DamagedError](err); ok {
			damaged, err = err, nil
		}
		return errors.Join(err, f.Close())
	})
	if err = errors.Join(err, damaged); err != nil {
		return n, fmt.Errorf("export %q to %q: %w", Shown(address), to, err)
	}
	return n, nil
}
