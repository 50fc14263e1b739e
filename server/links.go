package server

import (
	"context"
	"errors"
	"runtime"
	"sync"

	"github.com/prometheus/client_golang/prometheus"
)

// errManyLinks refuses another request of a client that already has many open.
var errManyLinks = errors.New("one client has as many tables and lists open as it may")

// linksOfClient is how many tables and lists one client may have open. A few more wait.
const linksOfClient = 8

// links bounds the requests whose readings are answered while they are sent or read. Such a
// request lasts as long as its client likes, so it must not hold a place in a gate; and no single
// client may hold every place here.
type links struct {
	all  *gate
	mu   sync.Mutex
	open map[string]*clientLinks
}

// clientLinks are the links of one client, for as long as it has any.
type clientLinks struct {
	*gate
	users int // links open or waiting
}

func newLinks(r *prometheus.Registry) (*links, error) {
	cores := int64(runtime.GOMAXPROCS(0))
	all, err := newGate(r, "stream", 32*cores, 16*cores)
	return &links{all: all, open: map[string]*clientLinks{}}, err
}

// enter waits until a client may have another link. Unless it returns an error, call leave.
func (l *links) enter(ctx context.Context, client string) (leave func(), err error) {
	l.mu.Lock()
	of := l.open[client]
	if of == nil {
		of = &clientLinks{gate: l.all.part(linksOfClient)}
		l.open[client] = of
	}
	of.users++
	l.mu.Unlock()
	forget := func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		if of.users--; of.users == 0 {
			delete(l.open, client)
		}
	}
	leaveClient, err := of.enter(ctx, queueTime)
	if err != nil {
		forget()
		if errors.Is(err, errCrowded) {
			err = errManyLinks
		}
		return nil, err
	}
	leaveAll, err := l.all.enter(ctx, queueTime)
	if err != nil {
		leaveClient()
		forget()
		return nil, err
	}
	return func() {
		leaveAll()
		leaveClient()
		forget()
	}, nil
}
