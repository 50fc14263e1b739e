package drip

import "math"

// mostRounds is how often at most the best schedule is tried in all other orders.
const mostRounds = 4

// graftAll tries the best schedule under constraints in all other orders, and repeats
// that as long as it finds a better one. If a schedule keeps within oxygen, ammonia or a
// day's change in one order, similar orders often allow the same.
func (s *search) graftAll(sizes []size) {
	for range mostRounds {
		if s.best == nil || len(s.best.taken) == 0 || s.stopped() {
			return
		}
		from := s.best
		legs := s.legs(from)
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

// graft fills in the unknowns of an order from the legs of another.
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
