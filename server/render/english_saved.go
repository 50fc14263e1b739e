package render

// savedSentences speak of a transfer that is under way.
var savedSentences = map[string]string{
	"now_begin":        "Nothing was read yet: start as planned.",
	"now_go_on":        "On course: leave the valve as it is, until the container holds {0}, in about {1}.",
	"now_pour":         "On course: pour off {0}, down to {1}, and go on as planned.",
	"now_wait":         "On course: the drip has brought the gap down to {0}.",
	"now_set_drip":     "The drip runs at {0} of what was planned: count {1} drops in {2} s instead of {3} in {4} s, until the container holds {5}.",
	"now_pour_and_set": "Pour off {0}, down to {1}; then count {2} drops in {3} s, until the container holds {4}.",
	"now_arrived":      "Stop the drip: the gap is down to {0}. Let them rest for {1}, then move them over.",
	"now_no_way_on":    "Stop the drip and leave them in the aerated container: from here no plan keeps the limits. The warnings say what stands in the way.",
	"now_watch":        "Nothing is left to do but to watch them.",
	"now_stop":         "Stop: no more change. Keep the air stone running, look at temperature and ammonia, and ask a vet.",
	"now_step_back":    "Stop the drip. Take out {0} and pour in {1} of the water set aside, by the cup over some minutes: half a step back, by {3} to {2}. Keep the air stone running, look at temperature and ammonia, and ask a vet.",
	"now_step_back_to": "Stop: no more change. Go half a step back, by {1} to {0}, with water set aside from before. Keep it aerated, look at temperature and ammonia, and ask a vet.",

	"continuation":         "Planned anew from what was read: the drip ran at {0} of what was planned, and a gap of {1} is left.",
	"waited_for_the_marks": "You are taken to have waited for the marks of the plan before pouring off and setting the valve.",
	"suspect_salinity":     "A salinity of {0} does not fit: all else says {1}, {2} times its uncertainty away. It was left out. Rinse the instrument, see that no bubble clings to it, check its mark and the temperature, and read again.",
	"suspect_volume":       "A volume of {0} does not fit: all else says {1}, {2} times its uncertainty away. It was left out. Look whether the container leaks, was poured off or filled up, and read again.",
	"suspect_level":        "A level of {0} does not fit: all else says {1}, {2} times its uncertainty away. It was left out. Look whether the container stands level, leaks, was poured off or filled up, and read again.",
	"suspect_drops":        "A count of {0} does not fit: all else says {1}, {2} times its uncertainty away. It was left out. Count again, for a whole minute.",
	"readings_contradict":  "{0} of {1} numbers contradict the others: do not trust the estimate. Stop the drip, read everything again, and check the instrument in a water that is known.",
	"distress_seen":        "A sign of distress was seen ({0}): this plan is at its end.",
	"after_distress":       "A change of salinity is no cure; a vet decides for sick animals. When they have been well for {0}, save a new transfer from the water they are in then, with more care: a lower hourly limit.",
	"ramp_not_corrected":   "A ramp is not planned anew from its readings: where the tank is off, save a new transfer from what it reads.",

	"saved":         "Saved as {0} until {1}.",
	"saved_key":     "The key is told this once: {0}",
	"saved_start":   "The first drop is taken to fall now, {0}.",
	"saved_ended":   "Ended on {0}.",
	"course_now":    "After {0} it holds {1} at {2}.",
	"course_drip":   "The drip runs at {0} of what was planned, {1} instead of {2}.",
	"plan_restarts": "Times of the plan count from {0}.",
}
