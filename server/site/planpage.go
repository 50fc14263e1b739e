package site

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/server/contract"
)

// planner shows the planner of the service, one page of questions after another and then the plan,
// all at /plan. Everything said is in the URL and nowhere else.
type planner struct {
	site  *Site
	pages []planPage
	*contract.Contract
}

// planView is what a page of the planner shows.
type planView struct {
	Step, Title, Progress, Back string
	Start                       string // address that asks for the start
	Hidden                      []link // what was said before, name and value
	Kind, Kinds                 int    // of animals: asked about, and mentioned
	Picker                      *picker
	Folds                       []foldView
	Faults                      []formFault
	Refusal                     *refusal
	Result                      *result
}

// First reports whether this is the first page, before anything was said.
func (v planView) First() bool {
	return v.Step == "animals" && v.Picker != nil && v.Picker.Asked == "" && v.Kind == 0
}

// foldView is a group of entries.
type foldView struct {
	Title   string
	Folded  bool
	Entries []*entry
}

// get answers GET /plan.
func (p *planner) get(c echo.Context) error {
	sent := c.QueryParams()
	q := planOf(p.Contract, sent)
	ask := p.site.noting(c, q.answered)
	if err := p.known(q, ask); err != nil {
		return err
	}
	if after := p.page(sent.Get("after")); after != nil {
		return p.went(c, q, ask, after, kindAsked(sent), sent.Get("add") != "")
	}
	if sent.Has("all") { // all questions were asked on one page
		return c.Redirect(http.StatusSeeOther, q.with())
	}
	if sent.Get("step") == "all" {
		view := planView{Step: "all", Title: "Change the plan", Back: q.with()}
		p.fill(&view, q, ask)
		return p.show(c, q, view)
	}
	if step := p.page(sent.Get("step")); step != nil {
		return p.show(c, q, p.questions(q, ask, step, kindAsked(sent)))
	}
	if next := p.lacking(q); next != nil && (!q.Has("from_salinity") || !q.Has("to_salinity")) {
		return p.show(c, q, p.questions(q, ask, next, 0))
	}
	return p.answer(c, q, ask)
}

// kindAsked is the kind of animals that a page is about.
func kindAsked(sent url.Values) int {
	for kind := 1; kind < mostKinds; kind++ {
		if sent.Get("kind") == fmt.Sprint(kind) {
			return kind
		}
	}
	return 0
}

func (p *planner) page(name string) *planPage {
	i := slices.IndexFunc(p.pages, func(page planPage) bool { return page.name == name })
	if i < 0 {
		return nil
	}
	return &p.pages[i]
}

// lacking is the first page whose main question is unanswered; nil if there is none.
func (p *planner) lacking(q planQuery) *planPage {
	switch {
	case len(q.Values) == 0:
		return p.page("animals")
	case !q.Has("from_salinity") || !q.Has("to_salinity"):
		return p.page("waters")
	case !q.Has("container_capacity") && !q.Has("container_aerated") && !q.Has("route"):
		return p.page("container")
	}
	return nil
}

// known replaces names that belong to one species alone by ids, so that the page knows the stages
// of each.
func (p *planner) known(q planQuery, ask asker) error {
	for kind := range q.kinds() {
		name := ofKind(kind, "species")
		if !q.Has(name) {
			continue
		}
		found, err := findSpecies(ask, q.tongue, q.Get(name))
		if err != nil {
			return err
		}
		if found.Picked != nil {
			q.Set(name, found.Picked.ID)
		}
	}
	return nil
}

// went goes on from a page that was filled in, or shows it again if it cannot be read.
func (p *planner) went(c echo.Context, q planQuery, ask asker, page *planPage, kind int, add bool) error {
	if page.name == "waters" && q.Has("from_temperature") && !q.Has("to_temperature") {
		q.Set("to_temperature", q.Get("from_temperature"))
	}
	view := p.questions(q, ask, page, kind)
	p.blame(q, ask, &view, true)
	if len(view.Faults) > 0 || view.Picker != nil && view.Picker.Asked != "" && view.Picker.Picked == nil {
		return p.show(c, q, view)
	}
	next := q.with()
	switch lacks := p.lacking(q); {
	case add:
		next = q.with("step", "animals", "kind", fmt.Sprint(q.kinds()))
	case lacks != nil:
		next = q.with("step", lacks.name)
	}
	return c.Redirect(http.StatusSeeOther, next)
}

// blame puts the faults that the service finds in the plan next to the entries of the page; other
// faults are left for their own pages.
func (p *planner) blame(q planQuery, ask asker, view *planView, needed bool) {
	status, body := q.ask(ask, "")
	if status == http.StatusOK {
		return
	}
	foreign := q.foreign()
	for _, f := range problemOf(body).faults {
		f.Where = q.nameAt(f.Where)
		for _, fold := range view.Folds {
			for _, e := range fold.Entries {
				if e.Name != f.Where || e.Fault != "" || status == http.StatusUnprocessableEntity && needed && f.Rule != "range" {
					continue
				}
				e.Fault, e.FaultIn = f.Reason, foreign
				view.Faults = append(view.Faults, formFault{For: e.ID, Text: q.labelled(e, f.Reason, foreign), In: foreign})
			}
		}
	}
}

// questions is a page of questions, filled with what was said.
func (p *planner) questions(q planQuery, ask asker, page *planPage, kind int) planView {
	at := slices.IndexFunc(p.pages, func(x planPage) bool { return x.name == page.name })
	view := planView{Step: page.name, Title: page.title, Progress: q.voice().Say("page_question", at+1, len(p.pages)), Kind: kind, Kinds: max(q.kinds(), kind+1), Back: "/"}
	if at > 0 {
		view.Back = q.with("step", p.pages[at-1].name)
	}
	if page.name == "animals" {
		view.Picker = p.picker(q, ask, kind)
		if kind > 0 {
			view.Title, view.Back = "Which other animals?", q.with("step", "animals", "kind", fmt.Sprint(kind-1))
		}
	}
	view.Folds = p.folds(q, page, kind, view.Picker)
	asked := map[string]bool{}
	for _, fold := range view.Folds {
		for _, e := range fold.Entries {
			asked[e.Name] = true
		}
	}
	if view.Picker != nil && view.Picker.Picked == nil { // first the species, then everything about it
		view.Folds = nil
		asked[ofKind(kind, "species")] = true
	}
	view.Hidden = q.hidden(asked)
	return view
}

// folds are the entries of a page, filled with what was said.
func (p *planner) folds(q planQuery, page *planPage, kind int, picker *picker) []foldView {
	var list []foldView
	for _, fold := range page.folds {
		shown := foldView{Title: fold.title, Folded: fold.folded}
		for _, f := range fold.fields {
			if e := p.entry(q, f, kind, picker); e != nil {
				shown.Entries = append(shown.Entries, e)
				if q.Has(e.Name) {
					shown.Folded = false
				}
			}
		}
		list = append(list, shown)
	}
	return list
}

// hidden is what a form carries along: everything about the plan that it does not ask for.
func (q planQuery) hidden(asked map[string]bool) []link {
	var list []link
	for name := range q.Values {
		if !asked[name] {
			list = append(list, link{name, q.Get(name)})
		}
	}
	if q.tongue != "" {
		list = append(list, link{"lang", string(q.tongue)})
	}
	slices.SortFunc(list, func(a, b link) int { return strings.Compare(a.Path, b.Path) })
	return list
}

// show sends a page of the planner.
func (p *planner) show(c echo.Context, q planQuery, view planView) error {
	title := q.says(view.Title)
	if len(view.Faults) > 0 {
		title = q.voice().Say("page_error", title)
	}
	s := sheet{Path: "/plan", Tongue: q.tongue, Title: title, Description: "What to do hour by hour when animals move from one water to another.", Body: view}
	file := "plan.html"
	if view.Result != nil {
		file, s.Share, s.Description = "planned.html", view.Title, view.Result.Reason
	}
	if c.Request().Method == http.MethodGet {
		s.Other = switched(c.Request().URL)
	}
	return p.site.write(c, file, s)
}
