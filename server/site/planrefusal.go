package site

import (
	"net/http"

	"github.com/labstack/echo/v4"
)

// refusal is why there is no plan, and what would make one.
type refusal struct {
	Unwise bool // the move itself, not only the way
	Why    []string
	Offers []way
}

// refuse shows why there is no plan, with all questions below it, so that what stands
// in the way can be mended on the spot.
func (p *planner) refuse(c echo.Context, q planQuery, ask asker, status int, body []byte) error {
	view := planView{Step: "all", Title: "No plan yet", Back: q.with("step", "container"), Kinds: q.kinds(), Refusal: &refusal{}}
	if status == http.StatusUnprocessableEntity {
		view.Title = "There is no safe plan for this move as it stands"
	}
	told := problemOf(body)
	if len(told.faults) == 0 {
		return echo.NewHTTPError(status, told.Detail)
	}
	p.fill(&view, q, ask)
	for _, f := range told.faults {
		at := q.nameAt(f.Where)
		fault := formFault{Text: f.Reason}
		if e := view.entry(at); e != nil {
			fault.For = e.ID
			if cures[f.Rule] == nil || f.Rule == "no_air_stone" {
				e.Fault = f.Reason
			}
		}
		offers := q.offers(f.Rule, f.Reason)
		if len(offers) == 0 || f.Rule == "no_air_stone" { // what only says another way is no fault
			view.Faults = append(view.Faults, fault)
		}
		if f.Candidates != nil {
			for _, candidate := range *f.Candidates {
				view.Refusal.Offers = append(view.Refusal.Offers, way{candidate.Name + " (" + candidate.ScientificName + ")", "", q.with(at, candidate.Id)})
			}
		}
		view.Refusal.Offers = append(view.Refusal.Offers, offers...)
	}
	return p.show(c, view)
}

// fill asks all questions on one page.
func (p *planner) fill(view *planView, q planQuery, ask asker) {
	asked := map[string]bool{}
	for kind := range q.kinds() {
		for _, page := range p.pages {
			if kind > 0 && page.name != "animals" {
				continue
			}
			part := p.questions(q, ask, &page, kind)
			if part.Picker != nil && part.Picker.Picked == nil {
				part.Folds = p.folds(q, &page, kind, nil)
			}
			for _, fold := range part.Folds {
				if fold.Title == "" {
					fold.Title = page.title
				}
				view.Folds = append(view.Folds, fold)
				for _, e := range fold.Entries {
					asked[e.Name] = true
				}
			}
		}
	}
	view.Hidden = q.hidden(asked)
}

// entry finds an entry by its name, and opens the fold that it lies in.
func (v *planView) entry(name string) *entry {
	for i := range v.Folds {
		for _, e := range v.Folds[i].Entries {
			if e.Name == name {
				v.Folds[i].Folded = false
				return e
			}
		}
	}
	return nil
}

// cures are what a link can set for a rule that was broken.
var cures = map[string][]struct {
	text  string
	pairs []string
}{
	"no_air_stone":           {{"Plan it with an air stone", []string{"container_aerated", "true"}}},
	"combined_would_do":      {{"Change their own tank first, then drip", []string{"route", "combined", "#", "home_tank_volume"}}},
	"ramp_would_do":          {{"Change their own tank, a little each day", []string{"route", "ramp", "#", "home_tank_volume"}}},
	"holding_tanks_would_do": {{"Go through holding tanks", []string{"route", "staged", "#", "holding_tanks_volume"}}},
	"ramp_not_needed":        {{"Use a drip", []string{"route", "drip"}}},
	"stages_not_needed":      {{"Use a drip", []string{"route", "drip"}}},
	"gap_over_at_once":       {{"Use a drip", []string{"route", "drip"}}},
}

// offers are the links that a broken rule leads to.
func (q planQuery) offers(rule, reason string) []way {
	var list []way
	for _, cure := range cures[rule] {
		list = append(list, way{cure.text, reason, q.with(cure.pairs...)})
	}
	return list
}
