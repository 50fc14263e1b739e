package server

import (
	"context"
	"hash/maphash"

	"golang.org/x/sync/semaphore"
)

// turns makes those who add to one log take turns: each reads the log, weighs it and writes it,
// and of two at once one would have to start again. Several transfers may share a turn. A report
// of trouble never waits longer for a plan than its client does.
type turns struct {
	seed maphash.Seed
	of   [64]*semaphore.Weighted
}

func newTurns() *turns {
	t := &turns{seed: maphash.MakeSeed()}
	for i := range t.of {
		t.of[i] = semaphore.NewWeighted(1)
	}
	return t
}

// enter waits for the turn of a transfer; call leave unless it returns an error. Only a report of
// trouble waits longer for a place than others do.
func (t *turns) enter(ctx context.Context, id string, urgent bool) (leave func(), err error) {
	turn := t.of[maphash.String(t.seed, id)%uint64(len(t.of))]
	within := ctx
	if !urgent {
		var cancel context.CancelFunc
		within, cancel = context.WithTimeout(ctx, queueTime)
		defer cancel()
	}
	if err := turn.Acquire(within, 1); err != nil {
		if ctx.Err() == nil {
			err = errCrowded
		}
		return nil, err
	}
	return func() { turn.Release(1) }, nil
}
