// Package lifesupport follows the water of a holding container over time: its oxygen,
// its ammonia and its warmth, with animals in it that breathe and excrete, while
// water drips in, stands, runs over or is poured off.
//
// Animals differ: what they use is good to a factor of two either way, so every
// answer that depends on it comes as a Spread, at the least, the likely and the
// greatest use. The container is taken as stirred and covered by a lid.
package lifesupport
