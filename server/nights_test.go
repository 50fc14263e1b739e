package server_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"
)

// jugBody is four young scats in a bucket of 20 L, of which 6 L are filled, fed from a jug:
// a fill to 8 L takes 2 h 50 min, which is 0.72 L an hour.
const jugBody = `{
	"animals": [{"species": "scatophagus-argus", "stage": "juvenile", "origin": "captive", "count": 4, "mass": "1 g"}],
	"from": {"salinity": "2 ppt", "temperature": "26 C"},
	"to": {"salinity": "10 ppt", "temperature": "26 C"},
	"container": {"capacity": "20 L", "start_volume": "6 L", "aerated": true},
	"line": {"drop_volume": "0.05 mL"}
}`

// told is what an answer says: how it stands, what to do now, why, what then, and what it
// warns of.
type told struct{ verdict, now, why, then, warnings string }

func (a answered) told(t testing.TB) told {
	t.Helper()
	if a.status != http.StatusCreated && a.status != http.StatusOK {
		t.Fatalf("%d\n%.900s", a.status, a.body)
	}
	course := a.field(t, "course").(map[string]any)
	texts := func(list string) string {
		var all []string
		notes, _ := course[list].([]any)
		for _, n := range notes {
			all = append(all, n.(map[string]any)["text"].(string))
		}
		return strings.Join(all, " ")
	}
	now := course["now"].(map[string]any)["text"].(string)
	return told{course["verdict"].(string), now, texts("why"), texts("then"), texts("warnings")}
}

// The whole jug ran in within 20 min, and one reading shows it: the clamp is shut, the water
// is where it was read, and the rest waits. Nobody set a limit of his own.
func TestAJugThatRanInIsBelieved(t *testing.T) {
	s := savePlanOf(t, jugBody)
	a := s.logs(t, 1./3, `{"volume": "8.0 L", "salinity": "4 ppt", "temperature": "26 C", "behaviour": "ok"}`, "")
	is := a.told(t)
	if !strings.HasPrefix(is.now, "Close the clamp and leave it closed until ") || !strings.Contains(is.why, "the limit is 3 g/kg an hour") {
		t.Errorf("it says %s %s", is.now, is.why)
	}
	if sp, v := a.number(t, "course.practical_salinity.value"), a.number(t, "course.volume.value"); sp < 3.8 || sp > 4.2 || v < 7.9 || v > 8.1 {
		t.Errorf("it was read at 4 ppt and 8 L, and %.2f ppt and %.2f L are said", sp, v)
	}
	if strings.Contains(a.body, "your own") || strings.Contains(a.body, "limit_given") || strings.Contains(a.body, "limit_looser") {
		t.Errorf("it speaks of a limit that nobody set\n%.900s", a.body)
	}
	if from := a.number(t, "plan.phases.0.from_salinity.value"); from < 3.8 || from > 4.2 {
		t.Errorf("the rest is planned from %.2f ppt", from)
	}
	kinds, evidence := foundOut(t, s.logs(t, 0.5, `{"volume": "8.0 L", "salinity": "4 ppt", "temperature": "26 C"}`, ""))
	if kinds != "filled_up" || !strings.Contains(evidence, "Between 09:00 and 09:20") || !strings.Contains(evidence, "1.7 L") {
		t.Errorf("%s: %s", kinds, evidence)
	}
}

// act is one entry of a night, and what the answer to it must say; empty parts may be anything.
type act struct {
	hours float64
	body  string
	is    told // how each part begins
	never string
}

// read is the body of a reading, both read well.
func read(litres, ppt float64, more string) string {
	return fmt.Sprintf(`{"volume": "%.2f(5) L", "salinity": "%.2f(20) ppt", "instrument": {"kind": "none"}, "temperature": "26 C"%s}`, litres, ppt, more)
}

// Odd nights, each with what somebody who has seen many would say. As told, the container
// holds 6.36 L of 2.45 ppt after half an hour, 6.72 L of 2.86 ppt after one, 7.08 L of 3.22
// ppt after one and a half, 7.44 L of 3.55 ppt after two.
func TestOddNights(t *testing.T) {
	half, one := act{0.5, read(6.36, 2.45, ""), told{verdict: "on_course"}, ""}, act{1, read(6.72, 2.86, ""), told{verdict: "on_course"}, ""}
	const goesOn = "All is going to plan. Leave the valve"
	for name, night := range map[string][]act{
		"gallons written as litres": {half,
			{1, `{"volume": "1.78 L", "temperature": "26 C"}`, told{"paused", "Close the clamp and read once more how full", "", "", "A volume of 1.8 L (0.47 gal) does not fit; everything else says 6.7 L (1.8 gal)"}, `"plan":`},
			{1.5, read(7.08, 3.22, ""), told{verdict: "on_course", now: goesOn}, ""}},
		"a decimal point lost": {one,
			{1.1, `{"salinity": "28.6 ppt", "instrument": {"kind": "refractometer"}, "temperature": "26 C"}`, told{"paused", "Close the clamp and read the salinity once more", "You read 28.6 ppt; by everything else it should show 2.9", "", ""}, `"plan":`}},
		"salt poured into the container": {half,
			{1, read(6.72, 5.9, ""), told{verdict: "paused", now: "Close the clamp and read the salinity once more"}, `"plan":`},
			{1.2, read(6.72, 5.9, ""), told{"corrected", "Close the clamp and leave it closed until 11:30.", "Two readings agree, so the animals are at 5.9 ppt.", "Check the instrument in a water you know", ""}, ""}},
		"tap water filled up": {half, {1, read(8.02, 2.39, ""), told{verdict: "on_course"}, "slipped"},
			{1.5, read(8.38, 2.72, ""), told{verdict: "on_course", why: "Between 09:30 and 10:00 about 1.3 L (0.34 gal) of fresh water got in"}, "does not fit"}},
		"a reading logged twice": {one, {1.003, read(6.72, 2.86, ""), told{verdict: "on_course", now: goesOn}, `"found"`},
			{1.006, read(6.72, 2.86, ""), told{verdict: "on_course", now: goesOn}, `"found"`}},
		"readings out of order": {{2, read(7.44, 3.55, ""), told{verdict: "on_course"}, ""},
			{2.1, read(6.72, 2.86, `, "time": "2026-12-01T10:00:00Z"`), told{verdict: "on_course", now: goesOn}, "does not fit"}},
		"the clock of the phone an hour behind": {half, {2, read(7.44, 3.55, `, "time": "2026-12-01T10:00:00Z", "drops": 40, "drops_in": "10 s"`), told{}, "slipped"},
			{2.5, read(7.8, 3.85, `, "drops": 40, "drops_in": "10 s"`), told{why: "What you logged for 10:00 fits another time. Check the clock."}, "slipped"}},
		"asleep while the jug ran dry":   {one, {7.8, read(8, 4, ""), told{"on_course", "Fill the jug with ", "The jug seems to have run dry", "All is going to plan. Pour off 2 L", ""}, "clogged"}},
		"the valve closed and forgotten": {one, {3, read(6.72, 2.86, `, "drops": 0, "drops_in": "10 s"`), told{"corrected", "Count the drops and set them to 40 in 10 s again", "Nothing drips. See that the jug is not empty", "", ""}, "does not fit"}},
		"the jug empty, and filled again": {one, {2.5, read(7.1, 3.24, ""), told{verdict: "corrected", now: "Count the drops and set them to 40"}, ""},
			{2.6, `{"event": "refilled", "volume": "7.10(5) L"}`, told{verdict: "on_course", then: "Look again at 11:51, 12:06 and 12:36."}, ""}},
		"moved over and not logged": {one, {12.5, `{"salinity": "10.0(2) ppt", "instrument": {"kind": "none"}, "temperature": "26 C", "behaviour": "ok"}`, told{verdict: "paused", now: "End the transfer if the animals are in the new water. If not, close the clamp"}, "Pour off"}},
		"the heater off": {one, {2, strings.Replace(read(7.44, 3.55, ""), "26 C", "24.8 C", 1), told{verdict: "on_course", why: "The water is at 24.8 °C (77 °F); by the plan it should be at 26 °C (79 °F). Check the heater."}, ""},
			{3, strings.Replace(read(8.16, 4.12, ""), "26 C", "23 C", 1), told{"paused", "Close the clamp.", "The water is at 23 °C", "Warm the water to 26 °C (79 °F) with a heater, at 2 °C an hour", ""}, `"plan":`}},
		"the air pump off": {{1, `{"event": "power_off", "note": "the air pump stands still"}`, told{"paused", "Close the clamp.", "The power failed", "Run a battery air pump", ""}, `"plan":`},
			{1.2, strings.Replace(read(6.72, 2.86, ""), "{", `{"event": "power_back", `, 1), told{verdict: "corrected", now: "Count the drops"}, "act_warm"}},
		"a fish jumped out and was put back": {{1, `{"event": "animals_look_wrong", "note": "one lay on the floor"}`, told{"stopped", "Close the clamp.", "You saw a sign of distress", "See that the air stone runs", ""}, `"plan":`}},
		"two fish taken out with some water": {{1, read(6.5, 2.86, `, "note": "took two out"`), told{verdict: "on_course", now: goesOn}, "does not fit"},
			{2, read(7.22, 3.57, ""), told{verdict: "on_course", now: goesOn}, "does not fit"}},
	} {
		s := savePlanOf(t, jugBody)
		for i, x := range night {
			path := (map[bool]string{true: "/events", false: "/readings"})[strings.Contains(x.body, `"event"`)]
			*s.now = nine.Add(hoursOf(x.hours))
			a := s.call(t, http.MethodPost, s.path+path, x.body, "Authorization", "Bearer "+s.key)
			is := a.told(t)
			for _, part := range [][2]string{{is.verdict, x.is.verdict}, {is.now, x.is.now}, {is.why, x.is.why}, {is.then, x.is.then}, {is.warnings, x.is.warnings}} {
				if !strings.HasPrefix(part[0], part[1]) {
					t.Errorf("%s, %d: it says %q, want %q", name, i, part[0], part[1])
				}
			}
			if x.never != "" && strings.Contains(a.body, x.never) {
				t.Errorf("%s, %d: it says %s: %s %s %s", name, i, x.never, is.now, is.why, is.warnings)
			}
		}
	}
}

func hoursOf(h float64) time.Duration { return time.Duration(h * float64(time.Hour)) }

// A bucket of another shape shows another level: the keeper is asked for litres.
func TestAnotherBucket(t *testing.T) {
	s := savePlan(t)
	for i, x := range []struct{ hours, level, ppt float64 }{{1, 11.9, 2.86}, {2, 9.5, 3.55}, {2.5, 9.9, 3.85}} {
		a := s.logs(t, x.hours, fmt.Sprintf(`{"level": "%g cm", "salinity": "%g(2) ppt", "instrument": {"kind": "none"}, "temperature": "26 C"}`, x.level, x.ppt), "")
		if is := a.told(t); i == 2 && !strings.Contains(is.why, "or this is another container. Read litres") {
			t.Errorf("it says %s", is.why)
		}
	}
}

// The night on which the clock goes back has an hour twice. Times on the keeper's clock are
// those of the hour that is meant, and a hold of one hour is one hour long.
func TestTheClockGoesBack(t *testing.T) {
	s := savedPlan{service: newService(t), now: new(time.Date(2026, 10, 24, 23, 30, 0, 0, time.UTC))} // 01:30 in Berlin; at 01:00 UTC it is 02:00 again
	s.db.Now = func() time.Time { return *s.now }
	a := s.call(t, http.MethodPost, "/v1/transfers", strings.Replace(jugBody, "{", `{"time_zone": "Europe/Berlin", `, 1))
	if a.status != http.StatusCreated {
		t.Fatalf("%d\n%.900s", a.status, a.body)
	}
	s.id, s.key = a.field(t, "id").(string), a.field(t, "key").(string)
	s.path = "/v1/transfers/" + s.id
	at := func(h float64, body string) answered {
		*s.now = time.Date(2026, 10, 24, 23, 30, 0, 0, time.UTC).Add(hoursOf(h))
		return s.call(t, http.MethodPost, s.path+"/readings", body, "Authorization", "Bearer "+s.key)
	}
	if is := at(1, read(6.72, 2.86, "")).told(t); is.verdict != "on_course" {
		t.Errorf("after an hour: %s %s", is.verdict, is.now)
	}
	is := at(1.5, read(9.5, 10-8*6/9.5, "")).told(t)
	if !strings.HasPrefix(is.now, "Close the clamp and leave it closed until ") || !strings.Contains(is.why, "Between 02:30 and 02:00 ") {
		t.Errorf("%s %s", is.now, is.why)
	}
}
