package tolerance

import "saltlock/chem/quantity"

// Limits are how fast an animal may be moved in one direction. A step is
// judged by AtOnce, a drip by PerHourAt, everything in any 24 hours by
// Per24Hours.
type Limits struct {
	Class Class
	Up    bool // towards salt

	AtOnce     quantity.AbsoluteSalinity
	PerHour    quantity.SalinityRate     // before the rules of PerHourAt
	Per24Hours quantity.AbsoluteSalinity // in any 24 hours
	// Hold is the wait after a full day's change; after a smaller change it scales with change
	// over Per24Hours. Zero if none is proposed.
	Hold quantity.Duration

	// ShareOfPresent caps the change in an hour at a part of the present salinity. The cap
	// never goes below LeastShareCap. Zero: no such cap.
	ShareOfPresent quantity.Fraction
	LeastShareCap  quantity.SalinityRate
	// HalvedBelow is the salinity below which half of PerHour applies. Zero: nowhere.
	HalvedBelow quantity.AbsoluteSalinity

	WarmingPerHour    quantity.TemperatureRate
	WarmingPer24Hours quantity.TemperatureDifference
	CoolingPerHour    quantity.TemperatureRate
	CoolingPer24Hours quantity.TemperatureDifference
	PHPer24Hours      quantity.PH // a difference of pH

	// Notes say which rules, other than the table, determined these limits.
	Notes []quantity.Note
}

// PerHourAt returns the hourly limit of salinity change in a water of salinity s.
func (l Limits) PerHourAt(s quantity.AbsoluteSalinity) quantity.SalinityRate {
	rate := l.PerHour
	if s < l.HalvedBelow {
		rate /= 2
	}
	if l.ShareOfPresent > 0 {
		share := quantity.SalinityRate(float64(l.ShareOfPresent) * float64(s))
		rate = min(rate, max(share, l.LeastShareCap))
	}
	return rate
}

// halvedBelow is the salinity below which a fall towards fresh water is half as fast.
const halvedBelow quantity.AbsoluteSalinity = 2

// acute is one direction of a class's row: g/kg at once, g/kg/h, g/kg in 24 h, h.
type acute struct {
	atOnce  quantity.AbsoluteSalinity
	perHour quantity.SalinityRate
	perDay  quantity.AbsoluteSalinity
	hold    quantity.Duration
}

// row is the proposal for a class.
type row struct {
	up, down acute
	warming  quantity.TemperatureRate       // per hour, halved for cooling
	perDay   quantity.TemperatureDifference // in 24 hours, halved for cooling
	ph       quantity.PH                    // in 24 hours
}

// proposed holds the default limits. Stenohaline fish and plants have the temperature and pH
// limits of delicate animals, and plants the steps of stenohaline fresh-water fish. There is
// no other proposal for them, and these are the most careful.
var proposed = map[Class]row{
	Hardy:             {up: acute{5, 3, 12, 36}, down: acute{8, 5, 15, 18}, warming: 2, perDay: 5, ph: 0.5},
	Moderate:          {up: acute{3, 1.5, 6, 72}, down: acute{4, 2, 8, 36}, warming: 1, perDay: 3, ph: 0.3},
	Delicate:          {up: acute{1, 0.5, 2, 112}, down: acute{1, 0.5, 2, 72}, warming: 0.5, perDay: 2, ph: 0.2},
	Invertebrate:      {up: acute{2, 1, 3, 72}, down: acute{2, 1, 3, 72}, warming: 1, perDay: 3, ph: 0.3},
	StenohalineFresh:  {up: acute{0.5, 0.5, 1, 0}, down: acute{1, 0.5, 1, 0}, warming: 0.5, perDay: 2, ph: 0.2},
	StenohalineMarine: {up: acute{1, 0.5, 2, 112}, down: acute{1, 0.5, 2, 112}, warming: 0.5, perDay: 2, ph: 0.2},
	Plant:             {up: acute{0.5, 0.5, 1, 0}, down: acute{0.5, 0.5, 1, 0}, warming: 0.5, perDay: 2, ph: 0.2},
}

// DefaultLimits returns the limits proposed for moving a class up, towards salt, or down,
// for animals of the given origin.
//
// An animal of unknown origin goes down no faster than up. Below 2 g/kg on the way down,
// half the hourly limit applies. Invertebrates change by at most a tenth of their present
// salinity in an hour, though this rule alone never requires less than 0.3 g/kg/h. Further
// rules are left to the caller, who knows the bands: a stenohaline fresh-water fish never
// goes above its preferred band, a stenohaline marine fish never outside it, and a plant
// never above its listed maximum. A fish of marine origin counts as one of unknown origin.
//
// Standing: defaults proposed here, an engineering choice with a margin below what
// laboratories report ([AlAmoudi87], [Lemarie04], [Velifera21], [Pethiyagoda19],
// [McGraw02]). None of them is a published limit.
func DefaultLimits(c Class, up bool, o Origin) (Limits, error) {
	if err := c.Check(); err != nil {
		return Limits{}, err
	}
	r := proposed[c]
	l := Limits{
		Class: c, Up: up,
		WarmingPerHour: r.warming, WarmingPer24Hours: r.perDay,
		CoolingPerHour: r.warming / 2, CoolingPer24Hours: r.perDay / 2,
		PHPer24Hours: r.ph,
		Notes:        []quantity.Note{noteOf("limits_proposed", string(c))},
	}
	a := r.up
	if !up {
		a = r.down
		if (o == "" || o == UnknownOrigin) && r.up != r.down {
			a = slower(r.up, r.down)
			l.Notes = append(l.Notes, noteOf("origin_unknown_down_as_up"))
		}
		l.HalvedBelow = halvedBelow
		l.Notes = append(l.Notes, noteOf("half_rate_near_fresh", quantity.Exactly(halvedBelow)))
	}
	l.AtOnce, l.PerHour, l.Per24Hours, l.Hold = a.atOnce, a.perHour, a.perDay, a.hold
	if c == Invertebrate {
		l.ShareOfPresent, l.LeastShareCap = 0.1, 0.3
		l.Notes = append(l.Notes, noteOf("invertebrate_share_per_hour",
			quantity.Exactly(l.ShareOfPresent), quantity.Exactly(l.LeastShareCap)))
	}
	return l, nil
}

// slower returns the stricter of two rows in each limit.
func slower(a, b acute) acute {
	return acute{
		atOnce:  min(a.atOnce, b.atOnce),
		perHour: min(a.perHour, b.perHour),
		perDay:  min(a.perDay, b.perDay),
		hold:    max(a.hold, b.hold),
	}
}
