// Package lifesupport follows the water of a container with animals over time: its
// oxygen, its ammonia and its temperature. The animals breathe and excrete, while water
// drips in, runs over, is poured off or is left alone.
//
// Animals differ: their use is known to a factor of two either way. So every answer that
// depends on it is a Spread, at the least, the likely and the greatest use. The container
// is assumed to be stirred and covered by a lid.
package lifesupport
