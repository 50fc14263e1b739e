package server_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
)

// jugBody is four young scats in a bucket of 20 L, of which 6 L are filled, fed from a jug:
// a fill to 8 L takes 2 h 50 min, which is 0.72 L an hour.
const jugBody = `{
	"animals": [{"species": "scatophagus-argus", "stage": "juvenile", "origin": "captive", "count": 4, "mass": "1 g"}],
	"from": {"salinity": "2 ppt", "temperature": "26 C"},
	"to": {"salinity": "10 ppt", "temperature": "26 C"},
	"container": {"capacity": "20 L", "start_volume": "6 L", "aerated": true},
	"line": {"drop_volume": "0.05 mL"}
}`

// told is what an answer says: how it stands, what to do now, why, what then, and what it
// warns of.
type told struct{ verdict, now, why, then, warnings string }

func (a answered) told(t testing.TB) told {
	t.Helper()
	if a.status != http.StatusCreated && a.status != http.StatusOK {
		t.Fatalf("%d\n%.900s", a.status, a.body)
	}
	course := a.field(t, "course").(map[string]any)
	texts := func(list string) string {
		var all []string
		notes, _ := course[list].([]any)
		for _, n := range notes {
			all = append(all, n.(map[string]any)["text"].(string))
		}
		return strings.Join(all, " ")
	}
	now := course["now"].(map[string]any)["text"].(string)
	return told{course["verdict"].(string), now, texts("why"), texts("then"), texts("warnings")}
}

// notes logs a volume and a salinity, both read well, and what else is given.
func (s savedPlan) notes(t testing.TB, hours, litres, ppt float64, more string) answered {
	t.Helper()
	return s.logs(t, hours, fmt.Sprintf(`{"volume": "%.2f(5) L", "salinity": "%.2f(20) ppt", "instrument": {"kind": "none"}, "temperature": "26 C"%s}`, litres, ppt, more), "")
}

// The whole jug ran in within 20 min, and one reading shows it: the clamp is shut, the water
// is where it was read, and the rest waits. Nobody set a limit of his own.
func TestAJugThatRanInIsBelieved(t *testing.T) {
	s := savePlanOf(t, jugBody)
	a := s.logs(t, 1./3, `{"volume": "8.0 L", "salinity": "4 ppt", "temperature": "26 C", "behaviour": "ok"}`, "")
	is := a.told(t)
	if !strings.HasPrefix(is.now, "Close the clamp and leave it closed until ") || !strings.Contains(is.why, "the limit is 3 g/kg an hour") {
		t.Errorf("it says %s %s", is.now, is.why)
	}
	if sp, v := a.number(t, "course.practical_salinity.value"), a.number(t, "course.volume.value"); sp < 3.8 || sp > 4.2 || v < 7.9 || v > 8.1 {
		t.Errorf("it was read at 4 ppt and 8 L, and %.2f ppt and %.2f L are said", sp, v)
	}
	if strings.Contains(a.body, "your own") || strings.Contains(a.body, "limit_given") {
		t.Errorf("it speaks of a limit that nobody set\n%.900s", a.body)
	}
	if from := a.number(t, "plan.phases.0.from_salinity.value"); from < 3.8 || from > 4.2 {
		t.Errorf("the rest is planned from %.2f ppt", from)
	}
	kinds, evidence := foundOut(t, s.logs(t, 0.5, `{"volume": "8.0 L", "salinity": "4 ppt", "temperature": "26 C"}`, ""))
	if kinds != "filled_up" || !strings.Contains(evidence, "Between 09:00 and 09:20") || !strings.Contains(evidence, "1.7 L") {
		t.Errorf("%s: %s", kinds, evidence)
	}
}
