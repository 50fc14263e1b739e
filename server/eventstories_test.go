package server_test

import (
	"strings"
	"testing"
)

// At a sign of distress air comes first, then the temperature, then ammonia, whatever was read
// along with it. Water outside what the animals live in comes to the edge of that at 2 °C an
// hour; scats live at 20 to 28 °C.
func TestAirFirstThenWarmthThenAmmonia(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, streamBody)
	is := s.logs(t, 0.9, `{"temperature": "33 C", "behaviour": "gasping", "salinity": "4 ppt", "volume": "7.5 L", "tan": "5 mg/L N"}`, "").told(t)
	if is.verdict != "stopped" || is.now != "Close the clamp." || !strings.HasPrefix(is.then, "See that the air stone runs and the surface moves. Let the water cool to 28 °C (82 °F), at 2 °C an hour (3.6 °F an hour). Go on to 26 °C (79 °F), at 1 °C an hour (1.8 °F an hour) at most. Move the animals into clean") {
		t.Errorf("%+v", is)
	}
	if now := s.get(t, s.path+"/now?format=text").body; !strings.HasSuffix(now, "See that the air stone runs and the surface moves.\n") {
		t.Errorf("now says\n%s", now)
	}
	s = savePlanOf(t, streamBody)
	if is := s.logs(t, 0.9, `{"temperature": "33 C", "behaviour": "ok"}`, "").told(t); !strings.HasPrefix(is.then, "Let the water cool to 28 °C (82 °F), at 2 °C an hour") {
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
		"33 °C":              {`{"temperature": "33 C", "behaviour": "ok"}`, "Close the clamp."},
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
}
