package server

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/labstack/echo/v4"
	"github.com/munnerz/goautoneg"

	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// maxParameters is the most that a query may give; a plan has some 130 to choose from.
const maxParameters = 250

// presentation names the query parameters that shape an answer and do not
// belong to the question.
var presentation = map[string]bool{"format": true, "only": true, "units": true, "lang": true, "decimal": true, "sep": true, "_": true}

// asked is what a valid request says about its answer.
type asked struct {
	operation  *operation
	table      bool   // the body is a table, not yet read
	anyTag     bool   // a client that holds any answer wants 304 (If-None-Match: *)
	format     string // media type
	only       string
	voice      render.Voice
	separator  rune
	query      url.Values
	edition    string       // of the species table
	tag        string       // of the answer; empty where it depends on more than the request
	prepared   *prepared    // where to keep the answer; nil where it is not kept
	understood []understood // names of species in the request
}

// validate checks a request against the contract, all faults at once, and
// answers 304 where the client still holds the answer.
func (s *Server) validate(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		op := s.contract.operation(c)
		if op == nil {
			return next(c) // echo's own 404 and 405
		}
		if op.ending != nil {
			op.ending.announce(c.Response().Header(), op.OperationID)
		}
		r := c.Request()
		q, err := url.ParseQuery(r.URL.RawQuery)
		if err != nil {
			return &queryError{err}
		}
		a := &asked{operation: op, query: q, edition: s.store.DataVersion()}
		if a.format, err = negotiate(op, q.Get("format"), r.Header.Get(echo.HeaderAccept)); err != nil {
			return err
		}
		if err := s.check(c, a); err != nil {
			return err
		}
		a.read()
		c.Set("asked", a)
		if r.Method == http.MethodGet && !op.stored && strings.HasPrefix(op.route.Path, "/v1/") {
			a.tag = a.etag(r.URL.Path)
			c.Response().Header().Set("ETag", a.tag)
			a.anyTag = strings.TrimSpace(r.Header.Get("If-None-Match")) == "*"
			if held(r.Header.Get("If-None-Match"), a.tag) {
				cacheable(c)
				return c.NoContent(http.StatusNotModified)
			}
			if op.many {
				a.prepared = s.prepared
				if known, ok := s.prepared.get(a.tag); ok {
					return a.send(c, http.StatusOK, known)
				}
			}
		}
		return next(c)
	}
}

// check runs every check of the request and joins what they find.
func (s *Server) check(c echo.Context, a *asked) error {
	r, op := c.Request(), a.operation
	if err := a.few(); err != nil {
		return err
	}
	if op.clear.recognises(c, a.query) {
		return nil
	}
	faults := queryFaults(op, a.query)
	changed := wholeNumbers(op, a.query)
	if a.query.Get("decimal") == "comma" {
		faults, changed = append(faults, pointed(op, a.query)), true
	}
	if changed {
		r.URL.RawQuery = a.query.Encode()
	}
	filter := *s.contract.filter
	filter.ExcludeRequestBody = op.each
	if op.RequestBody != nil {
		if err := a.takeBody(c); err != nil {
			return err
		}
	}
	path := map[string]string{}
	for i, name := range c.ParamNames() {
		path[name] = c.ParamValues()[i]
	}
	faults = append(faults, openapi3filter.ValidateRequest(r.Context(), &openapi3filter.RequestValidationInput{
		Request: r, PathParams: path, QueryParams: a.query, Route: &op.route, Options: &filter,
	}))
	return errors.Join(faults...)
}

// few refuses a query of too many parameters before any of them is looked at.
func (a *asked) few() error {
	n := 0
	for _, values := range a.query {
		n += len(values)
	}
	if n > maxParameters {
		return &fault{Where: "query", Reason: fmt.Sprintf("has %d parameters; at most %d are read", n, maxParameters), Rule: "maxItems"}
	}
	return nil
}

// wholeNumbers writes 4.0 and 1e0 as 4 and 1 where the contract wants a whole number.
func wholeNumbers(op *operation, q url.Values) (changed bool) {
	for name, values := range q {
		if p, ok := op.query[name]; !ok || !p.Schema.Value.Type.Is("integer") {
			continue
		}
		for i, v := range values {
			if whole, err := plainNumber(v); err == nil && whole != v {
				values[i], changed = whole, true
			}
		}
	}
	return changed
}

// queryFaults finds what the validator lets pass: unknown and repeated names.
func queryFaults(op *operation, q url.Values) []error {
	var faults []error
	for _, name := range slices.Sorted(maps.Keys(q)) {
		p, ok := op.query[name]
		switch {
		case !ok && strings.HasPrefix(op.route.Path, "/v1/"):
			reason := fmt.Sprintf("%s has no parameter %q", op.route.Path, clip(name))
			faults = append(faults, &fault{Where: clip(name), Reason: reason + hint(name, slices.Sorted(maps.Keys(op.query))), Rule: "unknown"})
		case ok && len(q[name]) > 1 && !p.Schema.Value.Type.Is("array"):
			faults = append(faults, &fault{Where: name, Reason: fmt.Sprintf("given %d times; give it once", len(q[name])), Rule: "repeated"})
		}
	}
	return faults
}

// negotiate picks the media type of the answer.
func negotiate(op *operation, format, accept string) (string, error) {
	if len(op.formats) == 0 {
		return "", nil
	}
	for _, mime := range op.formats {
		if formatOf[mime] == format {
			return mime, nil
		}
	}
	if accept == "" || format != "" { // an unknown format is a fault of the query
		return op.formats[0], nil
	}
	if chosen := goautoneg.Negotiate(accept, op.formats); chosen != "" {
		return chosen, nil
	}
	return "", &notAcceptableError{accept: accept, offered: op.formats}
}

// digitComma is a comma that can only be a decimal mark.
var digitComma = regexp.MustCompile(`(\d),(\d)`)

// pointed turns decimal commas of the query's quantities into points.
func pointed(op *operation, q url.Values) error {
	var faults []error
	for name, values := range q {
		p, ok := op.query[name]
		if !ok {
			continue
		}
		schema := p.Schema.Value
		if schema.Type.Is("array") {
			schema = schema.Items.Value
		}
		for i, v := range values {
			if schema.Format == "portion" { // its commas also part the quantities
				values[i] = digitComma.ReplaceAllString(v, "$1.$2")
			} else if schema.Format != "" {
				text, err := quantity.DecimalComma(v)
				if err != nil {
					faults = append(faults, &fault{Where: name, Reason: err.Error(), Rule: "quantity"})
					continue
				}
				values[i] = text
			}
		}
	}
	return errors.Join(faults...)
}

// pointedBody turns decimal commas inside the strings of a JSON body into points.
func pointedBody(body []byte) []byte {
	return jsonString.ReplaceAllFunc(body, func(s []byte) []byte { return digitComma.ReplaceAll(s, []byte("$1.$2")) })
}

var jsonString = regexp.MustCompile(`"(?:[^"\\]|\\.)*"`)

// read takes how the answer shall look from a query that is valid.
func (a *asked) read() {
	a.only = a.query.Get("only")
	a.voice = voiceOf(a.query)
	a.separator = ','
	if sep := a.query.Get("sep"); sep == "semicolon" || (sep == "" && a.voice.Comma) {
		a.separator = ';' // a decimal comma and a comma between cells would not be told apart
	}
}

// voiceOf is how a query wants to be spoken to.
func voiceOf(q url.Values) render.Voice {
	return render.Voice{Language: render.Language(q.Get("lang")), Units: render.Units(q.Get("units")), Comma: q.Get("decimal") == "comma"}
}

// speaks is the voice of the answer's sentences; of units JSON is the same for everybody.
func (a *asked) speaks() render.Voice {
	if a.format == echo.MIMEApplicationJSON {
		return render.Voice{Language: a.voice.Language}
	}
	return a.voice
}

// etag names the answer by all that it depends on.
func (a *asked) etag(path string) string {
	q := maps.Clone(a.query)
	delete(q, "_")
	delete(q, "format")
	sum := sha256.Sum256([]byte(strings.Join([]string{a.operation.OperationID, path, q.Encode(), a.format, Version, a.edition}, "\n")))
	return `"` + hex.EncodeToString(sum[:12]) + `"`
}

// held tells whether a client's If-None-Match names the answer.
func held(ifNoneMatch, tag string) bool {
	for t := range strings.SplitSeq(ifNoneMatch, ",") {
		if t = strings.TrimPrefix(strings.TrimSpace(t), "W/"); t == tag {
			return true
		}
	}
	return false
}

// cacheable says how long, and for whom, an answer holds.
func cacheable(c echo.Context) {
	h := c.Response().Header()
	h.Set("Cache-Control", "public, max-age=3600")
	h.Set("Vary", "Accept, Accept-Encoding")
}
