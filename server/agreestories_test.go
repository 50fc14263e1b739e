package server_test

import (
	"strings"
	"testing"
)

// Two readings that agree are the truth, whatever the plan expects: the animals are where they
// were read to be, and the volume is what was seen. By streamBody 6.7 L of 2.9 ppt are due after
// 20 min, 7.8 L of 3.9 ppt after 50.
func TestTwoReadingsThatAgreeAreTheTruth(t *testing.T) {
	t.Parallel()
	const byRefractometer = `{"salinity": "6 ppt", "instrument": {"kind": "refractometer", "scale": "seawater"}, "temperature": "26 C"`
	const readBoth = "Close the clamp, then read the salinity and how full the container is."
	tellNights(t, streamBody, map[string][]act{
		"salty, by any instrument": {{1. / 3, `{"salinity": "6 ppt", "temperature": "26 C", "behaviour": "ok"}`, told{verdict: "paused", now: readBoth, why: "You read 6 ppt; by everything else it should show 2.9 ppt."}, `"plan":`},
			{0.42, `{"salinity": "6.3 ppt", "temperature": "26 C", "behaviour": "ok"}`, told{verdict: "paused", now: readBoth, why: "Two readings agree, so the animals are at 6.3 ppt. Between 09:00 and 09:20 the salinity changed by 12.1 g/kg an hour"}, `"plan":`},
			{0.5, `{"volume": "7 L"}`, told{verdict: "corrected", now: "Close the clamp and leave it closed until 10:50."}, "does not fit"}},
		"salty, beside a true volume": {{1. / 3, `{"salinity": "6 ppt", "volume": "6.8 L", "temperature": "26 C"}`, told{verdict: "paused", now: "Close the clamp and read the salinity once more"}, `"plan":`},
			{0.42, `{"salinity": "6.3 ppt", "volume": "6.9 L", "temperature": "26 C"}`, told{verdict: "corrected", now: "Close the clamp and leave it closed until 10:50.", why: "Two readings agree, so the animals are at 6.3 ppt."}, "does not fit"}},
		"read otherwise the second time": {{1. / 3, `{"salinity": "6 ppt", "volume": "6.8 L", "temperature": "26 C"}`, told{verdict: "paused"}, ""},
			{0.42, `{"salinity": "3.1 ppt", "volume": "6.9 L", "temperature": "26 C"}`, told{}, "Two readings agree"}},
		"a jump that only the salinity shows": {{1. / 3, byRefractometer + "}", told{verdict: "paused", now: readBoth, why: "You read 6 ppt"}, "Pour off"},
			{0.5, byRefractometer + `, "volume": "9 L"}`, told{verdict: "corrected", now: "Close the clamp and leave it closed until", why: "Two readings agree, so the animals are at 6 ppt."}, "Pour off 4.8 L"}},
		// 6 L of 2 ppt and 1.4 L of fresh water have 1.6 ppt.
		"fresh water in the jug": {{40. / 60, `{"volume": "7.4 L", "salinity": "1.6 ppt"}`, told{verdict: "paused", now: "Close the clamp and read the new water: it should be at 10 ppt. If it is not, make new water.", why: "You read 1.6 ppt", then: "Read the salinity once more"}, ""},
			{50. / 60, `{"volume": "7.8 L", "salinity": "1.5 ppt"}`, told{verdict: "paused", now: "Close the clamp and read the new water: it should be at 10 ppt. If it is not, make new water.", why: "Two readings agree, so the animals are at 1.5 ppt.", then: "Check the instrument"}, `"plan":`},
			{51. / 60, `{"event": "clamp_touched"}`, told{verdict: "paused", now: "Close the clamp and read the new water"}, `"plan":`},
			{1, `{"volume": "7.8 L", "salinity": "1.6 ppt"}`, told{verdict: "corrected"}, "everything else"}},
		"left out, and said so": {{1. / 3, byRefractometer + `, "volume": "9 L"}`, told{now: "Close the clamp", warnings: "You read 6 ppt; by everything else it should show 4.7 ppt."}, ""}},
		"full to the brim": {{50. / 60, `{"volume": "18 L"}`, told{verdict: "paused", now: "Close the clamp and read once more how full"}, `"plan":`},
			{55. / 60, `{"volume": "18 L"}`, told{verdict: "paused", now: "Close the clamp and read the salinity.", why: "Two readings agree, so the container holds 18 L"}, "everything else says"},
			{1, `{"salinity": "7.3 ppt", "temperature": "26 C"}`, told{verdict: "corrected", now: "Close the clamp and leave it closed until"}, "everything else says"}},
		"more than it may hold": {{1, `{"volume": "20 L", "salinity": "7.5 ppt"}`, told{verdict: "paused", now: "Close the clamp and read once more how full"}, ""},
			{1.1, `{"volume": "20 L", "salinity": "7.6 ppt"}`, told{"corrected", "Close the clamp and leave it closed until", "You read 20 L (5.3 gal), and the rim is at 20 L (5.3 gal). Two readings agree", "", ""}, "everything else says"}},
	})
}

// A container that runs dry is believed at once, and the water set aside goes in before all else.
// A level that goes on falling is a leak, and never filled on; one that fell once is not.
func TestAContainerRunsDry(t *testing.T) {
	t.Parallel()
	const pour = "Pour in the water set aside now, or put the animals into a bucket of it."
	tellNights(t, streamBody, map[string][]act{
		"with distress": {{0.5, `{"volume": "0.5 L", "behaviour": "gasping"}`, told{"stopped", pour, "You read only 0.5 L", "Close the clamp. See that the air stone runs", ""}, "does not fit"}},
		"unseen": {{0.5, `{"volume": "0.5 L", "behaviour": "ok"}`, told{"paused", pour, "You read only 0.5 L", "Close the clamp. See that the air stone runs", ""}, `"plan":`},
			{0.52, `{"event": "clamp_touched"}`, told{verdict: "paused", now: pour}, `"plan":`},
			{0.53, `{"volume": "0.4 L"}`, told{verdict: "paused", now: pour}, "everything else says"},
			{0.7, `{"volume": "6.4 L", "salinity": "2.2 ppt", "temperature": "26 C"}`, told{verdict: "paused"}, "does not fit"},
			{0.95, `{"volume": "6.4 L", "salinity": "2.2 ppt", "temperature": "26 C"}`, told{verdict: "corrected"}, "does not fit"}},
		"a leak": {{1. / 3, `{"volume": "3 L", "salinity": "2.6 ppt"}`, told{verdict: "paused", now: "Close the clamp and read once more how full"}, `"plan":`},
			{0.42, `{"volume": "2.8 L"}`, told{"paused", "Close the clamp and look under the container. Move the animals with their water into another.", "The level goes on falling, from 3 L (0.79 gal) to 2.8 L", "Top up from the water set aside.", ""}, "was poured off"},
			{0.6, `{"volume": "2.2 L"}`, told{verdict: "paused", now: "Close the clamp and look under the container."}, "was poured off"}},
		"tipped once": {{1. / 3, `{"volume": "3 L", "salinity": "2.6 ppt"}`, told{verdict: "paused"}, ""},
			{0.42, `{"volume": "3 L"}`, told{"corrected", "Set the line to 21 mL/min", "Two readings agree, so the container holds 3 L", "", ""}, "goes on falling"}},
	})
	// Where their old water harms them, or is too far away, water like theirs goes in.
	far := savePlanOf(t, streamBody)
	far.logs(t, 3, read(9, 9.5, ""), "")
	far.logs(t, 3.05, read(9, 9.5, ""), "")
	if is := far.logs(t, 3.2, `{"volume": "0.5 L"}`, "").told(t); !strings.HasPrefix(is.now, "Move the animals into clean, dechlorinated water at 9.") {
		t.Errorf("far from the old water: %+v", is)
	}
}

// A jug that ran dry is filled before anything is poured off or set.
func TestAnEmptyJugIsFilledFirst(t *testing.T) {
	t.Parallel()
	tellNights(t, streamBody, map[string][]act{
		"overslept": {{1, `{"volume": "7.8 L", "salinity": "3.9 ppt", "temperature": "26 C"}`, told{}, ""},
			{9, `{"volume": "7.8 L", "salinity": "3.9 ppt", "temperature": "25 C"}`, told{"on_course", "Fill the jug with 2.1 L", "The jug seems to have run dry", "Pour off 1.8 L", ""}, ""}},
		"late": {{9.8, `{"event": "late"}`, told{}, ""}, {10, `{"volume": "8.2 L", "salinity": "4 ppt", "temperature": "24.5 C"}`, told{"corrected", "Fill the jug with", "", "Set the line to", ""}, ""}},
	})
}

// tellNights tells nights of one plan, and compares what is answered.
func tellNights(t *testing.T, plan string, nights map[string][]act) {
	t.Helper()
	for name, night := range nights {
		s := savePlanOf(t, plan)
		for _, x := range night {
			ask := s.logs
			if strings.Contains(x.body, `"event"`) {
				ask = s.event
			}
			a := ask(t, x.hours, x.body, "")
			is := a.told(t)
			for _, part := range [][2]string{{is.verdict, x.is.verdict}, {is.now, x.is.now}, {is.why, x.is.why}, {is.then, x.is.then}, {is.warnings, x.is.warnings}} {
				if !strings.HasPrefix(part[0], part[1]) {
					t.Errorf("%s, after %g h: it says %q, want %q", name, x.hours, part[0], part[1])
				}
			}
			if x.never != "" && strings.Contains(a.body+s.get(t, s.path+"?format=text").body, x.never) {
				t.Errorf("%s, after %g h: it says %q", name, x.hours, x.never)
			}
		}
	}
}
