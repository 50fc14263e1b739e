package contract

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
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
	plain := bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf"))
	distress := json.Unmarshal(plain, &fields) == nil && gravest(plain, fields) && reports(fields)
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
		left = append(left, slices.DeleteFunc(faults, kept)...)
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

// gravest keeps the gravest of what a report says twice, and reports whether it can be read.
func gravest(body []byte, fields map[string]json.RawMessage) bool {
	gravity := func(value json.RawMessage) int {
		var name followup.Event
		if json.Unmarshal(value, &name) != nil {
			return 0
		}
		if seen := followup.Behaviour(name); (followup.LogEntry{Behaviour: &seen}).Distressed() || name == followup.LookWrong {
			return 4
		}
		return map[followup.Event]int{followup.Stop: 3, followup.PowerOff: 2}[name]
	}
	in := json.NewDecoder(bytes.NewReader(body))
	for _, err := in.Token(); in.More(); { // the brace, then names and values
		name, wrong := in.Token()
		var value json.RawMessage
		if err != nil || wrong != nil || in.Decode(&value) != nil {
			return false
		}
		if name, _ := name.(string); twice[name] && gravity(value) > gravity(fields[name]) {
			fields[name] = value
		}
	}
	return true
}

// twice are the fields of which the gravest value is kept if they are given repeatedly.
var twice = map[string]bool{"event": true, "behaviour": true}

// kept reports whether a fault leaves nothing out, since the gravest value is kept.
func kept(f api.Fault) bool { return f.Rule == "repeated" && twice[strings.TrimPrefix(f.Where, "/")] }

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
		case kept(f): // the body is written anew without it
			done = true
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
