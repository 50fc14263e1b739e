package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	_ "embed" // for the two files
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"

	"saltlock/chem/tolerance"
)

var (
	//go:embed species/species.csv
	speciesCSV []byte
	//go:embed species/sources.csv
	sourcesCSV []byte
)

// dataDate is the month of the last edit of the species table.
const dataDate = "2026.11"

// DataVersion names the edition of the embedded species table: the month of
// its last edit and a short hash of its content.
func DataVersion() string {
	h := sha256.New()
	h.Write(speciesCSV)
	h.Write(sourcesCSV)
	return dataDate + "-" + hex.EncodeToString(h.Sum(nil))[:6]
}

// seed loads the embedded species table, and the operator's own entries where
// files of them are named, into the database, all or nothing, unless that very
// edition is there.
func (db *DB) seed(ctx context.Context, supplements []string) error {
	taxa, err := readTable(bytes.NewReader(speciesCSV), bytes.NewReader(sourcesCSV))
	if err != nil {
		return err
	}
	db.version = DataVersion()
	for _, file := range supplements {
		own, digest, err := readSupplement(file, taxa)
		if err != nil {
			return err
		}
		taxa, db.version = own, db.version+"+local-"+digest
	}
	return db.seedWith(ctx, db.version, taxa)
}

// DataVersion names the edition that this database answers from: that of the
// embedded table, and a short hash of the operator's own entries.
func (db *DB) DataVersion() string { return db.version }

// seedWith is seed for a given edition. The digest is of the values as they
// are written, so that a program that writes the same table in another shape
// loads it anew.
func (db *DB) seedWith(ctx context.Context, version string, taxa []tolerance.Taxon) error {
	values := make([][]byte, len(taxa))
	h := sha256.New()
	for i, t := range taxa {
		v, err := json.Marshal(t)
		if err != nil {
			return fmt.Errorf("species %q: %w", t.ID, err)
		}
		values[i] = v
		h.Write(v)
	}
	digest := hex.EncodeToString(h.Sum(nil))
	return db.tx(ctx, func(tx *sql.Tx) error {
		var haveVersion, haveDigest string
		err := tx.QueryRowContext(ctx, "SELECT version, digest FROM seeds WHERE kind = 'species'").Scan(&haveVersion, &haveDigest)
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		if haveVersion == version && haveDigest == digest {
			return nil
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM taxa"); err != nil {
			return err
		}
		for i, t := range taxa {
			if _, err := tx.ExecContext(ctx, "INSERT INTO taxa (id, value) VALUES ($1, $2)", t.ID, string(values[i])); err != nil {
				return fmt.Errorf("species %q: %w", t.ID, err)
			}
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO seeds (kind, version, digest) VALUES ('species', $1, $2)
			ON CONFLICT (kind) DO UPDATE SET version = excluded.version, digest = excluded.digest`, version, digest)
		return err
	})
}
