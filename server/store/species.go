package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Query selects species. Its zero value selects all.
type Query struct {
	Text    string                                        // any name or part of one, misspelled or plural
	Group   tolerance.Group                               // empty: any
	Family  string                                        // scientific, in any case; empty: any
	LivesAt *quantity.Estimate[quantity.AbsoluteSalinity] // some stage prefers or tolerates it
	Limit   int                                           // zero: no limit
	Offset  int
}

// Page is a part of what a Query selects, best match first, else by scientific name.
type Page struct {
	Species []tolerance.Summary `json:"species"`
	Total   int                 `json:"total"` // of all pages
	Offset  int                 `json:"offset"`
}

// Species returns a page of the species that a query selects.
func (db *DB) Species(ctx context.Context, q Query) (Page, error) {
	if err := ctx.Err(); err != nil {
		return Page{}, err
	}
	p := Page{Species: []tolerance.Summary{}, Offset: q.Offset}
	for _, t := range db.index.find(q.Text) {
		selected, err := q.selects(t)
		if err != nil {
			return Page{}, err
		}
		if !selected {
			continue
		}
		if p.Total >= q.Offset && (q.Limit == 0 || len(p.Species) < q.Limit) {
			p.Species = append(p.Species, t.Summary())
		}
		p.Total++
	}
	return p, nil
}

// selects says whether a taxon passes every filter but the text.
func (q Query) selects(t tolerance.Taxon) (bool, error) {
	if q.Group != "" && t.Group != q.Group || q.Family != "" && !strings.EqualFold(t.Family, q.Family) {
		return false, nil
	}
	if q.LivesAt == nil {
		return true, nil
	}
	for _, s := range t.Stages {
		j, err := s.Judge(tolerance.Water{Salinity: q.LivesAt})
		if err != nil {
			return false, err
		}
		if j.Verdict == tolerance.Preferred || j.Verdict == tolerance.Tolerated {
			return true, nil
		}
	}
	return false, nil
}

// Taxon returns a species by its id, or a *NotFoundError that names near ones.
func (db *DB) Taxon(ctx context.Context, id string) (tolerance.Taxon, error) {
	var value string
	err := db.read.QueryRowContext(ctx, "SELECT value FROM taxa WHERE id = $1", id).Scan(&value)
	if errors.Is(err, sql.ErrNoRows) {
		return tolerance.Taxon{}, &NotFoundError{Kind: "species", ID: id, Near: db.index.near(id)}
	}
	if err != nil {
		return tolerance.Taxon{}, fmt.Errorf("species %q: %w", id, err)
	}
	return decodeTaxon(id, value)
}

// taxa returns every species by id.
func (db *DB) taxa(ctx context.Context) ([]tolerance.Taxon, error) {
	rows, err := db.read.QueryContext(ctx, "SELECT id, value FROM taxa ORDER BY id")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var taxa []tolerance.Taxon
	for rows.Next() {
		var id, value string
		if err := rows.Scan(&id, &value); err != nil {
			return nil, err
		}
		t, err := decodeTaxon(id, value)
		if err != nil {
			return nil, err
		}
		taxa = append(taxa, t)
	}
	return taxa, rows.Err()
}

// decodeTaxon reads a stored value.
func decodeTaxon(id, value string) (tolerance.Taxon, error) {
	var t tolerance.Taxon
	if err := json.Unmarshal([]byte(value), &t); err != nil {
		return tolerance.Taxon{}, fmt.Errorf("species %q as stored: %w", id, err)
	}
	return t, nil
}
