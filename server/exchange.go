package server

import (
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"net/http"
	"runtime/debug"
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/server/contract"
)

// exchange is one request and its answer, with what is learnt about the request on its way. One
// function on it does everything around a handler, so that each request makes one exchange and no
// closures.
type exchange struct {
	echo.Context
	operation *contract.Operation // nil if the contract has none: echo's own 404 and 405, pages
	id        headerValue
	valid     bool
	request   asked // set if the request is valid
}

func (s *Server) exchange(c echo.Context) *exchange {
	return &exchange{Context: c, operation: s.contract.Operation(c)}
}

// askedOf is what a valid request asks for; nil if the request is not known to be valid.
func askedOf(c echo.Context) *asked {
	x, ok := c.(*exchange)
	if !ok || !x.valid {
		return nil
	}
	return &x.request
}

// around wraps every handler that clients can reach. It gives the request an id, counts and times
// it, and turns an error into an answer.
func (s *Server) around(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		x, start := s.exchange(c), time.Now()
		id := contract.HeaderOf(c.Request(), echo.HeaderXRequestID)
		if id == "" {
			id = newRequestID()
		}
		c.Response().Header()[echo.HeaderXRequestID] = x.id.holds(id)
		s.meters.inFlight.Inc()
		defer s.meters.inFlight.Dec()
		if err := s.letIn(x, next); err != nil {
			s.problem(err, x)
		}
		s.meters.answered(x.operation, c.Response().Status, time.Since(start))
		return nil
	}
}

// letIn lets a request in if it is valid and there is room for it.
func (s *Server) letIn(x *exchange, next echo.HandlerFunc) (err error) {
	defer s.recovered(&err)
	if crossOrigin(x) {
		return x.NoContent(http.StatusNoContent)
	}
	if x.operation == nil {
		return next(x)
	}
	if x.operation.Each { // before the body is read, since a list of four million bytes is read whole
		leave, err := s.links.enter(x.Request().Context(), clientOf(x.RealIP()))
		if err != nil {
			return err
		}
		defer leave()
	}
	if done, err := s.validate(x); done || err != nil {
		return err
	}
	return s.metered(x, next)
}

// within is around for the requests that the service makes to itself; they are not counted.
func (s *Server) within(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		x := s.exchange(c)
		if x.operation != nil {
			if done, err := s.validate(x); done || err != nil {
				return err
			}
		}
		return next(x)
	}
}

// recovered turns a panic into an error. The panic with which net/http breaks off an answer goes
// on.
func (s *Server) recovered(err *error) {
	switch r := recover(); r {
	case nil:
	case http.ErrAbortHandler:
		panic(r)
	default:
		s.log.Error("panic", "value", r, "stack", string(debug.Stack()))
		*err = fmt.Errorf("panic: %v", r)
	}
}

// newRequestID makes an id that no other request has.
func newRequestID() string {
	var id [16]byte
	binary.LittleEndian.PutUint64(id[:], rand.Uint64())
	binary.LittleEndian.PutUint64(id[8:], rand.Uint64())
	var text [2 * len(id)]byte
	hex.Encode(text[:], id[:])
	return string(text[:])
}

// What browsers let a page of another site do: ask anything and read the whole answer.
const (
	allowedMethods = "GET,HEAD,POST,PATCH,DELETE,OPTIONS"
	allowedHeaders = "Content-Type,Accept,If-None-Match,If-Match,Authorization,Idempotency-Key"
	exposedHeaders = "ETag,Link,Deprecation,Sunset,Location,X-Request-Id,Retry-After,RateLimit,RateLimit-Policy"
	preflightAge   = "86400" // s
)

// byOrigin is shared by all answers; appending copies it.
var byOrigin = []string{echo.HeaderOrigin}

// crossOrigin says what a page of another site may do (CORS); done if that was all the request
// asked.
func crossOrigin(x *exchange) (done bool) {
	h, r := x.Response().Header(), x.Request()
	h[echo.HeaderVary] = byOrigin
	done = r.Method == http.MethodOptions
	if done {
		if allow, ok := x.Get(echo.ContextKeyHeaderAllow).(string); ok && allow != "" {
			h.Set(echo.HeaderAllow, allow)
		}
	}
	if contract.HeaderOf(r, echo.HeaderOrigin) == "" {
		return done
	}
	h.Set(echo.HeaderAccessControlAllowOrigin, "*")
	if !done {
		h.Set(echo.HeaderAccessControlExposeHeaders, exposedHeaders)
		return false
	}
	h.Add(echo.HeaderVary, echo.HeaderAccessControlRequestMethod)
	h.Add(echo.HeaderVary, echo.HeaderAccessControlRequestHeaders)
	h.Set(echo.HeaderAccessControlAllowMethods, allowedMethods)
	h.Set(echo.HeaderAccessControlAllowHeaders, allowedHeaders)
	h.Set(echo.HeaderAccessControlMaxAge, preflightAge)
	return true
}
