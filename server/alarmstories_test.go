package server_test

import (
	"strings"
	"testing"
)

const (
	stagedBody = `{"route": "staged", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "30 ppt", "temperature": "26 C"},
		"container": {"capacity": "20 L", "aerated": true}, "line": {"drop_volume": "0.05 mL"}}`
	rampBody = `{"route": "ramp", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "2 ppt", "temperature": "26 C", "ph": "7.8"}, "to": {"salinity": "12 ppt", "temperature": "26 C", "ph": "8.2"},
		"home_tank": {"volume": "200 L"}}`
	bagBody = `{"animals": [{"species": "amphiprion-ocellaris", "count": 2, "mass": "5 g"}],
		"from": {"salinity": "34 ppt", "temperature": "25 C", "hours_in_bag": "20 h"}, "to": {"salinity": "35 ppt", "temperature": "26 C"}}`
)

// What is still wrong comes before whatever is reported next, and nothing but its own report or
// reading clears it: who is told to close the clamp presses stop.
func TestWhatIsStillWrongComesFirst(t *testing.T) {
	t.Parallel()
	const (
		air   = "Run a battery air pump"
		clean = "Move the animals into clean, dechlorinated water"
		leak  = "Close the clamp and look under the container."
	)
	poison, hot, off := `{"tan": "8 mg/L N", "temperature": "26 C"}`, `{"temperature": "33 C", "behaviour": "ok"}`, `{"event": "power_off"}`
	cups := strings.Replace(keeperBody, "{", `{"route": "cups", `, 1)
	for name, x := range map[string]struct {
		plan  string
		log   []string
		first string // what is said first, or right after the clamp
		then  string // and somewhere after that
	}{
		"stopped without power":                  {keeperBody, []string{off, `{"event": "stop"}`}, air, "Wrap the container"},
		"the power fails after a stop":           {keeperBody, []string{`{"event": "stop"}`, `{"event": "clamp_touched"}`, off}, air, "Unplug the heaters"},
		"late without power":                     {keeperBody, []string{off, `{"event": "late"}`}, air, ""},
		"touched without power":                  {keeperBody, []string{off, `{"event": "clamp_touched"}`}, air, ""},
		"poison, without power, touched":         {keeperBody, []string{poison, off, `{"event": "clamp_touched"}`}, air, clean},
		"poison and a stop":                      {keeperBody, []string{poison, `{"event": "stop"}`}, clean, "Read the salinity"},
		"heat and a stop":                        {keeperBody, []string{hot, `{"event": "stop"}`}, "Unplug the heater.", "Let the water cool"},
		"heat, a stop and no power":              {keeperBody, []string{hot, `{"event": "stop"}`, off}, air, "Leave the container unwrapped"},
		"a leak and a stop":                      {keeperBody, []string{read(3, 2.6, ""), `{"volume": "2.6 L"}`, `{"event": "stop"}`}, leak, ""},
		"a leak and no power":                    {keeperBody, []string{read(3, 2.6, ""), `{"volume": "2.6 L"}`, off}, leak, air},
		"a leak and distress":                    {keeperBody, []string{read(3, 2.6, ""), `{"volume": "2.6 L"}`, `{"event": "animals_look_wrong"}`}, leak, "See that the air stone runs"},
		"poison by cups and a stop":              {cups, []string{poison, `{"event": "stop"}`}, clean, ""},
		"cold water by cups":                     {cups, []string{`{"cups": 1, "temperature": "21 C"}`}, "Warm the water to 26 °C", ""},
		"cold water of a ramp":                   {rampBody, []string{`{"salinity": "2.1 ppt", "temperature": "20 C"}`}, "Warm the water to 26 °C", ""},
		"a moult and poison":                     {keeperBody, []string{`{"behaviour": "moult"}`, poison}, "Change half of the water", "Leave it alone where it is"},
		"a moult and heat":                       {keeperBody, []string{`{"behaviour": "moult"}`, `{"temperature": "30 C"}`}, "Unplug the heater.", "Leave it alone where it is"},
		"a moult and no power":                   {keeperBody, []string{`{"behaviour": "moult"}`, off}, air, "Leave it alone where it is"},
		"a foul bag without power":               {bagBody, []string{off}, air, ""},
		"between tanks without power":            {stagedBody, []string{off}, air, ""},
		"the power is back, and it is cold":      {keeperBody, []string{`{"event": "power_back", "temperature": "20 C"}`}, "See that the air stone runs and the surface moves. Warm the water to 26 °C", "canister filter"},
		"heat and poison":                        {keeperBody, []string{`{"tan": "3 mg/L N", "temperature": "33 C"}`}, clean, "Unplug the heater and close the clamp."},
		"gasping, heat and poison":               {keeperBody, []string{`{"tan": "3 mg/L N", "temperature": "33 C", "behaviour": "gasping"}`}, "See that the air stone runs", "Unplug the heater and close the clamp."},
		"distress in a tank with ammonia":        {rampBody, []string{`{"tan": "8 mg/L N", "temperature": "26 C"}`, `{"event": "animals_look_wrong", "behaviour": "gasping"}`}, "Change half of the water", "See that the air stone runs"},
		"a heater that sticks":                   {streamBody, []string{`{"temperature": "33 C", "behaviour": "gasping"}`}, "See that the air stone runs", "Unplug the heater and close the clamp."},
		"the power fails, and somebody is late ": {cups, []string{off, `{"event": "late"}`}, air, ""},
	} {
		s := savePlanOf(t, x.plan)
		var is told
		for i, body := range x.log {
			at := 0.3 + 0.05*float64(i)
			if strings.Contains(body, `"event"`) {
				is = s.event(t, at, body, "").told(t)
			} else {
				is = s.logs(t, at, body, "").told(t)
			}
		}
		shuts := strings.Contains(is.now, "lose the clamp") || strings.HasPrefix(is.now, "Open the bag") || strings.HasPrefix(is.now, "Leave the clamp closed") || strings.HasPrefix(is.now, "Change no more water")
		if !strings.HasPrefix(is.now, x.first) && !(shuts && strings.HasPrefix(is.then, x.first)) && !strings.HasPrefix(is.now, "Unplug the heater and close the clamp") || !strings.Contains(is.now+" "+is.then, x.then) {
			t.Errorf("%s: %+v", name, is)
		}
		if is.verdict != "paused" && is.verdict != "stopped" {
			t.Errorf("%s: %s", name, is.verdict)
		}
		now := s.get(t, s.path+"/now?format=text").body
		if !strings.Contains(now, x.first) && !strings.Contains(now, "Unplug the heater and close the clamp") && name != "between tanks without power" {
			t.Errorf("%s: now says\n%s", name, now)
		}
	}
}

// A drip between holding tanks has a clamp too, and the salinity is the one that was read.
func TestTheClampBetweenHoldingTanks(t *testing.T) {
	t.Parallel()
	for _, body := range []string{`{"event": "stop"}`, `{"event": "power_off"}`, `{"event": "animals_look_wrong", "behaviour": "heavy_mucus"}`} {
		s := savePlanOf(t, stagedBody)
		if is := s.event(t, 1, body, "").told(t); is.now != "Close the clamp." {
			t.Errorf("%s: %+v", body, is)
		}
	}
	s := savePlanOf(t, stagedBody)
	s.logs(t, 1.9, `{"salinity": "2.4(1) ppt", "instrument": {"kind": "none"}, "temperature": "26 C"}`, "")
	if a := s.event(t, 2, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, ""); a.number(t, "course.practical_salinity.value") > 3.1 {
		t.Errorf("it was read at 2.4 ppt, and is said to be at %.1f", a.number(t, "course.practical_salinity.value"))
	}
}

// In a tank that is ramped, two readings above what the next change is to bring lead on from there.
func TestARampThatIsAhead(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, rampBody)
	p := s.get(t, s.path).phases(t)
	second := p[1].Start.Value
	is := s.logs(t, second-3, `{"salinity": "9 ppt", "temperature": "26 C", "behaviour": "ok"}`, "").told(t)
	if !strings.HasPrefix(is.now, "Read the salinity once more") {
		t.Errorf("once: %+v", is)
	}
	a := s.logs(t, second-2.5, `{"salinity": "9 ppt", "temperature": "26 C", "behaviour": "ok"}`, "")
	if is = a.told(t); is.verdict != "corrected" && is.verdict != "no_way_on" || strings.HasPrefix(is.now, "Take out") {
		t.Errorf("twice: %+v", is)
	}
}

// After the end what goes wrong with the water is taken and answered: no power, heat, ammonia.
func TestWhatGoesWrongAfterTheEnd(t *testing.T) {
	t.Parallel()
	for body, first := range map[string]string{
		`{"event": "power_off"}`:                                            "Run a battery air pump",
		`{"temperature": "21 C", "behaviour": "ok"}`:                        "Warm the water to 26 °C",
		`{"tan": "3 mg/L N", "temperature": "26 C", "behaviour": "ok"}`:     "Change half of the water",
		`{"temperature": "30.5 C"}`:                                         "Unplug the heater.",
		`{"behaviour": "not_feeding"}`:                                      "Look at the animals, then leave them in peace.",
		`{"tan": "0 mg/L N", "nitrite": "0 mg/L N", "temperature": "26 C"}`: "Look at the animals, then leave them in peace.",
	} {
		s := savePlanOf(t, keeperBody)
		*s.now = nine.Add(hoursOf(5))
		s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key)
		ask := s.logs
		if strings.Contains(body, "event") {
			ask = s.event
		}
		is := ask(t, 6, body, "").told(t)
		now := s.get(t, s.path+"/now?format=text").body
		if is.verdict != "ended" || !strings.HasPrefix(is.now, first) || !strings.HasPrefix(now, first) {
			t.Errorf("%s: %+v\n%s", body, is, now)
		}
		if strings.Contains(body, "not_feeding") && !strings.HasPrefix(is.then, "Offer a small meal 24 h after the release.") {
			t.Errorf("an hour after the release: %+v", is)
		}
	}
}

// Called off in the middle of a drip, the clamp is closed and the animals stay.
func TestCalledOff(t *testing.T) {
	t.Parallel()
	for hours, want := range map[float64]string{1.5: "Close the clamp.", 0: "Leave the animals where they are. Nothing was begun."} {
		s := savePlanOf(t, keeperBody)
		*s.now = nine.Add(hoursOf(hours))
		a := s.call(t, "PATCH", s.path, `{"state": "cancelled"}`, "Authorization", "Bearer "+s.key)
		is := a.told(t)
		now := s.get(t, s.path+"/now?format=text").body
		if is.now != want || !strings.HasPrefix(now, want) || strings.Contains(a.body, `"plan":`) || strings.Contains(is.then, "release") {
			t.Errorf("after %g h: %+v\n%s", hours, is, now)
		}
	}
}

// Full to the brim and within the tolerance, there is one thing to do: close the clamp, and let
// them rest for as long as the broken limit asks for.
func TestArrivedAtTheBrim(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, streamBody)
	s.logs(t, 80./60, `{"volume": "20 L", "salinity": "7.5 ppt"}`, "")
	is := s.logs(t, 85./60, `{"volume": "20 L", "salinity": "7.6 ppt"}`, "").told(t)
	text := s.get(t, s.path+"?format=text").body
	if is.now != "Close the clamp." || !strings.Contains(is.then, "Let them rest until") || strings.Contains(text, "Pour off") {
		t.Errorf("%+v\n%s", is, text)
	}
}

// A restart puts nothing right that its own reading does not: the order that stood comes first,
// and nothing drips until it is reported to be over.
func TestARestartClearsNoAlarm(t *testing.T) {
	t.Parallel()
	const off, read = `{"event": "power_off"}`, `{"salinity": "3.5 ppt", "volume": "7 L", "behaviour": "ok"}`
	for name, x := range map[string]struct{ before, first, over string }{
		"no power": {off, "Run a battery air pump", `{"event": "power_back", "temperature": "26 C"}`},
		"ammonia":  {`{"tan": "3 mg/L N", "temperature": "26 C"}`, "Move the animals into clean", `{"tan": "0 mg/L N", "nitrite": "0 mg/L N", "salinity": "3.5 ppt", "volume": "7 L"}`},
		"heat":     {`{"temperature": "33 C"}`, "Unplug the heater", `{"temperature": "26 C", "salinity": "3.5 ppt", "volume": "7 L"}`},
	} {
		s := savePlanOf(t, streamBody)
		s.event(t, 1, `{"event": "stop"}`, "")
		if x.before == off {
			s.event(t, 1.5, x.before, "")
		} else {
			s.logs(t, 1.5, x.before, "")
		}
		*s.now = nine.Add(hoursOf(3))
		a := s.call(t, "POST", s.path+"/restart", read, "Authorization", "Bearer "+s.key)
		is, now := a.told(t), s.get(t, s.path+"/now?format=text").body
		if is.verdict != "paused" || !strings.Contains(is.now+" "+is.then, x.first) || strings.Contains(is.now+is.then, "Set the line") || !strings.Contains(now, x.first) {
			t.Errorf("%s: %+v\n%s", name, is, now)
		}
		ask := s.logs
		if x.before == off {
			ask = s.event
		}
		if is = ask(t, 3.2, x.over, "").told(t); strings.Contains(is.now+is.then, x.first) {
			t.Errorf("%s, over: %+v", name, is)
		}
	}
}

// Whoever sits in a foul bag is brought out of it, whatever else is reported.
func TestTheFoulBagStaysFirst(t *testing.T) {
	t.Parallel()
	for _, body := range []string{`{"event": "stop"}`, `{"event": "late"}`, `{"event": "clamp_touched"}`, `{"event": "power_back"}`, `{"tan": "3 mg/L N", "temperature": "25 C"}`} {
		s := savePlanOf(t, bagBody)
		ask := s.logs
		if strings.Contains(body, "event") {
			ask = s.event
		}
		is := ask(t, 0.1, body, "").told(t)
		if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(is.now, "Open the bag.") || !strings.HasPrefix(now, "Open the bag.") || strings.Count(is.now+is.then, "Open the bag.") != 1 {
			t.Errorf("%s: %+v\n%s", body, is, now)
		}
	}
}

// A canister filter that stood for ten hours is emptied, also if the water is cold.
func TestTheCanisterOfColdWater(t *testing.T) {
	t.Parallel()
	for name, body := range map[string]string{"ramp": rampBody, "drip": streamBody, "between tanks": stagedBody} {
		s := savePlanOf(t, body)
		s.event(t, 0.5, `{"event": "power_off"}`, "")
		if is := s.event(t, 10.5, `{"event": "power_back", "temperature": "19 C"}`, "").told(t); !strings.Contains(is.then, "Warm the water to 26 °C") || !strings.Contains(is.then, "canister filter") {
			t.Errorf("%s: %+v", name, is)
		}
	}
}

// A restart in cold water warms it first, and a clamp that was closed for days ran no jug dry.
func TestARestartInColdWater(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, keeperBody)
	s.event(t, 1, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "")
	s.logs(t, 5, `{"behaviour": "ok"}`, "")
	*s.now = nine.Add(hoursOf(49))
	a := s.call(t, "POST", s.path+"/restart", `{"salinity": "3.3 ppt", "volume": "7 L", "temperature": "22 C", "behaviour": "ok"}`, "Authorization", "Bearer "+s.key)
	if is := a.told(t); is.verdict != "paused" || !strings.Contains(is.then, "Warm the water to 26 °C") || strings.Contains(is.why, "run dry") {
		t.Errorf("%+v", is)
	}
}

// Wrong water in the jug shows in the container, going down as well.
func TestWrongWaterGoingDown(t *testing.T) {
	t.Parallel()
	down := strings.NewReplacer(`"2 ppt"`, `"14 ppt"`, `"10 ppt"`, `"2 ppt"`).Replace(streamBody)
	s := savePlanOf(t, down)
	is := s.logs(t, 1./3, `{"salinity": "16 ppt", "volume": "7.5 L", "temperature": "26 C"}`, "").told(t)
	if is.verdict != "paused" || !strings.HasPrefix(is.now, "Close the clamp and read") || strings.Contains(is.now+is.then, "Set the line") {
		t.Errorf("%+v", is)
	}
}

// After a refill of unknown salt, distress asks for the salinity before any step back.
func TestDistressAfterARefill(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, streamBody)
	s.event(t, 1./3, `{"event": "refilled", "volume": "12 L"}`, "")
	a := s.event(t, 50./60, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "")
	if is := a.told(t); strings.Contains(a.body, "step_back") || !strings.Contains(is.then, "Read the salinity, the temperature and how full") {
		t.Errorf("%+v", is)
	}
}

// An end by mistake is undone, and the plan goes on. An end ahead is not one that was.
func TestAnEndByMistakeIsUndone(t *testing.T) {
	t.Parallel()
	for _, state := range []string{"finished", "cancelled"} {
		s := savePlanOf(t, streamBody)
		s.logs(t, 0.5, read(7.2, 3.3, ""), "")
		*s.now = nine.Add(hoursOf(0.6))
		s.call(t, "PATCH", s.path, `{"state": "`+state+`"}`, "Authorization", "Bearer "+s.key)
		is := s.call(t, "PATCH", s.path, `{"state": "finished", "end": "2026-12-02T09:00:00Z"}`, "Authorization", "Bearer "+s.key).told(t)
		if is.verdict != "on_course" || !strings.HasPrefix(is.now, "All is going to plan") {
			t.Errorf("%s: %+v", state, is)
		}
		if a := s.logs(t, 0.7, read(7.5, 3.6, ""), ""); a.status != 201 {
			t.Errorf("%s: a reading after it: %d", state, a.status)
		}
		if text, ics := s.get(t, s.path+"?format=text").body, s.get(t, s.path+"/calendar").body; !strings.HasPrefix(text, "Set to end on 2 December 2026") || strings.Contains(ics, "STATUS:CANCELLED") {
			t.Errorf("%s: an end ahead:\n%s\n%s", state, text, ics)
		}
		if a := s.call(t, "PATCH", s.path, `{"state": "cancelled", "end": "2026-12-02T09:00:00Z"}`, "Authorization", "Bearer "+s.key); a.status != 422 || a.problem(t).Errors[0].Where != "/end" {
			t.Errorf("%s: called off ahead: %d %.300s", state, a.status, a.body)
		}
		s.call(t, "PATCH", s.path, `{"state": "`+state+`"}`, "Authorization", "Bearer "+s.key)
		if ics := s.get(t, s.path+"/calendar").body; !strings.Contains(ics, "STATUS:CANCELLED") {
			t.Errorf("%s: the visits after the end are not cancelled", state)
		}
		a := s.call(t, "PATCH", s.path, `{"state": "under_way"}`, "Authorization", "Bearer "+s.key)
		if is := a.told(t); a.field(t, "state") != "under_way" || strings.Contains(a.body, `"end":`) || is.verdict != "on_course" || strings.Contains(s.get(t, s.path+"/calendar").body, "STATUS:CANCELLED") {
			t.Errorf("%s: undone: %+v", state, is)
		}
	}
}

// A count of more cups than there are is asked for again, and a jug that was filled explains no
// water that is missing from the container: 1.8 L were poured off early.
func TestCountsAndJugs(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, strings.Replace(streamBody, "{", `{"route": "cups", `, 1))
	if is := s.logs(t, 0.4, `{"cups": 40}`, "").told(t); !strings.HasPrefix(is.now, "Read once more how full the container is, and count the cups") {
		t.Errorf("40 cups: %+v", is)
	}
	s = savePlanOf(t, streamBody)
	a := s.event(t, 52./60, `{"event": "refilled", "volume": "6 L", "salinity": "3.9 ppt"}`, "")
	if sp := a.number(t, "course.practical_salinity.value"); sp < 3.4 || sp > 4.2 {
		t.Errorf("read at 3.9 ppt, said to be at %.1f: %+v", sp, a.told(t))
	}
}

// By cups, two readings far beyond what went in are where the animals are: the limit that this
// broke is named, nothing goes in or over until it is waited off, and nothing says that what is
// used was left out.
func TestCupsFarBeyond(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, strings.Replace(streamBody, "{", `{"route": "cups", `, 1))
	s.logs(t, 50./60, `{"salinity": "8 ppt", "cups": 3, "temperature": "26 C"}`, "")
	a := s.logs(t, 55./60, `{"salinity": "8 ppt", "cups": 3, "temperature": "26 C"}`, "")
	is := a.told(t)
	if !strings.HasPrefix(is.now, "Change no more water until ") || !strings.Contains(is.why, "Between 09:00 and 09:50 the salinity changed by 7.2 g/kg an hour") || !strings.Contains(is.then, "Let them rest until") || strings.Contains(a.body, "left out") {
		t.Errorf("%+v", is)
	}
}

// Drops counted while the power is off show that the clamp is open, whatever was said.
func TestDropsWithoutPower(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, keeperBody)
	s.event(t, 0.3, `{"event": "power_off"}`, "")
	if is := s.logs(t, 0.5, `{"drops": 60, "drops_in": "10 s"}`, "").told(t); !strings.HasPrefix(is.now, "The clamp is not closed") || !strings.HasPrefix(is.then, "Run a battery air pump") {
		t.Errorf("%+v", is)
	}
}

// Whoever calls a move off before it begins does so when they say it, not at its start.
func TestCalledOffBeforeTheStart(t *testing.T) {
	t.Parallel()
	s := savePlan(t)
	*s.now = nine.Add(hoursOf(-20))
	a := s.call(t, "PATCH", s.path, `{"state": "cancelled"}`, "Authorization", "Bearer "+s.key)
	if now := s.get(t, s.path+"/now?format=text").body; a.field(t, "end") != "2026-11-30T13:00:00Z" || a.field(t, "state") != "cancelled" || strings.Contains(now, "09:00") || !strings.Contains(now, "13:00") {
		t.Errorf("%v\n%s", a.field(t, "end"), now)
	}
	if ics := s.get(t, s.path+"/calendar").body; strings.Count(ics, "STATUS:CANCELLED") != strings.Count(ics, "BEGIN:VEVENT") {
		t.Errorf("some visits are left\n%s", ics)
	}
}

// The calendar says when it was made or changed, which is never ahead; a move without a curve says that
// it has no chart.
func TestCalendarIsMadeWhenItWasSaved(t *testing.T) {
	t.Parallel()
	s := savePlan(t)
	a := s.call(t, "PATCH", s.path, `{"start": "2026-12-20T09:00:00Z"}`, "Authorization", "Bearer "+s.key)
	if ics := s.get(t, s.path+"/calendar").body; a.status != 200 || !strings.Contains(ics, "DTSTAMP:20261201T090000Z") || strings.Count(ics, "DTSTAMP:20261201T090000Z") != strings.Count(ics, "DTSTAMP") {
		t.Errorf("%d\n%s", a.status, ics)
	}
	s = savePlanOf(t, strings.Replace(strings.Replace(savedBody, `"2 ppt"`, `"9.5 ppt"`, 1), "{", `{"route": "direct", `, 1))
	if a := s.get(t, s.path+"/chart"); a.status != 409 || !strings.Contains(a.body, "no curve to draw; read the transfer") {
		t.Errorf("%d %s", a.status, a.body)
	}
}
