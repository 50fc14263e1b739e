// Package transfer plans how animals go from the water they live in to other
// water: at once where the step is small enough, else by a drip into a
// container, with the valve settings, pour-offs, level marks and expected
// readings that two hands and a valve can keep to.
package transfer
