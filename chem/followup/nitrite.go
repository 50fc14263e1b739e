package followup

import "saltlock/chem/lifesupport"

// Gills take up nitrite in competition with chloride, so that the ratio of the two decides how much harm
// it does (Lewis and Morris, 1986, from memory). Sea water has 0.55 g of chloride for each g of salt: at
// 3 g/kg over 3000 times as much as of nitrite up to slightNitrite. Both bounds are proposed here.
const (
	slightNitrite  = 2.5 // of the limit
	saltForNitrite = 3.  // g/kg
)

// slight reports whether the nitrite of a test is little above the limit, in water of so much salt that
// to catch animals that look well would harm them more.
func (f *following) slight(e LogEntry) bool {
	return e.Nitrite.Value <= slightNitrite*lifesupport.HarmlessNitrite*(1+inside) && min(f.base.From, f.base.To) >= saltForNitrite &&
		f.state.stopped < 0 && !f.released && !f.inTank() && !f.leg().outOfBag()
}

// saySlight says what to do about nitrite that does no harm yet.
func (f *following) saySlight() error {
	p, err := f.poisonNow()
	if len(p.slight) == 0 || len(p.why) > 0 {
		return err
	}
	c := f.course
	c.Why, c.Then = append(c.Why, p.slight...), append(c.Then, noteOf("then_nitrite_slight"))
	return err
}
