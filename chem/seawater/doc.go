// Package seawater computes the state of a water from its salinity and temperature, and
// its salinity from what can be measured.
//
// Every formula holds for sea salt in the proportions of the Reference Composition, at one
// standard atmosphere. An exported function checks its inputs against the ranges next to
// it; the unexported one of the same name is the bare formula, for loops. A constant named
// after a formula states its error if it ends in Fit, and is its key in Methods if it ends
// in Method.
package seawater
