// Package tolerance is about what an animal or plant tolerates: the bands of salinity,
// temperature and pH of each life stage with their sources, the water that several species
// share, what a given water means for them, and how fast they may be moved.
package tolerance
