package transfer

import (
	"context"
	"errors"
	"slices"

	"saltlock/chem/quantity"
)

// Change is a field of a request and the value that a refusal offers for it.
type Change struct {
	Where string // path of the field, as the contract spells it
	Value string // as a request writes it; empty takes the field out
	set   func(*Request)
}

// offer keeps a hint: what would lead on, although nothing is against the plan. It is given only
// if its changes lead to a plan; without changes it asks for what only the keeper knows.
func (t *task) offer(where string, n quantity.Note, changes ...Change) {
	t.faults = append(t.faults, Fault{Where: where, Note: n, Offer: changes, hint: true})
}

// with is the request with an offer taken up.
func (r Request) with(changes []Change) Request {
	r.Animals = slices.Clone(r.Animals)
	for _, c := range changes {
		c.set(&r)
	}
	return r
}

// longestChain is how many refusals are followed from offer to offer if no single one leads to a
// plan.
const longestChain = 4

// workOnOffers bounds the work on all offers of a refusal together.
const workOnOffers = mostWork * 3 / 2

// tested tries every offer of a refusal and drops those without a plan; if none has one, offers
// are combined until they do. What is offered was planned.
func tested(ctx context.Context, r Request, faults []Fault) ([]Fault, error) {
	work, held := &budget{workOnOffers}, false
	kept, untried := []Fault{}, slices.Clone(faults)
	for _, f := range faults {
		if len(f.Offer) > 0 {
			ok, err := plannable(ctx, r.with(f.Offer), work)
			if err != nil {
				return nil, err
			}
			if !ok && f.hint {
				continue
			}
			if held = held || ok; !ok {
				f.Offer = nil
			}
		}
		kept = append(kept, f)
	}
	slices.SortStableFunc(kept, func(a, b Fault) int { return a.rank() - b.rank() })
	if held || len(kept) == 0 {
		return plainly(kept), nil
	}
	chain, end, err := inChain(ctx, r, untried, work)
	kept[0].Offer = chain
	kept = plainly(kept)
	for _, f := range end { // what remains once all offers were taken
		told := slices.ContainsFunc(kept, func(k Fault) bool { return k.Note.Code == f.Note.Code })
		if f.Offer = nil; !told && !f.hint && f.Note.Code != "container_not_named" { // which would be the last of the matter
			kept = append(kept, f)
		}
	}
	return kept, err
}

// plainly rewords reasons that read as an offer, without its numbers, if the offer leads to no
// plan.
func plainly(faults []Fault) []Fault {
	for i, f := range faults {
		if f.plain != nil && len(f.Offer) == 0 {
			faults[i].Note = *f.plain
		}
	}
	return faults
}

// inChain combines offers, and those of the refusal that follows, until there is a plan.
func inChain(ctx context.Context, r Request, faults []Fault, work *budget) (chain []Change, end []Fault, err error) {
	for range longestChain {
		before := len(chain)
		for _, f := range faults {
			known := slices.ContainsFunc(f.Offer, func(c Change) bool {
				return slices.ContainsFunc(chain, func(d Change) bool { return c.Where == d.Where })
			})
			if len(f.Offer) > 0 && !known && (!f.hint || len(chain) == before) {
				chain = append(chain, f.Offer...)
			}
		}
		if len(chain) == before || work.spent() {
			return nil, end, nil
		}
		_, err := work.lend(func(b *budget) (Plan, error) { return newPlan(ctx, r.with(chain), b, false) })
		refused, ok := errors.AsType[*InfeasibleError](err)
		switch {
		case err == nil:
			return chain, nil, nil
		case !ok:
			return nil, end, onlyOfContext(ctx, err)
		}
		faults = refused.Faults
		end = faults
	}
	return nil, end, nil
}

// plannable reports whether a request has a plan; one with a value out of range has none.
func plannable(ctx context.Context, r Request, work *budget) (bool, error) {
	if work.spent() {
		return false, nil
	}
	_, err := work.lend(func(b *budget) (Plan, error) { return newPlan(ctx, r, b, true) })
	return err == nil, onlyOfContext(ctx, err)
}

// onlyOfContext is an error that ends everything, not an answer to an offer.
func onlyOfContext(ctx context.Context, err error) error {
	if err != nil && ctx.Err() != nil {
		return ctx.Err()
	}
	return nil
}

// rank orders the reasons of a refusal: what the animals need at once, what makes the move unwise, what rules out this way of
// doing it, then what would lead on, then what would lead on with something more from the keeper.
func (f Fault) rank() int {
	switch {
	case slices.Contains(aids, f.Note.Code): // which cannot wait
		return -1
	case f.Unwise():
		return 0
	case !f.hint:
		return 1
	case len(f.Offer) > 0 && !f.buys(), f.Note.Code == "acidity_would_help": // a test costs less than another container
		return 2
	case len(f.Offer) > 0:
		return 3
	}
	return 4
}

// buys reports whether an offer needs another container: what works with the one at hand, a faster
// stream or more water, comes first.
func (f Fault) buys() bool {
	return slices.ContainsFunc(f.Offer, func(c Change) bool { return c.Where == "container.capacity" })
}

// unwise are the refusals of the move itself; all others concern the way of doing it.
var unwise = []quantity.Code{"no_step_while_sick", "no_move_while_sick", "no_step_while_medicated", "no_step_just_shipped", "no_step_while_moulting",
	"target_below_band", "target_above_band", "target_below_as_dip", "target_above_as_dip", "parr_not_to_sea", "grown_stay_fresh",
	"larvae_not_known", "land_hermit_two_dishes", "nitrite_in_new_water", "dechlorinate_before",
	"target_below_kept", "target_above_kept", "short_spell_is_a_dip", "warm_them_first", "cool_them_first", "target_too_cold", "target_too_warm", "target_too_cool", "target_winter_cold", "target_too_hot", "target_too_hot_for_shy",
	"new_water_poisonous", "leave_own_water_first", "leave_nitrite_first", "own_ph_assumed", "tank_above_gate", "leave_before_ph_rises", "new_water_ph",
	"warm_them_first_bell", "cool_them_first_bell", "leave_own_water_first_bell", "leave_nitrite_first_bell", "leave_before_ph_rises_bell", "clean_water_cooler_bell",
	"moults_in_ammonia", "moults_in_nitrite", "moults_before_ph_rises", "leave_salinity_first", "moults_outside_band", "clean_water_warmer", "clean_water_cooler"}

// Unwise reports whether a fault concerns the move itself.
func (f Fault) Unwise() bool { return Unwise(string(f.Note.Code)) }

// Unwise reports whether a code says that a move should not be made at all.
func Unwise(code string) bool {
	return slices.ContainsFunc(unwise, func(c quantity.Code) bool { return string(c) == code })
}
