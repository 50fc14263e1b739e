package server_test

import (
	"strings"
	"testing"
)

// Phones tell the time to the minute, so what is reported just after the release is dated before it
// or at it. The animals are in the new water all the same, where there is no clamp.
func TestReportedInTheMinuteOfTheRelease(t *testing.T) {
	t.Parallel()
	const at = 5 + 40./3600 // 40 s after 14:00
	for name, x := range map[string]struct{ off, body, now, then string }{
		"the power is back": {`{"event": "power_off", "time": "2026-12-01T13:50:00Z"}`, `{"event": "power_back", "time": "2026-12-01T14:00:00Z"}`, "See that the air stone runs", "canister filter"},
		"just then":         {`{"event": "power_off", "time": "2026-12-01T13:50:00Z"}`, `{"event": "power_back", "time": "2026-12-01T14:00:40Z"}`, "See that the air stone runs", "canister filter"},
		"no power":          {"", `{"event": "power_off", "time": "2026-12-01T14:00:00Z"}`, "Run a battery air pump", "Report when the power is back"},
		"ammonia":           {"", `{"behaviour": "ok", "tan": "4 mg/L N", "nitrite": "2 mg/L N", "temperature": "26 C", "time": "2026-12-01T14:00:00Z"}`, "Change half of the water", "Test that water"},
		"heat":              {"", `{"behaviour": "ok", "temperature": "33 C", "time": "2026-12-01T14:00:00Z"}`, "Unplug the heater.", "Let the water cool"},
		"gasping":           {"", `{"behaviour": "gasping", "time": "2026-12-01T14:00:00Z"}`, "See that the air stone runs", "of theirs"},
		"something wrong":   {"", `{"event": "animals_look_wrong", "time": "2026-12-01T14:00:40Z"}`, "See that the air stone runs", "of theirs"},
	} {
		s := savePlanOf(t, streamBody)
		if x.off != "" {
			s.event(t, 4.9, x.off, "")
		}
		*s.now = nine.Add(hoursOf(at))
		s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key)
		path := s.logs
		if strings.Contains(x.body, `"event"`) {
			path = s.event
		}
		is := path(t, at+0.005, x.body, "").told(t)
		now := s.get(t, s.path+"/now?format=text").body
		if !strings.HasPrefix(is.now, x.now) || !strings.Contains(is.then, x.then) || !strings.HasPrefix(now, x.now) || strings.Contains(is.now+is.then, "clamp") {
			t.Errorf("%s: %+v\n%s", name, is, now)
		}
	}
	// What was read in the container in that minute is of the container.
	s := savePlanOf(t, streamBody)
	s.logs(t, 5, `{"salinity": "9.9 ppt", "volume": "11.9 L", "temperature": "26 C", "behaviour": "ok"}`, "")
	*s.now = nine.Add(hoursOf(at))
	if is := s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key).told(t); is.verdict != "ended" || is.why != "" {
		t.Errorf("read and moved over: %+v", is)
	}
}

// What is wrong outlives a move that is called off.
func TestCalledOffAndStillWrong(t *testing.T) {
	t.Parallel()
	for name, x := range map[string]struct {
		plan string
		log  []string
		now  string
	}{
		"hardly any water":       {jugBody, []string{`{"volume": "1 L", "temperature": "26 C", "behaviour": "ok"}`}, "Pour in the water set aside now"},
		"poison in a tank":       {rampBody, []string{`{"tan": "4 mg/L N", "temperature": "26 C", "behaviour": "ok"}`}, "Change half of the water"},
		"a clamp that runs":      {jugBody, []string{`{"event": "stop"}`, `{"volume": "9 L", "salinity": "5.5 ppt", "temperature": "26 C"}`}, "Pinch the hose"},
		"water at the rim":       {jugBody, []string{`{"volume": "20 L", "behaviour": "ok"}`}, "Close the clamp and read once more"},
		"a container that leaks": {jugBody, []string{read(6.36, 2.45, ""), read(6.12, 2.89, ""), read(5.88, 3.33, ""), read(5.64, 3.75, "")}, "Close the clamp and stop the leak"},
	} {
		s := savePlanOf(t, x.plan)
		for i, body := range x.log {
			if at := 0.5 + 0.5*float64(i); strings.Contains(body, `"event"`) {
				s.event(t, at, body, "")
			} else {
				s.logs(t, at, body, "")
			}
		}
		*s.now = nine.Add(hoursOf(2.5))
		s.call(t, "PATCH", s.path, `{"state": "cancelled"}`, "Authorization", "Bearer "+s.key)
		if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(now, x.now) {
			t.Errorf("%s: now says\n%s", name, now)
		}
	}
}

// Animals that were moved over in distress are in distress in the new water, which is what counts
// from then on, and the step of the move is named.
func TestMovedOverInDistress(t *testing.T) {
	t.Parallel()
	over := func(s savedPlan) told {
		*s.now = nine.Add(hoursOf(0.8))
		return s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key).told(t)
	}
	for name, plan := range map[string]string{"cups": strings.Replace(jugBody, `{`, `{"route": "cups", `, 1), "drip": jugBody} {
		s := savePlanOf(t, plan)
		s.logs(t, 0.5, `{"salinity": "3.5 ppt", "temperature": "26 C", "behaviour": "ok"}`, "")
		s.event(t, 0.6, `{"event": "animals_look_wrong", "behaviour": "loss_of_balance"}`, "")
		for when, is := range map[string]told{"moved over": over(s), "worse": s.logs(t, 1, `{"behaviour": "gasping"}`, "").told(t)} {
			all := is.now + is.why + is.then
			if is.verdict != "stopped" || !strings.HasPrefix(is.now, "See that the air stone runs") || !strings.Contains(is.why, "The limit is 5 g/kg.") ||
				!strings.Contains(is.then, "by 2.5 g/kg to 7.5 ppt. Mix ") || strings.Contains(all, "clamp") || strings.Contains(all, "cup") {
				t.Errorf("%s, %s: %+v", name, when, is)
			}
		}
		// Well again before the move, they are left in peace.
		s = savePlanOf(t, plan)
		s.event(t, 0.5, `{"event": "animals_look_wrong", "behaviour": "loss_of_balance"}`, "")
		s.logs(t, 0.7, `{"behaviour": "ok"}`, "")
		if is := over(s); is.verdict != "ended" || !strings.HasPrefix(is.now, "Look at the animals, then leave them in peace.") || !strings.Contains(is.why, "a step of") {
			t.Errorf("%s, well again: %+v", name, is)
		}
	}
}

// What is read in the new water counts: other water than planned is named, with the step it was, and a
// step back goes from there. By hand: half of a step of 5 g/kg back from 20 ppt leads to between 17.5 and 18; from
// water at 9 ppt, no step leads on to 9.5.
func TestTheNewWaterIsNotAsPlanned(t *testing.T) {
	t.Parallel()
	over := func() savedPlan {
		s := savePlanOf(t, strings.Replace(scatBody, `"route": "cups", `, "", 1))
		s.logs(t, 19, `{"salinity": "11.8 ppt", "volume": "8 L", "temperature": "26 C", "behaviour": "ok"}`, "")
		s.logs(t, 19.1, `{"salinity": "11.8 ppt", "volume": "8 L", "temperature": "26 C", "behaviour": "ok"}`, "")

		*s.now = nine.Add(hoursOf(20))
		s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key)
		return s
	}
	s := over()
	const off = `{"salinity": "20 ppt", "temperature": "26 C", "behaviour": "ok"}`
	is := s.logs(t, 20.2, off, "").told(t)
	if !strings.HasPrefix(is.now, "Read the salinity of the new water once more") || !strings.Contains(is.why, "The new water shows 20") || !strings.Contains(is.why, "that was a step of") || !strings.Contains(is.then, "towards 12 ppt") {
		t.Errorf("read once: %+v", is)
	}
	is = s.logs(t, 20.3, off, "").told(t)
	if !strings.HasPrefix(is.now, "Bring the new water towards 12 ppt") || !strings.Contains(is.why, "Two readings agree") {
		t.Errorf("read twice: %+v", is)
	}
	is = s.logs(t, 20.4, `{"salinity": "20 ppt", "temperature": "26 C", "behaviour": "loss_of_balance"}`, "").told(t)
	if !strings.Contains(is.then, "to 17.7 ppt") || !strings.Contains(is.why, "The new water shows 20") {
		t.Errorf("in distress: %+v", is)
	}
	is = over().logs(t, 20.2, `{"salinity": "9 ppt", "temperature": "26 C", "behaviour": "gasping"}`, "").told(t)
	if strings.Contains(is.then, "9.5 ppt") || strings.Contains(is.then, "of theirs") || !strings.Contains(is.why, "The new water shows 9 ppt") {
		t.Errorf("in water less salty than planned: %+v", is)
	}
	is = over().logs(t, 20.2, `{"salinity": "12.1 ppt", "temperature": "26 C", "behaviour": "ok"}`, "").told(t)
	if !strings.HasPrefix(is.now, "Look at the animals") || strings.Contains(is.why, "new water") {
		t.Errorf("as planned: %+v", is)
	}
}
