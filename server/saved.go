package server

import (
	"context"
	"errors"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/transfer"
	"saltlock/server/contract"
	"saltlock/server/store"
)

// How long a transfer is kept after its end, how far from now it may start, and how far ahead the
// clock of a client may be.
const (
	keptAfter    = 30 * 24 * time.Hour
	startedSince = 7 * 24 * time.Hour
	startsWithin = 366 * 24 * time.Hour
	clockAhead   = 10 * time.Minute
)

// attempts is how often a change is tried when another replica keeps getting in first.
const attempts = 5

// SaveTransfer answers POST /v1/transfers.
func (s *Server) SaveTransfer(c echo.Context, p api.SaveTransferParams) error {
	var request api.SaveTransferJSONRequestBody
	body, err := contract.Decode(c, &request)
	if err != nil {
		return err
	}
	now := s.now()
	assumed := request.Start == nil
	if assumed {
		request.Start = &now
	}
	if retry := retryOf(p.IdempotencyKey); retry != "" {
		saved, key, err := s.store.SavedBefore(c.Request().Context(), retry, body)
		if err == nil {
			return s.tellSaved(c, saved, key, assumed)
		}
		if !errors.Is(err, store.ErrNotFound) {
			return err
		}
	}
	kept, err := s.begin(c.Request().Context(), request, understanding(c))
	if err != nil {
		return err
	}
	expires := s.expiry(kept)
	saved, key, err := s.store.SaveTransfer(c.Request().Context(), kept, expires, retryOf(p.IdempotencyKey), body)
	if err != nil {
		return err
	}
	told := c.Request().Context().Err()
	if told == nil {
		told = s.tellSaved(c, saved, key, assumed)
	}
	if told == nil || c.Response().Committed && store.CanRetry(retryOf(p.IdempotencyKey)) {
		return told
	}
	// The key reached nobody and no retry can get it, so nobody could ever change the transfer. A
	// client that leaves after the answer is written may have read it.
	return errors.Join(told, s.store.DeleteTransfer(context.WithoutCancel(c.Request().Context()), saved))
}

// tellSaved answers with a transfer that was just saved and its key.
func (s *Server) tellSaved(c echo.Context, saved store.Transfer, key string, assumed bool) error {
	c.Response().Header().Set(echo.HeaderLocation, "/v1/transfers/"+saved.ID)
	return s.tell(c, http.StatusCreated, saved, key, assumed)
}

// GetTransfer answers GET /v1/transfers/{id}.
func (s *Server) GetTransfer(c echo.Context, id string) error {
	saved, err := s.store.Transfer(c.Request().Context(), id)
	if err != nil {
		return err
	}
	return s.tell(c, http.StatusOK, saved, "", false)
}

// ChangeTransfer answers PATCH /v1/transfers/{id}.
func (s *Server) ChangeTransfer(c echo.Context, id string, _ api.ChangeTransferParams) error {
	var change api.ChangeTransferJSONRequestBody
	if _, err := contract.Decode(c, &change); err != nil {
		return err
	}
	saved, err := s.opened(c, id, c.Request().Header.Values("If-Match"))
	if err != nil {
		return err
	}
	if change.Note != nil {
		saved.Note = *change.Note
	}
	undone := change.State != nil && *change.State == api.UnderWay
	switch {
	case undone && change.End != nil:
		return &contract.Fault{Where: "/end", Reason: "an end is given, and the state that removes it; give one of them", Rule: "one"}
	case undone:
		saved.Called, saved.End = false, nil
	case change.State != nil:
		saved.Called = *change.State == api.Cancelled
		if change.End == nil {
			change.End = new(s.now())
		}
		if !saved.Called && change.End.Before(*saved.Request.Start) { // moved over before it began
			change.End = saved.Request.Start
		}
	}
	if err := s.reschedule(c.Request().Context(), &saved.Kept, change.Start, change.End); err != nil {
		return err
	}
	if change.End != nil || undone {
		if err := s.follow(c.Request().Context(), &saved.Kept); err != nil {
			return err
		}
	}
	saved.Expires = s.expiry(saved.Kept)
	if saved, err = s.store.ChangeTransfer(c.Request().Context(), saved); err != nil {
		return err
	}
	return s.tell(c, http.StatusOK, saved, "", false)
}

// DeleteTransfer answers DELETE /v1/transfers/{id}.
func (s *Server) DeleteTransfer(c echo.Context, id string, _ api.DeleteTransferParams) error {
	saved, err := s.opened(c, id, c.Request().Header.Values("If-Match"))
	if err != nil {
		return err
	}
	if err := s.store.DeleteTransfer(c.Request().Context(), saved); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

func (s *Server) now() time.Time { return s.store.Now().UTC().Truncate(time.Second) }

// opened is the transfer that the request's key opens, in the state that If-Match asks for.
func (s *Server) opened(c echo.Context, id string, ifMatch []string) (store.Transfer, error) {
	saved, err := s.store.Transfer(c.Request().Context(), id)
	if err != nil {
		return saved, err
	}
	scheme, key, _ := strings.Cut(c.Request().Header.Get(echo.HeaderAuthorization), " ")
	if key = strings.TrimSpace(key); key == "" || !strings.EqualFold(scheme, "Bearer") {
		return saved, &keyError{missing: true}
	}
	if !saved.Opens(key) && !(loggable[askedOf(c).Operation.OperationID] && saved.OpensLog(key)) {
		return saved, &keyError{}
	}
	switch tags := strings.Join(ifMatch, ","); {
	case ifMatch == nil:
		return saved, nil
	case !entityTags.MatchString(tags):
		return saved, &contract.Fault{Where: "If-Match", Reason: "names no ETag; write it with its quotes, as the answer had it", Rule: "format"}
	case matches(tags, saved.Version):
		return saved, nil
	}
	return saved, &changedError{}
}

// entityTags is what If-Match holds (RFC 9110, 13.1.1); a list may have empty places.
var entityTags = regexp.MustCompile(`^[ \t]*(?:\*|(?:W/)?"[^"\s]*")[ \t]*(?:,[ \t]*(?:(?:W/)?"[^"\s]*")?[ \t]*)*$`)

// loggable are the operations that a helper's key opens too.
var loggable = map[string]bool{"logReading": true, "logEvent": true}

// matches reports whether If-Match names this version, in whatever format it was read.
func matches(ifMatch string, version int) bool {
	for tag := range strings.SplitSeq(ifMatch, ",") {
		if tag = strings.TrimSpace(tag); tag == "*" || strings.HasPrefix(tag, `"`+strconv.Itoa(version)+"-") {
			return true
		}
	}
	return false
}

// retryOf normalises an idempotency key: some clients quote it, and some write a UUID in capitals.
func retryOf(s *string) string {
	key := given(s)
	if len(key) > 2 && key[0] == '"' && key[len(key)-1] == '"' {
		key = key[1 : len(key)-1]
	}
	if store.CanRetry(key) {
		return strings.ToLower(key)
	}
	return key
}

func given(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

// stamp writes a time for a sentence on the clock that a transfer goes by, as in 1 December 2026,
// 09:00. UTC is named, since it may not be the keeper's clock.
func stamp(r transfer.Request, t time.Time) string {
	at := r.Clock(t.Sub(*r.Start).Hours()).Round(time.Second)
	if zone, _ := at.Zone(); zone == "UTC" {
		return at.Format("2 January 2006, 15:04 MST")
	}
	return at.Format("2 January 2006, 15:04")
}

// dayOf is the date of a time on that clock.
func dayOf(r transfer.Request, t time.Time) string {
	return r.Clock(t.Sub(*r.Start).Hours()).Format("2 January 2006")
}
