package site

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// note is a sentence of an answer.
type note struct{ Code, Text string }

// planned is what a plan's answer says, as far as pages show it.
type planned struct {
	Summary  string
	Route    string
	Reason   note
	Release  *struct{ Time quantity.Measure }
	Duration quantity.Measure
	Phases   []phase
	Look     []look `json:"checkpoints"`
	Draw     *struct {
		Volume quantity.Measure
		Salt   quantity.Measure `json:"replacement_salt"`
	}
	SetAside *struct{ Volume quantity.Measure } `json:"set_aside"`
	Ramp     *struct {
		Days, Changes int
		Water, Salt   quantity.Measure
	}
	Charges      []struct{ Time, Volume quantity.Measure } // of the jug that the drip runs from
	Alternatives []struct {
		Prefer           string
		Differences      []note
		Duration, Water  quantity.Measure
		Visits, PourOffs int
		Chosen           bool
	}
	Cautions, Assumptions, Warnings []note
	Curve                           []json.RawMessage
}

// phase is one thing to do.
type phase struct {
	Kind            string
	Start, Duration quantity.Measure
	ToSalinity      quantity.Measure `json:"to_salinity"`
	NewWater        quantity.Measure `json:"new_water"`
	TakeOut         quantity.Measure `json:"take_out"`
	PutIn           quantity.Measure `json:"put_in"`
	Salt            quantity.Measure
	Stage           int
	Instruction     note
}

// look is one moment to look at the animals and the instrument.
type look struct {
	Time    quantity.Measure
	Why     note
	Reading *struct {
		quantity.Measure
		Convention string
	}
}

// result is a plan as its page shows it.
type result struct {
	Lead                                         []string
	Reason                                       string
	Facts                                        []fact
	Prepare                                      []string
	Steps, After                                 []planStep
	Drips                                        bool   // by gravity, which the power does not stop
	Charges                                      []fact // when, and how much
	Days                                         []day
	Stop, Guessed, Cautions                      []string
	Ways                                         []way
	Answers                                      []answerLine
	Change, Picture, Calendar, Text, Table, JSON string
	PNG, Card, QR, Plain                         string
	Hidden                                       []link
}

// fact is a headline number.
type fact struct{ Name, Value string }

// planStep is what is done at one time.
type planStep struct {
	When  string
	At    string // on the clock, where the plan has a start
	Texts []string
	Reads string
}

// day is a water change of a ramp.
type day struct{ When, Change, Water, Salt, Then string }

// way is another plan for the same move, and why it is offered.
type way struct{ Text, Why, To string }

// answerLine is a question and what was said to it.
type answerLine struct{ Label, Value, To string }

// answer shows the plan, or why there is none.
func (p *planner) answer(c echo.Context, q planQuery, ask asker) error {
	status, body := q.ask(ask, "")
	if status != http.StatusOK {
		return p.refuse(c, q, ask, status, body)
	}
	r, title, err := p.result(q, body)
	if err != nil {
		return err
	}
	return p.show(c, planView{Title: title, Back: q.with("step", "container"), Start: q.with("step", "container", "#", "start"), Result: r})
}

// result is a plan put into the order in which it is used.
func (p *planner) result(q planQuery, body []byte) (*result, string, error) {
	var a planned
	if err := json.Unmarshal(body, &a); err != nil {
		return nil, "", fmt.Errorf("read the answer of a plan: %w", err)
	}
	lines := strings.Split(a.Summary, "\n")
	v := render.Voice{}
	r := &result{Reason: a.Reason.Text, QR: "/qr.svg?of=" + url.QueryEscape(q.with()), Picture: q.link("svg"), PNG: q.link("png"), Text: q.link("text"), Table: q.link("csv"), JSON: q.link("json"),
		Card: "/card?" + readable(q.Values), Hidden: q.hidden(nil), Plain: a.Summary}
	if q.Has("start") {
		r.Calendar = q.link("ics")
	}
	if len(a.Curve) < 2 {
		r.Picture, r.PNG = "", ""
	}
	r.Change = q.with("step", "all")
	r.facts(v, &a)
	clock := clockOf(q)
	r.steps(v, &a, clock)
	r.prepare(v, &a)
	for _, n := range append(slices.Clone(a.Warnings), a.Cautions...) {
		switch {
		case slices.Contains(stopCodes, n.Code):
			r.Stop = append(r.Stop, n.Text)
		case !slices.Contains(toldAlready, n.Code):
			r.Cautions = append(r.Cautions, n.Text)
		}
	}
	for _, n := range a.Assumptions {
		r.Guessed = append(r.Guessed, n.Text)
	}
	for _, w := range a.Alternatives {
		text := fmt.Sprintf("%s, %s, %s of new water", v.Quantity(w.Duration), count(w.Visits, "visit"), v.Quantity(w.Water))
		if w.Chosen || slices.ContainsFunc(r.Ways, func(x way) bool { return x.Text == text }) {
			continue
		}
		var differs []string
		for _, n := range w.Differences {
			differs = append(differs, n.Text)
		}
		r.Ways = append(r.Ways, way{text, strings.Join(differs, " "), q.with("prefer", w.Prefer)})
	}
	r.Answers = p.answers(q)
	return r, lines[0], nil
}

// stopCodes are the sentences on when to stop, which stand apart; what the page says
// already in words of its own is not repeated.
var (
	stopCodes   = []string{"vet_for_the_sick"}
	toldAlready = []string{"stop_on_distress", "one_filling_leaves", "visits_take_longer"}
)

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// facts are the numbers that a person asks for first.
func (r *result) facts(v render.Voice, a *planned) {
	r.Drips = a.Draw != nil
	if a.Ramp != nil {
		r.Facts = append(r.Facts, fact{"How long", count(a.Ramp.Days, "day")}, fact{"Water changes", strconv.Itoa(a.Ramp.Changes)},
			fact{"New water in all", v.Quantity(a.Ramp.Water)}, fact{"Salt in all", v.Quantity(a.Ramp.Salt)})
	} else if a.Release != nil {
		r.Facts = append(r.Facts, fact{"How long", v.Quantity(a.Release.Time)})
	}
	if a.Draw != nil {
		r.Facts = append(r.Facts, fact{"New water", v.Quantity(a.Draw.Volume)})
		if a.Draw.Salt.Value > 0 {
			r.Facts = append(r.Facts, fact{"Salt in it", v.Quantity(a.Draw.Salt)})
		}
	}
	if a.SetAside != nil {
		r.Facts = append(r.Facts, fact{"Old water to keep", v.Quantity(a.SetAside.Volume)})
	}
}

// prepare is what to have ready before the first step: what this plan takes, and what
// common practice has at hand before a night (common practice, no source).
func (r *result) prepare(v render.Voice, a *planned) {
	add := func(text string) { r.Prepare = append(r.Prepare, text) }
	if a.Draw != nil {
		add(v.Quantity(a.Draw.Volume) + " of the new water, dechlorinated, at the animals' temperature")
	}
	if a.SetAside != nil {
		add(v.Quantity(a.SetAside.Volume) + " of their old water, aerated and covered, as a way back")
	}
	if a.Ramp != nil && a.Ramp.Salt.Value > 0 {
		add(v.Quantity(a.Ramp.Salt) + " of marine salt in all")
	}
	if a.Draw != nil {
		add("a container with a lid, an air pump with its stone, and a second pump that runs on batteries, charged")
		add("air line with a valve, tried: count how many drops fill 10 mL")
		add("measuring cup, watch and a bucket for what is poured off")
	}
	add("an instrument for salinity, checked in a water you know; thermometer; tests for ammonia and nitrite")
	add("a box or cup to move them in, a torch, a towel, an alarm clock")
	add("a vet's telephone number")
}

// answers are what was said, with the way to say it anew.
func (p *planner) answers(q planQuery) []answerLine {
	var list []answerLine
	for kind := range q.kinds() {
		for _, page := range p.pages {
			for _, fold := range page.folds {
				for _, f := range fold.fields {
					name := f.name
					if _, animal := animalNames[name]; animal {
						name = ofKind(kind, name)
					} else if kind > 0 {
						continue
					}
					if value := q.Get(name); value != "" {
						list = append(list, answerLine{f.label, shownValue(p.Contract.Operations["GET /v1/transfers/plan"].Query[f.name].Schema.Value.Format, value), q.with("step", page.name, "kind", strconv.Itoa(kind), "#", name)})
					}
				}
			}
		}
	}
	return list
}

// shownValue is a value of the query as people write it.
func shownValue(format, value string) string {
	if number, unit, ok := strings.Cut(value, " "); ok && unitsOf[format] != nil && unitNames[unit] != "" {
		return number + " " + unitNames[unit]
	}
	if format == "" && choiceNames[value] != "" {
		return choiceNames[value]
	}
	return value
}

// problem is what a refusal says.
type problem struct {
	Title, Detail string
	faults        []api.Fault
}

// problemOf reads a problem document.
func problemOf(body []byte) problem {
	var p api.Problem
	if json.Unmarshal(body, &p) != nil || p.Errors == nil || len(*p.Errors) == 0 {
		return problem{Title: "There is no answer right now", Detail: "Try again in a minute."}
	}
	return problem{Title: p.Title, faults: *p.Errors}
}
