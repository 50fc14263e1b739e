package server_test

import (
	"strings"
	"testing"
)

// scatJug moves scats from 3 to 12 ppt in 8 L, into which 0.75 L drip an hour.
const scatJug = `{"animals": [{"species": "scatophagus-argus", "origin": "captive"}], "container": {"aerated": true, "heated": true, "capacity": "30 L", "start_volume": "8 L", "least_volume": "8 L"},
	"line": {"drop_volume": "0.05 mL", "settings": 3}, "from": {"salinity": "3 ppt", "temperature": "26 C"}, "to": {"salinity": "12 ppt", "temperature": "26 C"},
	"instrument": {"kind": "refractometer", "temperature_compensated": true}}`

// Drops counted while the clamp is to be closed show that it is not, whatever closed it. The count is
// no mistake, and stands until none are counted.
func TestDropsThroughAClosedClamp(t *testing.T) {
	t.Parallel()
	const open, counted, none, out = "The clamp is not closed: close it", "You counted 4 drops a second at ", "Count the drops again: there should be none.", "The count was left out"
	const drops = `, "drops": 40, "drops_in": "10 s"`
	tellNights(t, scatJug, map[string][]act{
		"at rest after poison": {{3, `{"volume": "10 L", "salinity": "5 ppt", "temperature": "26 C", "tan": "2 mg/L N", "behaviour": "ok"}`, told{verdict: "paused", now: "Close the clamp"}, ""},
			{3.3, `{"volume": "12 L", "salinity": "5 ppt", "temperature": "26 C", "tan": "0 mg/L N", "nitrite": "0 mg/L N", "behaviour": "ok"}`, told{verdict: "paused", now: "Leave the clamp closed until"}, ""},
			{4, `{"volume": "12 L"}`, told{verdict: "paused", now: "Leave the clamp closed until"}, ""},
			{5, `{"volume": "12.5 L"` + drops + `}`, told{"paused", open, counted, none, ""}, out},
			{5.1, `{"temperature": "26 C", "behaviour": "ok"}`, told{verdict: "paused", now: open}, out},
			{5.2, `{"drops": 0, "drops_in": "60 s"}`, told{verdict: "paused", now: "Leave the clamp closed until"}, out}},
		"in cold water": {{3, `{"volume": "9.6 L", "salinity": "4.7 ppt", "temperature": "21 C"}`, told{verdict: "paused"}, ""},
			{4, `{"volume": "10.4 L", "temperature": "22 C"` + drops + `}`, told{"paused", open, counted, none, ""}, out},
			{5, `{"volume": "12 L", "temperature": "26 C"` + drops + `}`, told{"paused", open, "The water rose from", none, ""}, out}},
		"without power": {{3, `{"volume": "9.6 L", "salinity": "4.7 ppt", "temperature": "26 C"}`, told{}, ""},
			{3.1, `{"event": "power_off"}`, told{now: "Close the clamp."}, ""},
			{4, `{"volume": "9.7 L"` + drops + `}`, told{"paused", open, counted, "Run a battery air pump", ""}, out}},
		"after a stop": {{3, `{"volume": "9.6 L", "salinity": "4.7 ppt", "temperature": "26 C"}`, told{}, ""},
			{3.1, `{"event": "stop"}`, told{now: "Close the clamp."}, ""},
			{4, `{"volume": "9.7 L"` + drops + `}`, told{"stopped", open, counted, none, ""}, out}},
		"after a limit was broken": {{1, `{"volume": "8.8 L", "salinity": "9 ppt", "temperature": "26 C"}`, told{verdict: "paused"}, ""},
			{1.1, `{"volume": "8.8 L", "salinity": "9 ppt", "temperature": "26 C"}`, told{now: "Close the clamp and leave it closed until"}, ""},
			{1.5, `{"volume": "9 L"` + drops + `}`, told{"paused", open, counted, none, ""}, out}},
	})
}

// After the jug was filled, much more water than drips in is read for its salinity before anything is
// poured off. By hand, 0.4 L are due in half an hour, and 7.8 L came.
func TestMuchMoreAfterTheJugWasFilled(t *testing.T) {
	t.Parallel()
	const read = "Close the clamp and read the salinity."
	tellNights(t, scatJug, map[string][]act{
		"a flood": {{1, `{"salinity": "4.3 ppt", "temperature": "26 C", "volume": "9.2 L", "behaviour": "ok"}`, told{}, ""},
			{2.5, `{"event": "refilled"}`, told{}, ""},
			{3, `{"volume": "18 L", "behaviour": "ok"}`, told{verdict: "paused", now: read, why: "There is 7."}, "Pour off"},
			{3.1, `{"volume": "18 L"}`, told{verdict: "paused", now: read}, "Pour off"}},
		"what drips in": {{1, `{"salinity": "4.3 ppt", "temperature": "26 C", "volume": "9.2 L", "behaviour": "ok"}`, told{}, ""},
			{2.5, `{"event": "refilled"}`, told{}, ""},
			{3, `{"volume": "10.5 L", "behaviour": "ok"}`, told{}, read}},
	})
}

// A container that runs over is as full of new water as of old, so its level starts no drip.
func TestALevelThatShowsNothing(t *testing.T) {
	t.Parallel()
	over := strings.NewReplacer(`"capacity": "30 L"`, `"capacity": "30 L", "overflow": true, "waste_capacity": "40 L"`, `"line"`, `"source_tank": {"volume": "200 L"}, "line"`).Replace(scatJug)
	const read, hides = "Close the clamp and read the salinity.", "The level shows nothing here"
	tellNights(t, over, map[string][]act{
		"the power is back": {{2, `{"volume": "8 L", "salinity": "4.2 ppt", "temperature": "26 C", "behaviour": "ok"}`, told{}, ""},
			{3.7, `{"event": "power_off"}`, told{}, ""},
			{12, `{"event": "power_back", "temperature": "26 C", "volume": "8 L"}`, told{"paused", read, hides, "See that the air stone runs", ""}, `"plan":`},
			{12.1, `{"volume": "8 L", "salinity": "5.5 ppt", "temperature": "26 C", "behaviour": "ok"}`, told{}, hides}},
		"late": {{2, `{"volume": "8 L", "salinity": "4.2 ppt", "temperature": "26 C", "behaviour": "ok"}`, told{}, ""},
			{11.9, `{"event": "late"}`, told{verdict: "paused", now: "Close the clamp"}, ""},
			{12, `{"volume": "8 L", "behaviour": "ok"}`, told{verdict: "paused", now: read, why: "You came late at 20:54. Nobody knows yet how far the drip has gone. " + hides}, `"plan":`},
			{12.1, `{"volume": "8 L", "temperature": "26 C"}`, told{verdict: "paused", now: read, why: "You came late at 20:54. Nobody knows yet how far the drip has gone. " + hides}, `"plan":`}},
	})
}

// What came in after a stop is new water until a salinity is read, and nobody steps back from what is
// not known. By hand, 9.8 L at 4.8 ppt and 8.2 L at 12 are 18 L at 8.1; 9.6 L at 18 and 10.4 L at 10
// are 20 L at 13.8.
func TestWhatCameInAfterAStop(t *testing.T) {
	t.Parallel()
	down := strings.NewReplacer(`"salinity": "3 ppt"`, `"salinity": "20 ppt"`, `"salinity": "12 ppt"`, `"salinity": "10 ppt"`).Replace(scatJug)
	for name, x := range map[string]struct {
		plan string
		log  []string
		sp   float64
	}{
		"a stop":   {scatJug, []string{`{"volume": "9.6 L", "salinity": "4.7 ppt", "temperature": "26 C", "behaviour": "ok"}`, `{"event": "stop"}`, `{"volume": "18 L"}`, `{"behaviour": "gasping"}`}, 8.1},
		"distress": {down, []string{`{"volume": "9.6 L", "salinity": "18 ppt", "temperature": "26 C", "behaviour": "heavy_mucus"}`, `{"volume": "20 L"}`}, 13.8},
		"a moult":  {scatJug, []string{`{"volume": "9.6 L", "salinity": "4.7 ppt", "temperature": "26 C", "behaviour": "moult"}`, `{"volume": "18 L"}`}, 8.1},
	} {
		s := savePlanOf(t, x.plan)
		var a answered
		for i, body := range x.log {
			enter := s.logs
			if strings.Contains(body, `"event"`) {
				enter = s.event
			}
			a = enter(t, 2+0.4*float64(i), body, "")
		}
		is := a.told(t)
		sp, u := a.number(t, "course.practical_salinity.value"), a.number(t, "course.practical_salinity.uncertainty")
		if sp < x.sp-0.4 || sp > x.sp+0.4 || u < 1 || strings.Contains(is.then, "half a step back") || !strings.Contains(is.now+is.then, "Read the salinity") {
			t.Errorf("%s: %.1f ± %.1f ppt: %+v", name, sp, u, is)
		}
		if a = s.logs(t, 5, `{"volume": "18 L", "salinity": "6 ppt", "temperature": "26 C"}`, ""); a.number(t, "course.practical_salinity.value") > 6.2 {
			t.Errorf("%s, read at 6 ppt: %s", name, a.body)
		}
	}
}
