package transfer

import (
	"strings"

	"saltlock/chem/quantity"
)

// Fault is one reason why there is no plan, and what would remove it.
type Fault struct {
	Where string // path of the field to change, as the contract spells it: container.start_volume
	Note  quantity.Note
	Offer []Change       // changes that together lead to a plan; none if that takes what only the keeper knows or does
	hint  bool           // nothing is against the plan here: it is only an offer
	plain *quantity.Note // the reason without the numbers of an offer that leads to no plan
}

// InfeasibleError says that no plan keeps the limits. It holds every reason at once.
type InfeasibleError struct {
	Faults []Fault
}

func (e *InfeasibleError) Error() string {
	var b strings.Builder
	b.WriteString("no plan keeps the limits:")
	for _, f := range e.Faults {
		b.WriteString(" " + f.Where + " (" + string(f.Note.Code) + ")")
	}
	return b.String()
}

// Notes returns the note of every fault, for the renderer to fill.
func (e *InfeasibleError) Notes() []*quantity.Note {
	all := make([]*quantity.Note, len(e.Faults))
	for i := range e.Faults {
		all[i] = &e.Faults[i].Note
	}
	return all
}
