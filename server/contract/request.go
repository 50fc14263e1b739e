package contract

import (
	"encoding/json"
	"errors"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/labstack/echo/v4"
	"github.com/munnerz/goautoneg"

	"saltlock/api"
	"saltlock/chem/quantity"
)

// maxParameters is how many parameters a query may give; a plan has some 130 to choose from.
const maxParameters = 250

// presentation names the query parameters that shape an answer and are not part of the question.
var presentation = map[string]bool{"format": true, "only": true, "curve": true, "units": true, "lang": true, "decimal": true, "sep": true, refresh: true}

// refresh makes a spreadsheet ask again. The first release called it _, which client generators
// refuse as a name; spreadsheets from then keep working.
const refresh, firstRefresh = "again", "_"

// Request is a request that keeps to the contract.
type Request struct {
	Operation *Operation
	Query     url.Values
	Format    string      // media type of the answer
	Table     bool        // the body is a table, not yet read
	LeftOut   []api.Fault // of an urgent report: what could not be used
	List      []byte      // a body whose items are not yet checked
	unpointed error       // quantities of the body that a decimal comma leaves unclear
}

// Take checks a request against its operation, finds all faults at once, and writes what it asks
// for to r. It leaves query and body as later decoders expect them.
func (c *Contract) Take(ctx echo.Context, op *Operation, r *Request) error {
	if urgent[op.OperationID] {
		return c.takeUrgent(ctx, op, r)
	}
	return c.take(ctx, op, r)
}

func (c *Contract) take(ctx echo.Context, op *Operation, r *Request) error {
	q, err := queryOf(ctx)
	if err != nil {
		return &QueryError{err}
	}
	if old, ok := q[firstRefresh]; ok {
		delete(q, firstRefresh)
		q[refresh] = old
	}
	*r = Request{Operation: op, Query: q}
	if op.Table {
		media, _ := bodyType(ctx.Request())
		r.Table = media == tableType
	}
	if r.Format, err = negotiate(r.formats(), q, HeaderOf(ctx.Request(), echo.HeaderAccept)); err != nil {
		return err
	}
	return c.check(ctx, r)
}

// queryOf parses a query once for everyone who asks the context for it.
func queryOf(ctx echo.Context) (url.Values, error) {
	raw := ctx.Request().URL.RawQuery
	for i := range len(raw) { // what the context would drop silently
		if raw[i] == ';' || raw[i] == '%' && !(len(raw) > i+2 && hexadecimal(raw[i+1]) && hexadecimal(raw[i+2])) {
			_, err := url.ParseQuery(raw)
			return nil, err
		}
	}
	return ctx.QueryParams(), nil
}

func hexadecimal(c byte) bool { return c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'f' }

// check runs every check of the request and joins what they find.
func (c *Contract) check(ctx echo.Context, a *Request) error {
	r, op := ctx.Request(), a.Operation
	if op.clear.recognises(ctx, a.Query) {
		return nil
	}
	if err := a.few(); err != nil {
		return err
	}
	faults := queryFaults(op, a.Query)
	if German(a.Query) {
		faults = append(faults, pointQuery(op, a.Query, certain))
	}
	changed := wholeNumbers(op, a.Query)
	if a.comma() {
		faults, changed = append(faults, pointQuery(op, a.Query, pointed)), true
	}
	if changed {
		r.URL.RawQuery = a.Query.Encode()
	}
	filter := *c.Filter
	filter.ExcludeRequestBody = op.Each
	if op.RequestBody != nil {
		if err := a.takeBody(ctx); err != nil {
			faults, filter.ExcludeRequestBody = append(faults, err), true
		}
		faults = append(faults, a.unpointed)
	}
	path := map[string]string{}
	for i, name := range ctx.ParamNames() {
		path[name] = ctx.ParamValues()[i]
	}
	faults = append(faults, openapi3filter.ValidateRequest(r.Context(), &openapi3filter.RequestValidationInput{
		Request: r, PathParams: path, QueryParams: a.Query, Route: &op.Route, Options: &filter,
	}))
	return errors.Join(faults...)
}

// few refuses a query with too many parameters before looking at any of them.
func (r *Request) few() error {
	n := 0
	for _, values := range r.Query {
		n += len(values)
	}
	if n > maxParameters {
		return &Fault{Where: "query", Note: quantity.Note{Code: "too_many_parameters", Params: []any{n, maxParameters}}, Rule: "maxItems"}
	}
	return nil
}

// wholeNumbers writes 4.0 and 1e0 as 4 and 1 where the contract requires a whole number.
func wholeNumbers(op *Operation, q url.Values) (changed bool) {
	for name, values := range q {
		if p, ok := op.Query[name]; !ok || !p.Schema.Value.Type.Is("integer") {
			continue
		}
		for i, v := range values {
			if !json.Valid([]byte(v)) { // Go would also read 0x1.8p4
				continue
			}
			if whole, err := plainNumber(v); err == nil && whole != v {
				values[i], changed = whole, true
			}
		}
	}
	return changed
}

// queryFaults finds what the validator misses: unknown and repeated names.
func queryFaults(op *Operation, q url.Values) []error {
	var faults []error
	for _, name := range slices.Sorted(maps.Keys(q)) {
		p, ok := op.Query[name]
		switch {
		case !ok && op.Class != Document:
			faults = append(faults, &Fault{Where: Clip(name), Note: unknownParameter(op, name), Rule: "unknown"})
		case ok && len(q[name]) > 1 && !p.Schema.Value.Type.Is("array"):
			faults = append(faults, &Fault{Where: name, Note: quantity.Note{Code: "given_repeatedly", Params: []any{len(q[name])}}, Rule: "repeated"})
		}
	}
	return faults
}

// HeaderOf is the first value of a header field, given by its canonical name, which Header.Get
// would work out anew for each request.
func HeaderOf(r *http.Request, name string) string {
	if values := r.Header[name]; len(values) > 0 {
		return values[0]
	}
	return ""
}

// unknownParameter says that an operation has no parameter of this name, and which one is near.
func unknownParameter(op *Operation, name string) quantity.Note {
	if near := quantity.Nearest(name, slices.Sorted(maps.Keys(op.Query))); near != "" {
		return quantity.Note{Code: "parameter_unknown_near", Params: []any{op.Route.Path, strconv.Quote(Clip(name)), strconv.Quote(near)}}
	}
	return quantity.Note{Code: "parameter_unknown", Params: []any{op.Route.Path, strconv.Quote(Clip(name))}}
}

// formats are the formats of the answer, the default first: a table is answered with a table.
func (r *Request) formats() []string {
	if !r.Table {
		return r.Operation.Formats
	}
	return append([]string{tableType}, slices.DeleteFunc(slices.Clone(r.Operation.Formats), func(f string) bool { return f == tableType })...)
}

// accepted is an Accept header in lower case, without the types it rules out: a weight of 0 means
// not acceptable [RFC 9110, 8.3.1 and 12.4.2].
func accepted(accept string) string {
	ranges := strings.Split(strings.ToLower(accept), ",")
	return strings.Join(slices.DeleteFunc(ranges, ruledOut.MatchString), ",")
}

var ruledOut = regexp.MustCompile(`;\s*q\s*=\s*0(\.0*)?\s*(;|$)`)

// negotiate picks the media type of the answer.
func negotiate(formats []string, q url.Values, accept string) (string, error) {
	if len(formats) == 0 {
		return "", nil
	}
	format := q.Get("format")
	for _, mime := range formats {
		if FormatOf[mime] == format {
			return mime, nil
		}
	}
	if accept == "" || format != "" { // an unknown format is a fault of the query
		return formats[0], nil
	}
	if q.Has("only") {
		formats = append(slices.Clone(formats), OneField)
	}
	switch chosen := goautoneg.Negotiate(accepted(accept), formats); chosen {
	case "":
		return "", &NotAcceptableError{accept: accept, offered: formats}
	case OneField:
		return echo.MIMEApplicationJSON, nil
	default:
		return chosen, nil
	}
}
