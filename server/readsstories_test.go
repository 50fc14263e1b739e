package server_test

import (
	"strings"
	"testing"
)

// handBody is a drip from 3 to 12 ppt, read with the keeper's own instrument.
const handBody = `{"animals": [{"species": "scatophagus-argus", "origin": "captive"}], "container": {"aerated": true, "heated": true, "capacity": "30 L", "start_volume": "8 L", "least_volume": "8 L"},
	"line": {"drop_volume": "0.05 mL", "settings": 3}, "from": {"salinity": "3 ppt", "temperature": "26 C"}, "to": {"salinity": "12 ppt", "temperature": "26 C"}, "instrument": {"kind": "refractometer", "temperature_compensated": true}}`

// enters logs a reading or an event.
func (s savedPlan) enters(t *testing.T, hours float64, body string) told {
	t.Helper()
	if strings.Contains(body, `"event"`) {
		return s.event(t, hours, body, "").told(t)
	}
	return s.logs(t, hours, body, "").told(t)
}

// Numbers that contradict each other close the clamp at once, also at the first line of the page.
func TestNumbersThatContradictCloseTheClamp(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, strings.Replace(handBody, `{"kind": "refractometer", "temperature_compensated": true}`, `{"kind": "conductivity"}`, 1))
	s.enters(t, 1, `{"behaviour": "ok", "salinity": "3700 uS/cm", "temperature": "26 C", "volume": "8.7 L"}`)
	is := s.enters(t, 4./3, `{"behaviour": "ok", "salinity": "3.7 mS/cm", "temperature": "26 C", "volume": "9 L"}`)
	now := s.get(t, s.path+"/now?format=text").body
	if is.verdict != "paused" || !strings.HasPrefix(is.now, "Close the clamp.") || !strings.HasPrefix(now, "Close the clamp.") || !strings.HasPrefix(is.then, "Read the salinity once more, with a rinsed instrument, and then that of the new water.") || strings.Contains(now, "Pour off") || !strings.Contains(now, "and then that of the new water") {
		t.Errorf("%+v\n%s", is, now)
	}
}

// Nothing drips after the clamp was touched, and the answer says where to look. What is counted after
// that is a new setting: three times too fast, it is closed and read, and no zero outweighs it.
func TestDropsCountedAfterATouchedClamp(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, handBody)
	s.enters(t, 1, `{"event": "clamp_touched"}`)
	if is := s.enters(t, 7./6, `{"behaviour": "ok", "drops": 0, "drops_in": "10 s"}`); !strings.Contains(is.why, "Nothing drips. See that the jug is not empty") {
		t.Errorf("none: %+v", is)
	}
	is := s.enters(t, 5./3, `{"behaviour": "ok", "drops": 120, "drops_in": "10 s"}`)
	if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(is.now, "Close the clamp, then read the salinity and how full") || strings.Contains(is.warnings, "does not fit") || !strings.HasPrefix(now, "Close the clamp, then read") {
		t.Errorf("too fast: %+v\n%s", is, now)
	}
	for _, body := range []string{`{"behaviour": "ok"}`, `{"event": "refilled"}`} { // which tell nothing of it
		if is = s.enters(t, 1.68, body); !strings.HasPrefix(is.now, "Close the clamp, then read the salinity and how full") {
			t.Errorf("%s: %+v", body, is)
		}
	}
	// 12 drops/s of 0.05 mL are 36 mL/min: for half an hour 1.1 L, to 4.1 ppt or so.
	if is = s.enters(t, 1.7, `{"behaviour": "ok", "drops": 0, "drops_in": "10 s", "volume": "9.7 L", "salinity": "4.6 ppt", "temperature": "26 C"}`); strings.Contains(is.warnings, "does not fit") {
		t.Errorf("read: %+v", is)
	}
}

// Animals in distress near the end of a transfer stay where they are. Two readings that agree are
// believed, whatever hour it is, and the step back starts from them.
func TestDistressNearlyArrived(t *testing.T) {
	t.Parallel()
	cups := savePlanOf(t, strings.Replace(handBody, "{", `{"route": "cups", `, 1))
	cups.enters(t, 2.87, `{"behaviour": "ok", "cups": 15, "salinity": "9.4 ppt", "temperature": "26 C"}`)
	drip := savePlanOf(t, handBody)
	drip.enters(t, 16.58, `{"behaviour": "ok", "volume": "10.5 L", "salinity": "9.3 ppt", "temperature": "26 C"}`)
	for name, x := range map[string]struct {
		s     savedPlan
		hours float64
		body  string
	}{
		"cups":   {cups, 3.8, `{"event": "animals_look_wrong", "behaviour": "loss_of_balance", "salinity": "9.5 ppt", "temperature": "26 C"}`},
		"a drip": {drip, 17.5, `{"event": "animals_look_wrong", "behaviour": "loss_of_balance", "salinity": "9.5 ppt", "volume": "11 L", "temperature": "26 C"}`},
	} {
		is := x.s.enters(t, x.hours, x.body)
		now := x.s.get(t, x.s.path+"/now?format=text").body
		if strings.Contains(is.warnings, "does not fit") || !strings.Contains(is.then, "do not move them into the new water") || !strings.Contains(now, "do not move them into the new water") {
			t.Errorf("%s: %+v\n%s", name, is, now)
		}
	}
}

// A little nitrite in salt water is no reason to catch animals that look well: no food, a second test,
// and the drip goes on. More of it, in fresher water, or with animals in distress, it is poison.
func TestALittleNitriteInSaltWater(t *testing.T) {
	t.Parallel()
	for name, x := range map[string]struct{ body, log, now string }{
		"a little":     {handBody, `{"behaviour": "ok", "nitrite": "1 mg/L NO2", "temperature": "26 C"}`, ""},
		"more":         {handBody, `{"behaviour": "ok", "nitrite": "0.6 mg/L N", "temperature": "26 C"}`, "Close the clamp."},
		"nearly fresh": {strings.Replace(handBody, `"3 ppt"`, `"2 ppt"`, 1), `{"behaviour": "ok", "nitrite": "0.3 mg/L N", "temperature": "26 C"}`, "Close the clamp."},
		"in distress":  {handBody, `{"behaviour": "gasping", "nitrite": "0.3 mg/L N", "temperature": "26 C"}`, "Close the clamp."},
		"with ammonia": {handBody, `{"behaviour": "ok", "tan": "4 mg/L N", "nitrite": "0.3 mg/L N", "temperature": "26 C"}`, "Close the clamp."},
	} {
		s := savePlanOf(t, x.body)
		is := s.enters(t, 1.2, x.log)
		moves := strings.Contains(is.then, "Move the animals into clean")
		if x.now == "" && (is.verdict != "on_course" || moves || !strings.Contains(is.why, "a little above the limit of 0.2 mg/L N") || !strings.Contains(is.then, "Give no food, and test nitrite again within 6 h.")) {
			t.Errorf("%s: %+v", name, is)
		}
		if x.now != "" && (is.now != x.now || !moves || strings.Contains(is.why, "a little above")) {
			t.Errorf("%s: %+v", name, is)
		}
	}
}

// Water that was warmed far too fast is named also after a sign of distress, and when the animals look
// well again: 11 degrees in 20 min, where 2 an hour are allowed.
func TestWarmedTooFastAfterDistress(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, handBody)
	s.enters(t, 0.4, `{"event": "power_off"}`)
	s.enters(t, 1, `{"behaviour": "ok", "temperature": "16 C"}`)
	s.enters(t, 7./6, `{"event": "power_back", "temperature": "15 C", "behaviour": "loss_of_balance"}`)
	for i, body := range []string{`{"behaviour": "ok", "temperature": "26 C"}`, `{"behaviour": "gasping"}`} {
		if is := s.enters(t, 1.5+0.2*float64(i), body); !strings.Contains(is.warnings, "The temperature changed by 11 °C") {
			t.Errorf("%s: %+v", body, is)
		}
	}
}
