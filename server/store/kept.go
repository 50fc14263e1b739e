package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/transfer"
)

// Kept is what a transfer is made of, as it is stored.
type Kept struct {
	Request transfer.Request `json:"request"`
	Legs    []followup.Leg   `json:"legs"`
	Log     []Logged         `json:"log"`
	Note    string           `json:"note,omitempty"`
	End     *time.Time       `json:"end,omitempty"`
	Called  bool             `json:"called_off,omitempty"` // ended without the animals being over
	Helper  []byte           `json:"helper,omitempty"`     // SHA-256 of the key of a helper
	Told    *Told            `json:"-"`                    // in a column of its own

	read []planRead // of the legs
}

// planRead is the plan of a leg, and the line that it was read from: it is written again
// as long as the plan is the same one.
type planRead struct {
	plan *transfer.Plan
	line string
}

// columns are the values of a transfer as they are stored.
func (k Kept) columns() (value, plans, told string, err error) {
	lines := make([]string, len(k.Legs))
	legs := slices.Clone(k.Legs)
	for i := range legs {
		if lines[i], err = k.line(legs[i].Plan); err != nil {
			return "", "", "", err
		}
		legs[i].Plan = nil
	}
	k.Legs = legs
	v, noValue := json.Marshal(k)
	t, noTold := json.Marshal(k.Told)
	return string(v), strings.Join(lines, "\n"), string(t), errors.Join(noValue, noTold)
}

// line is a plan as it is stored.
func (k Kept) line(plan *transfer.Plan) (string, error) {
	if plan == nil {
		return "", nil
	}
	for _, r := range k.read {
		if r.plan == plan {
			return r.line, nil
		}
	}
	line, err := json.Marshal(plan)
	return string(line), err
}

// kept reads what columns wrote.
func (db *DB) kept(value []byte, lines string) (k Kept, err error) {
	if err := json.Unmarshal(value, &k); err != nil || lines == "" {
		return k, err
	}
	list := strings.Split(lines, "\n")
	if len(list) != len(k.Legs) {
		return k, fmt.Errorf("it has %d legs and %d plans", len(k.Legs), len(list))
	}
	for i, line := range list {
		if line == "" {
			continue
		}
		plan, err := db.plans.read(line)
		if err != nil {
			return k, err
		}
		k.Legs[i].Plan = plan
		k.read = append(k.read, planRead{plan, line})
	}
	return k, nil
}

// Logged is an entry of the log, and how it was sent.
type Logged struct {
	Entry followup.LogEntry `json:"entry"`
	Sent  *Sent             `json:"sent,omitempty"` // nil without an idempotency key
}

// Sent reports whether something was sent before: hashes of its idempotency key and of its body.
type Sent struct {
	Retry []byte `json:"retry"`
	Body  []byte `json:"body"`
}

// NewSent hashes an idempotency key and the body it came with; nil without a key.
func NewSent(retry string, body []byte) *Sent {
	if retry == "" {
		return nil
	}
	key, content := sha256.Sum256([]byte(retry)), sha256.Sum256(body)
	return &Sent{key[:], content[:]}
}

// Before reports whether this was sent before, and fails with ErrRetry if another
// body came with its idempotency key then.
func (s *Sent) Before(other *Sent) (bool, error) {
	if s == nil || other == nil || !bytes.Equal(s.Retry, other.Retry) {
		return false, nil
	}
	if !bytes.Equal(s.Body, other.Body) {
		return false, ErrRetry
	}
	return true, nil
}
