package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"saltlock/chem/transfer"
)

// Told is a transfer as its keeper was told it last. It is read as it stands and
// never computed anew: numbers and acts stay those that were told, whatever a
// later program would plan; only the words of its notes are written anew.
type Told struct {
	Course      transfer.Course `json:"course"`
	InForce     bool            `json:"in_force"` // whether the plan of the last leg is to be carried out
	Inputs      map[string]any  `json:"inputs"`   // of the transfer, after defaults
	PlanInputs  map[string]any  `json:"plan_inputs,omitempty"`
	Version     string          `json:"version"` // of the program that told it
	DataVersion string          `json:"data_version"`
}

// Tell keeps beside a transfer what its keeper is told now.
func (k *Kept) Tell(c transfer.Course, told Told) {
	k.Legs = c.Legs
	told.Course, told.InForce = c, c.Plan != nil
	k.Told = &told
}

// remember puts the plan and the legs, which are stored with the transfer, back
// into what was told.
func (k *Kept) remember(told []byte) error {
	k.Told = &Told{}
	if err := json.Unmarshal(told, k.Told); err != nil {
		return err
	}
	c := &k.Told.Course
	if c.Legs = k.Legs; len(c.Legs) == 0 {
		return fmt.Errorf("it has no leg")
	}
	if k.Told.InForce {
		c.Plan = c.Legs[len(c.Legs)-1].Plan
	}
	if k.Told.InForce && c.Plan == nil {
		return fmt.Errorf("its plan is missing")
	}
	return nil
}

// Freeze keeps what the keepers of the transfers that release 0.2.0 saved were
// told, as tell finds it. A row that cannot be read or told is reported and left,
// so that it does not hide the others.
func (db *DB) Freeze(ctx context.Context, tell func(*Kept) error, report func(id string, err error)) error {
	rows, err := db.read.QueryContext(ctx, "SELECT id, value FROM transfers WHERE told IS NULL AND expires_at > $1", db.Now().Unix())
	if err != nil {
		return fmt.Errorf("freeze transfers: %w", err)
	}
	values := map[string][]byte{}
	for rows.Next() {
		var id string
		var value []byte
		if err := rows.Scan(&id, &value); err != nil {
			return errors.Join(fmt.Errorf("freeze transfers: %w", err), rows.Close())
		}
		values[id] = value
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return fmt.Errorf("freeze transfers: %w", err)
	}
	return db.tx(ctx, func(tx *sql.Tx) error {
		for id, was := range values {
			var k Kept
			err := json.Unmarshal(was, &k)
			if err == nil {
				err = tell(&k)
			}
			if err != nil {
				report(id, err)
				continue
			}
			value, told, err := k.columns()
			if err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, "UPDATE transfers SET value = $1, told = $2 WHERE id = $3 AND told IS NULL", value, told, id); err != nil {
				return fmt.Errorf("freeze transfer: %w", err)
			}
		}
		return nil
	})
}
