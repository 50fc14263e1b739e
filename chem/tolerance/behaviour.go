package tolerance

import "saltlock/chem/quantity"

// Behaviour is how a species lives with others, whether it needs land, and how
// to carry it. What is empty or nil is not known.
type Behaviour struct {
	// Temper holds what decides over company: peaceful, semi-aggressive,
	// aggressive, fin-nipper, predator-of-fish, predator-of-small-fish (a tenth of
	// its length), predator-of-shrimp-and-snails, eats-no-fish (however large it
	// grows), species-only, one-pair (more than two of its kind fight).
	Temper        []Trait     `json:"temper"`
	SmallestGroup *GroupOfOwn `json:"smallest_group,omitempty"`
	LeavesWater   *Trait      `json:"leaves_water,omitempty"` // no, perch, land-and-water
	Lid           *Trait      `json:"lid,omitempty"`          // yes, no
	Moving        *Trait      `json:"moving,omitempty"`       // under-water, keep-wet-short, in-air-ok
	Notes         []string    `json:"notes"`
}

// GroupOfOwn is the smallest number of its own kind to keep it with.
type GroupOfOwn struct {
	Count  int     `json:"count"`
	Mark   Mark    `json:"mark"`
	Source *Source `json:"source,omitempty"`
}

// LifeCycle is in which waters the young and the grown live.
type LifeCycle struct {
	// Kind is direct, amphidromous, anadromous or catadromous; empty where only
	// something of the larvae is known.
	Kind   string  `json:"kind,omitempty"`
	Mark   Mark    `json:"mark,omitempty"`
	Source *Source `json:"source,omitempty"`
	// Larva is the salinity its larvae need.
	Larva *Sourced[quantity.Salinity] `json:"larva_range,omitempty"`
	Notes []string                    `json:"notes"` // on the larvae
}

// Is says that a word is among the temper of the species.
func (b Behaviour) Is(temper string) bool {
	_, is := b.mark(temper)
	return is
}

// Land says that the species needs land as well as water.
func (b Behaviour) Land() bool { return b.LeavesWater != nil && b.LeavesWater.Kind == "land-and-water" }

// Crosses says that its life leads from fresh to salt water or back.
func (c *LifeCycle) Crosses() bool {
	return c != nil && (c.Kind == "amphidromous" || c.Kind == "anadromous" || c.Kind == "catadromous")
}
