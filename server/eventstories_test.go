package server_test

import (
	"strings"
	"testing"
)

// At a sign of distress air comes first, then ammonia, then the temperature, whatever was read
// along with it: the water they are moved into is already 2 °C nearer. Water outside what the animals live in comes to the edge of that at 2 °C an
// hour; scats live at 20 to 28 °C.
func TestAirFirstThenAmmoniaThenWarmth(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, streamBody)
	is := s.logs(t, 0.9, `{"temperature": "33 C", "behaviour": "gasping", "salinity": "4 ppt", "volume": "7.5 L", "tan": "5 mg/L N"}`, "").told(t)
	if is.verdict != "stopped" || is.now != "Unplug the heater and close the clamp." || !strings.HasPrefix(is.then, "See that the air stone runs and the surface moves. Move the animals into clean") || !strings.Contains(is.then, "and 31 °C (88 °F)") || !strings.Contains(is.then, "Let the water cool to 28 °C (82 °F), at 2 °C an hour (3.6 °F an hour). Go on to 26 °C (79 °F), at 1 °C an hour (1.8 °F an hour) at most.") {
		t.Errorf("%+v", is)
	}
	if now := s.get(t, s.path+"/now?format=text").body; !strings.Contains(now, "\nSee that the air stone runs and the surface moves. Move the animals into clean") {
		t.Errorf("now says\n%s", now)
	}
	s = savePlanOf(t, streamBody)
	if is := s.logs(t, 0.9, `{"temperature": "33 C", "behaviour": "ok"}`, "").told(t); is.now != "Unplug the heater and close the clamp." || !strings.HasPrefix(is.then, "See that the air stone runs and the surface moves. Let the water cool to 28 °C (82 °F), at 2 °C an hour") {
		t.Errorf("calm: %+v", is)
	}
	s = savePlanOf(t, streamBody)
	s.event(t, 0.5, `{"event": "power_off"}`, "")
	if is := s.event(t, 3.5, `{"event": "power_back"}`, "").told(t); !strings.HasPrefix(is.then, "See that the air stone runs") {
		t.Errorf("with the power back: %+v", is)
	}
	if is := s.logs(t, 3.6, `{"temperature": "19 C"}`, "").told(t); !strings.HasPrefix(is.now, "Leave the clamp closed and warm") || !strings.HasPrefix(is.then, "See that the air stone runs and the surface moves. Warm the water to 26 °C (79 °F) with a heater, at 2 °C an hour") {
		t.Errorf("cold: %+v", is)
	}
}

// Whatever closed the clamp stays first until it is cleared: a clamp that somebody touched, a
// late keeper or a thermometer changes nothing about a bucket that is full to the rim.
func TestWhatClosedTheClampStays(t *testing.T) {
	t.Parallel()
	full := `{"volume": "20 L", "salinity": "7.5 ppt", "behaviour": "ok"}`
	for name, x := range map[string]struct{ reading, now string }{
		"bucket at the rim":  {full, "Close the clamp and read once more how full the container is."},
		"far too much":       {`{"volume": "17 L", "salinity": "3.2 ppt", "behaviour": "ok"}`, "Close the clamp and read once more how full the container is."},
		"half empty":         {`{"volume": "3 L", "salinity": "3.2 ppt", "behaviour": "ok"}`, "Close the clamp and read once more how full the container is."},
		"33 °C":              {`{"temperature": "33 C", "behaviour": "ok"}`, "Unplug the heater and close the clamp."},
		"saltier than it is": {`{"salinity": "33 ppt", "instrument": {"kind": "none"}, "volume": "7.1 L"}`, "Close the clamp and read the salinity once more"},
		"a broken limit":     {read(10, 5.2, ""), "Close the clamp and leave it closed until"},
	} {
		for _, more := range []string{`{"event": "clamp_touched"}`, `{"event": "late"}`, `{"temperature": "26.5 C"}`} {
			if strings.Contains(more, "temperature") && strings.Contains(x.reading, "temperature") {
				continue
			}
			s := savePlanOf(t, streamBody)
			was := s.logs(t, 0.5, x.reading, "").told(t)
			if !strings.HasPrefix(was.now, x.now) {
				t.Errorf("%s: %+v", name, was)
			}
			var is told
			if strings.Contains(more, "event") {
				is = s.event(t, 0.6, more, "").told(t)
			} else {
				is = s.logs(t, 0.6, more, "").told(t)
			}
			if name == "a broken limit" && !strings.Contains(more, "clamp") {
				continue
			}
			if now := s.get(t, s.path+"/now?format=text").body; is.now != was.now || !strings.HasPrefix(now, x.now) || strings.Contains(is.now+is.then, "Catch one minute") {
				t.Errorf("%s, then %s: %+v\n%s", name, more, is, now)
			}
		}
	}
}

// Drops counted after a stop are drops: the clamp is not closed, whatever was reported.
func TestStoppedAndItGoesOnDripping(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, streamBody)
	s.event(t, 0.5, `{"event": "stop"}`, "")
	if is := s.event(t, 0.6, `{"event": "clamp_touched"}`, "").told(t); is.verdict != "stopped" || is.now != "Close the clamp." {
		t.Errorf("touched: %+v", is)
	}
	if is := s.logs(t, 1, `{"drops": 20, "drops_in": "10 s", "volume": "8.5 L", "salinity": "4.2 ppt"}`, "").told(t); is.verdict != "stopped" || is.now != "The clamp is not closed: close it, and pull the hose out of the jug." {
		t.Errorf("counted: %+v", is)
	}
	if is := s.logs(t, 1.1, `{"drops": 0, "drops_in": "10 s"}`, "").told(t); is.now != "Leave the clamp closed." {
		t.Errorf("now it is: %+v", is)
	}
	if is := s.logs(t, 1.2, `{"behaviour": "gasping"}`, "").told(t); is.now != "Leave the clamp closed." || !strings.HasPrefix(is.then, "See that the air stone runs") {
		t.Errorf("distress after it: %+v", is)
	}
}

// Distress after the end overrides the end: air, temperature, ammonia, and half a step back from
// the water they are in. A move from 3.3 to 10 ppt is a step of 6.8 g/kg, and 5 is the limit.
func TestDistressAfterTheEnd(t *testing.T) {
	t.Parallel()
	finished := func(hours float64, readings ...func(s savedPlan)) (savedPlan, answered) {
		s := savePlanOf(t, streamBody)
		for _, r := range readings {
			r(s)
		}
		*s.now = nine.Add(hoursOf(hours))
		return s, s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key)
	}
	for name, x := range map[string]struct{ body, now, then string }{
		"loss of balance": {`{"event": "animals_look_wrong", "behaviour": "loss_of_balance"}`, "See that the air stone runs and the surface moves.", "Check the temperature. Test for ammonia. If there is any, change half"},
		"with ammonia":    {`{"behaviour": "gasping", "salinity": "10 ppt", "tan": "2 mg/L N", "temperature": "26 C"}`, "Change half of the water for clean, dechlorinated water of the same salinity and temperature. Do it again every hour until both tests are low. Feed nothing.", "See that the air stone runs"},
		"warm":            {`{"behaviour": "gasping", "salinity": "10 ppt", "temperature": "31 C"}`, "See that the air stone runs and the surface moves.", "Unplug the heater. Let the water cool to 28 °C"},
	} {
		s, a := finished(5./12, func(s savedPlan) { s.logs(t, 0.4, read(6.9, 3.1, ""), "") })
		if is := a.told(t); is.verdict != "ended" || !strings.HasPrefix(is.why, "You moved them from 3.") || !strings.Contains(is.why, "The limit is 5 g/kg.") || strings.Contains(a.body, `"plan":`) {
			t.Errorf("moved early: %+v", is)
		}
		if now := s.get(t, s.path+"/now?format=text").body; !strings.Contains(now, "\nYou moved them from 3.") {
			t.Errorf("now says\n%s", now)
		}
		path := s.logs
		if strings.Contains(x.body, "event") {
			path = s.event
		}
		a = path(t, 0.5, x.body, "")
		is := a.told(t)
		if is.verdict != "stopped" || is.now != x.now || !strings.HasPrefix(is.then, x.then) || !strings.Contains(is.then, "by 2.5 g/kg to 7.5 ppt. Mix 1.9 L (0.5 gal) of the water set aside with 4.1 L (1.1 gal) of theirs") || strings.Contains(a.body, "left out") {
			t.Errorf("%s: %+v", name, is)
		}
		if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(now, x.now) || strings.Contains(now, "peace") {
			t.Errorf("%s: now says\n%s", name, now)
		}
		if text := s.get(t, s.path+"?format=text").body; strings.Contains(text, "peace") || strings.Contains(text, "Close the clamp") {
			t.Errorf("%s: it says\n%s", name, text)
		}
		if is := s.logs(t, 0.6, `{"event": "late", "behaviour": "ok"}`, "").told(t); is.verdict != "ended" {
			t.Errorf("%s: well again: %+v", name, is)
		}
	}
	s, a := finished(5)
	if is := a.told(t); is.verdict != "ended" || is.why != "" || is.now != "Look at the animals, then leave them in peace." {
		t.Errorf("as planned: %+v", is)
	}
	if now := s.get(t, s.path+"/now?format=text").body; !strings.Contains(now, "The transfer ended at 14:00.") {
		t.Errorf("now says\n%s", now)
	}
	s, _ = finished(1, func(s savedPlan) { s.event(t, 0.5, `{"event": "stop"}`, "") })
	s.event(t, 1.2, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "")
	if now := s.get(t, s.path+"/now?format=text").body; strings.Contains(now, "peace") {
		t.Errorf("stopped, ended and in distress: now says\n%s", now)
	}
}

// The water is changed around the animals, who are not caught for it: cup by cup, and
// no more than the 6 L that were set aside. By hand, 6 L through 9 L bring 2.5 g/kg above the old
// water down by 1.22 and 3.5 by 1.7 (1 - exp(-6/9)); through 14 L they bring 3.5 down by 1.22.
func TestTheWayBackUsesWhatIsThere(t *testing.T) {
	t.Parallel()
	for _, x := range []struct{ ppt, litres, want string }{
		{"4.5", "9", "by 1.2 g/kg to 3.3 ppt. Swap 6 L (1.6 gal)"},
		{"5.5", "9", "by 1.7 g/kg to 3.8 ppt. Swap 6 L (1.6 gal) for"},
		{"5.5", "14", "by 1.2 g/kg to 4.3 ppt. Swap 6 L (1.6 gal) for"},
		{"2.9", "7", ""}, // half of it no instrument shows
	} {
		s := savePlanOf(t, streamBody)
		s.logs(t, 0.2, read(6.4, 2.5, ""), "")
		is := s.logs(t, 1.4, `{"behaviour": "loss_of_balance", "temperature": "26 C", "salinity": "`+x.ppt+` ppt", "volume": "`+x.litres+` L"}`, "").told(t)
		if !strings.Contains(is.then, x.want) || (x.want == "") == strings.Contains(is.then, "half a step") || strings.Contains(is.then, "Mix ") || strings.Contains(is.then, "ove them") {
			t.Errorf("%s ppt: %+v", x.ppt, is)
		}
	}
}

// Before anything was logged, a visit that is overdue asks for a look, by cups and overflow too.
func TestNothingWasLoggedAndAVisitIsOverdue(t *testing.T) {
	t.Parallel()
	for name, body := range map[string]string{
		"cups":     strings.Replace(streamBody, "{", `{"route": "cups", `, 1),
		"overflow": strings.Replace(streamBody, `"aerated": true`, `"aerated": true, "overflow": true`, 1),
	} {
		s := savePlanOf(t, body)
		*s.now = nine.Add(hoursOf(0.98))
		if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(now, "Look at the animals now.") || strings.Contains(now, "Overdue") {
			t.Errorf("%s: now says\n%s", name, now)
		}
	}
}

// Who read the new water by the time of the release may have moved the animals without a report:
// in distress they are asked for, and helped where they probably are.
func TestDistressAfterAReleaseNobodyReported(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, streamBody)
	if is := s.logs(t, 5, `{"salinity": "10 ppt", "note": "released"}`, "").told(t); !strings.HasPrefix(is.now, "End the transfer if the animals are in the new water.") {
		t.Errorf("released: %+v", is)
	}
	is := s.event(t, 6.8, `{"event": "animals_look_wrong", "behaviour": "heavy_mucus"}`, "").told(t)
	if is.verdict != "stopped" || !strings.HasPrefix(is.now, "See that the air stone runs") || !strings.HasPrefix(is.then, "End the transfer if the animals are in the new water. If not, close the clamp") ||
		!strings.Contains(is.then, "to 7.5 ppt. Mix 1.9 L") || strings.Contains(is.then, "Take out") {
		t.Errorf("distress: %+v", is)
	}
}

// A wait is told from the time of asking, and never as none.
func TestTheWaitGetsShorter(t *testing.T) {
	t.Parallel()
	s := savePlan(t)
	s.logs(t, 1, `{"volume": "6.72 L", "salinity": "2.86 ppt", "instrument": {"kind": "none"}, "temperature": "26 C"}`, "")
	for later, want := range map[float64]string{1: "in about 1 h 50 min.", 2: "in about 48 min.", 2.9: "in about 1 min."} {
		*s.now = nine.Add(hoursOf(later))
		if now := s.get(t, s.path+"/now?format=text").body; !strings.Contains(now, want) {
			t.Errorf("after %g h: %s", later, now)
		}
	}
}
