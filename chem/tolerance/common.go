package tolerance

import (
	"cmp"
	"slices"

	"saltlock/chem/quantity"
)

// Ref names a member of a community.
type Ref struct {
	ID    string    `json:"id"`
	Name  string    `json:"name"`
	Stage LifeStage `json:"stage"`
}

// Status says whether some water suits everybody.
type Status string

// The statuses.
const (
	Shared        Status = "shared"  // every bound is known and a band is left
	NoneShared    Status = "none"    // two known bounds exclude each other
	UnknownShared Status = "unknown" // a bound is unknown, or only a preference conflicts with another bound
)

// Common is the band of one quantity that several share. D is the quantity
// of its differences.
type Common[Q, D quantity.Quantity] struct {
	Status Status `json:"status"`
	// Lower and Upper are the strictest of the known bounds. The band between
	// them is shared by all only if Status says so.
	Lower *Bound[Q, D] `json:"lower,omitempty"`
	Upper *Bound[Q, D] `json:"upper,omitempty"`
	// UnknownLower and UnknownUpper are the members for which no source gives the bound.
	UnknownLower []Ref            `json:"unknown_lower,omitempty"`
	UnknownUpper []Ref            `json:"unknown_upper,omitempty"`
	Conflicts    []Conflict[Q, D] `json:"conflicts,omitempty"` // widest gap first
}

// Bound is a bound of a common band and the member that sets it.
type Bound[Q, D quantity.Quantity] struct {
	Value quantity.Estimate[Q] `json:"value"`
	SetBy []Ref                `json:"set_by"`
	// Without is the bound that the others would set, and By how much wider it is; nil if no
	// other member has one.
	Without *quantity.Estimate[Q] `json:"without,omitempty"`
	By      *quantity.Estimate[D] `json:"by,omitempty"`
}

// Conflict is a pair of members that no water suits.
type Conflict[Q, D quantity.Quantity] struct {
	Higher  Ref                  `json:"higher"` // needs more
	AtLeast quantity.Estimate[Q] `json:"at_least"`
	Lower   Ref                  `json:"lower"` // needs less
	AtMost  quantity.Estimate[Q] `json:"at_most"`
	Gap     quantity.Estimate[D] `json:"gap"`
	// Proven is false if one of the two bounds is only a preference, because no source says
	// what lies beyond it, or if the records are less than one degree apart.
	Proven bool `json:"proven"`
}

// holder is a member with its span of one quantity.
type holder[Q quantity.Quantity] struct {
	ref  Ref
	span span[Q]
}

// common intersects the spans of all holders.
func common[Q, D quantity.Quantity](holders []holder[Q]) Common[Q, D] {
	var c Common[Q, D]
	for _, h := range holders {
		c.Lower = strictest(c.Lower, h.span.Min, h.ref, func(q, than Q) bool { return q > than })
		c.Upper = strictest(c.Upper, h.span.Max, h.ref, func(q, than Q) bool { return q < than })
		if h.span.Min == nil {
			c.UnknownLower = append(c.UnknownLower, h.ref)
		}
		if h.span.Max == nil {
			c.UnknownUpper = append(c.UnknownUpper, h.ref)
		}
	}
	c.Conflicts = conflicts[Q, D](holders)
	c.Status = c.status()
	return c
}

// status derives the status from what was found.
func (c Common[Q, D]) status() Status {
	for _, x := range c.Conflicts {
		if x.Proven {
			return NoneShared
		}
	}
	if len(c.Conflicts)+len(c.UnknownLower)+len(c.UnknownUpper) > 0 {
		return UnknownShared
	}
	return Shared
}

// strictest returns the bound once one more member is included.
func strictest[Q, D quantity.Quantity](b *Bound[Q, D], q *quantity.Estimate[Q], by Ref, stricter func(q, than Q) bool) *Bound[Q, D] {
	switch {
	case q == nil:
		return b
	case b == nil:
		return &Bound[Q, D]{Value: *q, SetBy: []Ref{by}}
	case stricter(q.Value, b.Value.Value):
		return (&Bound[Q, D]{Value: *q, SetBy: []Ref{by}}).ahead(b.Value)
	case q.Value == b.Value.Value:
		b.SetBy = append(b.SetBy, by)
	case b.Without == nil || stricter(q.Value, b.Without.Value):
		return b.ahead(*q)
	}
	return b
}

// ahead notes the bound that the others would set.
func (b *Bound[Q, D]) ahead(without quantity.Estimate[Q]) *Bound[Q, D] {
	b.Without = &without
	b.By = new(quantity.Exactly(D(max(b.Value.Value-without.Value, without.Value-b.Value.Value))))
	return b
}

// conflicts returns every pair whose bounds exclude each other, widest gap first.
func conflicts[Q, D quantity.Quantity](holders []holder[Q]) []Conflict[Q, D] {
	var all []Conflict[Q, D]
	for _, a := range holders {
		for _, b := range holders {
			if a.span.Min == nil || b.span.Max == nil || a.span.Min.Value <= b.span.Max.Value {
				continue
			}
			all = append(all, Conflict[Q, D]{
				Higher: a.ref, AtLeast: *a.span.Min,
				Lower: b.ref, AtMost: *b.span.Max,
				Gap: quantity.Exactly(D(a.span.Min.Value - b.span.Max.Value)),
				Proven: a.span.Min.Value-b.span.Max.Value >= a.span.slack/2 &&
					(a.span.softMin == "" || b.span.Max.Value < a.span.firmBelow) && b.span.softMax == "",
			})
		}
	}
	slices.SortStableFunc(all, func(x, y Conflict[Q, D]) int { return cmp.Compare(y.Gap.Value, x.Gap.Value) })
	return all
}
