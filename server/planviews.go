package server

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/contract"
	"saltlock/server/render"
)

// planChart draws the water around the animals over time.
func planChart(v render.Voice, p *transfer.Plan) (render.Chart, error) {
	if len(p.Curve) < 2 {
		return render.Chart{}, &contract.Fault{Where: "format", Note: quantity.Note{Code: "no_curve_to_draw"}, Rule: "absent"}
	}
	salinity := render.Panel{Name: v.Say("panel_salinity"), Unit: "ppt"}
	volume := render.Panel{Name: v.Say("panel_volume"), Unit: "L"}
	warmth := render.Panel{Name: v.Say("panel_temperature"), Unit: "°C"}
	for _, at := range p.Curve {
		x := float64(at.Time.Value)
		salinity.Points = append(salinity.Points, render.Point{X: x, Y: float64(at.PracticalSalinity.Value)})
		volume.Points = append(volume.Points, render.Point{X: x, Y: float64(at.Volume.Value)})
		warmth.Points = append(warmth.Points, render.Point{X: x, Y: float64(at.Temperature.Value)})
	}
	goal := float64(p.Phases[len(p.Phases)-1].ToSalinity.Value)
	if near := float64(p.Tolerance.Value) / quantity.GramsPerPractical; near > 0 && p.Draw != nil {
		salinity.Goals = []render.Goal{{Lo: math.Max(0, goal-near), Hi: goal + near, Name: v.Say("goal_release")}}
	}
	c := render.Chart{Title: v.Say("chart_plan", tenths(float64(p.Curve[0].PracticalSalinity.Value)), tenths(goal)), Panels: []render.Panel{salinity}}
	if p.Route == transfer.Drip || p.Route == transfer.ByCups {
		volume.Goals = volumeGoals(v, p)
		c.Panels = append(c.Panels, volume)
	}
	c.Panels = append(c.Panels, lifePanels(v, p)...)
	if last := len(warmth.Points) - 1; math.Abs(warmth.Points[0].Y-warmth.Points[last].Y) >= 0.5 {
		c.Panels = append(c.Panels, warmth)
	}
	for _, phase := range p.Phases {
		if phase.Kind == transfer.PourOff || phase.Kind == transfer.Free {
			c.Marks = append(c.Marks, render.Mark{X: float64(phase.Start.Value), Name: v.Name(string(phase.Kind))})
		}
	}
	return c, nil
}

// volumeGoals are the levels that the water in the container stays between.
func volumeGoals(v render.Voice, p *transfer.Plan) []render.Goal {
	var goals []render.Goal
	for _, l := range p.Limits {
		switch l.Name {
		case "greatest_volume":
			goals = append(goals, render.Goal{Lo: l.Limit.Value, Hi: l.Limit.Value, Name: v.Say("goal_fullest")})
		case "least_volume":
			goals = append(goals, render.Goal{Lo: l.Limit.Value, Hi: l.Limit.Value, Name: v.Say("goal_least")})
		}
	}
	return goals
}

// lifePanels show oxygen and ammonia in the container at the likely use; none unless the animals
// are counted.
func lifePanels(v render.Voice, p *transfer.Plan) []render.Panel {
	if p.LifeSupport == nil || len(p.Stages) > 0 { // between stages there is no container
		return nil
	}
	ammonia := render.Panel{Name: v.Say("panel_ammonia"), Unit: "mg/L N"}
	oxygen := render.Panel{Name: v.Say("panel_oxygen"), Unit: "mg/L"}
	for _, at := range p.Curve {
		if at.NH3 == nil {
			continue // in a tank, not in the container
		}
		x := float64(at.Time.Value)
		ammonia.Points = append(ammonia.Points, render.Point{X: x, Y: float64(at.NH3.Value)})
		oxygen.Points = append(oxygen.Points, render.Point{X: x, Y: float64(at.Oxygen.Value)})
	}
	for _, l := range p.Limits {
		keep := []render.Goal{{Lo: l.Limit.Value, Hi: l.Limit.Value, Name: v.Say("goal_limit")}}
		switch l.Name {
		case "nh3":
			ammonia.Goals = keep
		case "oxygen":
			oxygen.Goals = keep
		}
	}
	return []render.Panel{ammonia, oxygen}
}

func tenths(x float64) float64 { return math.Round(x*10) / 10 }

// visit is when somebody comes and what there is to do.
type visit struct {
	Start   time.Time
	Summary string
	Texts   []string
	key     string // the same for the same visit of a plan
}

// planVisits lists every visit of a plan: what to do, and what to look at.
func planVisits(v render.Voice, start time.Time, p *transfer.Plan) []visit {
	var visits []visit
	add := func(hours quantity.Duration, summary, text string) {
		at := start.Add(time.Duration(math.Round(float64(hours)*60)) * time.Minute)
		if n := len(visits) - 1; n >= 0 && visits[n].Start.Equal(at) {
			visits[n].Texts = append(visits[n].Texts, text)
			return
		}
		visits = append(visits, visit{Start: at, Summary: summary, Texts: []string{text}, key: strconv.Itoa(len(visits))})
	}
	phases, looks := p.Phases, p.Checkpoints
	for len(phases) > 0 || len(looks) > 0 {
		if len(looks) == 0 || len(phases) > 0 && phases[0].Start.Value <= looks[0].Time.Value {
			add(phases[0].Start.Value, v.Say("visit_act", string(phases[0].Kind)), phases[0].Instruction.Text)
			phases = phases[1:]
			continue
		}
		add(looks[0].Time.Value, v.Say("visit_look"), looks[0].Why.Text)
		looks = looks[1:]
	}
	if p.Search != "" { // plans of the first release stay as they were
		for i, phase := range p.Phases {
			if phase.SetValve && phase.Drip != nil {
				visits = lookAfter(v, visits, start, float64(phase.Start.Value), float64(phase.Duration.Value), "set "+strconv.Itoa(i))
			}
		}
	}
	return visits
}

// lookAfter adds the looks after the clamp was touched, as long as the drip runs and no other
// visit is near.
func lookAfter(v render.Voice, visits []visit, start time.Time, touched, drips float64, name string) []visit {
	for i, after := range followup.Looks {
		at := start.Add(time.Duration(math.Round((touched+after)*60)) * time.Minute)
		near := slices.ContainsFunc(visits, func(other visit) bool { return other.Start.Sub(at).Abs() < 5*time.Minute })
		if after < drips && !near {
			visits = append(visits, visit{Start: at, Summary: v.Say("visit_look"), key: fmt.Sprintf("%s look %d", name, i),
				Texts: []string{v.Say("look_after_touch", quantity.Exactly(quantity.Duration(after)))}})
		}
	}
	slices.SortStableFunc(visits, func(a, b visit) int { return a.Start.Compare(b.Start) })
	return visits
}

// planEvents makes a calendar entry of every visit. Its name comes from the whole request, so that
// two containers filled at the same hour do not overwrite each other in a calendar.
func planEvents(v render.Voice, request transfer.Request, p *transfer.Plan) ([]render.Event, error) {
	if request.Start == nil {
		return nil, &instrument.MissingError{Name: "start", Why: "a calendar needs the time of the first drop, as 2026-12-01T09:00:00Z", Note: quantity.Note{Code: "calendar_needs_start"}}
	}
	asked, err := json.Marshal(request)
	if err != nil {
		return nil, fmt.Errorf("name the visits: %w", err)
	}
	return eventsOf(string(asked), planVisits(v, *request.Start, p)), nil
}

// eventsOf makes calendar entries of visits, named after what they belong to.
func eventsOf(name string, visits []visit) []render.Event {
	var events []render.Event
	for _, v := range visits {
		id := sha256.Sum256(fmt.Appendf(nil, "%s %s", name, v.key))
		events = append(events, render.Event{UID: hex.EncodeToString(id[:8]) + "@saltlock", Start: v.Start, Length: 15 * time.Minute,
			Summary: v.Summary, Description: strings.Join(v.Texts, "\n"), Alarm: 10 * time.Minute})
	}
	return events
}
