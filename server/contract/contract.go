// Package contract holds requests to openapi.yaml: it checks them, says what is wrong with them,
// turns a flat query into the body it stands for, and announces deprecations.
package contract

import (
	"errors"
	"fmt"
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

// Contract is openapi.yaml, prepared for checking requests.
type Contract struct {
	Doc        *openapi3.T
	Operations map[string]*Operation // by method and echo path: "GET /v1/species/:id"
	Filter     *openapi3filter.Options
	Plan       *Flattening          // of the query of GET /v1/transfers/plan
	Speak      func(*quantity.Note) // writes the sentences of what is left out of a report
}

// Operation is one operation of the contract.
type Operation struct {
	*openapi3.Operation
	Route   routers.Route
	Query   map[string]*openapi3.Parameter
	Formats []string // it answers in, the default first
	Each    bool     // its body is a list whose items are checked one by one
	Table   bool     // its body may be a table
	Class   Class
	clear   *clearcut // nil if the validator judges every request
	Ending  *Deprecation
}

// Load reads the contract and registers the string formats of its quantities.
func Load(spec []byte) (*Contract, error) {
	doc, err := openapi3.NewLoader().LoadFromData(spec)
	if err != nil {
		return nil, fmt.Errorf("read the contract: %w", err)
	}
	c := &Contract{Doc: doc, Operations: map[string]*Operation{}, Filter: &openapi3filter.Options{
		MultiError: true, SkipSettingDefaults: true,
		AuthenticationFunc: openapi3filter.NoopAuthenticationFunc, // the key is checked where the transfer is known
	}}
	formats := textFormats()
	for name, f := range formats {
		c.Filter.SchemaValidationOptions = append(c.Filter.SchemaValidationOptions, openapi3.WithStringFormatValidator(name, f))
	}
	for path, item := range doc.Paths.Map() {
		for method, op := range item.Operations() {
			key := method + " " + strings.NewReplacer("{", ":", "}", "").Replace(path)
			o := newOperation(doc, path, method, item, op)
			o.clear = clearcutOf(op, item, formats)
			var noClass, noDays error
			o.Class, noClass = classOf(op)
			o.Ending, noDays = deprecationOf(op)
			if err := errors.Join(noClass, noDays); err != nil {
				return nil, err
			}
			c.Operations[key] = o
		}
	}
	if c.Plan, err = flatten(c.Operations["GET /v1/transfers/plan"], doc.Components.Schemas["TransferRequest"].Value); err != nil {
		return nil, err
	}
	return c, nil
}

// textFormats are the formats of the contract's texts, each with its parser.
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
			name = "time-span" // the standard "duration" would be that of ISO 8601, as in P30D
		}
		formats[name] = f
	}
	return formats
}

// check turns a function into a validator of a string format.
type check func(string) error

func (f check) Validate(s string) error {
	if len(s) > MaxText {
		return ErrLong
	}
	return f(s)
}

// MaxText is the longest text that is read as a quantity; the contract allows less.
const MaxText = 256

// ErrLong is for texts that the contract's maxLength refuses.
var ErrLong = fmt.Errorf("longer than %d bytes", MaxText)

const secondsOfDay = 24 * 60 * 60

// Years of times that are accepted: calendars know only four digits, and all of these are less
// than 292 years apart, which a time.Duration can hold.
const firstYear, lastYear = 1970, 2199

func readableTime(s string) error {
	wrong := func(reason string, said quantity.Note) error {
		return &quantity.ParseError{Given: Clip(s), Reason: reason, Note: &said}
	}
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		return wrong("no time", quantity.Note{Code: "no_time"})
	}
	if y := t.UTC().Year(); y < firstYear || y > lastYear {
		return wrong("the year is out of range", quantity.Note{Code: "year_out_of_range", Params: []any{firstYear, lastYear}})
	}
	// Go reads such an offset but does not write it again.
	if _, offset := t.Zone(); offset <= -secondsOfDay || offset >= secondsOfDay {
		return wrong("the offset is out of range", quantity.Note{Code: "offset_out_of_range"})
	}
	return nil
}

// FormatOf is the value of format= for each media type.
var FormatOf = map[string]string{
	"application/json": "json", "text/csv": "csv", "text/plain": "text",
	"image/svg+xml": "svg", "image/png": "png", "text/calendar": "ics",
}

// tableType is the media type of a table.
const tableType = "text/csv"

// OneField is the media type of a single field, which only= gives as JSON. Its own name keeps
// typed clients from reading it as the whole answer.
const OneField = "application/vnd.saltlock.field+json"

// offered lists the media types in the order of preference where a client accepts several.
var offered = []string{"application/json", "text/csv", "text/plain", "image/svg+xml", "image/png", "text/calendar"}

func newOperation(doc *openapi3.T, path, method string, item *openapi3.PathItem, op *openapi3.Operation) *Operation {
	o := &Operation{
		Operation: op,
		Route:     routers.Route{Spec: doc, Path: path, PathItem: item, Method: method, Operation: op},
		Query:     map[string]*openapi3.Parameter{},
	}
	for _, p := range op.Parameters {
		if p.Value.In == openapi3.ParameterInQuery {
			o.Query[p.Value.Name] = p.Value
		}
	}
	if op.RequestBody != nil {
		content := op.RequestBody.Value.Content
		list := content.Get("application/json")
		o.Each = list != nil && list.Schema.Value.Type.Is("array")
		_, o.Table = content[tableType]
	}
	for _, mime := range offered {
		if success(op).Content.Get(mime) != nil {
			o.Formats = append(o.Formats, mime)
		}
	}
	return o
}

// success is the answer of an operation that succeeds.
func success(op *openapi3.Operation) *openapi3.Response {
	for _, status := range []string{"200", "201"} {
		if r := op.Responses.Value(status); r != nil {
			return r.Value
		}
	}
	return openapi3.NewResponse() // an answer without content
}

// ByID is the operation with this operationId; nil if the contract has none.
func (c *Contract) ByID(id string) *Operation {
	for _, o := range c.Operations {
		if o.OperationID == id {
			return o
		}
	}
	return nil
}

// Operation is the operation a request was routed to; nil if the contract has none.
func (c *Contract) Operation(ctx echo.Context) *Operation {
	return c.Operations[ctx.Request().Method+" "+ctx.Path()]
}
