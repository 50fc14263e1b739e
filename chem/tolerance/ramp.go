package tolerance

import "saltlock/chem/quantity"

// Ramp is how fast the salinity of a whole tank may change with its animals
// and its filter in it.
type Ramp struct {
	PerDay  quantity.AbsoluteSalinity
	PerWeek quantity.AbsoluteSalinity // in any seven days
	// PerWeekSalty applies if the new salinity is above SaltyFrom.
	PerWeekSalty quantity.AbsoluteSalinity
}

// SaltyFrom is the salinity above which filters, and so ramps, are slower.
const SaltyFrom quantity.AbsoluteSalinity = 10

// Gate is the limit that the bacteria of a filter set to a ramp: a step, and a wait from
// its first day.
type Gate struct {
	Step      quantity.AbsoluteSalinity
	Wait      quantity.Duration // while the new salinity is at most SaltyFrom
	WaitSalty quantity.Duration // above it
	TAN       quantity.AmmoniaNitrogen
	Nitrite   quantity.NitriteNitrogen
}

// ramps holds the proposed limits of each class.
var ramps = map[Class]Ramp{
	Hardy:             {PerDay: 2, PerWeek: 5.3, PerWeekSalty: 2.7},
	Moderate:          {PerDay: 1, PerWeek: 2.7, PerWeekSalty: 2.7},
	Delicate:          {PerDay: 0.7, PerWeek: 2, PerWeekSalty: 2},
	Invertebrate:      {PerDay: 1, PerWeek: 2.7, PerWeekSalty: 2.7},
	StenohalineFresh:  {PerDay: 0.5, PerWeek: 1, PerWeekSalty: 1},
	StenohalineMarine: {PerDay: 0.5, PerWeek: 1, PerWeekSalty: 1},
	Plant:             {PerDay: 1, PerWeek: 2, PerWeekSalty: 2},
}

// DefaultRamp returns the limits proposed for a tank in which a class lives.
//
// Standing: defaults proposed here. A change of 0.002 in specific gravity, 2.7
// g/kg, a week is common practice without a source; laboratories saw Nile
// tilapia keep their tolerance on ramps of 2 to 8 g/L a day [Lemarie04].
func DefaultRamp(c Class) (Ramp, error) {
	return ramps[c], c.Check()
}

// DefaultGate returns the limit proposed for a mature filter: a step of at most 2.7 g/kg
// and a wait of three days, or seven above 10 g/kg. The next step waits until total
// ammonia is at most 0.25 mg/L N and nitrite at most 0.2 mg/L N on two days.
//
// Standing: defaults proposed here. Filters moved abruptly from fresh to brackish water
// nitrified fast up to 10 g/kg, and a tenth as fast at 15 [Kinyage2019].
func DefaultGate() Gate {
	return Gate{Step: 2.7, Wait: 72, WaitSalty: 168, TAN: 0.25, Nitrite: 0.2}
}
