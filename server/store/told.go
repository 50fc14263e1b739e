package store

import (
	"context"
	"encoding/json"
	"fmt"

	"saltlock/chem/followup"
)

// Told is a transfer as its keeper last saw it. Readers get it as stored, never computed again:
// numbers and acts stay the same whatever a later program would plan; only the words of its notes
// are new.
type Told struct {
	Course      followup.Course `json:"course"`
	InForce     bool            `json:"in_force"` // whether the plan of the last leg is to be carried out
	Inputs      map[string]any  `json:"inputs"`   // of the transfer, after defaults
	PlanInputs  map[string]any  `json:"plan_inputs,omitempty"`
	Version     string          `json:"version"` // of the program that wrote it
	DataVersion string          `json:"data_version"`
}

// Tell stores beside a transfer what its keeper sees now.
func (k *Kept) Tell(c followup.Course, told Told) {
	k.Legs = c.Legs
	told.Course, told.InForce = c, c.Plan != nil
	k.Told = &told
}

// remember puts the plan and the legs, which are stored with the transfer, back into what was
// told.
func (k *Kept) remember(told []byte) error {
	k.Told = &Told{}
	if err := json.Unmarshal(told, k.Told); err != nil {
		return err
	}
	c := &k.Told.Course
	if c.Verdict == "" {
		return fmt.Errorf("it says nothing")
	}
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

// whole names what every transfer has and this one lacks.
func (k *Kept) whole() error {
	if k.Request.Start == nil {
		return fmt.Errorf("it has no start")
	}
	for _, leg := range k.Legs {
		if leg.Plan != nil && len(leg.Plan.Checkpoints) == 0 {
			return fmt.Errorf("a plan of it has no checkpoint")
		}
	}
	for _, l := range k.Log {
		if l.Entry.Time == nil {
			return fmt.Errorf("an entry of its log has no time")
		}
	}
	return nil
}

// told is the first migration with a column for what the keeper was told.
const told = 3

// checkTold refuses a file in which release 0.2.0 left transfers under way. That release stored
// only what plans were computed from, and only a program that plans as it did knows what the
// keepers were told.
func (db *DB) checkTold(ctx context.Context) error {
	var untold int
	if err := db.read.QueryRowContext(ctx, "SELECT COUNT(*) FROM transfers WHERE expires_at > $1", db.Now().Unix()).Scan(&untold); err != nil {
		return fmt.Errorf("look for transfers of release 0.2.0: %w", fault(ctx, err))
	}
	if untold > 0 {
		return fmt.Errorf("it holds %d transfers that release 0.2.0 saved, and their plans must not change: %w", untold, ErrUntold)
	}
	return nil
}
