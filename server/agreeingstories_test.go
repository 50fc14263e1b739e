package server_test

import (
	"strings"
	"testing"
)

// ofScats is a move of scats by a route, from a salinity to another, in their own tank of 200 L.
func ofScats(route, from, to string) string {
	return `{"route": "` + route + `", "animals": [{"species": "scatophagus-argus", "origin": "captive"}], "from": {"salinity": "` + from + `", "temperature": "26 C"}, "to": {"salinity": "` + to + `", "temperature": "26 C"},
	"home_tank": {"volume": "200 L"}, "container": {"aerated": true, "heated": true, "capacity": "30 L", "start_volume": "8 L", "least_volume": "8 L"}, "instrument": {"kind": "refractometer", "temperature_compensated": true}}`
}

// Two readings that differ by 5 ppt show nothing together: the salinity is read once more.
func TestTwoReadingsThatDisagree(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, ofScats("ramp", "20 ppt", "5 ppt"))
	s.logs(t, 1, `{"salinity": "17 ppt", "temperature": "26 C", "behaviour": "ok"}`, "")
	is := s.logs(t, 29.9, `{"salinity": "12 ppt", "temperature": "26 C", "behaviour": "ok"}`, "").told(t)
	if !strings.HasPrefix(is.now, "Read the salinity once more") || strings.Contains(is.why, "Two readings") {
		t.Errorf("12 after 17: %+v", is)
	}
	is = s.logs(t, 30, `{"salinity": "12.2 ppt", "temperature": "26 C", "behaviour": "ok"}`, "").told(t)
	if !strings.Contains(is.why, "Two readings show 12") {
		t.Errorf("12 again: %+v", is)
	}
}

// Two readings far from what a move in one step was to bring say where the animals are, and how large
// the step was. By hand: from 12 to 2 ppt is 10 g/kg.
func TestOneStepIntoOtherWater(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, ofScats("direct", "12 ppt", "8 ppt"))
	const off = `{"salinity": "2 ppt", "temperature": "26 C", "behaviour": "ok"}`
	s.logs(t, 0.33, off, "")
	is := s.logs(t, 0.36, off, "").told(t)
	if !strings.Contains(is.why, "Two readings") || !strings.Contains(is.why, "You moved them from 12 ppt to 2") || !strings.Contains(is.then, "Keep their old water") {
		t.Errorf("%+v", is)
	}
}

// The gravest sign is named, and the newer of two alike, with its day if that is not today.
func TestTheWorstSignIsNamed(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, jugBody)
	s.logs(t, 2, `{"behaviour": "heavy_mucus", "salinity": "4 ppt", "volume": "8 L", "temperature": "26 C"}`, "")
	is := s.logs(t, 49, `{"behaviour": "loss_of_balance"}`, "").told(t)
	if !strings.HasPrefix(is.why, "You saw a sign of distress (loss of balance) at 10:00.") {
		t.Errorf("worse: %+v", is)
	}
	is = s.logs(t, 50, `{"behaviour": "heavy_mucus"}`, "").told(t)
	if !strings.HasPrefix(is.why, "You saw a sign of distress (loss of balance) at 10:00.") {
		t.Errorf("slime again: %+v", is)
	}
	is = s.logs(t, 74, `{"behaviour": "heavy_mucus"}`, "").told(t)
	if !strings.HasPrefix(is.why, "You saw a sign of distress (loss of balance) at Thu 10:00.") {
		t.Errorf("the day after: %+v", is)
	}
}

// A salinity that nothing explains is read again before a step back, and not said to be left out where
// the state stands on it. By hand: 3 L of 12 ppt in 8 L at 3 ppt are 5.5 ppt at the most.
func TestAReadingThatTheStepBackStandsOn(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, strings.Replace(scatBody, `"route": "cups", `, "", 1))
	is := s.logs(t, 2, `{"behaviour": "gasping", "salinity": "9.5 ppt", "volume": "11 L", "temperature": "26 C"}`, "").told(t)
	if strings.Contains(is.warnings, "left out") || !strings.Contains(is.warnings, "You read 9.5 ppt") || strings.Index(is.then, "before you step back") > strings.Index(is.then, "Swap ") || !strings.Contains(is.then, "before you step back") {
		t.Errorf("%+v", is)
	}
}
