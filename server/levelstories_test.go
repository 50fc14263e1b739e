package server_test

import (
	"fmt"
	"strings"
	"testing"
)

// A level that the drip of a part cannot have made closes the clamp, and so does a count far above the
// setting; one that is far too low is a leak.
func TestThePartOfALongMoveMindsItsLevel(t *testing.T) {
	at := 0.4
	for name, x := range map[string]struct {
		entries []string
		now     string
	}{
		"as told":        {[]string{`{"volume": "%.1f L", "behaviour": "ok"}`}, ""},
		"far too full":   {[]string{`{"volume": "%.1f L", "behaviour": "ok"}`, `{"volume": "55 L", "behaviour": "ok"}`}, "Close the clamp, then read the salinity and how full"},
		"too many drops": {[]string{`{"volume": "%.1f L", "drops": 2000, "drops_in": "10 s", "behaviour": "ok"}`}, "Close the clamp, then read the salinity and how full"},
		"half gone":      {[]string{`{"volume": "8 L", "behaviour": "ok"}`}, "Close the clamp and read once more how full"},
		"runs out":       {[]string{`{"volume": "%.1f L", "behaviour": "ok"}`, `{"volume": "8 L", "behaviour": "ok"}`}, "Close the clamp and look under the container."},
	} {
		s := savePlanOf(t, stagedScat)
		first := s.get(t, s.path).phases(t)[0]
		for _, p := range s.get(t, s.path).phases(t) {
			if p.Kind == "fill" {
				first = p
				break
			}
		}
		start := first.FromVolume.Value + (first.ToVolume.Value-first.FromVolume.Value)*at
		var is told
		for i, entry := range x.entries {
			if strings.Contains(entry, "%") {
				entry = fmt.Sprintf(entry, start)
			}
			is = s.logs(t, first.Start.Value+first.Duration.Value*at+0.02*float64(i), entry, "").told(t)
		}
		if x.now == "" && is.verdict != "on_course" || x.now != "" && (is.verdict != "paused" || !strings.HasPrefix(is.now, x.now)) {
			t.Errorf("%s: %+v", name, is)
		}
	}
}

// No change of water goes into a tank that holds much less than it was planned for.
func TestATankThatLostItsWaterGetsNoSalt(t *testing.T) {
	for name, x := range map[string]struct{ litres, verdict, now string }{
		"as planned": {"195 L", "on_course", ""},
		"half gone":  {"100 L", "paused", "Unplug the heater and look for a leak. Change no water,"},
		"too full":   {"260 L", "paused", "Change no water, and read once more how full the tank is."},
	} {
		s := savePlanOf(t, rampScat)
		is := s.logs(t, 2, `{"volume": "`+x.litres+`", "behaviour": "ok"}`, "").told(t)
		if is.verdict != x.verdict || !strings.HasPrefix(is.now, x.now) || x.verdict == "paused" && strings.Contains(is.now+is.then, "Put in") {
			t.Errorf("%s: %+v", name, is)
		}
	}
}

// Water that falls under the least of the plan is read once more before anything is poured off, and
// after a stop a level that fell far is a leak at once.
func TestWaterThatGoes(t *testing.T) {
	t.Parallel()
	plan := strings.Replace(jugBody, `"start_volume": "6 L"`, `"start_volume": "8 L", "least_volume": "8 L"`, 1)
	if plan == jugBody {
		t.Fatal("the container's volume is not where it was")
	}
	const stop = `{"event": "stop"}`
	level := func(litres string) string {
		return `{"volume": "` + litres + `", "temperature": "26 C", "behaviour": "ok"}`
	}
	holds(t, map[string]story{
		"under the least":     {plan: plan, steps: []step{{2, "", level("9.4 L")}, {3, "", level("7 L")}}, now: "Close the clamp and read once more how full", then: "Look under the container.", not: "Pour off", next: "Close the clamp"},
		"a little under":      {plan: plan, steps: []step{{0.1, "", level("8.1 L")}, {0.3, "", level("7.9 L")}}, not: "Close the clamp"},
		"after a stop":        {plan: plan, steps: []step{{1, "", level("8.8 L")}, {1.2, "event", stop}, {1.5, "", level("5 L")}}, now: "Close the clamp and look under the container.", then: "The level goes on falling, from 8.8 L", next: "look under the container"},
		"a stop, and nothing": {plan: plan, steps: []step{{1, "", level("8.8 L")}, {1.2, "event", stop}, {1.5, "", level("8.6 L")}}, now: "Leave the clamp closed.", not: "ook under the container"},
		"filled up again":     {plan: plan, steps: []step{{1, "", level("0.5 L")}, {1.2, "", `{"volume": "8 L", "salinity": "2.1 ppt", "temperature": "26 C", "behaviour": "ok"}`}}, now: "Close the clamp and read once more how full", then: "Only 0.5 L", next: "Close the clamp"},
		"and tight":           {plan: plan, steps: []step{{1, "", level("0.5 L")}, {1.2, "", `{"volume": "8 L", "salinity": "2.1 ppt", "temperature": "26 C", "behaviour": "ok"}`}, {1.5, "", level("8 L")}}, not: "was left at"},
	})
}
