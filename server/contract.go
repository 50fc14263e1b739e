package server

import (
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/labstack/echo/v4"

	"saltlock/chem/instrument"
	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// contract is openapi.yaml made ready for requests.
type contract struct {
	doc        *openapi3.T
	json       []byte
	operations map[string]*operation // by method and echo path: "GET /v1/species/:id"
	filter     *openapi3filter.Options
	plan       *flattening
}

// operation is one operation of the contract.
type operation struct {
	*openapi3.Operation
	route   routers.Route
	query   map[string]*openapi3.Parameter
	formats []string  // it answers in, the default first
	stored  bool      // its answer depends on what is kept, not on the request alone
	each    bool      // its body is a list whose items are checked one by one
	table   bool      // its body may be a table
	many    bool      // many ask the same of it, so that its answers are kept
	clear   *clearcut // nil where every request is judged by the validator
	ending  *deprecation
}

// loadContract reads the contract and registers the string formats of its quantities.
func loadContract(spec []byte) (*contract, error) {
	doc, err := openapi3.NewLoader().LoadFromData(spec)
	if err != nil {
		return nil, fmt.Errorf("read the contract: %w", err)
	}
	c := &contract{doc: doc, operations: map[string]*operation{}, filter: &openapi3filter.Options{
		MultiError: true, SkipSettingDefaults: true,
		AuthenticationFunc: openapi3filter.NoopAuthenticationFunc, // the key is checked where what it opens is known
	}}
	formats := textFormats()
	for name, f := range formats {
		c.filter.SchemaValidationOptions = append(c.filter.SchemaValidationOptions, openapi3.WithStringFormatValidator(name, f))
	}
	for path, item := range doc.Paths.Map() {
		for method, op := range item.Operations() {
			key := method + " " + strings.NewReplacer("{", ":", "}", "").Replace(path)
			o := newOperation(doc, path, method, item, op)
			o.clear = clearcutOf(op, item, formats)
			if o.ending, err = deprecationOf(op); err != nil {
				return nil, err
			}
			c.operations[key] = o
		}
	}
	if c.json, err = doc.MarshalJSON(); err != nil {
		return nil, fmt.Errorf("write the contract as JSON: %w", err)
	}
	if c.plan, err = flatten(c.operations["GET /v1/transfers/plan"], doc.Components.Schemas["TransferRequest"].Value); err != nil {
		return nil, err
	}
	return c, nil
}

// textFormats are the formats of the contract's texts, each with what reads it.
func textFormats() map[string]check {
	formats := map[string]check{
		"portion":      func(s string) error { return new(mixing.Portion).Bind(s) },
		"compensation": func(s string) error { return new(instrument.Compensation).Bind(s) },
		"date-time":    readableTime,
		"clock":        func(s string) error { return new(transfer.Clock).UnmarshalText([]byte(s)) },
		"time-zone":    func(s string) error { return new(transfer.Zone).UnmarshalText([]byte(s)) },
		"correction":   func(s string) error { return new(instrument.Correction).Bind(s) },
	}
	for name, f := range quantity.Formats() {
		if name == "duration" {
			name = "time-span" // the contract's "duration" would be that of ISO 8601, as in P30D
		}
		formats[name] = f
	}
	return formats
}

// check makes a function a validator of a string format.
type check func(string) error

func (f check) Validate(s string) error {
	if len(s) > maxText {
		return errLong
	}
	return f(s)
}

// maxText is the longest text that is read as a quantity; the contract allows less.
const maxText = 256

// errLong is told by the contract's maxLength.
var errLong = fmt.Errorf("longer than %d bytes", maxText)

// readableTime refuses what RFC 3339 may write and no clock here shows.
func readableTime(s string) error {
	t, err := time.Parse(time.RFC3339, s)
	if err != nil || t.UTC().Year() < 1 || t.UTC().Year() > 9999 {
		return fmt.Errorf("%q is no time; write it like 2026-12-01T09:00:00Z, with seconds from 00 to 59", clip(s))
	}
	return nil
}

// formatOf is the value of format= for each media type.
var formatOf = map[string]string{
	"application/json": "json", "text/csv": "csv", "text/plain": "text",
	"image/svg+xml": "svg", "image/png": "png", "text/calendar": "ics",
}

// offered lists the media types in the order of preference where a client accepts several.
var offered = []string{"application/json", "text/csv", "text/plain", "image/svg+xml", "image/png", "text/calendar"}

func newOperation(doc *openapi3.T, path, method string, item *openapi3.PathItem, op *openapi3.Operation) *operation {
	o := &operation{
		Operation: op,
		route:     routers.Route{Spec: doc, Path: path, PathItem: item, Method: method, Operation: op},
		query:     map[string]*openapi3.Parameter{},
	}
	for _, p := range op.Parameters {
		if p.Value.In == openapi3.ParameterInQuery {
			o.query[p.Value.Name] = p.Value
		}
	}
	if op.RequestBody != nil {
		content := op.RequestBody.Value.Content
		list := content.Get("application/json")
		o.each = list != nil && list.Schema.Value.Type.Is("array")
		_, o.table = content["text/csv"]
	}
	o.many = method == http.MethodGet && (strings.HasPrefix(path, "/v1/species") || path == "/v1/methods")
	o.stored = path == "/v1/transfers" || strings.HasPrefix(path, "/v1/transfers/{id}")
	for _, mime := range offered {
		if success(op).Content.Get(mime) != nil {
			o.formats = append(o.formats, mime)
		}
	}
	return o
}

// success is the answer of an operation that goes well.
func success(op *openapi3.Operation) *openapi3.Response {
	for _, status := range []string{"200", "201"} {
		if r := op.Responses.Value(status); r != nil {
			return r.Value
		}
	}
	return openapi3.NewResponse() // one without content
}

// operation is the operation a request was routed to; nil where the contract has none.
func (c *contract) operation(ctx echo.Context) *operation {
	return c.operations[ctx.Request().Method+" "+ctx.Path()]
}
