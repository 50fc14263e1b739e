package server_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
)

// reads logs a volume and the salinity that it has where all that came dripped in: the
// gap of 8 ppt closes as 6 L over what there is.
func (s savedPlan) reads(t testing.TB, hours, litres float64) answered {
	t.Helper()
	body := fmt.Sprintf(`{"volume": "%.2f(5) L", "salinity": "%.2f(10) ppt", "instrument": {"kind": "none"}, "temperature": "26 C", "behaviour": "ok"}`, litres, 10-8*6/litres)
	a := s.logs(t, hours, body, "")
	if a.status != http.StatusCreated {
		t.Fatalf("after %g h: %d\n%.900s", hours, a.status, a.body)
	}
	return a
}

// foundOut are the kinds of what an answer names, with their sentences.
func foundOut(t testing.TB, a answered) (kinds, evidence string) {
	t.Helper()
	list, _ := a.field(t, "course").(map[string]any)["found"].([]any)
	for _, x := range list {
		f := x.(map[string]any)
		kinds += f["kind"].(string) + " "
		evidence += f["evidence"].(map[string]any)["text"].(string) + " "
	}
	return strings.TrimSpace(kinds), evidence
}

// A drip that clogs is not averaged away: at the second reading it is named, with the
// times between which it happened, and set again from what runs now. As told it brings
// 0.72 L an hour, from ten past ten on 0.2.
func TestAClogIsNotHidden(t *testing.T) {
	s := savePlan(t)
	if a := s.reads(t, 1, 6.72); a.field(t, "course.verdict") != "on_course" {
		t.Errorf("as planned: %v", a.field(t, "course.now.text"))
	}
	first := s.reads(t, 2.5, 7.1)
	second := s.reads(t, 3.5, 7.3)
	if first.field(t, "course.verdict") != "corrected" {
		t.Errorf("at the first reading: %v", first.field(t, "course.now.text"))
	}
	kinds, evidence := foundOut(t, second)
	if kinds != "clog" || !strings.Contains(evidence, "between 10:00 and 11:30") && !strings.Contains(evidence, "10:00") {
		t.Errorf("%s: %s", kinds, evidence)
	}
	if why := s.get(t, s.path+"/now?format=text").body; !strings.Contains(why, "clogged") {
		t.Errorf("now says\n%s", why)
	}
}

// Nor is a valve that slips: it is named at the second reading after it.
func TestASlippedValveIsNotHidden(t *testing.T) {
	s := savePlan(t)
	s.reads(t, 0.75, 6.54)
	s.reads(t, 1.25, 7.2) // 1.5 L an hour since ten to ten
	kinds, evidence := foundOut(t, s.reads(t, 1.5, 7.6))
	if kinds != "slip" || !strings.Contains(evidence, "slipped between 09:45 and 10:15") {
		t.Errorf("%s: %s", kinds, evidence)
	}
}

// A limit that was broken is told with its times, a hold follows, and the rest is slower.
func TestABrokenLimitIsTold(t *testing.T) {
	s := savePlan(t)
	s.reads(t, 1, 6.72)
	a := s.reads(t, 1.5, 9.5) // from 2.9 to 4.9 ppt in half an hour; the limit is 3 an hour
	broken := a.field(t, "course.broken.0").(map[string]any)
	text := broken["note"].(map[string]any)["text"].(string)
	if !strings.HasPrefix(text, "Between 10:00 and 10:30 ") || !strings.Contains(text, "limit is 3 g/kg an hour") {
		t.Errorf("it says %s", text)
	}
	hold := broken["hold"].(map[string]any)["value"].(float64)
	if now := a.field(t, "course.now.text").(string); !strings.HasPrefix(now, "Close the clamp and leave it closed until ") || hold < 0.5 {
		t.Errorf("a hold of %g h, and now: %s", hold, now)
	}
	slower := false
	for _, l := range a.field(t, "plan.limits").([]any) {
		if l := l.(map[string]any); l["name"] == "per_hour" {
			slower = l["limit"].(map[string]any)["value"].(float64) < 3
		}
	}
	if !slower {
		t.Error("the rest is planned as fast as before")
	}
	if during := s.reads(t, 1.6, 9.5); !strings.Contains(during.field(t, "course.now.text").(string), "closed until") {
		t.Errorf("during the hold: %v", during.field(t, "course.now.text"))
	}
}

// Who came late, touched the clamp or filled the jug logs it in one call, is asked for one
// thing, and goes on from what is read then. What was reported is not found out as a fault.
func TestWhatWasReportedIsNoSurprise(t *testing.T) {
	for event, litres := range map[string]float64{"late": 8.2, "clamp_touched": 8.3, "refilled": 7.9} {
		s := savePlan(t)
		s.reads(t, 1, 6.72)
		if a := s.event(t, 2, `{"event": "`+event+`"}`, ""); a.status != http.StatusCreated {
			t.Fatalf("%s: %d", event, a.status)
		}
		a := s.reads(t, 2.5, litres)
		if verdict := a.field(t, "course.verdict"); verdict != "on_course" && verdict != "corrected" {
			t.Errorf("%s: %v, %v", event, verdict, a.field(t, "course.now.text"))
		}
		if kinds, _ := foundOut(t, a); kinds != "" {
			t.Errorf("%s is found out as %s", event, kinds)
		}
		for _, n := range a.field(t, "course.readings").([]any) {
			if n := n.(map[string]any); n["suspect"] == true && n["what"] != "drops" {
				t.Errorf("%s: a true reading is suspected: %v", event, n)
			}
		}
	}
}

// No answer tells to leave the valve and to set it, to stop and to drip on, to move over
// and to wait; and one that is stopped, paused or over has no plan in it.
func TestNoAnswerContradictsItself(t *testing.T) {
	t.Parallel()
	contrary := [][2]string{{"Leave the valve", "Set the"}, {"Leave the valve", "Count the drops"}, {"leave it closed", "All is going to plan"}, {"Close the clamp.", "All is going to plan"},
		{"Close the clamp.", "Leave the valve"}, {"Close the clamp.", "Set the"}, {"All is going to plan", "Set the"}, {"Pour off", "Leave the valve"}}
	stories := map[string][]func(savedPlan) answered{
		"as planned": {func(s savedPlan) answered { return s.reads(t, 1, 6.72) }, func(s savedPlan) answered { return s.reads(t, 2.7, 7.95) }},
		"slow":       {func(s savedPlan) answered { return s.reads(t, 1, 6.4) }, func(s savedPlan) answered { return s.reads(t, 2.5, 7) }},
		"fast":       {func(s savedPlan) answered { return s.reads(t, 1, 7.1) }, func(s savedPlan) answered { return s.reads(t, 2, 8) }},
		"broken":     {func(s savedPlan) answered { return s.reads(t, 1, 6.72) }, func(s savedPlan) answered { return s.reads(t, 1.5, 9.5) }},
		"stopped":    {func(s savedPlan) answered { return s.event(t, 1, `{"event": "stop"}`, "") }, func(s savedPlan) answered { return s.reads(t, 2, 6.8) }},
		"dark":       {func(s savedPlan) answered { return s.event(t, 1, `{"event": "power_off"}`, "") }, func(s savedPlan) answered { return s.event(t, 2, `{"event": "power_back"}`, "") }},
	}
	for name, story := range stories {
		s := savePlan(t)
		for i, act := range story {
			a := act(s)
			text := s.get(t, s.path+"?format=text").body
			now, rest, _ := strings.Cut(text, "\n")
			_, first, _ := strings.Cut(rest, "\n1. ") // of what the plan has, which comes at once
			first, _, _ = strings.Cut(first, "\n")
			for _, pair := range contrary {
				if strings.Contains(now, pair[0]) && strings.Contains(now+first, pair[1]) || strings.Contains(now, pair[1]) && strings.Contains(first, pair[0]) {
					t.Errorf("%s, %d: it says %q and %q\n%.400s", name, i, pair[0], pair[1], text)
				}
			}
			verdict, _ := a.field(t, "course.verdict").(string)
			if (verdict == "stopped" || verdict == "paused") && strings.Contains(a.body, `"plan":`) {
				t.Errorf("%s, %d: %s, with a plan", name, i, verdict)
			}
		}
	}
}

// Marks are in centimetres for who reads a level, and in litres for who reads a volume.
func TestMarksAsTheKeeperReadsThem(t *testing.T) {
	for body, mark := range map[string]string{`{"level": "11.9 cm"}`: " cm", `{"volume": "6.72(5) L"}`: " L"} {
		s := savePlan(t)
		now := s.logs(t, 1, body, "").field(t, "course.now.text").(string)
		if !strings.Contains(now, "until the water reaches ") || !strings.Contains(now, mark) || mark == " cm" && strings.Contains(now, " L ") {
			t.Errorf("%s: %s", body, now)
		}
	}
}

// A true reading after a stop is taken in the keeper's own instrument; one that does not
// fit is told as it was read, and as that instrument should have shown it.
func TestReadingsInTheKeepersInstrument(t *testing.T) {
	s := savePlan(t)
	s.reads(t, 1, 6.72)
	a := s.logs(t, 1.5, `{"salinity": "1.0080(2) SG", "temperature": "26 C", "behaviour": "ok"}`, "")
	text := ""
	for _, w := range a.field(t, "course.warnings").([]any) {
		text += w.(map[string]any)["text"].(string)
	}
	if !strings.Contains(text, "reading of 1.008 SG does not fit") || !strings.Contains(text, "should show 1.0") || strings.Contains(text, "g/kg") {
		t.Errorf("it says %s", text)
	}
}

// A container that is read much fuller than it can be is not waited for: the clamp is
// closed and it is read again, and then the rest is planned from what is there.
func TestAFullContainerIsNotLeftOut(t *testing.T) {
	s := savePlan(t)
	s.reads(t, 1, 6.72)
	a := s.logs(t, 1.25, `{"volume": "17(1) L", "salinity": "3.1(1) ppt", "instrument": {"kind": "none"}, "temperature": "26 C"}`, "")
	if a.field(t, "course.verdict") != "paused" || a.field(t, "course.now.text") != "Close the clamp and read once more how full the container is." || strings.Contains(a.body, `"plan":`) {
		t.Errorf("%v: %v", a.field(t, "course.verdict"), a.field(t, "course.now.text"))
	}
	if a = s.reads(t, 1.4, 6.95); a.field(t, "course.verdict") != "corrected" {
		t.Errorf("it was a slip of the pen: %v, %v", a.field(t, "course.verdict"), a.field(t, "course.now.text"))
	}
}
