// Package seawater computes the state of a water from its salinity and
// temperature, and its salinity from what can be measured.
//
// Every formula stands for sea salt in the proportions of the Reference
// Composition, at one standard atmosphere. An exported function checks its
// inputs against the ranges beside it; the unexported one of the same name is
// the bare formula, for loops. For a formula with an error of its own a constant named
// after it and ending in Fit states it, and one ending in Method is its key
// in Methods.
package seawater
