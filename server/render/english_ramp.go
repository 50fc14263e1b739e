package render

// rampSentences speak of changing the water of a whole tank.
var rampSentences = sentences{
	"ramp_totals":           "In all: {0, plural, =0 {one day} one {# day} other {# days}}, {1, plural, one {# water change} other {# water changes}}, {2} of new water, {3} of dry salt.",
	"ramp_totals_no_salt":   "In all: {0, plural, =0 {one day} one {# day} other {# days}}, {1, plural, one {# water change} other {# water changes}}, {2} of new water. No salt is needed.",
	"ramp_cheaper":          "If you have {0, number} days: {1, plural, one {# water change} other {# water changes}}, {2} of new water, {3} of dry salt.",
	"ramp_cheaper_no_salt":  "If you have {0, number} days: {1, plural, one {# water change} other {# water changes}}, {2} of new water.",
	"change_water_no_salt":  "Day {0, number}: take out {1}. Put in {2} of the source water, without salt. The tank should then read {3}.",
	"top_off_with_stock":    "Day {0, number}: take nothing out. Of what has evaporated, replace {1} with salt water of {2} and {3} with source water. The tank should then read {4}.",
	"ramp_stock":            "Mix the new water in a bucket the day before, at the temperature of the tank. Each {1} of source water takes {0} of dry salt; the mix should read {2}. Pour it slowly into the outflow of the filter, over about an hour: strong water sinks onto snails and bottom fish.",
	"filter_going_up":       "Going up is the hard way for a filter. Seed it with material from a brackish or marine filter. Test ammonia and nitrite every day, and a week longer.",
	"ramp_accuracy_assumed": "The tank has arrived when it is within {0} of the target.",
	"ramp_too_long":         "Within {0, number} days the limits let the tank come only to {1}.",
}
