package server_test

import (
	"strings"
	"testing"
)

// keeperBody is the scats of jugBody in water of a known pH.
var keeperBody = strings.NewReplacer(`"2 ppt", "temperature": "26 C"`, `"2 ppt", "temperature": "26 C", "ph": "7.8", "alkalinity": "5 dKH"`,
	`"10 ppt", "temperature": "26 C"`, `"10 ppt", "temperature": "26 C", "ph": "8.0", "alkalinity": "7 dKH"`).Replace(jugBody)

// Ammonia or nitrite in the container closes the clamp, and the animals get clean water like
// theirs. Clean tests lead on. At pH 8 and 26 °C about a twentieth of the total is toxic
// [Emerson1975], so that 3 mg/L are three times the 0.05 mg/L that harm.
func TestPoisonInTheContainerIsActedOn(t *testing.T) {
	t.Parallel()
	for name, test := range map[string][2]string{
		"much ammonia": {`"tan": "8 mg/L N"`, "Ammonia was 8 mg/L N at 09:30"},
		"ammonia":      {`"tan": "3 mg/L N"`, "Ammonia was 3 mg/L N at 09:30"},
		"nitrite":      {`"nitrite": "5 mg/L NO2"`, "Nitrite was 1.52 mg/L N at 09:30"},
	} {
		s := savePlanOf(t, keeperBody)
		a := s.logs(t, 0.5, `{`+test[0]+`, "temperature": "26 C", "behaviour": "ok"}`, "")
		is := a.told(t)
		if is.verdict != "paused" || is.now != "Close the clamp." || !strings.HasPrefix(is.why, test[1]) || !strings.HasPrefix(is.then, "Move the animals into clean, dechlorinated water at 2.") || strings.Contains(a.body, `"plan":`) {
			t.Errorf("%s: %+v", name, is)
		}
		if now := s.get(t, s.path+"/now?format=text").body; !strings.Contains(now, "clean, dechlorinated water") || strings.Count(now, "\n") != 3 {
			t.Errorf("%s: now says\n%s", name, now)
		}
		if is := s.logs(t, 0.7, `{"volume": "6.4 L", "salinity": "2.4 ppt", "temperature": "26 C"}`, "").told(t); is.verdict != "paused" {
			t.Errorf("%s: without a new test it goes on: %+v", name, is)
		}
		is = s.logs(t, 1, `{"tan": "0 mg/L N", "nitrite": "0 mg/L N", "volume": "6.2(1) L", "salinity": "2.4(1) ppt", "instrument": {"kind": "none"}, "temperature": "26 C"}`, "").told(t)
		if is.verdict != "paused" || is.now != "Leave the clamp closed until Wed 09:30." || !strings.HasPrefix(is.why, "The water was foul at 09:30.") {
			t.Errorf("%s: in clean water: %+v", name, is)
		}
		is = s.logs(t, 24.6, `{"tan": "0 mg/L N", "nitrite": "0 mg/L N", "volume": "6.2(1) L", "salinity": "2.4(1) ppt", "instrument": {"kind": "none"}, "temperature": "26 C", "behaviour": "ok"}`, "").told(t)
		if is.verdict != "corrected" || strings.Contains(is.why, "poured off") {
			t.Errorf("%s: a day later: %+v", name, is)
		}
	}
}

// What came with a report of distress is not asked for, and the cause that it shows comes right
// after the air.
func TestDistressWithItsCause(t *testing.T) {
	t.Parallel()
	for body, first := range map[string]string{
		`{"event": "animals_look_wrong", "behaviour": "gasping", "tan": "5 mg/L N", "temperature": "26 C"}`:       "Move the animals into clean, dechlorinated water",
		`{"event": "animals_look_wrong", "behaviour": "gasping", "nitrite": "5 mg/L NO2", "temperature": "26 C"}`: "Move the animals into clean, dechlorinated water",
		`{"event": "animals_look_wrong", "behaviour": "gasping", "temperature": "20 C"}`:                          "Warm the water to 26 °C",
		`{"event": "animals_look_wrong", "tan": "0.1 mg/L N", "temperature": "26 C"}`:                             "If the change",
		`{"event": "animals_look_wrong", "behaviour": "gasping", "temperature": "26.2 °C"}`:                       "Test for ammonia.",
	} {
		is := savedPlanTold(t, body)
		if is.verdict != "stopped" || is.now != "Close the clamp." || !strings.HasPrefix(is.then, "See that the air stone runs and the surface moves. "+first) {
			t.Errorf("%s: %+v", body, is)
		}
	}
}

// savedPlanTold is the answer to an event after two hours.
func savedPlanTold(t *testing.T, body string) told {
	t.Helper()
	s := savePlanOf(t, keeperBody)
	s.logs(t, 1.9, read(7.37, 3.49, ""), "")
	return s.event(t, 2, body, "").told(t)
}

// Without power the air stone stands still, whatever was reported before: air comes first.
func TestPowerFailsAfterDistress(t *testing.T) {
	t.Parallel()
	for language, words := range map[string][2]string{"en": {"Run a battery air pump", "See that the air stone runs"}, "de": {"Nimm eine Batterie-Luftpumpe", "ob der Sprudelstein läuft"}} {
		s := savePlanOf(t, keeperBody)
		s.event(t, 1, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "")
		a := s.event(t, 1.2, `{"event": "power_off"}`, "?lang="+language)
		is := a.told(t)
		if is.verdict != "stopped" || !strings.HasPrefix(is.now, words[0]) || strings.Contains(is.then, words[1]) {
			t.Errorf("%s: %+v", language, is)
		}
		if now := s.get(t, s.path+"/now?format=text&lang="+language).body; !strings.HasPrefix(now, words[0]) {
			t.Errorf("now says\n%s", now)
		}
	}
	s := savePlanOf(t, keeperBody)
	s.event(t, 1, `{"event": "power_off"}`, "")
	if is := s.event(t, 1.2, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "").told(t); !strings.HasPrefix(is.now, "Run a battery air pump") {
		t.Errorf("distress without power: %+v", is)
	}
	if is := s.event(t, 2, `{"event": "power_back"}`, "").told(t); !strings.HasPrefix(is.then, "See that the air stone runs") {
		t.Errorf("with the power back: %+v", is)
	}
}

// After water that was too warm or too cold the salinity waits for 12 h, even if the water is
// back at once, which is named as too fast.
func TestSalinityWaitsAfterAnUpset(t *testing.T) {
	t.Parallel()
	for _, celsius := range []string{"33 C", "21 C"} {
		s := savePlanOf(t, keeperBody)
		s.logs(t, 0.5, `{"temperature": "`+celsius+`", "behaviour": "ok"}`, "")
		a := s.logs(t, 1.25, read(6.4, 2.5, `, "behaviour": "ok"`), "")
		if is := a.told(t); is.verdict != "paused" || !strings.HasPrefix(is.now, "Leave the clamp closed until 22:15") || !strings.Contains(is.warnings, "The temperature changed by") || strings.Contains(a.body, `"plan":`) {
			t.Errorf("%s: %+v", celsius, is)
		}
		if is := s.logs(t, 13.5, read(6.4, 2.5, ""), "").told(t); is.verdict != "corrected" {
			t.Errorf("%s: 12 h later: %+v", celsius, is)
		}
	}
}

// A sign of distress is taken wherever it is sent: instead of a restart it stops the transfer.
func TestDistressIsTakenAtARestart(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, keeperBody)
	a := s.call(t, "POST", s.path+"/restart", `{"behaviour": "gasping"}`, "Authorization", "Bearer "+s.key)
	if is := a.told(t); is.verdict != "stopped" || is.now != "Close the clamp." {
		t.Errorf("%+v", is)
	}
}

// What is reported with a restart is kept and answered, whatever else is wrong with it, and nothing
// starts again.
func TestAReportAtARestartIsKept(t *testing.T) {
	t.Parallel()
	for event, now := range map[string]string{
		"animals_look_wrong": "Leave the clamp closed.", "stop": "Leave the clamp closed.", "power_off": "Run a battery air pump", "power_back": "", "late": "", "clamp_touched": "", "refilled": "",
	} {
		s := savePlanOf(t, keeperBody)
		s.event(t, 1, `{"event": "stop"}`, "")
		*s.now = nine.Add(hoursOf(3))
		a := s.call(t, "POST", s.path+"/restart", `{"event": "`+event+`", "salinity": "3.5 ppt", "volume": "6 L", "temperature": "26 C", "colour": 1}`, "Authorization", "Bearer "+s.key)
		if is := a.told(t); a.status != 201 || is.verdict != "stopped" || !strings.HasPrefix(is.now, now) || strings.Contains(is.now+is.then, "set them to") || !strings.Contains(is.warnings, "Your colour was left out") || !strings.Contains(is.warnings, "Nothing was started again.") {
			t.Errorf("%s: %d %+v", event, a.status, is)
		}
		log := a.field(t, "log").([]any)
		if last := log[len(log)-1].(map[string]any); len(log) != 2 || last["event"] != event || last["salinity"] == nil {
			t.Errorf("%s: logged %v", event, log)
		}
	}
	s := savePlanOf(t, keeperBody)
	if a := s.call(t, "POST", s.path+"/restart", `{"behaviour": "gasping", "colour": 1}`, "Authorization", "Bearer "+s.key); a.status != 201 || a.field(t, "course.verdict") != "stopped" {
		t.Errorf("distress and an unknown field: %d %.300s", a.status, a.body)
	}
}

// Of what a report says twice the gravest is logged, and nothing that was not sent.
func TestAReportThatSaysThingsTwice(t *testing.T) {
	t.Parallel()
	for body, want := range map[string]string{
		`{"event": "stop", "event": "stop"}`:                           "stop",
		`{"event": "stop", "event": "late"}`:                           "stop",
		`{"event": "late", "event": "animals_look_wrong"}`:             "animals_look_wrong",
		`{"event": "power_off", "event": "refilled"}`:                  "power_off",
		`{"event": "late", "behaviour": "gasping", "behaviour": "ok"}`: "late gasping",
	} {
		s := savePlanOf(t, keeperBody)
		a := s.event(t, 1, body, "")
		entry := a.field(t, "log").([]any)[0].(map[string]any)
		got := entry["event"].(string)
		if seen, ok := entry["behaviour"].(string); ok {
			got += " " + seen
		}
		if is := a.told(t); a.status != 201 || got != want || strings.Contains(is.warnings, "left out") {
			t.Errorf("%s: %d, logged %v, %s", body, a.status, entry, is.warnings)
		}
	}
}

// A container that was read half empty is read again with the clamp shut, before anything is set.
func TestAHalfEmptyContainerIsReadAgain(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, keeperBody)
	a := s.logs(t, 1./3, read(3, 2.6, ""), "")
	if is := a.told(t); is.verdict != "paused" || !strings.HasPrefix(is.now, "Close the clamp and read once more how full") || strings.Contains(a.body, `"plan":`) {
		t.Errorf("%+v", is)
	}
	if is := s.logs(t, 0.4, read(3, 2.6, ""), "").told(t); strings.HasPrefix(is.now, "Close the clamp and read once more") {
		t.Errorf("twice the same: %+v", is)
	}
}

// Animals in a foul bag leave it first, and at a sign of distress too.
func TestOutOfTheFoulBagFirst(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, `{"animals": [{"species": "amphiprion-ocellaris", "count": 2, "mass": "5 g"}],
		"from": {"salinity": "34 ppt", "temperature": "25 C", "hours_in_bag": "20 h"}, "to": {"salinity": "35 ppt", "temperature": "26 C"}}`)
	if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(now, "Open the bag. Move the animals") {
		t.Errorf("now says\n%s", now)
	}
	is := s.event(t, 0.5, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "").told(t)
	if is.verdict != "stopped" || !strings.HasPrefix(is.now, "Open the bag. Move the animals") || strings.Contains(is.then, "set aside") {
		t.Errorf("%+v", is)
	}
}

// Where nobody has read anything hours after the start, now asks for a look before anything else.
func TestNothingWasReadForHours(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, keeperBody)
	for _, hours := range []float64{3, 9, 30} {
		*s.now = nine.Add(hoursOf(hours))
		now := s.get(t, s.path+"/now?format=text").body
		if !strings.HasPrefix(now, "Look at the animals now. Read the salinity, the temperature and how full the container is, and log it.\nNothing is logged yet. Due at ") ||
			!strings.HasSuffix(now, "\nIf you have not started yet, set a new start.\n") || strings.Contains(now, "into the new water") {
			t.Errorf("after %g h it says\n%s", hours, now)
		}
	}
}

// Who gave no count is not asked for one when the water is clean again.
func TestCleanWaterWithoutACount(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, strings.Replace(jugBody, `, "count": 4, "mass": "1 g"`, "", 1))
	s.logs(t, 0.5, `{"tan": "3 mg/L N", "temperature": "26 C", "behaviour": "ok"}`, "")
	for _, x := range []struct {
		at      float64
		verdict string
	}{{1, "paused"}, {25, "corrected"}} {
		if is := s.logs(t, x.at, `{"tan": "0 mg/L N", "nitrite": "0 mg/L N", "volume": "6 L", "salinity": "2.4 ppt", "temperature": "26 C", "behaviour": "ok"}`, "").told(t); is.verdict != x.verdict {
			t.Errorf("after %g h: %+v", x.at, is)
		}
	}
}

// Power that comes back unannounced, in the night, finds the clamp open.
func TestPowerBackUnannounced(t *testing.T) {
	t.Parallel()
	for body, then := range map[string]string{
		`{"event": "power_back"}`:                          "Read the temperature of the water. See that the air stone runs",
		`{"event": "power_back", "temperature": "25.5 C"}`: "See that the air stone runs",
	} {
		s := savePlanOf(t, jugBody)
		if is := s.event(t, 1, body, "").told(t); is.verdict != "paused" || is.now != "Close the clamp." || !strings.HasPrefix(is.then, then) {
			t.Errorf("%s: %+v", body, is)
		}
	}
}

// What is wrong is not put right by calling the move off.
func TestCalledOffWithAnAlarm(t *testing.T) {
	t.Parallel()
	for body, then := range map[string]string{
		`{"event": "power_off"}`:                         "Run a battery air pump",
		`{"tan": "3 mg/L N", "temperature": "26 C"}`:     "Move the animals into clean, dechlorinated water",
		`{"temperature": "33 C", "behaviour": "ok"}`:     "Let the water cool",
		`{"salinity": "2.4 ppt", "temperature": "26 C"}`: "",
	} {
		s := savePlanOf(t, keeperBody)
		ask := s.logs
		if strings.Contains(body, "event") {
			ask = s.event
		}
		ask(t, 0.5, body, "")
		a := s.call(t, "PATCH", s.path, `{"state": "cancelled"}`, "Authorization", "Bearer "+s.key)
		if said := a.field(t, "summary").(string); a.field(t, "course.verdict") != "ended" || !strings.Contains(said, then) || then == "" && !strings.Contains(said, "Leave the animals where they are") {
			t.Errorf("%s: %s", body, said)
		}
	}
}
