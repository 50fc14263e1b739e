package server_test

import (
	"strings"
	"testing"
)

const (
	rampScat = `{"route": "ramp", "animals": [{"species": "scatophagus-argus", "stage": "juvenile", "origin": "captive", "count": 4, "mass": "1 g"}],
	"from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "26 C"},
	"home_tank": {"volume": "200 L", "source": "0.2 ppt", "filter": true}}`
	stagedScat = `{"route": "staged", "animals": [{"species": "scatophagus-argus", "stage": "adult", "origin": "captive", "count": 1, "mass": "30 g"}],
	"from": {"salinity": "0.5 ppt", "temperature": "26 C"}, "to": {"salinity": "30 ppt", "temperature": "26 C"},
	"container": {"capacity": "60 L", "start_volume": "20 L", "aerated": true}, "line": {"greatest_drip": "60 drops/s"}, "holding_tanks": {"volume": "100 L"}}`
	combinedScat = `{"route": "combined", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "30 ppt", "temperature": "26 C"},
	"container": {"capacity": "20 L", "aerated": true}, "line": {"drop_volume": "0.05 mL"}, "home_tank": {"volume": "200 L"}}`
)

var cupsScat = strings.Replace(streamBody, "{", `{"route": "cups", `, 1)

// Water that is too warm or too cold comes before the salinity by every route: it is put right
// first, and no salt follows within 12 h of that, whatever is reported in between.
func TestWarmthByEveryRoute(t *testing.T) {
	t.Parallel()
	const hot, cold = "Unplug the heater", "Warm the water to 26 °C"
	for name, x := range map[string]struct {
		plan, body string
		at         float64
		first      string
	}{
		"a ramp, hot":   {rampScat, `{"temperature": "33 C", "salinity": "5 ppt", "behaviour": "ok"}`, 71.5, hot},
		"a ramp, cold":  {rampScat, `{"temperature": "20 C", "salinity": "3.8 ppt", "behaviour": "ok"}`, 71, cold},
		"cups, hot":     {cupsScat, `{"temperature": "33 C", "cups": 3}`, 0.9, hot},
		"cups, cold":    {cupsScat, `{"temperature": "21 C", "cups": 3}`, 0.9, cold},
		"staged, hot":   {stagedScat, `{"temperature": "33 C"}`, 0.8, "Unplug the heater and close the clamp."},
		"staged, cold":  {stagedScat, `{"temperature": "20 C"}`, 0.8, "Close the clamp."},
		"a drip, hot":   {streamBody, `{"temperature": "33 C"}`, 0.8, "Unplug the heater and close the clamp."},
		"a drip, cold":  {streamBody, `{"temperature": "20 C"}`, 0.8, "Close the clamp."},
		"combined, hot": {combinedScat, `{"temperature": "33 C"}`, 0.8, hot},
	} {
		s := savePlanOf(t, x.plan)
		a := s.logs(t, x.at, x.body, "")
		is := a.told(t)
		if is.verdict != "paused" || !strings.HasPrefix(is.now, x.first) || !strings.HasPrefix(is.why, "The water is at") || !strings.Contains(is.then, "Change the salinity no earlier than 12 h after that") || strings.Contains(a.body, `"plan":`) {
			t.Errorf("%s: %d %+v", name, a.status, is)
		}
		if text, now := s.get(t, s.path+"?format=text").body, s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(text, x.first) || !strings.HasPrefix(now, x.first) || strings.Contains(text+now, "Pour in") || strings.Contains(text+now, "Put in") {
			t.Errorf("%s: the text says\n%s\nnow says\n%s", name, text, now)
		}
		if de := s.get(t, s.path+"?format=text&lang=de").body; !strings.Contains(de, "Der Salzgehalt wartet") && !strings.Contains(de, "frühestens 12 h danach") {
			t.Errorf("%s: in German\n%s", name, de)
		}
		is = s.logs(t, x.at+3, `{"temperature": "26 C"}`, "").told(t)
		if is.verdict != "paused" || !strings.Contains(is.now, " until ") || !strings.HasPrefix(is.why, "The water was at") {
			t.Errorf("%s, warm again: %+v", name, is)
		}
		for _, event := range []string{"late", "clamp_touched"} {
			if was, is := is.why, s.event(t, x.at+3.5, `{"event": "`+event+`"}`, "").told(t); is.verdict != "paused" || !strings.Contains(is.now, " until ") || !strings.HasPrefix(is.why, was) {
				t.Errorf("%s, warm again and %s: %+v", name, event, is)
			}
		}
	}
}

// A salinity far nearer to the target than planned is read again before anything goes on, and two
// that agree are the truth: what was too fast is named, the animals rest, and the cause is looked for.
func TestTooSaltyByEveryRoute(t *testing.T) {
	t.Parallel()
	type way struct {
		plan, first, second, again, hold, broken, find string
		at                                             float64
	}
	const what, drip = "Before you change more water, find out what went in", "Before it drips again, find out why so much came in."
	for name, x := range map[string]way{
		"cups, counted":   {cupsScat, `{"salinity": "8 ppt", "temperature": "26 C", "cups": 3}`, `{"salinity": "8 ppt", "temperature": "26 C", "cups": 3}`, "Read the salinity once more", "Change no more water until", "Between 09:00 and 09:53 the salinity changed by 6.8 g/kg an hour", what, 53. / 60},
		"cups, uncounted": {cupsScat, `{"salinity": "8 ppt", "temperature": "26 C"}`, `{"salinity": "8.2 ppt", "temperature": "26 C"}`, "Read the salinity once more", "Change no more water until", "Between 09:00 and 09:53 the salinity changed by 6.8 g/kg an hour", what, 53. / 60},
		"staged":          {stagedScat, `{"salinity": "12 ppt", "volume": "40 L", "temperature": "26 C"}`, `{"salinity": "12 ppt", "volume": "40 L", "temperature": "26 C"}`, "Close the clamp and read the salinity once more", "Close the clamp and leave it closed until", "Between 09:00 and 09:40 the salinity changed by 17.3 g/kg an hour", drip, 40. / 60},
		"a ramp":          {rampScat, `{"salinity": "9 ppt", "temperature": "26 C", "behaviour": "ok"}`, `{"salinity": "9 ppt", "temperature": "26 C", "behaviour": "ok"}`, "Read the salinity once more", "Change no more water until", "Two readings show 9", what, 119},
	} {
		s := savePlanOf(t, x.plan)
		a := s.logs(t, x.at, x.first, "")
		if is := a.told(t); is.verdict != "paused" || !strings.HasPrefix(is.now, x.again) || !strings.HasPrefix(is.why, "You read ") || strings.Contains(a.body, `"plan":`) {
			t.Errorf("%s, once: %+v", name, is)
		}
		for _, event := range []string{"clamp_touched", "late", "refilled"} {
			if is := s.event(t, x.at+0.02, `{"event": "`+event+`"}`, "").told(t); is.verdict != "paused" || !strings.HasPrefix(is.now, x.again) {
				t.Errorf("%s, once and %s: %+v", name, event, is)
			}
		}
		is := s.logs(t, x.at+0.1, x.second, "").told(t)
		if is.verdict != "corrected" || !strings.HasPrefix(is.now, x.hold) || !strings.Contains(is.why, x.broken) || !strings.HasPrefix(is.then, x.find) || strings.Contains(is.warnings, "does not fit") {
			t.Errorf("%s, twice: %+v", name, is)
		}
		text, now := s.get(t, s.path+"?format=text").body, s.get(t, s.path+"/now?format=text").body
		if !strings.HasPrefix(text, x.hold) || !strings.HasPrefix(now, x.hold) || strings.Contains(text, "does not fit") {
			t.Errorf("%s, twice: the text says\n%.600s\nnow says\n%s", name, text, now)
		}
		if de := s.get(t, s.path+"/now?format=text&lang=de").body; !strings.HasPrefix(de, "Wechsle kein Wasser mehr bis") && !strings.HasPrefix(de, "Schließ die Klemme und lass sie zu bis") {
			t.Errorf("%s: in German\n%s", name, de)
		}
		if is := s.logs(t, x.at+0.5, `{"behaviour": "ok"}`, "").told(t); name != "a ramp" && (is.verdict != "on_course" || !strings.Contains(is.now, " until ") || strings.Contains(is.now, "All is going to plan")) {
			t.Errorf("%s, in the rest: %+v", name, is)
		}
		if is := s.event(t, x.at+0.6, `{"event": "clamp_touched"}`, "").told(t); strings.Contains(is.warnings, "does not fit") || name != "a ramp" && !strings.Contains(is.now, " until ") {
			t.Errorf("%s, touched in the rest: %+v", name, is)
		}
	}
}

// A salinity that is too high once, and then as planned, was a misreading.
func TestTooSaltyOnlyOnce(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, stagedScat)
	s.logs(t, 40./60, `{"salinity": "12 ppt", "temperature": "26 C"}`, "")
	if is := s.logs(t, 45./60, `{"salinity": "2.4(2) ppt", "instrument": {"kind": "none"}, "temperature": "26 C"}`, "").told(t); is.verdict != "on_course" || strings.Contains(is.now, "salinity") {
		t.Errorf("%+v", is)
	}
}

// Cups do not pour themselves: after hours in which nobody logged anything, they are counted first.
func TestCupsNobodyPoured(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, cupsScat)
	s.logs(t, 50./60, `{"salinity": "3.2 ppt", "temperature": "26 C", "cups": 2}`, "")
	a := s.logs(t, 200./60, `{"behaviour": "ok"}`, "")
	if is := a.told(t); is.verdict != "paused" || !strings.HasPrefix(is.now, "Read once more how full the container is, and count the cups") || strings.Contains(a.body, `"plan":`) || a.number(t, "course.practical_salinity.value") > 3.8 {
		t.Errorf("%+v", is)
	}
	if text := s.get(t, s.path+"?format=text").body; strings.Contains(text, "it holds") {
		t.Errorf("the text says\n%s", text)
	}
	s = savePlanOf(t, cupsScat)
	s.logs(t, 50./60, `{"salinity": "3.2 ppt", "temperature": "26 C", "cups": 2}`, "")
	*s.now = nine.Add(hoursOf(200. / 60))
	if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(now, "Look at the animals now.") || strings.Contains(now, "Pour in") {
		t.Errorf("now says\n%s", now)
	}
	a = s.event(t, 200./60, `{"event": "late"}`, "")
	if is, text := a.told(t), s.get(t, s.path+"?format=text").body; !strings.HasPrefix(is.now, "Read the salinity") || strings.Contains(text, "it holds") || a.number(t, "course.practical_salinity.value") > 3.8 {
		t.Errorf("late: %+v\n%s", is, text)
	}
	// Looked at from cup to cup, without a count, they go on as planned.
	s = savePlanOf(t, cupsScat)
	for at := 0.05; at < 1; at += 0.25 {
		if is := s.logs(t, at, `{"behaviour": "ok"}`, "").told(t); is.verdict != "on_course" || !strings.Contains(is.now, "Pour") {
			t.Errorf("after %.2f h: %+v", at, is)
		}
	}
}

// In distress a tank that is ramped is where it was read to be, and nobody catches its fish out.
func TestDistressInATankThatIsRamped(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, rampScat)
	s.logs(t, 30, `{"salinity": "4 ppt", "temperature": "26 C", "tan": "1 mg/L N", "nitrite": "0.5 mg/L N"}`, "")
	is := s.event(t, 71.9, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "").told(t)
	if is.verdict != "stopped" || !strings.HasPrefix(is.now, "Change half of the water") || !strings.Contains(is.then, "by 1 g/kg to 3 ppt. Change some of the tank") || strings.Contains(is.then, "set aside") || strings.Contains(is.then, "Move the animals") {
		t.Errorf("%+v", is)
	}
	if de := s.get(t, s.path+"?format=text&lang=de").body; !strings.Contains(de, "Wechsle im Becken etwas Wasser gegen solches wie davor, nach und nach.") {
		t.Errorf("in German\n%s", de)
	}
}

// Ammonia between holding tanks, in water that is too warm: the clean water is cooler, and the
// clamp is closed at every button.
func TestFoulAndHotBetweenHoldingTanks(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, stagedScat)
	is := s.logs(t, 50./60, `{"temperature": "33 C", "tan": "3 mg/L N"}`, "").told(t)
	if is.verdict != "paused" || is.now != "Unplug the heater and close the clamp." || !strings.HasPrefix(is.then, "Move the animals into clean, dechlorinated water at 2.5 ppt and 31 °C") || !strings.HasPrefix(is.why, "Ammonia was 3 mg/L N") || !strings.Contains(is.why, "The water is at 33 °C") {
		t.Errorf("%+v", is)
	}
	s = savePlanOf(t, stagedScat)
	s.logs(t, 50./60, `{"salinity": "3 ppt", "temperature": "26 C"}`, "")
	a := s.event(t, 55./60, `{"event": "animals_look_wrong", "behaviour": "heavy_mucus"}`, "")
	if is := a.told(t); is.now != "Close the clamp." || a.number(t, "course.practical_salinity.value") > 3.5 {
		t.Errorf("%+v", is)
	}
}
