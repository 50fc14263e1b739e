package server_test

import (
	"os"
	"strings"
	"testing"
)

// In a rescue nothing leads back: no answer to distress, in a move or a drip, no plan of the
// rest and no page offers half a step into the water that harmed them.
func TestNoWayBackInARescue(t *testing.T) {
	t.Parallel()
	for name, x := range map[string]struct{ body, first string }{
		"one move": {`{"animals": [{"species": "paracheirodon-innesi", "count": 6, "mass": "0.5 g"}], "recent_change": "12 g/kg",
			"from": {"salinity": "12 ppt", "temperature": "25 C"}, "to": {"salinity": "0.2 ppt", "temperature": "25 C"}}`, "See that the air stone runs and the surface moves."},
		"a drip": {`{"animals": [{"species": "corydoras-aeneus", "count": 1, "mass": "1 g"}], "limits": {"at_once": "0.3 g/kg"},
			"from": {"salinity": "2 ppt", "temperature": "25 C"}, "to": {"salinity": "0.3 ppt", "temperature": "25 C"},
			"container": {"capacity": "40 L", "start_volume": "10 L", "aerated": true}, "line": {"drop_volume": "0.05 mL"}}`, "Close the clamp."},
	} {
		s := savePlanOf(t, x.body)
		back := func(what, text string) {
			if strings.Contains(text, "half a step back") || strings.Contains(text, "set aside") || strings.Contains(text, "step_back") || strings.Contains(text, "data-return") {
				t.Errorf("%s, %s: it leads back\n%.900s", name, what, text)
			}
		}
		back("before", s.get(t, s.path+"?curve=false").body)
		back("page before", s.get(t, "/t/"+s.id).body)
		if name == "a drip" {
			a := s.logs(t, 1.5, `{"salinity": "1.5(1) ppt", "instrument": {"kind": "none"}, "volume": "13 L", "temperature": "25 C"}`, "")
			if a.told(t).verdict != "corrected" {
				t.Errorf("the rest is not planned again: %+v", a.told(t))
			}
			back("the rest", a.body)
		}
		a := s.event(t, 2, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "")
		if is := a.told(t); is.verdict != "stopped" || is.now != x.first || !strings.HasSuffix(is.then, "Do not move them back, since their old water harms them.") || !strings.Contains(a.body, "Call a vet.") {
			t.Errorf("%s: %+v", name, is)
		}
		back("distress", a.body)
		back("now", s.get(t, s.path+"/now").body)
		back("page", s.get(t, "/t/"+s.id).body)
	}
	// Without a network the page speaks by itself, and leads back only where the plan does.
	script, err := os.ReadFile("site/static/words.js")
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(script), "half a step back"); n != 1 || !strings.Contains(string(script), "back: 'If the change of water was the cause, go half a step back") {
		t.Errorf("the script leads back %d times", n)
	}
	if s := savePlan(t); !strings.Contains(s.get(t, "/t/"+s.id).body, " data-return") {
		t.Error("where the way back is safe, the page does not say so")
	}
}

// Animals that refuse food a day after the release are in their tank. Nothing drips there, and
// nobody catches them again: the water is tested first.
func TestFoodIsRefusedAfterTheRelease(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, keeperBody)
	a := s.logs(t, 36, `{"behaviour": "not_feeding"}`, "")
	is := a.told(t)
	if is.verdict != "stopped" || is.now != "Test ammonia and nitrite in their tank." || strings.Contains(a.body, "step_back") || strings.Contains(a.body, `"volume":`) ||
		!strings.HasPrefix(is.then, "If there is any, change a third of the water") || !strings.Contains(is.then, "no tank mate chases them") {
		t.Errorf("%+v\n%.900s", is, a.body)
	}
	if is := s.logs(t, 37, `{"tan": "2 mg/L N", "temperature": "26 C"}`, "").told(t); !strings.HasPrefix(is.now, "Change half of the water") {
		t.Errorf("with ammonia: %+v", is)
	}
	if is := s.logs(t, 40, `{"tan": "0 mg/L N", "nitrite": "0 mg/L N", "temperature": "26 C"}`, "").told(t); !strings.HasPrefix(is.now, "See that no tank mate chases them") {
		t.Errorf("clean: %+v", is)
	}
	s = savePlanOf(t, keeperBody)
	if is := s.logs(t, 1, `{"behaviour": "not_feeding"}`, "").told(t); is.now != "Close the clamp." {
		t.Errorf("during the drip: %+v", is)
	}
}

// Three lines for the phone never say a thing twice, count no stream in drops, put air before
// advice for tomorrow, and name no hour that has passed as one to wait for.
func TestNowIsOfNow(t *testing.T) {
	t.Parallel()
	stream := strings.Replace(keeperBody, `"drop_volume": "0.05 mL"`, `"drop_volume": "0.05 mL", "greatest_drip": "22 drops/s"`, 1)
	for name, x := range map[string]struct {
		log   func(s savedPlan)
		hours float64
		want  [3]string
	}{
		"not begun": {func(savedPlan) {}, 0.1, [3]string{"Start as planned.", "There are no readings yet.", "Next at 09:15"}},
		"distress": {func(s savedPlan) { s.event(t, 1, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "") }, 1,
			[3]string{"Close the clamp.", "You saw a sign of distress", "See that the air stone runs"}},
		"stopped": {func(s savedPlan) { s.event(t, 1, `{"event": "stop"}`, "") }, 2, [3]string{"Close the clamp.", "You stopped at 10:00.", "Read the salinity"}},
		"stopped and read": {func(s savedPlan) {
			s.event(t, 1, `{"event": "stop"}`, "")
			s.logs(t, 1.5, read(8.2, 4.2, ""), "")
		}, 3, [3]string{"Leave the clamp closed.", "You stopped at 10:00.", "Ask for a new plan from this reading"}},
		"one reading long ago": {func(s savedPlan) { s.logs(t, 0.5, read(7.2, 3.3, ""), "") }, 30, [3]string{"Look at the animals now.", "Nothing was logged since Tue 09:30.", "If they are in the new water already, end the transfer."}},
		"a stream":             {func(s savedPlan) { s.event(t, 0.5, `{"event": "clamp_touched"}`, "") }, 0.5, [3]string{"Catch one minute of the line in a measuring cup: it should be 37 mL/min.", "The clamp was touched", "Look again at"}},
	} {
		s := savePlanOf(t, stream)
		x.log(s)
		*s.now = nine.Add(hoursOf(x.hours))
		lines := strings.Split(s.get(t, s.path+"/now?format=text").body, "\n")
		for i, want := range x.want {
			if !strings.HasPrefix(lines[i], want) {
				t.Errorf("%s: line %d is %q, want %q", name, i+1, lines[i], want)
			}
		}
		if len(lines) != 4 || lines[0] == lines[1] || lines[1] == lines[2] {
			t.Errorf("%s: %q", name, lines)
		}
	}
}
