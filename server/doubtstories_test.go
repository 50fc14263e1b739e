package server_test

import (
	"strings"
	"testing"
)

// streamBody is keeperBody with a line that runs as a stream: 37 mL/min at first, which fill
// 6 L to 7.8 L in 50 min.
var streamBody = strings.Replace(keeperBody, `"drop_volume": "0.05 mL"`, `"drop_volume": "0.05 mL", "greatest_drip": "22 drops/s"`, 1)

// What a keeper reads against the plan comes first, before anything that goes to plan.
func TestADoubtComesFirst(t *testing.T) {
	t.Parallel()
	for name, night := range map[string][]act{
		"fresh while the level rises": {{0.5, `{"salinity": "0.2 ± 0.1 ppt", "instrument": {"kind": "none"}, "volume": "7.1 L", "temperature": "26 C"}`,
			told{"on_course", "Read the salinity once more, with a rinsed instrument, and then that of the new water.", "You read 0.2 ppt; by everything else it should show 3.3 ppt.", "", "A reading of 0.2 ppt does not fit"}, "All is going to plan"},
			{0.55, read(7.2, 3.4, ""), told{"on_course", "All is going to plan.", "", "", ""}, "everything else says"}},
		"salt as the sea": {{0.5, `{"salinity": "33 ppt", "instrument": {"kind": "none"}, "volume": "7.1 L", "temperature": "26 C"}`,
			told{verdict: "paused", now: "Close the clamp and read the salinity once more"}, "drip runs"}},
		"off for good": {{0.5, read(7.1, 0.2, ""), told{}, ""}, {0.6, read(7.3, 0.2, ""), told{now: "Close the clamp.", then: "Read the salinity once more"}, ""},
			{0.7, read(7.5, 0.2, ""), told{now: "Check the instrument in a water you know, and read the new water with it.", why: "Since 09:36 your instrument is off by about 3.3 g/kg"}, ""}},
		// What was poured off early, and what never came in, look alike where no instrument is named.
		"blocked before a visit": {{0.75, `{"salinity": "2.2 ppt", "volume": "6.2 L", "temperature": "26 C"}`, told{verdict: "corrected", now: "Set the line to 40 mL/min"}, "All is going to plan"}},
		"blocked, seen late":     {{1, `{"salinity": "2.2 ppt", "volume": "6.2 L", "temperature": "26 C"}`, told{verdict: "corrected", now: "Set the line to 39 mL/min"}, "All is going to plan"}},
		"poured off":             {{0.75, `{"salinity": "3.7 ppt", "volume": "6 L", "temperature": "26 C"}`, told{verdict: "on_course", now: "All is going to plan. Leave the valve as it is until the water reaches 8.1 L"}, ""}},
		// So much cannot have dripped in: the clamp is looked at before anything drips again.
		"ten litres at once": {{1. / 3, read(10, 5.2, ""), told{verdict: "corrected", now: "Close the clamp and leave it closed until", then: "Before it drips again, find out why so much came in. Look at the clamp"}, "drip r"},
			{0.5, read(10, 5.2, ""), told{now: "Leave the clamp closed until", why: "Between 09:00 and 09:20 the salinity changed by 9.6 g/kg an hour"}, "drip r"}},
		"after the power was off": {{1, `{"event": "power_off"}`, told{}, "drip runs"}, {1.5, `{"event": "power_back"}`, told{}, "drip runs"},
			{1.6, read(7.9, 4, ""), told{verdict: "corrected", now: "Set the line to"}, "drip r"}},
		// It is colder because the power is off: air and wrapping stay the things to do.
		"colder while the power is off": {{1, `{"event": "power_off"}`, told{}, ""}, {2, `{"temperature": "21 C"}`,
			told{"paused", "Close the clamp.", "The power failed at 10:00, and gravity goes on dripping. The water is at 21 °C (70 °F); by the plan it should be at 26 °C", "Run a battery air pump", ""}, "warm the water"}},
		"filled up, of what salt nobody knows": {{0.5, `{"event": "refilled", "volume": "12 L"}`, told{"paused", "Close the clamp and read the salinity.", "Water was filled up at 09:30", "", ""}, "changed by"},
			{0.6, read(12, 5.9, ""), told{verdict: "corrected", now: "Close the clamp and leave it closed until", why: "Between 09:00 and 09:36 the salinity changed by 6.5 g/kg an hour"}, ""}},
		"filled up, with old water": {{0.5, `{"event": "refilled", "volume": "12 L"}`, told{verdict: "paused"}, ""}, {0.6, read(12, 2.2, ""), told{verdict: "corrected", now: "Set the line to"}, "changed by"}},
		"the jug was filled":        {{0.5, `{"event": "refilled", "volume": "7.1 L"}`, told{verdict: "on_course", now: "All is going to plan."}, ""}},
	} {
		s := savePlanOf(t, streamBody)
		for _, x := range night {
			var a answered
			if strings.Contains(x.body, `"event"`) {
				a = s.event(t, x.hours, x.body, "")
			} else {
				a = s.logs(t, x.hours, x.body, "")
			}
			is := a.told(t)
			for _, part := range [][2]string{{is.verdict, x.is.verdict}, {is.now, x.is.now}, {is.why, x.is.why}, {is.then, x.is.then}, {is.warnings, x.is.warnings}} {
				if !strings.HasPrefix(part[0], part[1]) {
					t.Errorf("%s, after %g h: it says %q, want %q", name, x.hours, part[0], part[1])
				}
			}
			if text := s.get(t, s.path+"?format=text").body; x.never != "" && strings.Contains(text, x.never) {
				t.Errorf("%s, after %g h: it says %q\n%.700s", name, x.hours, x.never, text)
			}
		}
	}
}

// Cups and ramps name a salinity that is not as computed, and both poisons of a tank.
func TestADoubtBesideCupsAndARamp(t *testing.T) {
	t.Parallel()
	cups := savePlanOf(t, strings.Replace(streamBody, "{", `{"route": "cups", `, 1))
	is := cups.logs(t, 2.9, `{"cups": 9, "salinity": "6.1 ppt", "temperature": "26 C"}`, "").told(t)
	if !strings.HasPrefix(is.warnings, "You read 6.1 ppt; by the cups it should show 7.2 ppt.") || !strings.HasPrefix(is.now, "Pour in") {
		t.Errorf("a little beside: %+v", is)
	}
	cups = savePlanOf(t, strings.Replace(streamBody, "{", `{"route": "cups", `, 1))
	if is = cups.logs(t, 0.5, `{"cups": 2, "salinity": "6 ppt", "temperature": "26 C"}`, "").told(t); !strings.HasPrefix(is.now, "Read the salinity once more") {
		t.Errorf("far beside: %+v", is)
	}
	// From 2 to 6 ppt are 4 g/kg, which take 1 h 20 min at 3 g/kg an hour, 1 h 30 min in half hours from 09:30 on.
	if is = cups.logs(t, 0.6, `{"cups": 2, "salinity": "6 ppt", "temperature": "26 C"}`, "").told(t); is.verdict != "corrected" || !strings.HasPrefix(is.now, "Pour in nothing until 11:00") || !strings.Contains(is.why, "Two readings show 6") {
		t.Errorf("twice: %+v", is)
	}
	ramp := savePlanOf(t, `{"route": "ramp", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "12 ppt", "temperature": "26 C"},
		"home_tank": {"volume": "200 L"}}`)
	is = ramp.logs(t, 20, `{"tan": "0 mg/L N", "nitrite": "0 mg/L N", "salinity": "9 ppt", "temperature": "26 C"}`, "").told(t)
	if !strings.HasPrefix(is.now, "Read the salinity once more") {
		t.Errorf("a ramp far beside, with clean tests: %+v", is)
	}
	is = ramp.logs(t, 21, `{"tan": "1 mg/L N", "nitrite": "1 mg/L N"}`, "").told(t)
	if !strings.HasPrefix(is.now, "Change half of the water") || !strings.HasPrefix(is.why, "Ammonia was 1 mg/L N") || !strings.Contains(is.why, "Nitrite was 1 mg/L N") || !strings.HasPrefix(is.warnings, "A reading of 9 ppt does not fit") {
		t.Errorf("both poisons: %+v", is)
	}
}
