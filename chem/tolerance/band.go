package tolerance

import (
	"fmt"

	"saltlock/chem/quantity"
)

// Band is what is known about the bounds of a quantity. A nil bound is unknown, which is
// neither zero nor infinite.
type Band[Q quantity.Quantity] struct {
	Min *quantity.Estimate[Q] `json:"min,omitempty"`
	Max *quantity.Estimate[Q] `json:"max,omitempty"`
}

// NewBand makes a Band of two bounds, either of which may be nil. It refuses
// a minimum above the maximum, and NaN.
func NewBand[Q quantity.Quantity](lo, hi *quantity.Estimate[Q]) (Band[Q], error) {
	for _, b := range []*quantity.Estimate[Q]{lo, hi} {
		if b != nil && b.Value != b.Value {
			return Band[Q]{}, fmt.Errorf("a bound of a band is not a number")
		}
	}
	if lo != nil && hi != nil && lo.Value > hi.Value {
		return Band[Q]{}, fmt.Errorf("minimum %g %s is above maximum %g %s",
			float64(lo.Value), lo.Value.Unit(), float64(hi.Value), hi.Value.Unit())
	}
	return Band[Q]{Min: lo, Max: hi}, nil
}

// Empty says that neither bound is known.
func (b Band[Q]) Empty() bool { return b.Min == nil && b.Max == nil }

// Mark says how well founded a value is.
type Mark string

// The marks. A recalled value is never Published.
const (
	Published      Mark = "published"       // a number or statement read in a public copy
	ByDefinition   Mark = "definition"      // follows from the words fresh water or marine: 0, 0.5, or sea water of 33 to 37 ppt
	CommonPractice Mark = "common-practice" // a custom of the trade, no source
	Memory         Mark = "memory"          // recalled, source not seen
	ProposedHere   Mark = "proposed"        // a default proposed by Saltlock, an engineering choice
)

// Marks returns the marks from the best to the least founded.
func Marks() []Mark {
	return []Mark{Published, ByDefinition, CommonPractice, Memory, ProposedHere}
}

// Source is where a value was found.
type Source struct {
	Key      string `json:"key"`                  // with the place in it after a colon, if known
	Short    string `json:"short_name,omitempty"` // its name in a sentence
	Citation string `json:"citation"`
	Year     int    `json:"year,omitempty"`
	URL      string `json:"url,omitempty"`
	Seen     string `json:"seen,omitempty"` // how much of it was read; empty if it was not
}

// Sourced is a Band with its origin. Both bounds may be unknown if a source mentions the
// animal without giving them.
type Sourced[Q quantity.Quantity] struct {
	Band[Q]
	Mark  Mark   `json:"mark,omitempty"`  // empty where no bound is known
	Basis string `json:"basis,omitempty"` // what kind of evidence: experiment, field-range …
	// MaxMark and MaxBasis are those of the maximum if it is founded on something other than
	// the minimum.
	MaxMark  Mark    `json:"max_mark,omitempty"`
	MaxBasis string  `json:"max_basis,omitempty"`
	Source   *Source `json:"source,omitempty"`
}

// mark returns the mark, none for nil.
func (s *Sourced[Q]) mark() Mark {
	if s == nil {
		return ""
	}
	return s.Mark
}

// band returns the bounds, none for nil.
func (s *Sourced[Q]) band() Band[Q] {
	if s == nil {
		return Band[Q]{}
	}
	return s.Band
}
