package server

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/server/render"
	"saltlock/server/store"
)

// Why the service cannot answer a request that has no fault.
var (
	storageFull   = kind{Name: "storage-full", Title: "Nothing more can be saved at the moment", Status: http.StatusInsufficientStorage}
	storageBusy   = kind{Name: "storage-busy", Title: "The database does not answer in time", Status: http.StatusServiceUnavailable}
	storageBroken = kind{Name: "storage-failed", Title: "The database cannot be used", Status: http.StatusServiceUnavailable}
	crowded       = kind{Name: "crowded", Title: "Too much is asked at once", Status: http.StatusServiceUnavailable}
	outOfTime     = kind{Name: "out-of-time", Title: "The answer takes longer than one may", Status: http.StatusServiceUnavailable}
	tooMany       = kind{Name: "too-many-requests", Title: "One client asks more than it may", Status: http.StatusTooManyRequests}
	damaged       = kind{Name: "damaged", Title: "This transfer cannot be read any more", Status: http.StatusInternalServerError}
)

// hindrance is a kind of problem that passes, and when to ask again.
type hindrance struct {
	kind
	cause      error
	why        string
	retryAfter string // s
}

// underWay is what holds for animals under way if nothing else was reported about them.
const underWay = "If animals are under way, go by the plan that you have"

var hindrances = []hindrance{
	{crowded, errCrowded, "the service computes as much as it can, and turns away the rest so that nobody waits long. Try again in a few seconds", "3"},
	{tooMany, errManyLinks, fmt.Sprintf("one client may send %d tables and lists of readings at a time. End one first, or put the readings into one table, which may have any length", linksOfClient), "5"},
	{outOfTime, errOutOfTime, "no plan was found in the time that one request may take. Try again when less is asked, or ask with fewer valve settings, without visits or by a fixed route", "10"},
	{storageFull, store.ErrFull, "the disk of the service is full; its operator must make room. Nothing was saved, changed or deleted. Plans and conversions are answered as before", "600"},
	{storageFull, store.ErrMany, "as many transfers are saved as the operator allows; each is deleted 30 days after its end. Plans and conversions are answered as before", "3600"},
	{storageBusy, store.ErrBusy, "another process holds the database; nothing was saved. Try again in a few seconds", "5"},
	{storageBusy, store.ErrGone, "the service does not reach its database. If you sent a change it may have been saved or not: read it again, or send it once more with the same Idempotency-Key. Plans and conversions are answered as before", "10"},
	{storageBroken, store.ErrBroken, "the file of the database was removed or replaced, or cannot be read or written; its operator must look at it. Nothing was saved", "60"},
}

// hindered finds what keeps the service from answering.
func hindered(err error) (hindrance, bool) {
	for _, h := range hindrances {
		if errors.Is(err, h.cause) {
			return h, true
		}
	}
	return hindrance{}, false
}

// said is why, for an error. What a report asks for comes first: it does not wait for a disk.
func (h hindrance) said(v render.Voice, err error) string {
	unsaved, ok := errors.AsType[*unsavedError](err)
	switch {
	case ok:
		words := ""
		for _, act := range unsaved.acts {
			words += v.Say(act.Code, act.Params...) + " "
		}
		return words + strings.ToUpper(h.why[:1]) + h.why[1:]
	case errors.Is(h.cause, store.ErrFull):
		return h.why + ". " + underWay
	}
	return h.why
}

// unsavedError says that a report could not be saved, and what to do all the same.
type unsavedError struct {
	cause error
	acts  []quantity.Note
}

func (e *unsavedError) Error() string { return e.cause.Error() }

func (e *unsavedError) Unwrap() error { return e.cause }

// unsaved adds to a fault of the database what a report asks for first. Without an answer to its log
// that is what never harms.
func unsaved(err error, entry followup.LogEntry, told *store.Told) error {
	if _, ok := hindered(err); !ok {
		return err
	}
	switch {
	case told != nil && (told.Course.Verdict == followup.Stopped || told.Course.Verdict == followup.Paused):
		return &unsavedError{err, append([]quantity.Note{told.Course.Now}, told.Course.Then[:min(1, len(told.Course.Then))]...)}
	case entry.Event != nil && *entry.Event == followup.PowerOff:
		return &unsavedError{err, []quantity.Note{{Code: "act_close_clamp"}, {Code: "power_air"}}}
	case entry.Stops():
		return &unsavedError{err, []quantity.Note{{Code: "act_close_clamp"}, {Code: "triage_air"}}}
	}
	return err
}

// statusLeft marks in the metrics an answer that nobody waits for.
const statusLeft = 499

// left reports whether an error only says that the client has left.
func left(c echo.Context, err error) bool {
	return errors.Is(err, context.Canceled) && errors.Is(c.Request().Context().Err(), context.Canceled)
}
