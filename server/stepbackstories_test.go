package server_test

import (
	"strings"
	"testing"
)

// scatDrip is a drip for a scat from 8 L at 3 ppt to 12 ppt.
var scatDrip = strings.Replace(scatBody, `"route": "cups", `, "", 1)

// scatTo is that transfer by another route, to another salinity.
func scatTo(more, ppt string) string {
	return strings.NewReplacer(`"route": "cups"`, more, `"salinity": "12 ppt"`, `"salinity": "`+ppt+` ppt"`).Replace(scatBody)
}

const (
	halfStep = "If the change was the cause, go half a step back"
	backDone = "Go back no further: the half step is done, so look for another cause."
)

// Half a step is half of what was changed, and at most half of the 5 g/kg that may be changed at once,
// by whatever route: from 3 to 6 ppt by 1.5, from 2 to 4.4 by 1.2, from 12.3 to 15.5 after two days in a
// holding tank by 1.6. Once a reading shows it done, nobody goes further back, not even below the water
// that they came from. By hand from these numbers.
func TestHalfAStepIsMadeOnce(t *testing.T) {
	t.Parallel()
	staged := strings.Replace(scatTo(`"route": "staged", "holding_tanks": {"volume": "100 L"}`, "33"), `"3 ppt"`, `"2 ppt"`, 1)
	read := func(ppt string) string { return `{"salinity": "` + ppt + ` ppt", "temperature": "26 C", "behaviour": ` }
	for name, x := range map[string]struct {
		plan, before string
		hours        float64 // of that; the distress comes ten minutes later
		back, done   string
	}{
		"drip":             {scatDrip, read("5.4") + `"ok", "volume": "11 L"}`, 5, "by 1.3 g/kg to 4.3 ppt. Swap 5.6 L", "4.2"},
		"direct":           {scatTo(`"route": "direct"`, "6"), read("6") + `"ok"}`, 0.1, "by 1.5 g/kg to 4.5 ppt. Use water set aside", "4.6"},
		"staged":           {staged, read("4.3") + `"ok"}`, 200. / 60, "by 1.2 g/kg to 3.2 ppt. Use water set aside", "3.3"},
		"the second stage": {staged, read("15.3") + `"ok"}`, 72, "by 1.6 g/kg to 13.9 ppt. Use water set aside", "14"},
	} {
		s := savePlanOf(t, x.plan)
		s.logs(t, x.hours, x.before, "")
		is := s.event(t, x.hours+1./6, `{"event": "animals_look_wrong", "behaviour": "gasping", "temperature": "26 C"}`, "").told(t)
		if !strings.Contains(is.then, halfStep+", "+x.back) || strings.Contains(is.then, backDone) || name == "direct" && strings.Contains(is.then, "pour in") {
			t.Errorf("%s: %+v", name, is)
		}
		is = s.logs(t, x.hours+0.7, read(x.done)+`"gasping"}`, "").told(t)
		if strings.Contains(is.then, halfStep) || !strings.Contains(is.then, backDone) {
			t.Errorf("%s, done: %+v", name, is)
		}
		is = s.logs(t, x.hours+1, read("1.5")+`"loss_of_balance"}`, "").told(t)
		if strings.Contains(is.then, halfStep) || !strings.Contains(is.then, backDone) {
			t.Errorf("%s, far below: %+v", name, is)
		}
	}
}

// In the new water half a step back is made once as well.
func TestHalfAStepAfterTheRelease(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, scatDrip)
	*s.now = nine.Add(hoursOf(17.7))
	s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key)
	if is := s.event(t, 18, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "").told(t); !strings.Contains(is.then, halfStep+", by 2.5 g/kg to 9.5 ppt. Mix") {
		t.Errorf("%+v", is)
	}
	if is := s.logs(t, 18.5, `{"salinity": "9.6 ppt", "temperature": "26 C", "behaviour": "gasping"}`, "").told(t); strings.Contains(is.then, halfStep) || !strings.Contains(is.then, backDone) {
		t.Errorf("done: %+v", is)
	}
}

// Animals that lived for two days where they were stopped go back to that water, not to the first.
func TestHalfAStepAfterARestart(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, scatDrip)
	s.logs(t, 5, `{"salinity": "5.4 ppt", "temperature": "26 C", "volume": "11 L", "behaviour": "ok"}`, "")
	s.event(t, 5.1, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "")
	s.logs(t, 6, `{"behaviour": "ok"}`, "")
	*s.now = nine.Add(hoursOf(53.2))
	s.call(t, "POST", s.path+"/restart", `{"salinity": "5.5 ppt", "temperature": "26 C", "volume": "8 L", "behaviour": "ok"}`, "Authorization", "Bearer "+s.key)
	is := s.logs(t, 56.5, `{"salinity": "7.1 ppt", "temperature": "26 C", "volume": "10.4 L", "behaviour": "gasping"}`, "").told(t)
	if !strings.Contains(is.then, halfStep+", by 0.81 g/kg to 6.4 ppt.") || strings.Contains(is.now+is.why, "clamp was closed") {
		t.Errorf("%+v", is)
	}
}

// A step back that no hobby instrument shows is not worth handling half of the water for, and where
// hardly any is left, none is taken out: the water set aside is poured in.
func TestNoStepBackIsWorthLess(t *testing.T) {
	t.Parallel()
	for name, x := range map[string]struct {
		hours float64
		log   []string
	}{
		"cold after 20 min":  {0.3, []string{`{"event": "power_off"}`, `{"event": "power_back", "temperature": "15 C", "behaviour": "loss_of_balance"}`}},
		"below the old":      {1, []string{`{"salinity": "2 ppt", "temperature": "26 C", "volume": "8.7 L", "behaviour": "gasping"}`}},
		"a litre left":       {5, []string{`{"salinity": "5.4 ppt", "temperature": "26 C", "volume": "2 L", "behaviour": "ok"}`, `{"event": "animals_look_wrong", "behaviour": "gasping", "volume": "1 L"}`}},
		"half of it missing": {5, []string{`{"salinity": "5.4 ppt", "temperature": "26 C", "volume": "4 L", "behaviour": "ok"}`, `{"event": "animals_look_wrong", "behaviour": "gasping"}`}},
	} {
		s := savePlanOf(t, scatDrip)
		var is told
		for i, body := range x.log {
			if hours := x.hours + float64(i)/2; strings.Contains(body, "event") {
				is = s.event(t, hours, body, "").told(t)
			} else {
				is = s.logs(t, hours, body, "").told(t)
			}
		}
		if strings.Contains(is.then, "half a step") || strings.Contains(is.then, "Take out") || is.verdict != "stopped" {
			t.Errorf("%s: %+v", name, is)
		}
		if all := is.now + is.then; name == "half of it missing" && !strings.Contains(all, "Top up from the water set aside.") || name == "a litre left" && !strings.Contains(all, "Pour in the water set aside now") {
			t.Errorf("%s: %+v", name, is)
		}
	}
}
