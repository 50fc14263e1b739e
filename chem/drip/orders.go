package drip

import (
	"math/bits"
	"slices"
)

// mostOrders is the most orders of one size that are all looked at. Of more, only those
// close to a good one are.
const mostOrders = 128

// orders calls look with each order of a number of acts to which nothing can be added,
// because it has all the settings and pour-offs that are allowed. A setting or pour-off
// that an order does not need changes nothing in its best schedule.
func (s *search) orders(acts int, look func(order) bool) { s.ordersShut(acts, -1, look) }

// ordersWithHold calls look with each of the orders in which the valve is shut at one
// act and set at the next.
func (s *search) ordersWithHold(acts int, look func(order) bool) {
	for at := range acts - 1 {
		if !s.ordersShut(acts, at, look) {
			return
		}
	}
}

// ordersShut is orders with the valve shut at act number at; −1 shuts it at none.
func (s *search) ordersShut(acts, at int, look func(order) bool) bool {
	all, closed, opened := uint(1)<<acts-1, uint(0), uint(0)
	if at >= 0 {
		closed, opened = 1<<at, 2<<at
	}
	sets, pours := s.share(acts - bits.OnesCount(closed))
	for a := range all + 1 {
		if bits.OnesCount(a) != sets || a&closed != 0 || a&opened != opened {
			continue
		}
		must := all &^ a &^ closed // these acts have to pour off
		for b := range all + 1 {
			if b&must != must || bits.OnesCount(b) != pours {
				continue
			}
			o := make(order, acts)
			for i := range o {
				o[i] = move(a>>i&1)*set | move(b>>i&1)*pour | move(closed>>i&1)*shut
			}
			if !look(o) {
				return false
			}
		}
	}
	return true
}

// share is how many of a number of acts set the valve and how many pour off. Some do both.
func (s *search) share(acts int) (sets, pours int) {
	return min(s.Settings-1, acts), min(s.mostPours(), acts)
}

// count is the number of orders of a number of acts. It may stop counting above mostOrders.
func (s *search) count(acts int) int {
	sets, pours := s.share(acts)
	both := sets + pours - acts
	if both < 0 {
		return 0
	}
	n := 1 // choose the acts that set, then which of these also pour off
	for i := range sets {
		if n = n * (acts - i) / (i + 1); n > mostOrders*1000 {
			return n
		}
	}
	for i := range both {
		n = n * (sets - i) / (i + 1)
	}
	return n
}

// even is the order of a number of acts that spreads the settings evenly, and among
// them evenly those that also pour off.
func (s *search) even(acts int) order {
	sets, pours := s.share(acts)
	both := sets + pours - acts
	o := make(order, acts)
	at := 0
	for i := range o {
		if (i+1)*sets/acts == i*sets/acts {
			o[i] = pour
			continue
		}
		o[i] = set
		if (at+1)*both/sets > at*both/sets {
			o[i] |= pour
		}
		at++
	}
	return o
}

// climb starts from the even order and exchanges two acts that are close to each other
// as long as that improves it.
func (s *search) climb(z size) {
	s.partly = true
	best := s.even(z.acts)
	value := s.root(best, z.ways)
	s.drain() // so that there is a schedule to compare with
	seen := map[string]bool{best.String(): true}
	for improved := true; improved && !s.stopped(); {
		improved = false
		for i := range best {
			for k := i + 1; k < min(i+4, len(best)); k++ {
				o := slices.Clone(best)
				o[i], o[k] = o[k], o[i]
				if seen[o.String()] {
					continue
				}
				seen[o.String()] = true
				if v := s.root(o, z.ways); v < value*(1-1e-6) {
					best, value, improved = o, v, true
				}
			}
		}
	}
}

func (o order) String() string {
	s := make([]byte, len(o))
	for i, a := range o {
		s[i] = '0' + byte(a)
	}
	return string(s)
}
