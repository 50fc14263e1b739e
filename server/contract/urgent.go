package contract

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/followup"
)

// urgent are the operations that may bring a report of distress.
var urgent = map[string]bool{"logEvent": true, "logReading": true, "restartTransfer": true}

// takeUrgent is take, but from a report of trouble it leaves out what breaks the contract, and
// says so in LeftOut: the report may be the only message that gets through from animals in
// distress.
func (c *Contract) takeUrgent(ctx echo.Context, op *Operation, to *Request) error {
	r := ctx.Request()
	raw, err := io.ReadAll(http.MaxBytesReader(ctx.Response(), r.Body, maxBody))
	if err != nil {
		return echo.NewHTTPError(http.StatusRequestEntityTooLarge, fmt.Sprintf("the body is larger than %d bytes", maxBody))
	}
	r.Body = io.NopCloser(bytes.NewReader(raw))
	var fields map[string]json.RawMessage
	distress := json.Unmarshal(bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf")), &fields) == nil && reports(fields)
	if distress { // whatever format it claims
		r.Header.Set(echo.HeaderContentType, echo.MIMEApplicationJSON)
	}
	refused := c.take(ctx, op, to)
	if refused == nil || !distress {
		return refused
	}
	var left []api.Fault
	for err := refused; err != nil; err = c.take(ctx, op, to) {
		faults := c.faultsOf(err)
		if len(left) > maxFields || !leaveOut(ctx, fields, faults) {
			return refused
		}
		left = append(left, faults...)
		if op.OperationID == "logEvent" && fields["event"] == nil { // distress reported without a known event
			fields["event"] = json.RawMessage(`"` + followup.LookWrong + `"`)
		}
		body, err := json.Marshal(fields) // without repeated fields
		if err != nil {
			return refused
		}
		r.Body, r.ContentLength = io.NopCloser(bytes.NewReader(body)), int64(len(body))
		r.GetBody = nil // the validator would read the first body again with it
	}
	to.LeftOut = left
	return nil
}

// reports reports whether a body holds an event or a sign of distress.
func reports(fields map[string]json.RawMessage) bool {
	for _, name := range []string{"event", "behaviour"} {
		var e followup.LogEntry
		body, err := json.Marshal(map[string]json.RawMessage{name: fields[name]})
		if err == nil && json.Unmarshal(body, &e) == nil && e.Urgent() {
			return true
		}
	}
	return false
}

// faultsOf lists what is wrong, each with its place; empty if the error has no places.
func (c *Contract) faultsOf(err error) []api.Fault {
	list := Faults{Speak: c.Speak}
	var walk func(error)
	walk = func(err error) {
		if _, ok := Describe(err, &list); ok {
			return
		}
		if many, ok := err.(interface{ Unwrap() []error }); ok {
			for _, each := range many.Unwrap() {
				walk(each)
			}
			return
		}
		if f := new(Fault); errors.As(err, &f) {
			f.Report(&list)
		}
		if f := new(NotAcceptableError); errors.As(err, &f) {
			list.Add(echo.HeaderAccept, f.Error(), "format")
		}
	}
	walk(err)
	return list.Told
}

// leaveOut takes what is wrong out of a request; false if nothing can be left out.
func leaveOut(ctx echo.Context, fields map[string]json.RawMessage, faults []api.Fault) bool {
	done := false
	r, q := ctx.Request(), ctx.QueryParams()
	for _, f := range faults {
		name, inBody := strings.CutPrefix(f.Where, "/")
		name, _, _ = strings.Cut(name, "/")
		switch {
		case inBody && (name == "" || fields[name] != nil):
			delete(fields, name)
			done = true
		case q.Has(f.Where):
			q.Del(f.Where)
			done = true
		case r.Header.Get(f.Where) != "":
			r.Header.Del(f.Where)
			done = true
		}
	}
	r.URL.RawQuery = q.Encode()
	return done
}
