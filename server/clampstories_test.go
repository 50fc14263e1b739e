package server_test

import (
	"fmt"
	"strings"
	"testing"
)

// Water that runs through a clamp that was closed shows by the level alone or by the salinity alone,
// at the second reading at the latest. As told, the container holds 6.72 L of 2.86 ppt after an hour,
// and the valve lets in 0.72 L an hour.
func TestWaterRunsThroughTheClosedClamp(t *testing.T) {
	t.Parallel()
	const runs, rose, moved = "Pinch the hose and lift it out of the container. Water still runs through the clamp.", "The water rose from ", "The salinity went from "
	level := func(litres float64) string { return fmt.Sprintf(`{"volume": "%.2f L", "behaviour": "ok"}`, litres) }
	salty := func(ppt float64) string {
		return fmt.Sprintf(`{"salinity": "%.1f ppt", "instrument": {"kind": "refractometer", "temperature_compensated": true}, "temperature": "26 C", "behaviour": "ok"}`, ppt)
	}
	stop, off, wrong := `{"event": "stop"}`, `{"event": "power_off"}`, `{"event": "animals_look_wrong", "behaviour": "gasping"}`
	for name, x := range map[string]struct {
		shut string
		log  []string
		why  string
		late int // how many of them may pass before it is told
	}{
		"by level":                     {stop, []string{level(6.8), level(7.5), level(8.2)}, rose, 1},
		"by level, slowly":             {stop, []string{level(6.8), level(7.1), level(7.4)}, rose, 2},
		"by salinity":                  {stop, []string{salty(3), salty(6.5)}, moved, 1},
		"by salinity at once":          {stop, []string{salty(7)}, moved, 0},
		"without power":                {off, []string{level(7.4), level(8)}, rose, 1},
		"without power, by salinity":   {off, []string{salty(4.8), salty(5.6)}, moved, 1},
		"the power is back, and still": {off, []string{level(6.8), `{"event": "power_back"}`, read(8.2, 4.2, "")}, rose, 2},
		"in distress":                  {wrong, []string{level(7.4), level(8.2)}, rose, 1},
		"in distress, by salinity":     {wrong, []string{salty(4.9), salty(5.8)}, moved, 1},
		"and well since":               {wrong, []string{level(8), `{"behaviour": "ok"}`}, rose, 0},
		"and the clamp is touched":     {stop, []string{salty(7), `{"event": "clamp_touched"}`, `{"event": "stop"}`}, moved, 0},
		"and the jug is filled":        {stop, []string{salty(7), `{"event": "refilled"}`, `{"event": "late"}`}, moved, 0},
		"and power fails":              {stop, []string{level(8), off}, rose, 0},
	} {
		s := savePlanOf(t, jugBody)
		s.logs(t, 1, read(6.72, 2.86, ""), "")
		at := 1.05
		enter := func(body string) answered {
			at += 0.5
			if strings.Contains(body, `"event"`) {
				return s.event(t, at, body, "")
			}
			return s.logs(t, at, body, "")
		}
		at -= 0.5
		enter(x.shut)
		for i, body := range x.log {
			a := enter(body)
			is, now := a.told(t), s.get(t, s.path+"/now?format=text").body
			if i < x.late {
				continue
			}
			if is.now != runs || !strings.HasPrefix(is.why, x.why) || !strings.HasPrefix(now, runs+"\n"+x.why) || strings.Contains(is.then, "Leave the clamp closed") || strings.Contains(now, "new plan") || strings.Contains(a.body, `"plan":`) {
				t.Errorf("%s, reading %d: %+v\n%s", name, i+1, is, now)
			}
		}
	}
}

// What an instrument or a hand explains is no leak: readings within their uncertainty, water that
// was filled up or poured off, a step back to the old water, a clean container; and one that was
// told and stands still since.
func TestAClosedClampThatHolds(t *testing.T) {
	t.Parallel()
	for name, log := range map[string][]string{
		"marks read as a hand does":    {`{"volume": "6.9 L"}`, `{"volume": "6.7 L"}`, `{"volume": "6.95 L"}`, `{"volume": "6.8 L"}`},
		"marks read many times":        {`{"volume": "6.9 L"}`, `{"volume": "6.6 L"}`, `{"volume": "6.8 L"}`, `{"volume": "7 L"}`, `{"volume": "6.95 L"}`, `{"volume": "6.7 L"}`, `{"volume": "7 L"}`, `{"volume": "6.95 L"}`},
		"a refractometer":              {`{"salinity": "3.4 ppt", "temperature": "26 C"}`, `{"salinity": "2.9 ppt", "temperature": "26 C"}`, `{"salinity": "3.3 ppt", "temperature": "26 C"}`},
		"filled up":                    {`{"volume": "6.8 L"}`, `{"event": "refilled"}`, `{"volume": "8 L"}`, `{"volume": "8.1 L"}`},
		"half a step back":             {read(6.8, 3, ""), read(6.8, 2.4, ""), read(6.9, 2.5, "")},
		"poured off, and read as much": {read(6.8, 3, ""), read(5, 3, ""), read(5.1, 3, "")},
		"into a clean tub":             {`{"tan": "4 mg/L N", "temperature": "26 C"}`, `{"tan": "0 mg/L N", "volume": "9 L", "temperature": "26 C"}`},
		"told, and it stands still":    {`{"volume": "8 L"}`, `{"volume": "8 L"}`},
	} {
		s := savePlanOf(t, jugBody)
		s.logs(t, 1, read(6.72, 2.86, ""), "")
		s.event(t, 1.05, `{"event": "stop"}`, "")
		var is told
		for i, body := range log {
			if at := 1.5 + 0.5*float64(i); strings.Contains(body, `"event"`) {
				is = s.event(t, at, body, "").told(t)
			} else {
				is = s.logs(t, at, body, "").told(t)
			}
			if strings.HasPrefix(is.now, "Pinch") && (name != "told, and it stands still" || i > 0) {
				t.Errorf("%s, reading %d: %+v", name, i+1, is)
			}
		}
	}
}

// A report that comes late, of what was seen before the latest readings, closes the clamp: nobody was
// told to. What dripped in until then is no leak.
func TestAReportThatComesLate(t *testing.T) {
	t.Parallel()
	for _, body := range []string{`{"behaviour": "gasping", "time": "2026-12-01T10:30:00Z"}`, `{"event": "stop", "time": "2026-12-01T10:30:00Z"}`} {
		s := savePlanOf(t, jugBody)
		s.logs(t, 1, read(6.72, 2.86, ""), "")
		s.logs(t, 2, read(7.44, 3.55, ""), "")
		path := s.logs
		if strings.Contains(body, `"event"`) {
			path = s.event
		}
		is := path(t, 2.05, body, "").told(t)
		if now := s.get(t, s.path+"/now?format=text").body; is.now != "Close the clamp." || !strings.HasPrefix(now, "Close the clamp.\n") {
			t.Errorf("%s: %+v\n%s", body, is, now)
		}
		if is = s.logs(t, 2.1, read(7.46, 3.56, ""), "").told(t); is.now != "Leave the clamp closed." {
			t.Errorf("%s, closed: %+v", body, is)
		}
		if is = s.logs(t, 2.6, read(8.2, 4.2, ""), "").told(t); !strings.HasPrefix(is.now, "Pinch the hose") {
			t.Errorf("%s, and it runs on: %+v", body, is)
		}
	}
	// A stop was reported before the sign of distress that is dated before it.
	s := savePlanOf(t, jugBody)
	s.event(t, 2, `{"event": "stop"}`, "")
	if is := s.logs(t, 2.05, `{"behaviour": "gasping", "time": "2026-12-01T10:30:00Z"}`, "").told(t); is.now != "Leave the clamp closed." {
		t.Errorf("stopped before: %+v", is)
	}
}

// A container read to be full to the rim is emptied a little first, whatever else is believed.
func TestWaterAtTheRim(t *testing.T) {
	t.Parallel()
	take := "Take out water cup by cup until it is well below the rim."
	for name, log := range map[string][]string{
		"once":      {`{"volume": "20 L", "salinity": "9.5 ppt", "instrument": {"kind": "none"}, "temperature": "26 C", "behaviour": "ok"}`},
		"twice":     {`{"volume": "19.9 L"}`, `{"volume": "20 L"}`},
		"a stop":    {`{"volume": "19.9 L"}`, `{"volume": "20 L"}`, `{"event": "stop"}`},
		"and after": {`{"event": "stop"}`, `{"volume": "19.9 L", "salinity": "9.3 ppt", "temperature": "26 C"}`},
	} {
		s := savePlanOf(t, jugBody)
		var is told
		for i, body := range log {
			if at := 1.5 + 0.1*float64(i); strings.Contains(body, `"event"`) {
				is = s.event(t, at, body, "").told(t)
			} else {
				is = s.logs(t, at, body, "").told(t)
			}
		}
		now := s.get(t, s.path+"/now?format=text").body
		if !strings.Contains(is.now, "lose the clamp") && !strings.HasPrefix(is.now, "Pinch the hose") || !strings.HasPrefix(is.then, take) || !strings.Contains(now, take) || !strings.Contains(is.why, "the rim is at 20 L") || strings.Contains(now, "The plan from here says so.") {
			t.Errorf("%s: %+v\n%s", name, is, now)
		}
	}
}

// After a container that ran full its salinity is read before anything goes on, and what changed it
// by more than one step may is rested from: from 2 to 8 ppt are 6 g/kg, and 5 is the limit.
func TestAfterItRanFull(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, jugBody)
	s.logs(t, 1.5, `{"volume": "20 L", "salinity": "8.1 ppt", "temperature": "26 C", "behaviour": "ok"}`, "")
	for i, body := range []string{`{"volume": "7 L", "behaviour": "ok"}`, `{"event": "clamp_touched"}`} {
		path := s.logs
		if i == 1 {
			path = s.event
		}
		if is := path(t, 1.6+0.05*float64(i), body, "").told(t); !strings.HasPrefix(is.now, "Close the clamp and read the salinity") {
			t.Errorf("poured off, %d: %+v", i, is)
		}
	}
	var is told
	for _, at := range []float64{1.8, 1.9} {
		if is = s.logs(t, at, `{"volume": "7 L", "salinity": "8.1 ppt", "temperature": "26 C", "behaviour": "ok"}`, "").told(t); !strings.HasPrefix(is.now, "Close the clamp and") {
			t.Errorf("after %g h: %+v", at, is)
		}
	}
	if !strings.HasPrefix(is.now, "Close the clamp and leave it closed until") || !strings.Contains(is.why, "while the container ran full. The limit for one step is 5 g/kg.") {
		t.Errorf("read: %+v", is)
	}
}

// A number that fits nothing is the reason to read it again.
func TestTheReasonToReadAgain(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, jugBody)
	s.logs(t, 1, `{"volume": "17 L", "behaviour": "ok"}`, "")
	if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(now, "Close the clamp and read once more how full the container is.\nA volume of 17 L (4.5 gal) does not fit") {
		t.Errorf("now says\n%s", now)
	}
}

// Nothing starts again on a clamp that runs, nor in a container that leaks or is nearly empty; and the
// rest after heat outlives a stop and a restart.
func TestNoRestartOnWhatIsWrong(t *testing.T) {
	t.Parallel()
	for name, x := range map[string]struct {
		log          []string
		restart, why string
	}{
		"a clamp that runs": {[]string{`{"event": "stop"}`, `{"volume": "9 L", "salinity": "5.6 ppt", "temperature": "26 C"}`}, `{"volume": "9 L", "salinity": "5.6 ppt", "temperature": "26 C", "behaviour": "ok"}`, "water still runs through the clamp"},
		"a leak":            {[]string{`{"volume": "3 L"}`, `{"volume": "2.2 L"}`, `{"event": "stop"}`}, `{"volume": "2 L", "salinity": "3.7 ppt", "temperature": "26 C", "behaviour": "ok"}`, "the container leaks or holds too little"},
	} {
		s := savePlanOf(t, jugBody)
		for i, body := range x.log {
			if at := 1 + 0.4*float64(i); strings.Contains(body, `"event"`) {
				s.event(t, at, body, "")
			} else {
				s.logs(t, at, body, "")
			}
		}
		*s.now = nine.Add(hoursOf(2.5))
		if a := s.call(t, "POST", s.path+"/restart", x.restart, "Authorization", "Bearer "+s.key); a.status != 409 || !strings.Contains(a.body, x.why) {
			t.Errorf("%s: %d %.300s", name, a.status, a.body)
		}
		s.logs(t, 2.6, read(9, 5.6, ""), "") // it stands still, or is full again
		if a := s.call(t, "POST", s.path+"/restart", strings.Replace(x.restart, "2 L", "9 L", 1), "Authorization", "Bearer "+s.key); a.status != 201 {
			t.Errorf("%s, put right: %d %.300s", name, a.status, a.body)
		}
	}
	s := savePlanOf(t, jugBody)
	s.logs(t, 1, `{"temperature": "36 C", "behaviour": "ok"}`, "")
	s.event(t, 1.3, `{"event": "stop"}`, "")
	*s.now = nine.Add(hoursOf(1.7))
	is := s.call(t, "POST", s.path+"/restart", `{"volume": "7 L", "salinity": "3 ppt", "temperature": "26 C", "behaviour": "ok"}`, "Authorization", "Bearer "+s.key).told(t)
	if !strings.HasPrefix(is.now, "Leave the clamp closed until 22:42.") || !strings.HasPrefix(is.why, "The water was at 36 °C") || !strings.HasPrefix(is.warnings, "The temperature changed by 10 °C") {
		t.Errorf("after heat: %+v", is)
	}
}
