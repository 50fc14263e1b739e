// Package hydraulics is about water on its way through a drip line: what runs
// through it when nothing holds it back, how large its drops are, and how a drip
// slows as the source sinks.
//
// A clamp sets a drip, not the hose, so none of this replaces counting drops. It
// tells what happens when the clamp fails. A constant named after a formula and
// ending in Fit states its own error, one ending in Method is its key in Methods.
package hydraulics
