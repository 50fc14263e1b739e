// Package followup follows a plan under way: what the keeper's log says of the
// real drip and the container, which reading is off, whether the rest must be
// planned anew, and what to do now.
package followup
