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

// Kept is what is stored of a transfer.
type Kept struct {
	Request transfer.Request `json:"request"`
	Legs    []followup.Leg   `json:"legs"`
	Log     []Logged         `json:"log"`
	Note    string           `json:"note,omitempty"`
	End     *time.Time       `json:"end,omitempty"`
	Called  bool             `json:"called_off,omitempty"` // ended without the animals in the new water
	Helper  []byte           `json:"helper,omitempty"`     // SHA-256 of the key of a helper
	Told    *Told            `json:"-"`                    // in a column of its own

	read []planRead // of the legs
}

// planRead is the plan of a leg and the line it was read from, which is written again as long as
// the plan is the same.
type planRead struct {
	plan *transfer.Plan
	line string
}

// columns are the values of a transfer in the order they are stored.
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

// Logged is an entry of the log and how it was sent.
type Logged struct {
	Entry followup.LogEntry `json:"entry"`
	Sent  *Sent             `json:"sent,omitempty"` // nil without an idempotency key
}

// Sent recognises what was sent before: hashes of an idempotency key and of its body.
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

// Before reports whether this was sent before. It fails with ErrRetry if the idempotency key came
// with another body then.
func (s *Sent) Before(other *Sent) (bool, error) {
	if s == nil || other == nil || !bytes.Equal(s.Retry, other.Retry) {
		return false, nil
	}
	if !bytes.Equal(s.Body, other.Body) {
		return false, ErrRetry
	}
	return true, nil
}
