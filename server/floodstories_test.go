package server_test

import "testing"

// scatJug moves scats from 3 to 12 ppt in 8 L, into which 0.75 L drip an hour.
const scatJug = `{"animals": [{"species": "scatophagus-argus", "origin": "captive"}], "container": {"aerated": true, "heated": true, "capacity": "30 L", "start_volume": "8 L", "least_volume": "8 L"},
	"line": {"drop_volume": "0.05 mL", "settings": 3}, "from": {"salinity": "3 ppt", "temperature": "26 C"}, "to": {"salinity": "12 ppt", "temperature": "26 C"},
	"instrument": {"kind": "refractometer", "temperature_compensated": true}}`

// Drops counted while the clamp is to be closed show that it is not, whatever closed it. The count is
// no mistake, and stands until none are counted.
func TestDropsThroughAClosedClamp(t *testing.T) {
	t.Parallel()
	const open, counted, none, out = "The clamp is not closed: close it", "You counted 4 drops a second at ", "Count the drops again: there should be none.", "The count was left out"
	const drops = `, "drops": 40, "drops_in": "10 s"`
	tellNights(t, scatJug, map[string][]act{
		"at rest after poison": {{3, `{"volume": "10 L", "salinity": "5 ppt", "temperature": "26 C", "tan": "2 mg/L N", "behaviour": "ok"}`, told{verdict: "paused", now: "Close the clamp"}, ""},
			{3.3, `{"volume": "12 L", "salinity": "5 ppt", "temperature": "26 C", "tan": "0 mg/L N", "nitrite": "0 mg/L N", "behaviour": "ok"}`, told{verdict: "paused", now: "Leave the clamp closed until"}, ""},
			{4, `{"volume": "12 L"}`, told{verdict: "paused", now: "Leave the clamp closed until"}, ""},
			{5, `{"volume": "12.5 L"` + drops + `}`, told{"paused", open, counted, none, ""}, out},
			{5.1, `{"temperature": "26 C", "behaviour": "ok"}`, told{verdict: "paused", now: open}, out},
			{5.2, `{"drops": 0, "drops_in": "60 s"}`, told{verdict: "paused", now: "Leave the clamp closed until"}, out}},
		"in cold water": {{3, `{"volume": "9.6 L", "salinity": "4.7 ppt", "temperature": "21 C"}`, told{verdict: "paused"}, ""},
			{4, `{"volume": "10.4 L", "temperature": "22 C"` + drops + `}`, told{"paused", open, counted, none, ""}, out},
			{5, `{"volume": "12 L", "temperature": "26 C"` + drops + `}`, told{"paused", open, "The water rose from", none, ""}, out}},
		"without power": {{3, `{"volume": "9.6 L", "salinity": "4.7 ppt", "temperature": "26 C"}`, told{}, ""},
			{3.1, `{"event": "power_off"}`, told{now: "Close the clamp."}, ""},
			{4, `{"volume": "9.7 L"` + drops + `}`, told{"paused", open, counted, "Run a battery air pump", ""}, out}},
		"after a stop": {{3, `{"volume": "9.6 L", "salinity": "4.7 ppt", "temperature": "26 C"}`, told{}, ""},
			{3.1, `{"event": "stop"}`, told{now: "Close the clamp."}, ""},
			{4, `{"volume": "9.7 L"` + drops + `}`, told{"stopped", open, counted, none, ""}, out}},
		"after a limit was broken": {{1, `{"volume": "8.8 L", "salinity": "9 ppt", "temperature": "26 C"}`, told{verdict: "paused"}, ""},
			{1.1, `{"volume": "8.8 L", "salinity": "9 ppt", "temperature": "26 C"}`, told{now: "Close the clamp and leave it closed until"}, ""},
			{1.5, `{"volume": "9 L"` + drops + `}`, told{"paused", open, counted, none, ""}, out}},
	})
}
