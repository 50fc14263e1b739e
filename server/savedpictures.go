package server

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"math"
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/render"
	"saltlock/server/store"
)

// GetTransferChart answers GET /v1/transfers/{id}/chart.
func (s *Server) GetTransferChart(c echo.Context, id string) error {
	now := s.now()
	minutes := strconv.FormatInt(now.Unix()/300, 36) + "-" // the line for now moves every five
	return s.pictured(c, id, now, minutes, func(saved store.Transfer) view[*transfer.Plan] {
		return view[*transfer.Plan]{chart: func(v render.Voice, p *transfer.Plan) (render.Chart, error) { return savedChart(v, saved, p, now) }}
	})
}

// GetTransferCalendar answers GET /v1/transfers/{id}/calendar.
func (s *Server) GetTransferCalendar(c echo.Context, id string) error {
	now := s.now()
	return s.pictured(c, id, now, "", func(saved store.Transfer) view[*transfer.Plan] {
		return view[*transfer.Plan]{events: func(v render.Voice, _ *transfer.Plan) ([]render.Event, error) { return savedEvents(v, saved, now) }}
	})
}

// pictured answers with a view of the latest plan, even of one that was stopped.
func (s *Server) pictured(c echo.Context, id string, now time.Time, tag string, of func(store.Transfer) view[*transfer.Plan]) error {
	saved, err := s.store.Transfer(c.Request().Context(), id)
	if err != nil {
		return err
	}
	if held := s.tagged(c, saved, tag+stateOf(saved, now)+"-"); held {
		return c.NoContent(http.StatusNotModified)
	}
	p := saved.Legs[len(saved.Legs)-1].Plan
	if p == nil {
		return conflictOf("id", "no_plan_kept")
	}
	return reply(c, saved.Told.Inputs, p, of(saved))
}

// savedChart draws the latest plan with the readings, on the keeper's clock.
func savedChart(v render.Voice, saved store.Transfer, p *transfer.Plan, now time.Time) (render.Chart, error) {
	if len(p.Curve) < 2 {
		return render.Chart{}, conflictOf("id", "no_chart_of_route")
	}
	chart, err := planChart(v, p)
	if err != nil {
		return chart, err
	}
	course, leg := saved.Told.Course, saved.Legs[len(saved.Legs)-1]
	begin := leg.At // h; where the chart begins
	for _, j := range course.Readings {
		begin = min(begin, float64(j.Time.Value))
	}
	for i := range chart.Panels {
		for k := range chart.Panels[i].Points {
			chart.Panels[i].Points[k].X += leg.At - begin
		}
		chart.Panels[i].Bars = bars(chart.Panels[i].Unit, course.Readings, begin)
	}
	for i := range chart.Marks {
		chart.Marks[i].X += leg.At - begin
	}
	for _, b := range course.Broken {
		chart.Marks = append(chart.Marks, render.Mark{X: float64(b.Until.Value) - begin, Name: v.Say("chart_too_fast")})
	}
	last := chart.Panels[0].Points[len(chart.Panels[0].Points)-1].X
	if at := now.Sub(*saved.Request.Start).Hours() - begin; at >= 0 && at <= last {
		chart.Marks = append(chart.Marks, render.Mark{X: at, Name: v.Say("chart_now"), Must: true})
	}
	slices.SortStableFunc(chart.Marks, func(a, b render.Mark) int { return int(math.Copysign(1, a.X-b.X)) })
	chart.Clock = func(hours float64) string {
		at := saved.Request.Clock(begin + hours)
		if last > 48 {
			return v.Day(at)
		}
		return at.Format("15:04")
	}
	if course.Verdict == followup.Stopped {
		chart.Title = v.Say("chart_stopped", chart.Title)
	}
	return chart, nil
}

// bars are the readings that belong in a panel.
func bars(unit string, readings []followup.Judged, begin float64) []render.Bar {
	var list []render.Bar
	for _, j := range readings {
		b := render.Bar{X: float64(j.Time.Value) - begin, Y: j.Read.Value, U: j.Read.Uncertainty, Aside: j.Suspect}
		switch {
		case unit == "ppt" && j.What == "salinity":
			b.Y, b.U = b.Y/quantity.GramsPerPractical, b.U/quantity.GramsPerPractical
			list = append(list, b)
		case unit == "L" && j.What == "volume":
			list = append(list, b)
		}
	}
	return list
}

// savedEvents are the visits of the latest plan and of the plan before it, as far as the latest
// took their place: those are cancelled, and so are all that come after a stop or an end that has come.
func savedEvents(v render.Voice, saved store.Transfer, now time.Time) ([]render.Event, error) {
	var events []render.Event
	for i, leg := range saved.Legs {
		last := i == len(saved.Legs)-1
		if leg.Plan == nil || !last && leg.Plan.Search == "" { // as the first release had it
			continue
		}
		name, err := calendarName(saved, i)
		if err != nil {
			return nil, err
		}
		if !last { // the latest is filled with the answer
			v.Fill(leg.Plan.Notes())
		}
		visits := planVisits(v, planStart(saved, leg), leg.Plan)
		if last {
			for _, l := range saved.Log {
				if touched := l.Entry.Time.Sub(planStart(saved, leg)).Hours(); l.Entry.Event != nil && *l.Entry.Event == followup.ClampTouched && touched >= 0 {
					visits = lookAfter(v, visits, planStart(saved, leg), touched, math.Inf(1), "touched "+l.Entry.Time.UTC().Format(time.RFC3339))
				}
			}
		}
		over, ended := overFrom(saved, i, now)
		for _, e := range eventsOf(name, visits) {
			if leg.Plan.Search != "" {
				e.Sequence = saved.Version
			}
			e.Made = changed(saved, now)
			e.Cancelled = ended && !e.Start.Before(over)
			if last || e.Cancelled {
				events = append(events, e)
			}
		}
	}
	return events, nil
}

// changed is when what is known of a transfer last changed: it was saved, something was logged, or it
// ended.
func changed(saved store.Transfer, now time.Time) time.Time {
	at := saved.Created
	for _, l := range saved.Log {
		if l.Entry.Time.After(at) && !l.Entry.Time.After(now) {
			at = *l.Entry.Time
		}
	}
	if over(saved, now) && saved.End.After(at) {
		at = *saved.End
	}
	return at
}

// calendarName is what the visits of a leg are named after: the transfer and the number of the
// leg. The first release named them after the request.
func calendarName(saved store.Transfer, i int) (string, error) {
	leg := saved.Legs[i]
	if leg.Plan.Search != "" {
		id := sha256.Sum256([]byte(saved.ID)) // the id opens the transfer, and calendars are passed around
		return hex.EncodeToString(id[:]) + " " + strconv.Itoa(i), nil
	}
	leg.Request.Start = new(planStart(saved, leg))
	asked, err := json.Marshal(leg.Request)
	return string(asked), err
}

// overFrom is the time from which a leg must no longer be carried out; ended is false if it still
// must be.
func overFrom(saved store.Transfer, i int, now time.Time) (from time.Time, ended bool) {
	if i+1 < len(saved.Legs) {
		next := saved.Legs[i+1]
		next.At -= next.Held
		return planStart(saved, next), true
	}
	if course := saved.Told.Course; course.Plan == nil && course.Time != nil {
		for _, l := range saved.Log {
			switch restarted := l.Entry.Event != nil && *l.Entry.Event == followup.Restarted; {
			case restarted:
				from, ended = time.Time{}, false
			case l.Entry.Stops() && !ended:
				from, ended = *l.Entry.Time, true
			}
		}
		if ended {
			return from, true
		}
		return saved.Request.Start.Add(time.Duration(float64(course.Time.Value) * float64(time.Hour))), true
	}
	if over(saved, now) {
		return *saved.End, true
	}
	return from, false
}
