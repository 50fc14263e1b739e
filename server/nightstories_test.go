package server_test

import (
	"strings"
	"testing"
)

// What is read without a doubted number lifts no doubt about it, nor does a thermometer.
func TestADoubtStaysUntilItsNumberIsRead(t *testing.T) {
	t.Parallel()
	const again, saltAgain = "Close the clamp and read once more how full", "Close the clamp and read the salinity once more"
	const byRefractometer = `{"salinity": "6 ppt", "instrument": {"kind": "refractometer", "scale": "seawater"}, "temperature": "26 C"}`
	tellNights(t, streamBody, map[string][]act{
		"a volume, then salinities": {{50. / 60, `{"volume": "18 L"}`, told{verdict: "paused", now: again}, `"plan":`},
			{55. / 60, `{"salinity": "3.9 ppt", "temperature": "26 C"}`, told{verdict: "paused", now: again}, `"plan":`},
			{1, `{"salinity": "4 ppt", "temperature": "26 C"}`, told{verdict: "paused", now: again}, `"plan":`},
			{1.1, read(7.8, 3.9, ""), told{}, again}},
		"a salinity, then a volume": {{1. / 3, `{"salinity": "6.2 ppt", "volume": "6.8 L", "temperature": "26 C"}`, told{verdict: "paused", now: saltAgain}, `"plan":`},
			{0.4, `{"volume": "6.8 L"}`, told{verdict: "paused", now: saltAgain}, `"plan":`},
			{0.5, read(6.8, 2.9, ""), told{}, saltAgain}},
		"a jump that only salinities show": {{1. / 3, byRefractometer, told{verdict: "paused"}, "Pour off"}, {0.4, byRefractometer, told{verdict: "paused", now: "Close the clamp, then read"}, "Pour off"},
			{0.5, `{"temperature": "26 C"}`, told{verdict: "paused", now: "Close the clamp, then read the salinity and how full"}, "Pour off"}},
	})
}

// Water poured in as told is a step, and no drip that ran too fast: nothing rests for it.
func TestWhatWasPouredInAsToldIsNoBrokenLimit(t *testing.T) {
	t.Parallel()
	tellNights(t, streamBody, map[string][]act{
		"nearly dry": {{0.5, read(7.2, 3.3, ""), told{}, ""}, {0.7, `{"volume": "0.5 L"}`, told{verdict: "paused", now: "Pour in the water set aside now"}, `"plan":`},
			{0.9, read(6.4, 2.1, ""), told{verdict: "paused", now: "Close the clamp and read once more how full"}, "Leave it alone for"},
			{1.15, read(6.4, 2.1, ""), told{verdict: "corrected", now: "Set the line to"}, "Leave it alone for"}},
	})
}

// Filled up, of what salt nobody said: one order only, and that is to read it.
func TestFilledUpAsksForTheSalinity(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, streamBody)
	is := s.event(t, 0.5, `{"event": "refilled", "volume": "12 L"}`, "").told(t)
	now := s.get(t, s.path+"/now?format=text").body
	if is.verdict != "paused" || is.now != "Close the clamp and read the salinity." || is.then != "" || !strings.HasPrefix(now, is.now) || strings.Count(now, "clamp") != 1 {
		t.Errorf("%+v\n%s", is, now)
	}
	// In distress, too: how far back to go, only the salinity says.
	s = savePlanOf(t, streamBody)
	s.logs(t, 0.5, read(7.2, 3.3, ""), "")
	s.event(t, 0.6, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "")
	a := s.event(t, 0.7, `{"event": "refilled", "volume": "9 L"}`, "")
	if is = a.told(t); is.verdict != "stopped" || !strings.HasSuffix(is.then, "Read the salinity, the temperature and how full the container is, and log them.") || strings.Contains(a.body, "step_back") || strings.Contains(s.get(t, s.path+"?format=text").body, "9 L") {
		t.Errorf("in distress: %+v", is)
	}
	a = s.logs(t, 0.8, `{"volume": "9 L", "salinity": "4.8 ppt", "temperature": "26 C"}`, "")
	if is = a.told(t); !strings.Contains(is.then, "Swap ") {
		t.Errorf("read since: %+v", is)
	}
}

// Who is well since is told that, and what still holds, but not the list of causes again.
func TestWellSince(t *testing.T) {
	t.Parallel()
	const holds = "Keep their old water. Watch them closely for three days."
	s := savePlanOf(t, streamBody)
	s.logs(t, 0.5, read(7.2, 3.3, ""), "")
	s.event(t, 1, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "")
	is := s.logs(t, 2, `{"behaviour": "ok"}`, "").told(t)
	if is != (told{"stopped", "Leave the clamp closed.", "You saw a sign of distress (gasping) at 10:00. The plan is over. The animals have looked well since 11:00.", holds, ""}) {
		t.Errorf("well: %+v", is)
	}
	if now := s.get(t, s.path+"/now?format=text").body; strings.Contains(now, "air stone") {
		t.Errorf("now says\n%s", now)
	}
	// What is still wrong stays: water too cold, and no power.
	if is = s.logs(t, 2.5, `{"temperature": "19 C"}`, "").told(t); !strings.HasPrefix(is.now, "Warm the water") || strings.Contains(is.then, "Test for ammonia") {
		t.Errorf("well, but cold: %+v", is)
	}
	if is = s.event(t, 2.6, `{"event": "power_off"}`, "").told(t); !strings.HasPrefix(is.now, "Run a battery air pump") {
		t.Errorf("well, without power: %+v", is)
	}
	// A new sign begins anew, and the rest counts from the latest.
	s.event(t, 3, `{"event": "power_back"}`, "")
	a := s.logs(t, 4, `{"behaviour": "loss_of_balance", "temperature": "26 C"}`, "")
	if is = a.told(t); !strings.HasPrefix(is.why, "You saw a sign of distress (loss of balance) at 13:00.") || !strings.HasPrefix(is.then, "See that the air stone runs") || a.number(t, "course.way_on.earliest.value") < 28 {
		t.Errorf("again: %+v", is)
	}
}

// Distress after a move in one step that is over is answered where no container is followed.
func TestDistressAfterAMoveInOneStep(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, `{"animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "5 ppt", "temperature": "26 C"}}`)
	*s.now = nine.Add(hoursOf(1))
	s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key)
	is := s.event(t, 2, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "").told(t)
	if is.verdict != "stopped" || !strings.HasPrefix(is.now, "See that the air stone runs") || !strings.Contains(is.then, "go half a step back, by 1.5 g/kg to 3.5 ppt.") {
		t.Errorf("%+v", is)
	}
}

// Before anything was logged, what is overdue is named after a look, in every view, and nothing
// begins any more with "as planned".
func TestNothingWasLoggedAndAnActIsOverdue(t *testing.T) {
	t.Parallel()
	for name, x := range map[string]struct {
		body, look, due string
		hours           float64
	}{
		"cups":     {strings.Replace(streamBody, "{", `{"route": "cups", `, 1), "Look at the animals now. Read the salinity, the temperature and how full", "Due at 09:40: Pour in", 0.98},
		"overflow": {strings.Replace(streamBody, `"aerated": true`, `"aerated": true, "overflow": true`, 1), "Look at the animals now. Read the salinity, the temperature and how full", "Due at 09:00: ", 0.98},
		"a drip":   {streamBody, "Look at the animals now. Read the salinity, the temperature and how full", "Due at 09:50: Pour off", 1.2},
		"a ramp": {`{"route": "ramp", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "12 ppt", "temperature": "26 C"},
			"home_tank": {"volume": "200 L"}}`, "Look at the animals now. Read the salinity and the temperature of their water", "Due at Tue 09:00: ", 20},
	} {
		s := savePlanOf(t, x.body)
		before := s.get(t, s.path+"?format=text")
		if !strings.HasPrefix(before.body, "Start as planned.") {
			t.Errorf("%s: at the start it says\n%.200s", name, before.body)
		}
		*s.now = nine.Add(hoursOf(x.hours))
		want := x.look
		now, text := s.get(t, s.path+"/now?format=text").body, s.get(t, s.path+"?format=text")
		is := s.get(t, s.path).told(t)
		for view, says := range map[string]string{"now": now, "text": text.body, "JSON": is.now + "\n" + is.why} {
			lines := strings.Split(says, "\n")
			if !strings.HasPrefix(lines[0], want) || !strings.HasPrefix(lines[1], "Nothing is logged yet. "+x.due) {
				t.Errorf("%s: %s says\n%.400s", name, view, says)
			}
		}
		if is.then != "If you have not started yet, set a new start." || is.verdict != "not_begun" {
			t.Errorf("%s: %+v", name, is)
		}
		if was, now := before.header.Get("ETag"), text.header.Get("ETag"); was == now {
			t.Errorf("%s: the ETag stays %s", name, now)
		}
		if de := s.get(t, s.path+"?format=text&lang=de").body; !strings.HasPrefix(de, "Sieh jetzt nach den Tieren.") || !strings.Contains(de, "Noch ist nichts eingetragen. Fällig ") {
			t.Errorf("%s: in German\n%.400s", name, de)
		}
	}
	// A foul bag is opened before anything else, however late.
	bag := savePlanOf(t, `{"animals": [{"species": "amphiprion-ocellaris", "count": 2, "mass": "5 g"}],
		"from": {"salinity": "34 ppt", "temperature": "25 C", "hours_in_bag": "20 h"}, "to": {"salinity": "35 ppt", "temperature": "26 C"}}`)
	*bag.now = nine.Add(hoursOf(2))
	for _, view := range []string{"/now?format=text", "?format=text"} {
		if says := bag.get(t, bag.path+view).body; !strings.HasPrefix(says, "Open the bag. Move the animals") {
			t.Errorf("a bag, late: it says\n%.300s", says)
		}
	}
}

// Every view says the same of a transfer that was called off or has ended, and an end does not
// silence a sign of distress: what is found out then is logged as before.
func TestTheEndInEveryView(t *testing.T) {
	t.Parallel()
	for _, state := range []string{"finished", "cancelled"} {
		s := savePlanOf(t, streamBody)
		s.logs(t, 0.5, read(7.2, 3.3, ""), "")
		*s.now = nine.Add(hoursOf(1))
		a := s.call(t, "PATCH", s.path, `{"state": "`+state+`"}`, "Authorization", "Bearer "+s.key)
		is := a.told(t)
		now := s.get(t, s.path+"/now?format=text").body
		want := map[string]string{"finished": "Look at the animals, then leave them in peace.", "cancelled": "Close the clamp."}[state]
		if is.verdict != "ended" || is.now != want || !strings.HasPrefix(now, is.now) || strings.Contains(a.body, `"plan":`) {
			t.Errorf("%s: %+v\n%s", state, is, now)
		}
		s = savePlanOf(t, streamBody)
		s.event(t, 0.5, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "")
		*s.now = nine.Add(hoursOf(1))
		is = s.call(t, "PATCH", s.path, `{"state": "`+state+`"}`, "Authorization", "Bearer "+s.key).told(t)
		if now = s.get(t, s.path+"/now?format=text").body; is.verdict != "stopped" || !strings.HasPrefix(now, is.now) || strings.Contains(now, "peace") {
			t.Errorf("%s in distress: %+v\n%s", state, is, now)
		}
		*s.now = nine.Add(hoursOf(2))
		if a := s.logs(t, 1.5, `{"tan": "0 mg/L N", "nitrite": "0 mg/L N", "temperature": "26 C"}`, ""); a.status != 201 {
			t.Errorf("%s: a test after it: %d", state, a.status)
		}
		if is = s.logs(t, 1.6, `{"behaviour": "ok"}`, "").told(t); is.verdict != "ended" {
			t.Errorf("%s: well again: %+v", state, is)
		}
		if a := s.logs(t, 1.7, `{"volume": "8 L"}`, ""); a.status != 409 {
			t.Errorf("%s: over and well, a reading: %d", state, a.status)
		}
	}
}
