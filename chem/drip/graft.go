package drip

import "math"

// mostRounds is how often the best schedule under constraints is grafted on all orders.
const mostRounds = 4

// graftAll tries what is best under constraints so far in all other orders, again as
// long as that finds something better: where oxygen, ammonia or a day's change leave
// room in one order they do so in those alike.
func (s *search) graftAll(sizes []size) {
	for range mostRounds {
		if s.best == nil || len(s.best.taken) == 0 || s.stopped() {
			return
		}
		from := s.best
		legs := make([]Leg, len(from.order)+1)
		s.lay(from.layout, from.x, legs)
		s.look(sizes, func(z size) {
			if s.count(z.acts) > mostOrders {
				return
			}
			s.orders(z.acts, func(o order) bool {
				p := s.newProgram(newLayout(o, s.ends))
				p.taken, p.units = from.taken, from.units
				n := &node{program: p, x: make([]float64, p.size)}
				p.graft(legs, n.x)
				s.try(n)
				return !s.stopped()
			})
		})
		if s.best == from {
			return
		}
	}
}

// graft fills in the unknowns of an order from legs of another.
func (p *program) graft(legs []Leg, x []float64) {
	at := func(i int) (leg *Leg, way float64) { // where act i−1 falls among the legs
		place := float64(i*len(legs)) / float64(len(p.order)+1)
		k := min(int(place), len(legs)-1)
		leg = &legs[k]
		from, to := p.wayOf(leg.FromGap), p.wayOf(leg.ToGap)
		return leg, from + (place-float64(k))*(to-from)
	}
	for i := range len(p.order) + 1 {
		leg, way := at(i)
		if i > 0 {
			x[p.ways[i-1]] = way
		}
		if k := p.left[i]; k >= 0 {
			x[k] = math.Log(leg.FromMass * leg.FromGap)
		}
		if k := p.flow[i]; k >= 0 && (i == 0 || p.flow[i-1] != k) {
			x[k] = math.Log(max(leg.Flow, p.LeastFlow))
		}
	}
	if k := p.ways[len(p.order)]; k >= 0 {
		x[k] = p.model.way
	}
}
