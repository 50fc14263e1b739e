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
