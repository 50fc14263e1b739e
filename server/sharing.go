package server

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/followup"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/server/contract"
	"saltlock/server/render"
	"saltlock/server/store"
)

// CreateHelperKey answers POST /v1/transfers/{id}/helper-key.
func (s *Server) CreateHelperKey(c echo.Context, id string) error {
	saved, err := s.opened(c, id, nil)
	if err != nil {
		return err
	}
	key := saved.NewHelper()
	if _, err := s.store.ChangeTransfer(c.Request().Context(), saved); err != nil {
		return err
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return c.JSON(http.StatusCreated, struct {
		Key string `json:"key"`
	}{key})
}

// RevokeHelperKey answers DELETE /v1/transfers/{id}/helper-key.
func (s *Server) RevokeHelperKey(c echo.Context, id string) error {
	saved, err := s.opened(c, id, nil)
	if err != nil {
		return err
	}
	saved.Helper = nil
	if _, err := s.store.ChangeTransfer(c.Request().Context(), saved); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

// RestartTransfer answers POST /v1/transfers/{id}/restart.
func (s *Server) RestartTransfer(c echo.Context, id string, p api.RestartTransferParams) error {
	var entry followup.LogEntry
	body, err := contract.Decode(c, &entry)
	if err != nil {
		return err
	}
	if entry.Urgent() { // trouble is never turned away, and nothing goes on because of it
		return s.keepEntry(c, id, retryOf(p.IdempotencyKey), entry, body)
	}
	if entry.Time == nil {
		entry.Time = new(s.now())
	}
	saved, err := s.opened(c, id, nil)
	if err != nil {
		return err
	}
	sent := store.NewSent(retryOf(p.IdempotencyKey), body)
	for _, logged := range saved.Log {
		if before, err := sent.Before(logged.Sent); before || err != nil {
			if err != nil {
				return err
			}
			return s.tell(c, http.StatusCreated, saved, "", false)
		}
	}
	if err := s.restarts(saved, entry); err != nil {
		return err
	}
	entry.Event = new(followup.Restarted)
	saved.Log = append(saved.Log, store.Logged{Entry: entry, Sent: sent})
	err = s.planned(c.Request().Context(), s.newBudget(), func(ctx context.Context) error { return s.follow(ctx, &saved.Kept) })
	if err != nil {
		return err
	}
	saved.Expires = s.expiry(saved.Kept)
	if saved, err = s.store.ChangeTransfer(c.Request().Context(), saved); err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderLocation, "/v1/transfers/"+saved.ID)
	return s.tell(c, http.StatusCreated, saved, "", false)
}

// restarts reports whether a transfer can go on from a reading.
func (s *Server) restarts(saved store.Transfer, entry followup.LogEntry) error {
	course := saved.Told.Course
	switch {
	case over(saved, s.now()):
		return conflictOf("", "transfer_has_ended")
	case course.Verdict != followup.Stopped && course.Tells("why_power_off", "why_only_power_off"):
		return conflictOf("", "power_still_off")
	case course.Verdict != followup.Stopped:
		return conflictOf("", "transfer_not_stopped")
	case course.Tells(followup.RunsOn...):
		return conflictOf("", "clamp_still_runs")
	case course.Tells(followup.RunsDry...):
		return conflictOf("", "container_runs_dry")
	case entry.Salinity == nil:
		return &instrument.MissingError{Name: "salinity", Why: "the new plan begins with what you read now", Note: quantity.Note{Code: "restart_needs_reading"}}
	}
	if err := rested(saved, entry); err != nil {
		return err
	}
	if entry.Time.Sub(s.now()) > clockAhead {
		return s.ahead(entry)
	}
	return entry.Check(saved.Request.WithDefaults())
}

// rested reports whether the animals have rested as long as they were to. After distress that counts
// from the first look that found them well, and they are looked at once more before they go on.
func rested(saved store.Transfer, entry followup.LogEntry) error {
	course := saved.Told.Course
	w := course.WayOn
	if w == nil {
		return nil
	}
	from := saved.Request.Clock(float64(w.Earliest.Value))
	if course.AfterDistress() && course.InDistress() { // the look is still to come, so all of the rest is
		if rest := time.Duration(float64(w.Earliest.Value-course.Time.Value) * float64(time.Hour)); entry.Time.Add(rest).After(from) {
			from = entry.Time.Add(rest)
		}
		return conflictOf("behaviour", "animals_not_found_well", stamp(saved.Request, from))
	}
	if entry.Time.Before(from.Add(-time.Minute)) {
		return conflictOf("time", "animals_rest_until", stamp(saved.Request, from))
	}
	if course.AfterDistress() && entry.Behaviour == nil {
		return &instrument.MissingError{Name: "behaviour", Why: "after distress, look at the animals before they go on", Note: quantity.Note{Code: "restart_needs_look"}}
	}
	return nil
}

// transferExport is all that is kept of a transfer, without its keys.
type transferExport struct {
	*savedTransfer
	Legs []exportedLeg `json:"legs"`
}

// exportedLeg is a stretch under one plan, as its keeper was given it.
type exportedLeg struct {
	Start time.Time                             `json:"start"`
	Held  *quantity.Estimate[quantity.Duration] `json:"held,omitempty"`
	Steps []exportedStep                        `json:"steps"`
}

type exportedStep struct {
	PourTo *quantity.Estimate[quantity.Volume]  `json:"pour_to,omitempty"`
	Drip   quantity.Estimate[quantity.DripRate] `json:"drip"`
	Until  quantity.Estimate[quantity.Volume]   `json:"until"`
	Set    bool                                 `json:"set"`
}

// exportedEntry is a row of the log.
type exportedEntry struct {
	Time        string                               `json:"time"`
	Event       string                               `json:"event"`
	Salinity    string                               `json:"salinity"`
	Temperature *quantity.Estimate[quantity.Celsius] `json:"temperature"`
	Volume      *quantity.Estimate[quantity.Volume]  `json:"volume"`
	Level       *quantity.Estimate[quantity.Length]  `json:"level"`
	Drops       string                               `json:"drops"`
	Cups        *int                                 `json:"cups"`

	TAN     *quantity.Estimate[quantity.AmmoniaNitrogen] `json:"tan"`
	Nitrite *quantity.Estimate[quantity.NitriteNitrogen] `json:"nitrite"`

	Behaviour string `json:"behaviour"`
	Note      string `json:"note"`
}

// ExportTransfer answers GET /v1/transfers/{id}/export.
func (s *Server) ExportTransfer(c echo.Context, id string) error {
	saved, err := s.store.Transfer(c.Request().Context(), id)
	if err != nil {
		return err
	}
	if held := s.tagged(c, saved, stateOf(saved, s.now())+"-"); held {
		return c.NoContent(http.StatusNotModified)
	}
	t, err := s.told(c, saved, "", false)
	if err != nil {
		return err
	}
	x := &transferExport{savedTransfer: t, Legs: []exportedLeg{}}
	for _, leg := range saved.Legs {
		e := exportedLeg{Start: planStart(saved, leg), Steps: []exportedStep{}}
		if leg.Held > 0 {
			e.Held = new(quantity.Exactly(quantity.Duration(leg.Held)))
		}
		for _, step := range leg.Steps {
			out := exportedStep{Drip: quantity.Exactly(quantity.DripRate(step.Drip)), Until: quantity.Exactly(quantity.Volume(step.Until)), Set: step.Set}
			if step.PourTo > 0 {
				out.PourTo = new(quantity.Exactly(quantity.Volume(step.PourTo)))
			}
			e.Steps = append(e.Steps, out)
		}
		x.Legs = append(x.Legs, e)
	}
	return reply(c, saved.Told.Inputs, x, view[*transferExport]{
		lines: func(v render.Voice, x *transferExport) []string { return savedLines(v, x.savedTransfer) },
		rows:  func(*transferExport) any { return exportedLog(saved) },
	})
}

// exportedLog is the log as a table.
func exportedLog(saved store.Transfer) []exportedEntry {
	rows := []exportedEntry{}
	for _, l := range saved.Log {
		e := l.Entry
		row := exportedEntry{Time: e.Time.UTC().Format(time.RFC3339), Temperature: e.Temperature, Volume: e.Volume, Level: e.Level, Cups: e.Cups, TAN: e.TAN, Nitrite: e.Nitrite, Note: given(e.Note)}
		if e.Event != nil {
			row.Event = string(*e.Event)
		}
		if e.Behaviour != nil {
			row.Behaviour = string(*e.Behaviour)
		}
		if e.Salinity != nil {
			row.Salinity = e.Salinity.String()
		}
		if e.Drops != nil {
			row.Drops = fmt.Sprintf("%d in %.0f s", *e.Drops, float64(e.DropsIn.Value)*3600)
		}
		rows = append(rows, row)
	}
	return rows
}
