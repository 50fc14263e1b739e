package server_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"
)

// phase is a part of the plan in force, of which a story needs the numbers.
type phase struct {
	Kind         string
	Start        struct{ Value float64 }
	Duration     struct{ Value float64 }
	ToSalinity   struct{ Value float64 } `json:"to_salinity"`
	FromVolume   struct{ Value float64 } `json:"from_volume"`
	ToVolume     struct{ Value float64 } `json:"to_volume"`
	FromSalinity struct{ Value float64 } `json:"from_salinity"`
	Cup          struct{ Value float64 }
	Every        struct{ Value float64 }
	Flow         struct{ Value float64 }
	Cups         int
}

// phases are those of the plan in force.
func (a answered) phases(t testing.TB) []phase {
	t.Helper()
	var saved struct{ Plan struct{ Phases []phase } }
	if err := json.Unmarshal([]byte(a.body), &saved); err != nil || len(saved.Plan.Phases) == 0 {
		t.Fatalf("no plan: %v\n%.600s", err, a.body)
	}
	return saved.Plan.Phases
}

// salty logs a salinity alone.
func (s savedPlan) salty(t testing.TB, hours, ppt float64) answered {
	t.Helper()
	return s.logs(t, hours, fmt.Sprintf(`{"salinity": "%.2f(10) ppt", "instrument": {"kind": "none"}, "temperature": "26 C", "behaviour": "ok"}`, ppt), "")
}

// A cup that was forgotten is never made up for by two at once; one too many is waited off.
func TestCupsAreCorrected(t *testing.T) {
	cups := strings.Replace(strings.Replace(jugBody, "{", `{"route": "cups", `, 1), "20 L", "40 L", 1)
	s := savePlanOf(t, cups)
	first := s.get(t, s.path).phases(t)[0]
	if first.Kind != "cups" || first.Cups < 3 || first.Every.Value <= 0 {
		t.Fatalf("it begins with %+v", first)
	}
	held := func(cups int) float64 {
		return first.FromVolume.Value + (first.ToVolume.Value-first.FromVolume.Value)*float64(cups)/float64(first.Cups)
	}
	reads := func(s savedPlan, hours float64, cups int) told {
		v := held(cups)
		return s.logs(t, hours, read(v, 10-8*first.FromVolume.Value/v, fmt.Sprintf(`, "cups": %d`, cups)), "").told(t)
	}
	every := first.Every.Value
	if is := reads(s, 1.5*every, 2); is.verdict != "on_course" || !strings.Contains(is.now, "Pour in") {
		t.Errorf("two cups in as told: %+v", is)
	}
	if is := reads(s, 2.5*every, 2); is.verdict != "corrected" || !strings.Contains(is.why, "One cup is missing") || !strings.Contains(is.why, "Never pour two at once") {
		t.Errorf("one forgotten: %+v", is)
	}
	s = savePlanOf(t, cups)
	if is := reads(s, 0.5*every, 3); is.verdict != "corrected" || !strings.Contains(is.why, "too many went in") || !strings.HasPrefix(is.now, "Pour in nothing until ") {
		t.Errorf("too many: %+v", is)
	}
}

// A container that runs over is followed by what dripped in, and set again where that is slow.
func TestAnOverflowIsCorrected(t *testing.T) {
	s := savePlanOf(t, `{"animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "26 C"},
		"container": {"capacity": "20 L", "start_volume": "8 L", "aerated": true, "overflow": true}, "line": {"drop_volume": "0.05 mL", "settings": 3}}`)
	p := s.get(t, s.path).phases(t)[0]
	if p.Kind != "run_over" {
		t.Fatalf("it begins with %s", p.Kind)
	}
	half := p.Duration.Value / 2
	at := func(part float64) float64 { // ppt, where so large a part of the flow ran
		out := 1.0
		for range 10_000 { // by small steps
			out -= out * part * p.Flow.Value * 60 / 1000 * half / 10_000 / 8
		}
		return 10 - 8*out
	}
	if is := s.salty(t, half, at(1)).told(t); is.verdict != "on_course" {
		t.Errorf("as told, %.2f ppt: %+v", at(1), is)
	}
	s = savePlanOf(t, strings.Replace(`{"animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "26 C"},
		"container": {"capacity": "20 L", "start_volume": "8 L", "aerated": true, "overflow": true}, "line": {"drop_volume": "0.05 mL", "settings": 3}}`, "\t", " ", 1))
	a := s.salty(t, half, at(0.5))
	if is := a.told(t); is.verdict != "corrected" || a.number(t, "course.drip_ratio.value") > 0.75 {
		t.Errorf("at half the flow, %.2f ppt, %.2f of it: %+v", at(0.5), a.number(t, "course.drip_ratio.value"), is)
	}
}

// Tanks on the way, and a tank that is ramped before the drip: what two readings show to be
// off is planned again from there, and one alone is read once more.
func TestOtherRoutesAreCorrected(t *testing.T) {
	for name, body := range map[string]string{
		"staged": `{"route": "staged", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "30 ppt", "temperature": "26 C"},
			"container": {"capacity": "20 L", "aerated": true}, "line": {"drop_volume": "0.05 mL"}}`,
		"combined": `{"route": "combined", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "30 ppt", "temperature": "26 C"},
			"container": {"capacity": "20 L", "aerated": true}, "line": {"drop_volume": "0.05 mL"}, "home_tank": {"volume": "200 L"}}`,
		"ramp": `{"route": "ramp", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "12 ppt", "temperature": "26 C"},
			"home_tank": {"volume": "200 L"}}`,
	} {
		s := savePlanOf(t, body)
		var rest phase // in water that stands still for a while
		for i, p := range s.get(t, s.path).phases(t) {
			next := s.get(t, s.path).phases(t)[min(i+1, len(s.get(t, s.path).phases(t))-1)].Start.Value
			if i > 0 && next-p.Start.Value-p.Duration.Value > 6 || p.Kind == "hold" && p.Duration.Value > 6 {
				rest = p
				break
			}
		}
		at := rest.Start.Value + 2
		if rest.Kind != "hold" {
			at += rest.Duration.Value
		}
		if is := s.salty(t, at, rest.ToSalinity.Value).told(t); is.verdict != "on_course" || is.warnings != "" {
			t.Errorf("%s, as told after %.1f h: %+v", name, at, is)
		}
		if is := s.salty(t, at+1, rest.ToSalinity.Value-1.5).told(t); is.verdict != "on_course" || !strings.HasPrefix(is.now, "Read the salinity once more") {
			t.Errorf("%s, low once: %+v", name, is)
		}
		a := s.salty(t, at+2, rest.ToSalinity.Value-1.5)
		if is := a.told(t); is.verdict != "corrected" || !strings.HasPrefix(is.why, "Two readings show ") || strings.HasPrefix(is.now, "Day ") {
			t.Errorf("%s, low twice: %+v", name, is)
		}
		if from := a.phases(t)[0].FromSalinity.Value; from < rest.ToSalinity.Value-1.7 || from > rest.ToSalinity.Value-1.3 {
			t.Errorf("%s goes on from %.2f ppt, want %.2f", name, from, rest.ToSalinity.Value-1.5)
		}
	}
}

// The next change of a ramp waits for its filter: as long as ammonia or nitrite is high, though not
// yet toxic, and then until both were low on two days.
func TestARampWaitsForItsFilter(t *testing.T) {
	s := savePlanOf(t, `{"route": "ramp", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C", "ph": "7.8"}, "to": {"salinity": "12 ppt", "temperature": "26 C", "ph": "7.8"},
		"home_tank": {"volume": "200 L"}}`)
	second := s.get(t, s.path).phases(t)[1].Start.Value
	for i, x := range []struct {
		hours float64
		body  string
		is    told
	}{
		{second - 4, `{"tan": "0.5 mg/L N", "nitrite": "0.1 mg/L N"}`, told{"paused", "Change no water yet, feed half", "Ammonia was 0.5 mg/L N", "With ammonia at most 0.25 mg/L N and nitrite at most 0.2 mg/L N", ""}},
		{second + 20, `{"tan": "0.2 mg/L N", "nitrite": "0.3 mg/L N"}`, told{verdict: "paused", why: "Nitrite was 0.3 mg/L N"}},
		{second + 44, `{"tan": "0.2 mg/L N", "nitrite": "0.2 mg/L N"}`, told{verdict: "paused", now: "Change no water yet, and test ammonia and nitrite once more"}},
		{second + 68, `{"tan": "0.1 mg/L N", "nitrite": "0.1 mg/L N"}`, told{verdict: "corrected", why: "Ammonia and nitrite were low on two days"}},
	} {
		is := s.logs(t, x.hours, x.body, "").told(t)
		for _, part := range [][2]string{{is.verdict, x.is.verdict}, {is.now, x.is.now}, {is.why, x.is.why}, {is.then, x.is.then}} {
			if !strings.HasPrefix(part[0], part[1]) {
				t.Errorf("%d: it says %q, want %q", i, part[0], part[1])
			}
		}
		if i == 3 && (strings.HasPrefix(is.now, "Day ") || !strings.Contains(is.now+is.then, "Take out")) {
			t.Errorf("it goes on with %s %s", is.now, is.then)
		}
	}
}

// What happened and nobody logged is named at the second reading after it, with its times
// and by how much; whether the salinity follows the volume tells one from another.
func TestWhatNobodyLoggedIsNamed(t *testing.T) {
	for kind, night := range map[string]struct {
		acts     [][3]float64 // h, L, ppt
		evidence string
	}{
		"poured_off":       {[][3]float64{{0.5, 6.36, 2.45}, {1, 5.2, 2.86}, {1.5, 5.56, 3.32}}, "Between 09:30 and 10:00 about 1.5 L (0.4 gal) was poured off."},
		"leak":             {[][3]float64{{0.5, 6.36, 2.45}, {1, 6.12, 2.89}, {1.5, 5.88, 3.33}, {2, 5.64, 3.75}}, "the container loses about"},
		"wrong_instrument": {[][3]float64{{0.5, 6.36, 2.45}, {1, 6.72, 0.9}, {1.5, 7.08, 1.25}}, "Since 10:00 your instrument is off by about 2 g/kg"},
		"clog":             {[][3]float64{{0.5, 6.36, 2.45}, {1.5, 6.44, 2.55}, {2.5, 6.52, 2.64}}, "The drip clogged between 09:30 and 10:30"},
		"slip":             {[][3]float64{{0.5, 6.36, 2.45}, {1, 7.1, 3.24}, {1.3, 7.54, 3.63}}, "The valve slipped between 09:30 and 10:00"},
	} {
		s := savePlanOf(t, jugBody)
		var a answered
		for i, x := range night.acts {
			a = s.logs(t, x[0], read(x[1], x[2], ""), "")
			if kinds, _ := foundOut(t, a); i == 1 && kinds != "" {
				t.Errorf("%s is named at once as %s", kind, kinds)
			}
		}
		if kinds, evidence := foundOut(t, a); kinds != kind || !strings.Contains(evidence, night.evidence) {
			t.Errorf("%s: found %s: %s %+v", kind, kinds, evidence, a.told(t))
		}
	}
}

// After a stop the chart is drawn still, and the calendar takes back what comes after it,
// under the names that it gave before.
func TestPicturesAfterAStop(t *testing.T) {
	s := savePlanOf(t, jugBody)
	visits := func() map[string]string {
		named := map[string]string{}
		for _, m := range calendarEvent.FindAllStringSubmatch(s.get(t, s.path+"/calendar").body, -1) {
			named[m[1]] = m[2]
		}
		return named
	}
	before := visits()
	s.event(t, 3, `{"event": "stop"}`, "")
	ics := s.get(t, s.path+"/calendar").body
	if !strings.Contains(ics, "REFRESH-INTERVAL;VALUE=DURATION:") {
		t.Error("the calendar does not say how often to ask again")
	}
	after := visits()
	cancelled := strings.Count(ics, "STATUS:CANCELLED")
	if len(before) == 0 || len(after) != len(before) {
		t.Errorf("%d visits before, %d after", len(before), len(after))
	}
	late := 0
	for uid, at := range before {
		if after[uid] != at {
			t.Errorf("the visit of %s has another name or time", at)
		}
		if at >= "20261201T120000Z" {
			late++
		}
	}
	if cancelled != late || late == 0 {
		t.Errorf("%d visits are cancelled, %d come after the stop", cancelled, late)
	}
	if a := s.get(t, s.path+"/chart"); a.status != http.StatusOK || !strings.Contains(a.body, ", stopped</title>") {
		t.Errorf("the chart after a stop: %d %.200s", a.status, a.body)
	}
}
