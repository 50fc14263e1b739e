package site

import (
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/api"
)

// refusal is why there is no plan, and what would make one.
type refusal struct {
	Unwise bool // the move itself, not only the way
	Why    []string
	Offers []way
	In     string // language of Why and of why each way is offered, if not that of the page
}

// refuse shows why there is no plan, with all questions below it, so that what is in the way can
// be changed on the spot.
func (p *planner) refuse(c echo.Context, q planQuery, ask asker, status int, body []byte) error {
	view := planView{Step: "all", Title: "Please check what you entered", Back: q.with("step", "container"), Kinds: q.kinds(), Refusal: &refusal{}}
	told, foreign := problemOf(body), q.foreign()
	view.Refusal.In = foreign
	refused := status == http.StatusUnprocessableEntity && !slices.ContainsFunc(told.faults, func(f api.Fault) bool { return f.Rule == "range" })
	if refused {
		view.Title = "There is no safe plan for this move as it stands"
	}
	if len(told.faults) == 0 {
		return echo.NewHTTPError(status, told.Detail)
	}
	p.fill(&view, q, ask)
	for _, f := range told.faults {
		at := q.nameAt(f.Where)
		fault := formFault{Text: f.Reason, In: foreign}
		if fold, e := view.entry(at); e != nil && !strings.HasSuffix(f.Rule, anotherWay) {
			e.FaultIn = foreign
			if fold.Folded, fault.For, e.Fault = false, e.ID, f.Reason; !refused {
				fault.Text = q.labelled(e, f.Reason, foreign)
			}
		}
		if !strings.HasSuffix(f.Rule, anotherWay) {
			view.Faults = append(view.Faults, fault)
		}
		if f.Candidates != nil {
			for _, candidate := range *f.Candidates {
				view.Refusal.Offers = append(view.Refusal.Offers, way{candidate.Name + " (" + candidate.ScientificName + ")", "", q.with(at, candidate.Id)})
			}
		}
		if f.Offer != nil {
			view.Refusal.Offers = append(view.Refusal.Offers, q.offer(&view, f))
		} else if route := byOwnTank[f.Rule]; route != "" {
			view.Refusal.Offers = append(view.Refusal.Offers, way{q.says(choiceName(route)), f.Reason, q.with("step", "all", "route", route, "#", at)})
		}
	}
	return p.show(c, q, view)
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
			} else if part.Picker != nil {
				species := p.entry(q, page.folds[0].fields[0], kind, nil)
				species.Value = part.Picker.Picked.ScientificName
				part.Folds[0].Entries = slices.Insert(part.Folds[0].Entries, 0, species)
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

// entry finds an entry by its name, and the fold that it lies in.
func (v *planView) entry(name string) (*foldView, *entry) {
	for i := range v.Folds {
		for _, e := range v.Folds[i].Entries {
			if e.Name == name {
				return &v.Folds[i], e
			}
		}
	}
	return nil, nil
}

// anotherWay ends the rules that say what would work instead and blame nothing.
const anotherWay = "_would_do"

// byOwnTank are the ways that need what only keepers know about their own tanks: they lead to the
// question.
var byOwnTank = map[string]string{"combined_would_do": "combined", "ramp_would_do": "ramp", "holding_tanks_would_do": "staged"}

// offer is the link that takes up the planner's offer for a broken rule.
func (q planQuery) offer(view *planView, f api.Fault) way {
	var pairs, told []string
	v := q.voice()
	for _, c := range *f.Offer {
		name := q.nameAt(c.Where)
		pairs = append(pairs, name, c.Value)
		label, value := name, c.Value
		if _, e := view.entry(name); e != nil {
			label, value = q.says(e.Label), q.number(q.says(e.shows(value)))
		}
		switch {
		case value == "":
			told = append(told, v.Say("page_leave_empty", label))
		case q.Has(name):
			told = append(told, v.Say("page_change_to", label, value))
		default:
			told = append(told, v.Say("page_set_to", label, value))
		}
	}
	why := ""
	if strings.HasSuffix(f.Rule, anotherWay) {
		why = f.Reason
	}
	return way{upperFirst(strings.Join(told, ", ")), why, q.with(pairs...)}
}

// shows is a value as the entry writes it.
func (e *entry) shows(value string) string {
	for _, o := range e.Units {
		if e.Choice && o.Value == value {
			return o.Name
		}
	}
	if number, unit, ok := strings.Cut(value, " "); ok && unitNames[unit] != "" {
		return number + " " + unitNames[unit]
	}
	return value
}
