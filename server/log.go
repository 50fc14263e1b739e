package server

import (
	"context"
	"errors"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/server/contract"
	"saltlock/server/render"
	"saltlock/server/store"
)

// What a log may hold. Reports of trouble have room beyond it.
const (
	mostEntries = 10_000
	mostUrgent  = 20_000
)

// LogReading answers POST /v1/transfers/{id}/readings.
func (s *Server) LogReading(c echo.Context, id string, p api.LogReadingParams) error {
	return s.addToLog(c, id, retryOf(p.IdempotencyKey))
}

// LogEvent answers POST /v1/transfers/{id}/events.
func (s *Server) LogEvent(c echo.Context, id string, p api.LogEventParams) error {
	return s.addToLog(c, id, retryOf(p.IdempotencyKey))
}

// addToLog adds one entry to the log of a transfer and answers with what it shows.
func (s *Server) addToLog(c echo.Context, id, retry string) error {
	var entry followup.LogEntry
	body, err := contract.Decode(c, &entry)
	if err != nil {
		return err
	}
	return s.keepEntry(c, id, retry, entry, body)
}

// keepEntry adds an entry sent as this body and answers with what it shows.
func (s *Server) keepEntry(c echo.Context, id, retry string, entry followup.LogEntry, body []byte) (err error) {
	if entry.Time == nil {
		now := s.now()
		entry.Time = &now
	}
	sent := store.NewSent(retry, body)
	left := s.newBudget() // for all attempts together
	leave, err := s.turns.enter(c.Request().Context(), id, entry.Urgent())
	if err != nil {
		return err
	}
	defer leave()
	for range attempts {
		var saved store.Transfer
		if saved, err = s.addEntry(c, left, id, entry, sent); !errors.Is(err, store.ErrConflict) {
			if err != nil {
				return err
			}
			c.Response().Header().Set(echo.HeaderLocation, "/v1/transfers/"+saved.ID)
			return s.tell(c, 201, saved, "", false)
		}
	}
	return err
}

// addEntry tries once to add an entry to the log, unless it was sent before.
func (s *Server) addEntry(c echo.Context, left *budget, id string, entry followup.LogEntry, sent *store.Sent) (store.Transfer, error) {
	saved, err := s.opened(c, id, nil)
	if err != nil {
		return saved, unsaved(err, entry, nil)
	}
	for _, logged := range saved.Log {
		if before, err := sent.Before(logged.Sent); before || err != nil {
			return saved, err
		}
	}
	notes := leftOut(askedOf(c).LeftOut)
	if askedOf(c).Operation.OperationID == "restartTransfer" {
		notes = append(notes, quantity.Note{Code: "not_restarted"})
	}
	if entry.Urgent() {
		var faults []followup.Fault
		if entry.Time.Sub(s.now()) > clockAhead {
			faults = append(faults, followup.Fault{Field: "time", Err: s.ahead(entry)})
			entry.Time = new(s.now())
		}
		usable, more := entry.Usable(saved.Request.WithDefaults(), s.now())
		entry = usable
		notes = append(notes, faultNotes(append(faults, more...))...)
	}
	if err := s.takes(saved, entry); err != nil {
		return saved, err
	}
	saved.Log = append(saved.Log, store.Logged{Entry: entry, Sent: sent})
	follow := func(ctx context.Context) error { return s.follow(ctx, &saved.Kept) }
	if entry.Urgent() { // nothing is planned for it, so it waits for nothing
		err = follow(c.Request().Context())
	} else {
		err = s.planned(c.Request().Context(), left, follow)
	}
	if err != nil {
		return saved, err
	}
	saved.Told.Course.Warnings = slices.Insert(saved.Told.Course.Warnings, 0, notes...)
	saved.Expires = s.expiry(saved.Kept)
	kept, err := s.store.ChangeTransfer(c.Request().Context(), saved)
	return kept, unsaved(err, entry, saved.Told)
}

// takes reports whether a transfer takes one more entry, and this one.
func (s *Server) takes(saved store.Transfer, entry followup.LogEntry) error {
	if entry.Urgent() {
		if len(saved.Log) >= mostUrgent {
			return conflictOf("", "log_is_full", mostUrgent)
		}
		return nil
	}
	cares := entry.Behaviour != nil || entry.Temperature != nil || entry.TAN != nil || entry.Nitrite != nil || saved.Told.Course.InDistress()
	if saved.End != nil && !entry.Time.Before(*saved.End) && !cares {
		return conflictOf("time", "log_after_the_end", stamp(saved.Request, *saved.End))
	}
	if len(saved.Log) >= mostEntries {
		return conflictOf("", "log_takes_no_readings", mostEntries)
	}
	if entry.Time.Sub(s.now()) > clockAhead {
		return s.ahead(entry)
	}
	return entry.Check(saved.Request.WithDefaults())
}

// ahead says that an entry is from the future.
func (s *Server) ahead(entry followup.LogEntry) error {
	return &quantity.RangeError{Name: "time", Value: entry.Time.Sub(s.now()).Hours(), Lo: -startsWithin.Hours(), Hi: 0, Unit: fromNow}
}

// leftOut names the parts of an urgent report that broke the contract.
func leftOut(faults []api.Fault) []quantity.Note {
	var notes []quantity.Note
	for _, f := range faults {
		notes = append(notes, quantity.Note{Code: "left_out", Params: []any{strings.TrimPrefix(f.Where, "/"), strings.TrimSuffix(f.Reason, ".")}})
	}
	return notes
}

// faultNotes names the parts of an urgent report that cannot be.
func faultNotes(list []followup.Fault) []quantity.Note {
	var notes []quantity.Note
	for _, f := range list {
		told := contract.Faults{Speak: saying(render.Voice{})}
		sortFaults(render.Voice{}, f.Err, pointer, &told)
		for _, fault := range leftOut(told.Told) {
			fault.Params[0] = f.Field // the field left out, not the one it needs
			notes = append(notes, fault)
		}
	}
	return notes
}
