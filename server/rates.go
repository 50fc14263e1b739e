package server

import (
	"errors"
	"fmt"
	"math"
	"net"
	"net/netip"
	"strconv"
	"sync"
	"time"

	"github.com/labstack/echo/v4"
	"golang.org/x/time/rate"

	"saltlock/server/contract"
)

// Rate is how much one client may ask for: PerMinute in the long run, and Burst at once. The zero
// value sets no limit.
type Rate struct{ PerMinute, Burst int }

// Rates limit what costs the service most. Everything else is cheap, and many people ask it from
// few addresses (spreadsheets, proxies), so it has no limit.
type Rates struct {
	Plans  Rate // computed, not answered from a cache
	Writes Rate // of saved transfers
}

// quota hands out tokens to clients. It remembers those seen last; a forgotten client starts again
// with all its tokens.
type quota struct {
	name string
	Rate
	mu             sync.Mutex
	recent, before map[string]*rate.Limiter
}

// mostClients is how many clients a quota remembers at least; at most, twice as many.
const mostClients = 10_000

func newQuota(name string, r Rate) *quota {
	if r.PerMinute <= 0 {
		return nil
	}
	r.Burst = max(1, r.Burst)
	return &quota{name: name, Rate: r, recent: map[string]*rate.Limiter{}}
}

func (q *quota) of(client string) *rate.Limiter {
	q.mu.Lock()
	defer q.mu.Unlock()
	l, ok := q.recent[client]
	if ok {
		return l
	}
	if l, ok = q.before[client]; !ok {
		l = rate.NewLimiter(rate.Limit(float64(q.PerMinute)/60), q.Burst)
	}
	if len(q.recent) >= mostClients {
		q.recent, q.before = map[string]*rate.Limiter{}, q.recent
	}
	q.recent[client] = l
	return l
}

// take spends a token of a client and writes what is left into the answer, in the RateLimit fields
// (draft-ietf-httpapi-ratelimit-headers).
func (q *quota) take(c echo.Context) error {
	now := time.Now()
	l := q.of(clientOf(c.RealIP()))
	allowed := l.AllowN(now, 1)
	tokens := q.tell(c, l, now)
	if allowed {
		return nil
	}
	again := max(1, q.seconds(1-tokens))
	c.Response().Header().Set(echo.HeaderRetryAfter, strconv.Itoa(again))
	return &rateError{q.name, q.Rate, again}
}

// giveBack undoes take.
func (q *quota) giveBack(c echo.Context) {
	now := time.Now()
	l := q.of(clientOf(c.RealIP()))
	l.AllowN(now, -1) // a reservation cannot be cancelled once its time has come
	q.tell(c, l, now)
}

// tell writes what a client has left into the answer.
func (q *quota) tell(c echo.Context, l *rate.Limiter, now time.Time) (tokens float64) {
	tokens = min(max(0, l.TokensAt(now)), float64(q.Burst))
	h := c.Response().Header()
	h.Set("RateLimit-Policy", fmt.Sprintf("%q;q=%d;w=%d", q.name, q.Burst, max(1, q.seconds(float64(q.Burst)))))
	h.Set("RateLimit", fmt.Sprintf("%q;r=%d;t=%d", q.name, int(tokens), q.seconds(float64(q.Burst)-tokens)))
	return tokens
}

// seconds is how long it takes until a client has so many tokens again.
func (q *quota) seconds(tokens float64) int {
	return int(math.Ceil(tokens * 60 / float64(q.PerMinute)))
}

// clientOf is what counts as one client: an address, or for IPv6 the network of a household, which
// has as many addresses as it likes.
func clientOf(address string) string {
	a, err := netip.ParseAddr(address)
	if err != nil {
		return address
	}
	if a = a.Unmap(); a.Is4() {
		return a.String()
	}
	network, err := a.Prefix(64)
	if err != nil {
		return address
	}
	return network.String()
}

// rateError says that a client asks for too much.
type rateError struct {
	name  string
	rate  Rate
	again int // s
}

func (e *rateError) Error() string {
	return fmt.Sprintf("more %s than the %d a minute that one client may have; ask again in %d s. Answers to GET may be kept for as long as they say, and cost nothing then", e.name, e.rate.PerMinute, e.again)
}

// metered spends the tokens of a valid request by its class. A client turned away because others
// ask for too much gets its token back. Tokens come before the gates all the same, so that a
// client which asks for too much takes no place in their queues.
func (s *Server) metered(x *exchange, next echo.HandlerFunc) error {
	q := s.quotaOf(x.operation)
	if q == nil {
		return s.admitted(x, next)
	}
	if err := q.take(x); err != nil {
		return err
	}
	err := s.admitted(x, next)
	if errors.Is(err, errCrowded) {
		q.giveBack(x)
	}
	return err
}

func (s *Server) quotaOf(op *contract.Operation) *quota {
	switch op.Class {
	case contract.Plan:
		return s.plans
	case contract.Write:
		switch op.OperationID {
		case "logEvent", "revokeHelperKey": // distress is never too much, nor is stopping a helper who is
			return nil
		}
		return s.writes
	}
	return nil
}

// behind is how to find the address of a client behind these proxies. Without proxies nobody is
// believed, and the client is whoever connects.
func behind(proxies []netip.Prefix) echo.IPExtractor {
	if len(proxies) == 0 {
		return echo.ExtractIPDirect()
	}
	trust := []echo.TrustOption{echo.TrustLoopback(false), echo.TrustLinkLocal(false), echo.TrustPrivateNet(false)}
	for _, p := range proxies {
		trust = append(trust, echo.TrustIPRange(ipNet(p)))
	}
	return echo.ExtractIPFromXFFHeader(trust...)
}

func ipNet(p netip.Prefix) *net.IPNet {
	return &net.IPNet{IP: p.Masked().Addr().AsSlice(), Mask: net.CIDRMask(p.Bits(), p.Addr().BitLen())}
}
