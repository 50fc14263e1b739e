package transfer

// freeze plans the legs of a transfer that was stored without any plan, as
// release 0.2.0 did whenever it was asked. It holds as long as NewPlan plans as
// that release did.
func (c *Course) freeze() error {
	for i := range c.Legs {
		if leg := &c.Legs[i]; c.Legs[len(c.Legs)-1].Plan == nil {
			p, err := NewPlan(leg.Request)
			if err != nil {
				return err
			}
			if leg.Plan = &p; i > 0 {
				leg.goesOn()
			}
		}
	}
	return nil
}
