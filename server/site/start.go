package site

import (
	"encoding/json"
	"html/template"
	"net/http"
	"net/url"
	"regexp"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// form is one question of the start page, with its answer.
type form struct {
	ID, Title, Intro, Do string
	Fields               []*entry
	Faults               []formFault
	Lines                []string
	URL, Table           template.URL
}

func warmth(id string) *entry {
	return &entry{ID: id, Name: "temperature", Label: "Water temperature", Value: "25", Units: options("C", "°C", "F", "°F")}
}

// saltForm is the commonest question.
func saltForm() *form {
	return &form{ID: "salt", Title: "How much marine salt?", Do: "Work out the salt",
		Intro: "For a bucket, a water change or a whole tank. Count the water that is really in it, without sand and rock.",
		Fields: []*entry{
			{ID: "salt-volume", Name: "volume", Label: "How much water", Value: "", Units: options("L", "litres", "gal", "US gallons", "gal_imp", "imperial gallons")},
			{ID: "salt-target", Name: "target", Label: "How salty it should be", Value: "", Units: options("ppt", "ppt", "SG", "SG (25C/25C)", "g/kg", "g/kg", "mS/cm", "mS/cm")},
			{ID: "salt-source", Name: "source", Label: "How salty your water is before", Value: "", Hint: "Leave empty for pure or soft tap water.", Units: options("ppt", "ppt", "SG", "SG (25C/25C)", "g/kg", "g/kg", "mS/cm", "mS/cm")},
			warmth("salt-temperature"),
		}}
}

// readingForm is the other common question.
func readingForm() *form {
	return &form{ID: "reading", Title: "What does my reading mean?", Do: "Convert the reading",
		Intro: "SG to ppt, ppt to SG, conductivity to salinity, corrected for temperature and instrument.",
		Fields: []*entry{
			{ID: "reading-reading", Name: "reading", Label: "It shows", Value: "", Units: options("SG", "SG", "ppt", "ppt", "g/kg", "g/kg", "g/L", "g/L", "mS/cm", "mS/cm", "uS/cm", "µS/cm")},
			warmth("reading-temperature"),
			{ID: "reading-instrument", Name: "instrument", Label: "Read with", Choice: true, Units: options("", "not said: taken as true",
				"hydrometer", "a glass hydrometer", "pointer_hydrometer", "a plastic box with a swinging pointer", "refractometer", "a refractometer", "conductivity", "a conductivity meter")},
			{ID: "reading-calibration", Name: "calibration", Label: "Marked for (hydrometers)", Choice: true, Hint: "Printed on it; fresh water of the second temperature reads 1.000.",
				Units: options("", "not said: 25 °C / 25 °C", "60F/60F", "60 °F / 60 °F", "20C/20C", "20 °C / 20 °C", "20C/4C", "20 °C / 4 °C", "15C/4C", "15 °C / 4 °C", "25C/4C", "25 °C / 4 °C")},
		}}
}

// thousand is a number that some read with thousands and some with decimals.
var thousand = regexp.MustCompile(`^([1-9]\d{0,2}),(\d{3})( ?[^\d.,].*)?$`)

// quantity is the entry as the contract writes it; empty if nothing was entered. Text with its own
// unit is used as it is.
func (e *entry) quantity() string {
	text := strings.Join(strings.Fields(e.Value), " ")
	if text == "" {
		return ""
	}
	unit := e.chosen()
	if m := thousand.FindStringSubmatch(text); m != nil && !strings.Contains(m[3], "SG") && (unit != "SG" || m[3] != "") {
		e.Fault = text + " can be read in two ways: write " + m[1] + m[2] + " or " + m[1] + "." + m[2] + "."
		return ""
	}
	if strings.Contains(text, ",") {
		pointed, err := quantity.DecimalComma(text)
		if err != nil {
			e.Fault = text + " has a comma and a point: write one of them, for the decimals."
			return ""
		}
		text = pointed
	}
	if strings.ContainsFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789.-+() ±", r) }) {
		return text
	}
	return text + " " + unit
}

// fill takes from a query what belongs to the form's entries.
func (f *form) fill(q url.Values) {
	for _, e := range f.Fields {
		if q.Has(e.Name) && !e.Choice {
			e.Value = q.Get(e.Name)
		}
		name := e.Name + "_unit"
		if e.Choice {
			name = e.Name
		}
		for i := range e.Units {
			if q.Has(name) {
				e.Units[i].Chosen = e.Units[i].Value == q.Get(name)
			}
		}
		if e.chosen() == "" && !e.Choice {
			e.Units[0].Chosen = true
		}
	}
}

// answer asks the operation behind the form and keeps its answer, good or bad.
func (f *form) answer(ask asker, path string) {
	q, comma := url.Values{}, false
	for _, e := range f.Fields {
		if e.Choice {
			if v := e.chosen(); v != "" {
				q.Set(e.Name, v)
			}
			continue
		}
		if v := e.quantity(); v != "" {
			q.Set(e.Name, v)
			comma = comma || strings.Contains(e.Value, ",")
		}
		if e.Fault != "" {
			f.Faults = append(f.Faults, formFault{For: e.ID, Text: e.Label + ": " + e.Fault})
		}
	}
	if q.Get("calibration") != "" && q.Get("instrument") == "" { // a convention without an instrument belongs to the number
		q.Set("reading", q.Get("reading")+" "+q.Get("calibration"))
		q.Del("calibration")
	}
	f.say(ask, path, q, comma)
}

func (f *form) say(ask asker, path string, q url.Values, comma bool) {
	plain := path + "?" + readable(q)
	status, body := ask(http.MethodGet, plain, nil)
	if status != http.StatusOK {
		f.refused(body)
	}
	if len(f.Faults) > 0 {
		return
	}
	f.URL, f.Table = template.URL(plain), template.URL(path+".csv?"+readable(q))
	spoken := plain + "&format=text"
	if comma {
		for name := range q {
			q.Set(name, strings.ReplaceAll(q.Get(name), ".", ","))
		}
		spoken = path + "?" + readable(q) + "&format=text&decimal=comma"
		f.Table += "&format=csv"
	}
	_, body = ask(http.MethodGet, spoken, nil)
	f.Lines = strings.Split(strings.TrimSpace(string(body)), "\n")
}

// readable writes a query with blanks as %20.
func readable(q url.Values) string { return strings.ReplaceAll(q.Encode(), "+", "%20") }

// refused puts each fault next to the entry that it is about.
func (f *form) refused(body []byte) {
	var p api.Problem
	if json.Unmarshal(body, &p) != nil || p.Errors == nil {
		f.Faults = append(f.Faults, formFault{Text: "The service could not answer; try again later."})
		return
	}
	for _, fault := range *p.Errors {
		told := formFault{Text: fault.Where + ": " + fault.Reason}
		for _, e := range f.Fields {
			if e.Name == fault.Where && e.Fault != "" {
				told = formFault{} // reported already, and left out of the query
			} else if e.Name == fault.Where {
				e.Fault = fault.Reason
				told = formFault{For: e.ID, Text: e.Label + ": " + fault.Reason}
			}
		}
		if told.Text != "" {
			f.Faults = append(f.Faults, told)
		}
	}
}

// forms fills the form that a query is about, and answers that one alone.
func (s *Site) forms(q url.Values, ask asker) (all []*form, named *form) {
	salt, reading := saltForm(), readingForm()
	switch {
	case q.Has("target"):
		named = salt
	case q.Has("reading"):
		named = reading
	}
	if named != nil {
		named.fill(q)
		named.answer(ask, map[*form]string{salt: "/v1/mixes/salt", reading: "/v1/conversions"}[named])
	}
	return []*form{salt, reading}, named
}

// water answers GET /water, and GET / with a question, which used to be asked there.
func (s *Site) water(c echo.Context) error {
	q := c.QueryParams()
	if !q.Has("target") && !q.Has("reading") {
		return s.Page(c, c.Request().URL.Path)
	}
	body, err := s.waterPage(q, s.ask)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Content-Security-Policy", Policy)
	return NewAsset("text/html; charset=utf-8", body).Send(c)
}

// startPage writes the first page.
func (s *Site) startPage(asker) ([]byte, error) {
	t, err := s.asked()
	if err != nil {
		return nil, err
	}
	return s.render(t, "start.html", sheet{Path: "/", Title: "Move animals between fresh, brackish and sea water",
		Description: "Plan how fish, shrimps and snails cross from one water to another, work out how much marine salt it takes, and what a reading means: SG to ppt.", Body: []*form{saltForm(), readingForm()}})
}

// waterPage writes the page of common questions about water, with the answer to one.
func (s *Site) waterPage(q url.Values, ask asker) ([]byte, error) {
	all, named := s.forms(q, ask)
	p := sheet{Path: "/water", Title: "How much salt, and what does my reading mean?",
		Description: "How much marine salt for a salinity, and SG to ppt and back, corrected for temperature and instrument.", Body: all}
	if named != nil && len(named.Lines) > 0 { // a link to an answer shows the answer
		p.Share = named.Lines[0]
		p.Picture = "/card.png?" + readable(q)
		p.Description = strings.Join(named.Lines[1:], " ")
	}
	t, err := s.asked()
	if err != nil {
		return nil, err
	}
	return s.render(t, "water.html", p)
}

// card answers GET /card.png: the picture that goes with a link to the page on
// water, with the answer to the same query.
func (s *Site) card(c echo.Context) error {
	title, lines := "Fresh, brackish, sea", []string{"How to bring animals across, how much salt it takes, and what a reading means."}
	if _, named := s.forms(c.QueryParams(), s.ask); named != nil && len(named.Lines) > 0 {
		title, lines = named.Title, named.Lines
	}
	body, err := render.Card(title, lines)
	if err != nil {
		return err
	}
	return NewAsset("image/png", body).Send(c)
}
