package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/database"
)

// The scripts are the same for both engines: types have names that PostgreSQL knows, and SQLite
// accepts any. Their numbers have no gap, and a released script never changes.
//
//go:embed migrations/*.sql
var migrations embed.FS

// migrate runs the migrations the database has not seen, each whole or not at all. It refuses a
// database of a newer program, and one whose plans this program would change; either stays as it
// was.
func (db *DB) migrate(ctx context.Context) error {
	scripts, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	runner, err := goose.NewProvider("", db.write, scripts, goose.WithStore(versions{}), goose.WithLogger(goose.NopLogger()))
	if err != nil {
		return err
	}
	known := len(runner.ListSources())
	have, err := db.schema(ctx)
	for tries := 0; err == nil && have < known; tries++ {
		if have == told-1 {
			if err := db.checkTold(ctx); err != nil {
				return err
			}
		}
		before := have
		_, failed := runner.UpByOne(ctx)
		if have, err = db.schema(ctx); err != nil || failed == nil || have > before {
			continue // another program that started at the same time may have done it
		}
		if failed = fault(ctx, failed); !errors.Is(failed, ErrBusy) || tries > busyTries {
			return fmt.Errorf("migration %d: %w", have+1, failed)
		}
		time.Sleep(busyPause)
	}
	if err != nil {
		return err
	}
	if have > known {
		return fmt.Errorf("its schema is version %d, this program knows %d: use a newer program or another database", have, known)
	}
	return nil
}

// schema is the version of a database's schema; 0 if it is new.
func (db *DB) schema(ctx context.Context) (version int, err error) {
	err = db.tx(ctx, func(tx *sql.Tx) error {
		if err := (versions{}).CreateVersionTable(ctx, tx); err != nil {
			return err
		}
		return tx.QueryRowContext(ctx, "SELECT MAX(version) FROM schema_version").Scan(&version)
	})
	return version, fault(ctx, err)
}

// versions makes the library keep its account in the table that the first release made, so that
// every release knows what a later one did.
type versions struct{}

func (versions) Tablename() string { return "schema_version" }

func (versions) CreateVersionTable(ctx context.Context, db database.DBTxConn) error {
	if _, err := db.ExecContext(ctx, "CREATE TABLE IF NOT EXISTS schema_version (version BIGINT NOT NULL PRIMARY KEY)"); err != nil {
		return err
	}
	_, err := db.ExecContext(ctx, "INSERT INTO schema_version (version) VALUES (0) ON CONFLICT DO NOTHING")
	return err
}

func (versions) Insert(ctx context.Context, db database.DBTxConn, r database.InsertRequest) error {
	_, err := db.ExecContext(ctx, "INSERT INTO schema_version (version) VALUES ($1)", r.Version)
	return err
}

func (versions) Delete(context.Context, database.DBTxConn, int64) error {
	return fmt.Errorf("migrations go forward only: %w", database.ErrNotImplemented)
}

func (versions) GetMigration(ctx context.Context, db database.DBTxConn, version int64) (*database.GetMigrationResult, error) {
	var have int64
	if err := db.QueryRowContext(ctx, "SELECT version FROM schema_version WHERE version = $1", version).Scan(&have); err != nil {
		return nil, fmt.Errorf("%w: %w", database.ErrVersionNotFound, err)
	}
	return &database.GetMigrationResult{IsApplied: true}, nil
}

func (versions) GetLatestVersion(ctx context.Context, db database.DBTxConn) (version int64, err error) {
	err = db.QueryRowContext(ctx, "SELECT MAX(version) FROM schema_version").Scan(&version)
	return version, err
}

func (versions) ListMigrations(ctx context.Context, db database.DBTxConn) (list []*database.ListMigrationsResult, err error) {
	rows, err := db.QueryContext(ctx, "SELECT version FROM schema_version ORDER BY version DESC")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		one := &database.ListMigrationsResult{IsApplied: true}
		if err := rows.Scan(&one.Version); err != nil {
			return nil, err
		}
		list = append(list, one)
	}
	return list, rows.Err()
}
