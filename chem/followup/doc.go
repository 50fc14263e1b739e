// Package followup follows a plan under way: what the keeper's log says of the
// real drip and the container, what went wrong, which reading is off, which limit
// was broken, whether the rest must be planned again, and what to do now.
//
// How well that works was measured on 1,000 seeded nights (nights_test.go) in which the
// drip drifts by up to 30 %, slips or clogs, the hydrometer is off by 0.001, volumes are
// read to 0.2 L, visits are late by up to an hour, one reading is absurd and one pour-off
// is not logged. NIGHTFIGURES
package followup
