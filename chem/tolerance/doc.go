// Package tolerance knows what an animal or plant takes: the bands of
// salinity, temperature and pH of each life stage with the source of each, the
// water that several of them share, what a given water means for them, and how
// fast they may be moved.
package tolerance
