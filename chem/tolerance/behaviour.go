package tolerance

import "saltlock/chem/quantity"

// Behaviour is how a species lives with others, whether it needs land, and how to carry it.
// Empty or nil means not known.
type Behaviour struct {
	// Temper holds what decides on company: peaceful, semi-aggressive,
	// aggressive, fin-nipper, predator-of-fish, predator-of-small-fish (an eighth of
	// its length), predator-of-shrimp-and-snails, eats-no-fish (however large it
	// grows), species-only, one-pair (more than two of its kind fight).
	Temper        []Trait     `json:"temper"`
	SmallestGroup *GroupOfOwn `json:"smallest_group,omitempty"`
	LeavesWater   *Trait      `json:"leaves_water,omitempty"` // no, perch, land-and-water
	Lid           *Trait      `json:"lid,omitempty"`          // yes, no
	Moving        *Trait      `json:"moving,omitempty"`       // under-water, keep-wet-short, in-air-ok
	Notes         []string    `json:"notes"`
}

// GroupOfOwn is the smallest group of its own kind in which to keep it.
type GroupOfOwn struct {
	Count  int     `json:"count"`
	Mark   Mark    `json:"mark"`
	Source *Source `json:"source,omitempty"`
}

// LifeCycle is the waters in which the young and the adults live.
type LifeCycle struct {
	// Kind is direct, amphidromous, anadromous or catadromous; empty if only the larvae are
	// known.
	Kind   string  `json:"kind,omitempty"`
	Mark   Mark    `json:"mark,omitempty"`
	Source *Source `json:"source,omitempty"`
	// Larva is the salinity its larvae need.
	Larva *Sourced[quantity.Salinity] `json:"larva_range,omitempty"`
	Notes []string                    `json:"notes"` // on the larvae
}

// Is reports whether a word is among the temper of the species.
func (b Behaviour) Is(temper string) bool {
	_, is := b.mark(temper)
	return is
}

// Land reports whether the species needs land as well as water.
func (b Behaviour) Land() bool { return b.LeavesWater != nil && b.LeavesWater.Kind == "land-and-water" }

// Crosses reports whether it moves between fresh and salt water during its life.
func (c *LifeCycle) Crosses() bool {
	return c != nil && (c.Kind == "amphidromous" || c.Kind == "anadromous" || c.Kind == "catadromous")
}
