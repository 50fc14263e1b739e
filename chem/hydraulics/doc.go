// Package hydraulics is about the water in a drip line: how much runs through it when
// nothing holds it back, how large its drops are, how a drip slows as the level of the
// source falls, and how deep the hose must hang.
//
// The clamp sets a drip, not the hose, so none of this replaces counting drops. It says
// what happens when the clamp fails. A constant named after a formula states its error if
// it ends in Fit, and is its key in Methods if it ends in Method.
package hydraulics
