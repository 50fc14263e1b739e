package followup_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
)

// leaving is the context of a client that leaves at some look at it.
type leaving struct {
	context.Context
	looks, leaves int
}

func (l *leaving) Err() error {
	if l.looks++; l.looks > l.leaves {
		return context.Canceled
	}
	return nil
}

// A log may hold ten thousand readings, which take a second: each is weighed only as long
// as somebody waits for the answer.
func TestLongLogOfWhoLeaves(t *testing.T) {
	r, p := begun(t, 0)
	const readings = 400
	var log []followup.LogEntry
	for i := range readings {
		done := float64(i) / readings
		log = append(log, followup.LogEntry{Time: new(r.Start.Add(time.Duration(done * float64(4*time.Hour)))), Temperature: estimate[quantity.Celsius]("25 C"),
			Salinity: &quantity.Reading{Value: 2 + 5*done, Scale: quantity.PracticalScale}})
	}
	for _, leaves := range []int{0, readings / 2, readings, 3 * readings / 2} {
		ctx := &leaving{t.Context(), 0, leaves}
		_, err := followup.Follow(ctx, r, []followup.Leg{followup.NewLeg(0, r, p)}, log)
		if !errors.Is(err, context.Canceled) || ctx.looks > leaves+1 {
			t.Errorf("who leaves at look %d: %v after %d more", leaves, err, ctx.looks-leaves)
		}
	}
}
