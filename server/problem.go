package server

import (
	"encoding/json"
	"errors"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
	"golang.org/x/text/language"

	"saltlock/api"
	"saltlock/chem/instrument"
	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
	"saltlock/server/contract"
	"saltlock/server/render"
	"saltlock/server/site"
	"saltlock/server/store"
)

// kind is a type of problem; its page under /problems explains it.
type kind = contract.Kind

var (
	unreachable   = kind{Name: "unreachable", Title: "No mix of these waters reaches the target", Status: http.StatusUnprocessableEntity}
	noPlan        = kind{Name: "no-plan", Title: "No plan keeps the animals within their limits", Status: http.StatusUnprocessableEntity}
	keyMissing    = kind{Name: "key-missing", Title: "Changing what is saved takes its key", Status: http.StatusUnauthorized}
	keyWrong      = kind{Name: "key-wrong", Title: "The key does not open what is asked for", Status: http.StatusForbidden}
	conflict      = kind{Name: "conflict", Title: "What is saved does not allow that", Status: http.StatusConflict}
	changedSince  = kind{Name: "changed-since", Title: "What is saved was changed since it was read", Status: http.StatusPreconditionFailed}
	retryReused   = kind{Name: "idempotency-key-reused", Title: "This idempotency key came with another body before", Status: http.StatusUnprocessableEntity}
	notFound      = kind{Name: "not-found", Title: "Nothing here has that name", Status: http.StatusNotFound}
	whichSpecies  = kind{Name: "which-species", Title: "Which one?", Status: http.StatusNotFound}
	notAcceptable = kind{Name: "not-acceptable", Title: "The answer has no such format", Status: http.StatusNotAcceptable}
)

// problem answers an error with a problem document. Only here does an error become an answer, and
// only here is it logged.
func (s *Server) problem(err error, c echo.Context) {
	switch {
	case left(c, err):
		c.Response().Status = statusLeft
		return
	case c.Response().Committed && c.Request().Context().Err() != nil: // the client left during the answer
		return
	case c.Response().Committed:
		s.log.Error("answer broken off", "path", c.Path(), "error", err)
		return
	}
	drainRefused(c)
	voice, inText := asksInText(c)
	voice.Animals = s.animals(voice)
	p, voice := spokenProblem(voice, err, s.place(c))
	if h, ok := hindered(err); ok {
		c.Response().Header().Set(echo.HeaderRetryAfter, h.retryAfter)
	}
	id := c.Response().Header().Get(echo.HeaderXRequestID)
	p.RequestId = &id
	if p.Status >= http.StatusInternalServerError && !errors.Is(err, errCrowded) && !errors.Is(err, errOutOfTime) { // the metrics have those
		s.log.Error("no answer", "path", c.Path(), "request_id", id, "error", err)
	}
	body, media := []byte(problemText(voice, p)), "text/plain; charset=utf-8"
	if !inText {
		media = problemMedia
		if body, err = json.Marshal(p); err != nil {
			s.log.Error("no problem document", "error", err)
		}
	}
	h := c.Response().Header()
	if s.contract.Operation(c) == nil && site.ForPeople(c.Request()) {
		page, err := s.site.Fault(p.Status, given(p.Detail), id)
		if err == nil {
			body, media = page, "text/html; charset=utf-8"
			h.Set("Content-Security-Policy", site.Policy)
		} else {
			s.log.Error("no page of a failed request", "error", err)
		}
	}
	h.Set("Content-Language", voice.Language.String())
	h.Del("ETag")
	h.Set("Cache-Control", "no-store")
	if p.Status == http.StatusUnauthorized {
		h.Set(echo.HeaderWWWAuthenticate, `Bearer realm="saved transfers"`)
	}
	if err := c.Blob(p.Status, media, body); err != nil {
		s.log.Warn("problem not sent", "request_id", id, "error", err)
	}
}

// place is how faults of this request name a field of the body: by JSON pointer, or by the flat
// name if the body was written as a query.
func (s *Server) place(c echo.Context) func(dotted string) string {
	if m := c.Request().Method; m == http.MethodPost || m == http.MethodPatch {
		return pointer
	}
	if c.Path() == "/v1/transfers/plan" {
		return s.contract.Plan.Name
	}
	return func(dotted string) string { return dotted }
}

// pointer is the JSON pointer of a field of a body.
func pointer(dotted string) string { return "/" + strings.ReplaceAll(dotted, ".", "/") }

// spokenProblem is the problem of an error, and the voice it is said in: the reader's if all of it
// can be said in that language, otherwise English. Nearly everything can: English alone are faults
// that only programs make, such as a body that is no JSON.
func spokenProblem(v render.Voice, err error, place func(string) string) (api.Problem, render.Voice) {
	refused := new(transfer.InfeasibleError)
	isRefused := errors.As(err, &refused)
	spoken, missed := v.Attentive()
	if isRefused {
		spoken.Fill(refused.Notes())
	}
	p, inEnglish := problemIn(spoken, err, place)
	if p.Errors != nil && p.Type != "/problems/"+noPlan.Name { // whose text names no place
		for _, f := range *p.Errors {
			placed(spoken, f)
		}
	}
	if v.Language == language.English || !inEnglish && !*missed {
		return p, v
	}
	v.Language = language.English
	if isRefused {
		v.Fill(refused.Notes())
	}
	return problemOf(err, place), v
}

// problemOf turns any error into a problem document, in English, that names every fault.
func problemOf(err error, place func(string) string) api.Problem {
	p, _ := problemIn(render.Voice{}, err, place)
	return p
}

// problemIn is problemOf in a language, and whether some of it is in English all the same.
func problemIn(v render.Voice, err error, place func(string) string) (p api.Problem, inEnglish bool) {
	var http4xx *echo.HTTPError
	if errors.As(err, &http4xx) {
		detail, _ := http4xx.Message.(string)
		return api.Problem{Type: "about:blank", Title: http.StatusText(http4xx.Code), Status: http4xx.Code, Detail: text(detail)}, true
	}
	faults := contract.Faults{Speak: saying(v)}
	kinds := sortFaults(v, err, place, &faults)
	if len(kinds) == 0 {
		return api.Problem{Type: "about:blank", Title: http.StatusText(http.StatusInternalServerError), Status: http.StatusInternalServerError}, true
	}
	k := kinds[0]
	for _, other := range kinds { // what breaks the contract comes first
		if other == contract.InvalidRequest {
			k = other
		}
	}
	title := k.Title
	if said, ok := titleOf(v, k); ok {
		title = said
	} else {
		faults.English = true
	}
	p = api.Problem{Type: "/problems/" + k.Name, Title: title, Status: k.Status, Detail: text(detailOf(v, faults))}
	if len(faults.Told) > 0 {
		p.Errors = &faults.Told
	}
	if faults.Untold > 0 {
		p.MoreErrors = &faults.Untold
	}
	return p, faults.English
}

func text(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// detailOf says the first fault in one sentence and counts the rest.
func detailOf(v render.Voice, faults contract.Faults) string {
	if len(faults.Told) == 0 {
		return ""
	}
	first := faults.Told[0].Where + ": " + faults.Told[0].Reason
	switch others := len(faults.Told) + faults.Untold - 1; {
	case others == 0:
		return first
	case faults.Untold > 0:
		return v.Say("detail_and_more", first, others, len(faults.Told)-1)
	}
	return v.Say("detail_more", first)
}

// sortFaults walks an error, appends what is wrong and returns the kinds of problem found. An
// error it does not know is a bug of ours and adds no kind. It is long because every error that can
// become an answer has its line here, and nowhere else.
func sortFaults(v render.Voice, err error, place func(string) string, faults *contract.Faults) []kind {
	add := func(k kind, where, reason, rule string) []kind {
		faults.Add(where, reason, rule)
		return []kind{k}
	}
	tell := func(k kind, where, reason, rule string) []kind {
		faults.Tell(api.Fault{Where: where, Reason: reason, Rule: rule})
		return []kind{k}
	}
	if kinds, ok := contract.Describe(err, faults); ok {
		return kinds
	}
	if h, ok := hindered(err); ok {
		return add(h.kind, "/", h.said(v, err), h.Name)
	}
	switch err {
	case store.ErrSpent:
		return add(conflict, "Idempotency-Key", "a transfer was saved with it before, and its key is not told again: only a random UUID (version 4 or 7) gets it, for a day and until the transfer is first changed. To save anew take a new one", "spent")
	case store.ErrConflict:
		return add(conflict, "/", "somebody else changes it at the same time; read it again and repeat", "conflict")
	case store.ErrRetry:
		return add(retryReused, "Idempotency-Key", "it came with another body before; take a new key for a new request", "reused")
	}
	switch e := err.(type) {
	case interface{ Unwrap() []error }:
		var kinds []kind
		for _, each := range e.Unwrap() {
			found := sortFaults(v, each, place, faults)
			if len(found) == 0 {
				return nil
			}
			kinds = append(kinds, found...)
		}
		return kinds
	case *contract.Fault:
		e.Report(faults)
		return []kind{contract.InvalidRequest}
	case *contract.QueryError:
		return add(contract.InvalidRequest, "query", e.Error()+"; write % as %25, ; as %3B, + as %2B", "query")
	case *contract.NotAcceptableError:
		return add(notAcceptable, "Accept", e.Error(), "format")
	case *quantity.ParseError:
		faults.SayParse("query", e)
		return []kind{contract.InvalidRequest}
	case *quantity.RangeError:
		return tell(contract.OutOfRange, place(e.Name), rangeReason(v, e), "range")
	case *instrument.MissingError:
		if e.Note.Code != "" {
			faults.Say(place(e.Name), "required", e.Note)
			return []kind{contract.InvalidRequest}
		}
		return add(contract.InvalidRequest, place(e.Name), "missing: "+e.Why, "required")
	case *instrument.ConflictError:
		if e.Note.Code != "" {
			faults.Say(place(e.Name), "conflict", e.Note)
			return []kind{contract.InvalidRequest}
		}
		return add(contract.InvalidRequest, place(e.Name), "does not go with "+place(e.Other)+". "+strings.ToUpper(e.Why[:1])+e.Why[1:], "conflict")
	case *mixing.UnreachableError:
		return tell(unreachable, place(e.Name), unreachableReason(v, e), "unreachable")
	case *transfer.InfeasibleError:
		for _, f := range e.Faults {
			faults.Tell(api.Fault{Where: place(f.Where), Reason: f.Note.Text, Rule: string(f.Note.Code), Offer: offerOf(f.Offer, place)})
		}
		return []kind{noPlan}
	case *tolerance.StageError:
		return tell(contract.InvalidRequest, place("stage"), stageReason(v, e), "stage")
	case *tolerance.UnknownPreferenceError:
		return tell(noPlan, place("stage"), v.Say("preference_unknown", e.ID), "unknown")
	case *tolerance.PreferenceError:
		return tell(noPlan, place(e.Name), preferenceReason(v, e), "range")
	case *keyError:
		if e.missing {
			return tell(keyMissing, "Authorization", v.Say("key_missing"), "required")
		}
		return tell(keyWrong, "Authorization", v.Say("key_wrong"), "key")
	case *conflictError:
		faults.Say(place(e.where), "conflict", e.why)
		return []kind{conflict}
	case *changedError:
		return add(changedSince, "If-Match", e.Error(), "changed")
	case *rateError:
		return add(tooMany, "/", e.Error(), "rate")
	case *store.DamagedError:
		return add(damaged, "transfer", "what is stored of this transfer is damaged and cannot be read; all others can. Plan the move anew from where the animals are", "damaged")
	case *store.UnclearError:
		faults.Tell(unclearFault(v, e, place("species")))
		if e.Outcome != store.NotThere {
			return []kind{whichSpecies}
		}
		return []kind{notFound}
	case *placedError:
		return sortFaults(v, e.error, func(string) string { return place(e.where) }, faults)
	case *store.NotFoundError:
		return tell(notFound, e.Kind, v.Say("transfer_not_found", e.ID), "not_found")
	}
	if inner := errors.Unwrap(err); inner != nil {
		return sortFaults(v, inner, place, faults)
	}
	return nil
}
