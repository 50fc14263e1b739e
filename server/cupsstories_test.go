package server_test

import (
	"strings"
	"testing"
)

// scatBody is a move of a scat from 8 L at 3 ppt to 12 ppt by hand. Four cups of 1 L are due in the
// first hour and six in the next; after the tenth, 9.8 L are to be poured off.
const scatBody = `{"route": "cups", "animals": [{"species": "scatophagus-argus", "origin": "captive"}], "from": {"salinity": "3 ppt", "temperature": "26 C"}, "to": {"salinity": "12 ppt", "temperature": "26 C"},
	"container": {"aerated": true, "heated": true, "capacity": "30 L", "start_volume": "8 L", "least_volume": "8 L"}, "line": {"drop_volume": "0.05 mL", "settings": 3},
	"instrument": {"kind": "refractometer", "temperature_compensated": true}}`

// Once no water is to be changed, no cup is taken as poured that nobody counted, whatever is reported.
// By hand: 8 cups of 12 ppt in 8 L at 3 ppt are 16 L at 7.5 ppt, less what half a cup weighs.
func TestNoCupIsBelievedAgainstAnOrder(t *testing.T) {
	t.Parallel()
	for name, order := range map[string]string{
		"no power": `{"event": "power_off"}`, "late": `{"event": "late"}`,
		"ammonia": `{"tan": "4 mg/L N", "temperature": "26 C"}`, "heat": `{"temperature": "33 C"}`,
	} {
		s := savePlanOf(t, scatBody)
		s.logs(t, 140./60, `{"behaviour": "ok", "cups": 8, "temperature": "26 C", "salinity": "7 ppt"}`, "")
		if strings.Contains(order, "event") {
			s.event(t, 2.6, order, "")
		} else {
			s.logs(t, 2.6, order, "")
		}
		s.event(t, 2.9, `{"event": "clamp_touched"}`, "")
		a := s.event(t, 3.2, `{"event": "stop"}`, "")
		if sp := a.number(t, "course.practical_salinity.value"); sp < 7.3 || sp > 7.8 {
			t.Errorf("%s: eight cups are in, and it is said to be at %.1f ppt: %+v", name, sp, a.told(t))
		}
	}
}

// Whoever pours in far too many cups did not stop for a pour-off that was not due. How full the
// container is must be read before part of its water is changed: by hand, 12 cups of 12 ppt in 8 L at
// 3 ppt are 20 L at 8.4 ppt, from which 8 L of the water set aside lead back by 2.2.
func TestAPourOffThatWasNotDue(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, scatBody)
	a := s.logs(t, 1, `{"behaviour": "ok", "cups": 12, "temperature": "26 C"}`, "")
	if is := a.told(t); !strings.HasPrefix(is.now, "Read once more how full the container is") || !strings.HasPrefix(is.why, "8 cups too many went in") || strings.Contains(a.body, `"volume":{`) {
		t.Errorf("too many: %+v", is)
	}
	a = s.logs(t, 70./60, `{"behaviour": "loss_of_balance", "cups": 12}`, "")
	if is := a.told(t); strings.Contains(is.then, "Take out") || !strings.Contains(is.then, "how full the container is") {
		t.Errorf("in distress: %+v", is)
	}
	is := s.logs(t, 75./60, `{"behaviour": "loss_of_balance", "volume": "20 L"}`, "").told(t)
	if !strings.Contains(is.then, "Swap 8 L (2.1 gal)") {
		t.Errorf("in distress, and read: %+v", is)
	}
	for litres, ppt := range map[string]float64{"20 L": 8.4, "10 L": 8.8} {
		s := savePlanOf(t, scatBody)
		s.logs(t, 1, `{"behaviour": "ok", "cups": 12, "temperature": "26 C"}`, "")
		a := s.logs(t, 65./60, `{"behaviour": "ok", "cups": 12, "volume": "`+litres+`"}`, "")
		if sp, is := a.number(t, "course.practical_salinity.value"), a.told(t); sp < ppt-0.15 || sp > ppt+0.15 || !strings.HasPrefix(is.now, "Pour in nothing until ") || is.warnings != "" {
			t.Errorf("%s: %.1f ppt, %+v", litres, sp, is)
		}
	}
}

// Cups that went in after the order to change no more water are named, whatever gave it, and whoever
// pours is kept from it. How salty it is then, only a reading says.
func TestCupsPouredAgainstAnOrder(t *testing.T) {
	t.Parallel()
	const before, take = `{"behaviour": "ok", "cups": 4, "temperature": "26 C", "salinity": "5.8 ppt", "volume": "11.8 L"}`, "Take the jug away, and ask everybody at home to pour in nothing more."
	for name, x := range map[string]struct{ order, then, why string }{
		"distress":       {`{"event": "animals_look_wrong", "behaviour": "loss_of_balance"}`, `{"behaviour": "ok", "cups": 9}`, "5 cups went in after 10:06,"},
		"still distress": {`{"event": "animals_look_wrong", "behaviour": "loss_of_balance"}`, `{"behaviour": "gasping", "cups": 5}`, "One cup went in after 10:06,"},
		"stop":           {`{"event": "stop"}`, `{"cups": 6}`, "2 cups went in after 10:06,"},
		"no power":       {`{"event": "power_off"}`, `{"cups": 7, "temperature": "24 C"}`, "3 cups went in after 10:06,"},
		"heat":           {`{"temperature": "33 C"}`, `{"cups": 6}`, "2 cups went in after 10:06,"},
	} {
		s := savePlanOf(t, scatBody)
		s.logs(t, 1, before, "")
		if strings.Contains(x.order, "event") {
			s.event(t, 1.1001, x.order, "")
		} else {
			s.logs(t, 1.1001, x.order, "")
		}
		is := s.logs(t, 1.5, x.then, "").told(t)
		if !strings.Contains(is.why, x.why) || !strings.Contains(is.then, take) {
			t.Errorf("%s: %+v", name, is)
		}
		text := s.get(t, s.path+"?format=text").body
		if is.verdict == "stopped" && strings.Contains(text, "it holds 11.8 L") || strings.Contains(is.then, "Take out") {
			t.Errorf("%s: where it stands nobody knows\n%s", name, text)
		}
		is = s.logs(t, 1.6, `{"behaviour": "ok", "temperature": "26 C", "salinity": "7 ppt"}`, "").told(t)
		if name != "no power" && name != "heat" && !strings.Contains(is.why, x.why) {
			t.Errorf("%s, read: %+v", name, is)
		}
	}
	s := savePlanOf(t, scatBody)
	s.logs(t, 1, before, "")
	s.event(t, 1.1, `{"event": "stop"}`, "")
	if is := s.logs(t, 1.5, `{"cups": 4}`, "").told(t); strings.Contains(is.why, "went in") || strings.Contains(is.then, take) {
		t.Errorf("none went in: %+v", is)
	}
}

// Who logged nothing and ended in time may have poured in all of it: no jump is told as a fact, and
// ammonia comes before it.
func TestNothingLoggedIsNoJump(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, scatBody)
	*s.now = nine.Add(hoursOf(4))
	is := s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key).told(t)
	if !strings.HasPrefix(is.why, "Nothing was logged. If the container was still at 3 ppt, they were moved by 9 g/kg.") || strings.Contains(is.why, "You moved them") {
		t.Errorf("%+v", is)
	}
	is = s.logs(t, 38, `{"behaviour": "ok", "tan": "5 mg/L N", "temperature": "26 C"}`, "").told(t)
	if !strings.HasPrefix(is.why, "Ammonia was 5 mg/L N") {
		t.Errorf("with ammonia: %+v", is)
	}
	s = savePlanOf(t, scatBody)
	*s.now = nine.Add(hoursOf(1))
	if is := s.call(t, "PATCH", s.path, `{"state": "finished"}`, "Authorization", "Bearer "+s.key).told(t); !strings.HasPrefix(is.why, "You moved them from") {
		t.Errorf("too early: %+v", is)
	}
}

// Numbers that agree with each other are worth more than a count that was mistyped, or a pour-off that
// nobody logged. By hand: 3 cups of 0.95 L at 12 ppt in 8 L at 3 ppt are 10.85 L at 5.4 ppt, one is
// 8.95 L at 3.95 ppt, and 12 of 0.96 L without a pour-off are 19.5 L at 8.3 ppt.
func TestAgreeingNumbersBeatACount(t *testing.T) {
	t.Parallel()
	for name, x := range map[string]struct {
		first, last string
		ppt         float64
		why, holds  string
		at          [2]float64
	}{
		"mistyped, then right": {`{"cups": 9, "behaviour": "ok"}`, `{"cups": 3, "volume": "11 L", "salinity": "5.3 ppt", "temperature": "26 C", "behaviour": "ok"}`, 5.3, "You wrote 9 cups before.", "11 L", [2]float64{0.98, 1}},
		"mistyped":             {"", `{"cups": 3, "volume": "8.9 L", "salinity": "4 ppt", "temperature": "26 C", "behaviour": "ok"}`, 4, "You wrote 3 cups, but 8.9 L", "8.9 L", [2]float64{0, 1}},
		"not poured off":       {`{"cups": 12, "behaviour": "ok"}`, `{"cups": 12, "volume": "19.5 L", "behaviour": "ok"}`, 8.3, "You have not poured off yet", "19.5 L", [2]float64{2.4, 2.5}},
	} {
		s := savePlanOf(t, scatBody)
		if x.first != "" {
			s.logs(t, x.at[0], x.first, "")
		}
		a := s.logs(t, x.at[1], x.last, "")
		is, text := a.told(t), s.get(t, s.path+"?format=text").body
		if sp := a.number(t, "course.practical_salinity.value"); sp < x.ppt-0.25 || sp > x.ppt+0.25 || !strings.Contains(is.why, x.why) || is.warnings != "" || !strings.Contains(text, "it holds "+x.holds) {
			t.Errorf("%s: %.1f ppt, %+v\n%s", name, sp, is, text)
		}
		a = s.event(t, x.at[1], `{"event": "stop"}`, "")
		if sp := a.number(t, "course.practical_salinity.value"); sp < x.ppt-0.25 || sp > x.ppt+0.25 {
			t.Errorf("%s, stopped: %.1f ppt, %+v", name, sp, a.told(t))
		}
	}
}

// What two cups too many changed is counted from the water into which they went. By hand: 2 cups of 12
// ppt in 8 L at 7.7 ppt are 10 L at 8.6 ppt.
func TestWhatCupsChanged(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, scatBody)
	s.logs(t, 0.98, `{"cups": 9, "behaviour": "ok"}`, "")
	is := s.logs(t, 1, `{"cups": 11, "volume": "10 L", "behaviour": "ok"}`, "").told(t)
	if !strings.HasPrefix(is.why, "2 cups too many went in, which changed the salinity by 0.86 g/kg.") {
		t.Errorf("%+v", is)
	}
}
