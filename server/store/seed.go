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
	"sync"

	"saltlock/chem/tolerance"
)

var (
	//go:embed species/species.csv
	speciesCSV []byte
	//go:embed species/sources.csv
	sourcesCSV []byte
)

// dataDate is the month in which the species table was last edited.
const dataDate = "2026.11"

// DataVersion names the edition of the embedded species table: the month of
// its last edit and a short hash of its content.
func DataVersion() string {
	h := sha256.New()
	h.Write(speciesCSV)
	h.Write(sourcesCSV)
	return dataDate + "-" + hex.EncodeToString(h.Sum(nil))[:6]
}

// tableDigest is the digest of the embedded table as this program writes it: writing half a
// megabyte at each start, only to find it unchanged, would take longer than everything else. A
// test holds it.
const tableDigest = "35665b2d5a9641fd87fac242145e174bf728ff444458f1b896682d978e1ecdd4"

// edition is a species table with its index, the version of its content, and a digest of the form in
// which it is stored.
type edition struct {
	version, digest string
	*index
}

// builtIn is the embedded species table, and builtInIndex its index. They are read when a database
// is first opened; all databases of a process share them, and none changes them.
var (
	builtIn = sync.OnceValues(func() ([]tolerance.Taxon, error) {
		return readTable(bytes.NewReader(speciesCSV), bytes.NewReader(sourcesCSV))
	})
	builtInIndex = sync.OnceValues(func() (*index, error) {
		taxa, err := builtIn()
		return newIndex(taxa), err
	})
)

// readEdition reads the embedded species table and the operator's own entries, if files of them
// are named.
func readEdition(supplements []string) (edition, error) {
	if len(supplements) == 0 {
		x, err := builtInIndex()
		return edition{version: DataVersion(), digest: tableDigest, index: x}, err
	}
	taxa, err := builtIn()
	if err != nil {
		return edition{}, err
	}
	e := edition{version: DataVersion()}
	for _, file := range supplements {
		own, digest, err := readSupplement(file, taxa)
		if err != nil {
			return edition{}, err
		}
		taxa, e.version = own, e.version+"+local-"+digest
	}
	e.index = newIndex(taxa)
	values, err := e.values()
	if err != nil {
		return edition{}, err
	}
	e.digest = digestOf(values)
	return e, nil
}

// values are the taxa as they are stored.
func (e edition) values() ([][]byte, error) {
	values := make([][]byte, len(e.taxa))
	for i, t := range e.taxa {
		var err error
		if values[i], err = json.Marshal(t); err != nil {
			return nil, fmt.Errorf("species %q: %w", t.ID, err)
		}
	}
	return values, nil
}

func digestOf(values [][]byte) string {
	h := sha256.New()
	for _, v := range values {
		h.Write(v)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// DataVersion names the edition that this database answers from: that of the embedded table, and a
// short hash of the operator's own entries.
func (db *DB) DataVersion() string { return db.version }

// seed stores an edition, all or nothing, unless it is already there. The digest covers the values
// as they are written, so a program that writes the same table in another form stores it again.
// The stored table is for people who look into the database: this program answers from what it
// read.
func (db *DB) seed(ctx context.Context, species edition) error {
	return db.tx(ctx, func(tx *sql.Tx) error {
		var haveVersion, haveDigest string
		err := tx.QueryRowContext(ctx, "SELECT version, digest FROM seeds WHERE kind = 'species'").Scan(&haveVersion, &haveDigest)
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		if haveVersion == species.version && haveDigest == species.digest {
			return nil
		}
		values, err := species.values()
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM taxa"); err != nil {
			return err
		}
		for i, t := range species.taxa {
			if _, err := tx.ExecContext(ctx, "INSERT INTO taxa (id, value) VALUES ($1, $2)", t.ID, string(values[i])); err != nil {
				return fmt.Errorf("species %q: %w", t.ID, err)
			}
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO seeds (kind, version, digest) VALUES ('species', $1, $2)
			ON CONFLICT (kind) DO UPDATE SET version = excluded.version, digest = excluded.digest`, species.version, species.digest)
		return err
	})
}
