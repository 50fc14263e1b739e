// Package server answers the contract over HTTP: it decodes a request into domain types, lets the
// domain compute, and encodes the answer.
package server

import (
	"cmp"
	"errors"
	"log/slog"
	"net/http"
	"net/netip"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"
	"go.opentelemetry.io/otel/trace"

	"saltlock/api"
	"saltlock/server/bots"
	"saltlock/server/contract"
	"saltlock/server/render"
	"saltlock/server/site"
	"saltlock/server/store"
)

// Version is the version of the formulas and of the contract.
const Version = "0.3.0"

// Contract is the contract that a service is held to, and its text.
type Contract struct {
	*contract.Contract
	text []byte
}

// ReadContract reads the contract as it is served at an address. That takes as long as the rest of
// a start together.
func ReadContract(publicURL string) (*Contract, error) { return readContract(api.Spec, publicURL) }

// readContract is ReadContract for any contract that these handlers can answer.
func readContract(spec []byte, publicURL string) (*Contract, error) {
	text := servedAt(spec, publicURL)
	c, err := contract.Load(text)
	if err != nil {
		return nil, err
	}
	c.Speak = saying(render.Voice{})
	return &Contract{c, text}, nil
}

// Options is what a server needs. Store is mandatory.
type Options struct {
	Store    *store.DB
	Contract *Contract            // at PublicURL; nil reads it
	Log      *slog.Logger         // nil discards
	Registry *prometheus.Registry // nil makes one of its own
	Tracer   trace.Tracer         // nil traces nothing, and costs nothing

	PublicURL string // the address in snippets and link previews; if empty, the contract's own
	Operator  string // who runs this server, as its pages say

	PlanTime       time.Duration  // what the plans of one request may take; 0 is two seconds
	Rates          Rates          // of one client
	TrustedProxies []netip.Prefix // trusted to name the client they pass on; none by default

	Draining <-chan struct{} // closed when no new client should come, while all others are still answered; nil: never
	Stopping <-chan struct{} // closed when answers without an end must end; nil: never
}

// Server answers the operations of the contract.
type Server struct {
	store     *store.DB
	log       *slog.Logger
	registry  *prometheus.Registry
	contract  *contract.Contract
	site      *site.Site
	prepared  *prepared
	inGerman  map[string]render.Animal // by their usual names in English
	draining  <-chan struct{}
	stopping  <-chan struct{}
	gates     *gates
	turns     *turns
	meters    *meters
	traces    *traces // nil without a tracer
	links     *links
	documents documents
	planTime  time.Duration

	plans, writes *quota // nil without a limit
}

// New makes the handler of the whole service.
func New(o Options) (http.Handler, error) {
	if o.Store == nil {
		return nil, errors.New("server: a store is needed")
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Registry == nil {
		o.Registry = prometheus.NewRegistry()
	}
	var err error
	if o.Contract == nil {
		if o.Contract, err = ReadContract(o.PublicURL); err != nil {
			return nil, err
		}
	}
	c := o.Contract.Contract
	s := &Server{store: o.Store, log: o.Log, registry: o.Registry, contract: c, prepared: newPrepared(), inGerman: germanNames(o.Store.Taxa()), documents: newDocuments(o.Contract), draining: o.Draining, stopping: o.Stopping, planTime: cmp.Or(o.PlanTime, planTime), turns: newTurns()}
	if s.meters, err = newMeters(o.Registry, o.Store.DataVersion()); err != nil {
		return nil, err
	}
	if o.Tracer != nil {
		s.traces = &traces{o.Tracer, c}
	}
	o.Store.Observe = s.acted
	s.plans, s.writes = newQuota("plans", o.Rates.Plans), newQuota("writes", o.Rates.Writes)
	if s.gates, err = newGates(o.Registry); err != nil {
		return nil, err
	}
	if s.links, err = newLinks(o.Registry); err != nil {
		return nil, err
	}
	inside := echo.New() // for requests of the service to itself, which are not counted
	inside.HTTPErrorHandler = s.problem
	inside.Use(s.within)
	api.RegisterHandlers(inside, s)
	e := echo.New()
	s.site = site.New(site.Options{Contract: c, Service: door(inside), Public: door(e), Problems: problemPages, Log: o.Log,
		PublicURL: o.PublicURL, Operator: o.Operator, Version: Version, DataVersion: o.Store.DataVersion()})
	e.HTTPErrorHandler = s.problem
	e.IPExtractor = behind(o.TrustedProxies)
	if s.traces != nil {
		e.Use(s.traces.request)
	}
	e.Use(s.around)
	api.RegisterHandlers(e, s)
	s.site.Routes(e)
	service := door(e)
	tools, err := bots.New(bots.Options{Contract: c, Service: service, PublicURL: o.PublicURL, Log: o.Log})
	if err != nil {
		return nil, err
	}
	e.Any("/mcp", echo.WrapHandler(tools))
	return packsLists(service)
}
