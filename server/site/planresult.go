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
)

// note is a sentence of an answer.
type note struct{ Code, Text string }

// planned is the answer of a plan, as far as pages show it.
type planned struct {
	Inputs struct {
		To struct{ Salinity string }
	}
	Summary  string
	Route    string
	Reason   note
	Release  *struct{ Time quantity.Measure }
	Phases   []phase
	Look     []look `json:"checkpoints"`
	Draw     *draw
	SetAside *struct{ Volume quantity.Measure } `json:"set_aside"`
	Ramp     *struct {
		Days, Changes int
		Water, Salt   quantity.Measure
	}
	Parts        *quantity.Measure `json:"new_water_parts"` // of the water they start in, where its volume is not known
	Stages       []holdingTank
	Alternatives []struct {
		Prefer          string
		Differences     []note
		Duration, Water quantity.Measure
		Release         *quantity.Measure // nil in a plan of an earlier release
		Visits          int
		Chosen          bool
	}
	Before, After, If               []note
	Warmth                          struct{ First, Last []note } `json:"temperature_steps"`
	Cautions, Assumptions, Warnings []note
	Curve                           []struct {
		Time, Volume, NH3, Oxygen quantity.Measure
		Salinity                  quantity.Measure `json:"practical_salinity"`
	}
}

// holdingTank is where the animals rest between two waters.
type holdingTank struct {
	Water, Salinity, Salt quantity.Measure
}

// draw is the new water that drips in or is poured in.
type draw struct {
	Volume  quantity.Measure
	Salt    quantity.Measure `json:"replacement_salt"`
	Charges []charge
	Intakes []intake
}

// charge is what goes into the jug at one time.
type charge struct{ Time, Volume quantity.Measure }

// intake is where the upper end of the hose must hang from one time on.
type intake struct{ Time, Depth, Least, Greatest quantity.Measure }

// phase is one thing to do.
type phase struct {
	Kind            string
	Start, Duration quantity.Measure
	FromVolume      quantity.Measure `json:"from_volume"`
	ToSalinity      quantity.Measure `json:"to_salinity"`
	NewWater        quantity.Measure `json:"new_water"`
	TakeOut         quantity.Measure `json:"take_out"`
	PutIn           quantity.Measure `json:"put_in"`
	Salt            quantity.Measure
	Stage           int
	Instruction     note
}

// drips reports whether new water comes in by gravity during a phase.
func (ph phase) drips() bool { return ph.Kind == "fill" || ph.Kind == "run_over" }

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
	Begin, Reason                                string // Begin is what the hands do first
	Facts                                        []fact
	Things                                       []string // that it takes
	Checks                                       []string // to go through before
	Steps, After                                 []planStep
	Drips                                        bool   // by gravity, which the power does not stop
	FoulBag                                      bool   // whose water no animal goes back to
	NoReturn                                     bool   // to that, or to another water that harms them
	Bells                                        bool   // of jellyfish, which bubbles tear
	Onward                                       string // address of the plan that follows out of a bag
	Charges                                      []fact // when, and how much
	Days                                         []day
	First                                        []string // to know before anything is done
	Afterwards                                   []string // to see to once they are there
	If                                           []string // something fails
	Stop, Guessed, Cautions                      []string
	Ways                                         []way
	Answers                                      []answerLine
	Change, Picture, Calendar, Text, Table, JSON string
	PNG, Card, QR, Plain                         string
	Story                                        string // of the picture
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
	return p.show(c, q, planView{Title: title, Back: q.with("step", "container"), Start: q.with("step", "container", "#", "start"), Result: r})
}

// result puts a plan into the order in which it is used.
func (p *planner) result(q planQuery, body []byte) (*result, string, error) {
	var a planned
	if err := json.Unmarshal(body, &a); err != nil {
		return nil, "", fmt.Errorf("read the answer of a plan: %w", err)
	}
	lines := strings.Split(a.Summary, "\n")
	v := q.voice()
	r := &result{Reason: a.Reason.Text, QR: "/qr.svg?of=" + url.QueryEscape(q.with()), Picture: q.link("svg"), PNG: q.link("png"), Text: q.link("text"), Table: q.link("csv"), JSON: q.link("json"),
		Card: q.here("/card?" + readable(q.Values)), Hidden: q.hidden(nil), Plain: a.Summary}
	if q.Has("start") {
		r.Calendar = q.link("ics")
	}
	if r.Story = a.story(v); len(a.Curve) < 2 {
		r.Picture, r.PNG = "", ""
	}
	r.Change = q.with("step", "all")
	clock := clockOf(q)
	r.facts(v, &a, clock)
	r.steps(v, &a, clock)
	r.prepare(v, &a)
	r.notes(&a)
	for _, w := range a.Alternatives {
		until := w.Duration
		if w.Release != nil {
			until = *w.Release
		}
		text := v.Say("page_way", until, w.Visits, w.Water)
		if w.Chosen || slices.ContainsFunc(r.Ways, func(x way) bool { return x.Text == text }) {
			continue
		}
		var differs []string
		for _, n := range w.Differences {
			differs = append(differs, n.Text)
		}
		r.Ways = append(r.Ways, way{text, strings.Join(differs, " "), q.with("prefer", w.Prefer)})
	}
	r.Ways = append(r.Ways, q.faster(&a)...)
	if r.FoulBag {
		r.Onward = q.with("from_hours_in_bag", "", "from_tan", "", "from_nitrite", "", "from_ph", "", "from_alkalinity", "", "condition", "", "from_temperature", q.Get("to_temperature"))
	}
	r.Answers = p.answers(q)
	title, rest, _ := strings.Cut(lines[0], ". ")
	if a.Reason.Text == lines[0] {
		r.Reason = rest
	}
	return r, title, nil
}

// answers are what was said, with a way to change each.
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
						list = append(list, answerLine{f.label, q.number(shownValue(p.Contract.Operations["GET /v1/transfers/plan"].Query[f.name].Schema.Value.Format, value)), q.with("step", page.name, "kind", strconv.Itoa(kind), "#", name)})
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
