package drip

import "slices"

// carry follows the constraints through the wait before a cup, the cup itself and, if it
// is the last, the end. It reports whether they all hold.
func (c *cupSearch) carry(m *poured) bool {
	n, least := m.before, farOff+0.0
	for i := range c.p.Constraints {
		con := &c.p.Constraints[i]
		state := slices.Clone(n.states[i])
		next := make([]float64, len(state))
		pass := func(margin float64) {
			least = min(least, margin)
			if margin < -tight && (c.worst == nil || m.Time > c.furthest) {
				c.worst, c.furthest = &Obstacle{Kind: Broken, Constraint: i, Time: m.Time, Margin: margin}, m.Time
			}
			state, next = next, state
		}
		if n.before != nil {
			wait := waiting(n.Cup, m.Cup)
			pass(con.act(next, state, Act{Time: wait.Start, Gap: n.ToGap, FromMass: n.mass, ToMass: n.mass, Close: true}))
			pass(con.leg(next, state, wait))
		}
		pass(con.act(next, state, opening(m.Cup)))
		leg := pouring(m.Cup)
		pass(con.leg(next, state, leg))
		m.states = append(m.states, state)
		if m.ToGap <= c.p.Tolerance*(1+near) {
			pass(con.act(next, state, ending(leg)))
		}
	}
	return least >= -tight
}

// follow returns the least margin of all constraints along a list of cups.
func (c *cupSearch) follow(end *poured) float64 {
	s := c.schedule(end)
	least := farOff + 0.0
	for i := range c.p.Constraints {
		con := &c.p.Constraints[i]
		state, next := slices.Clone(con.Start), make([]float64, len(con.Start))
		for k, a := range s.Acts {
			least = min(least, con.act(next, state, a))
			state, next = next, state
			if k < len(s.Legs) {
				least = min(least, con.leg(next, state, s.Legs[k]))
				state, next = next, state
			}
		}
	}
	return least
}
