package transfer

import (
	"errors"
	"fmt"
	"slices"

	"saltlock/chem/instrument"
	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
)

// LifeSupport is what the animals do to the water they are held in. A species' use is known to a
// factor of two; the limits hold at the greatest use.
type LifeSupport struct {
	Temperature         quantity.Estimate[quantity.Celsius]         `json:"temperature"` // judged at: the warmest of waters and room
	PH                  quantity.Estimate[quantity.PH]              `json:"ph"`          // judged at
	Oxygen              quantity.Estimate[quantity.DissolvedOxygen] `json:"oxygen"`      // the least, at the likely use
	OxygenAtGreatestUse quantity.Estimate[quantity.DissolvedOxygen] `json:"oxygen_at_greatest_use"`
	NH3                 quantity.Estimate[quantity.AmmoniaNitrogen] `json:"nh3"` // the most, at the likely use
	NH3AtGreatestUse    quantity.Estimate[quantity.AmmoniaNitrogen] `json:"nh3_at_greatest_use"`
	WithoutAir          quantity.Estimate[quantity.Duration]        `json:"without_air"`  // at the greatest use
	MostAnimals         quantity.Estimate[quantity.Fraction]        `json:"most_animals"` // that the limits allow, as a multiple
}

// keep is what life in the container is judged by.
type keep struct {
	animals   []lifesupport.Animals
	start, in lifesupport.State // the water at the start, and that which drips in
	care      lifesupport.Care
	limits    lifesupport.Limits
	rest      float64 // h, after the drip
}

// newKeep resolves what life support depends on; nil if nobody counts the animals.
func (t *task) newKeep() (*keep, error) {
	animals, err := t.counted()
	if err != nil || animals == nil {
		return nil, err
	}
	ph, noPH := lifesupport.HighestPH(t.acidity(t.request.From, t.from), t.acidity(t.request.To, t.to))
	warmest := quantity.Celsius(max(t.from.t, t.to.t))
	if room := t.request.RoomTemperature; room != nil {
		noPH = errors.Join(noPH, PlannedTemperature.Check("room_temperature", room.Value))
		warmest = max(warmest, room.Value)
	}
	if noPH != nil {
		return nil, noPH
	}
	start, noStart := airedWater(t.from, warmest, t.request.From.TAN)
	in, noIn := airedWater(t.to, warmest, t.request.To.TAN)
	if err := errors.Join(noStart, noIn); err != nil {
		return nil, err
	}
	k := &keep{animals: animals, start: start, in: in, rest: t.rest(t.tolerance),
		care:   lifesupport.Care{Aerated: true, Held: &warmest, PH: ph},
		limits: t.lifeLimits(min(start.Oxygen, in.Oxygen) / lifesupport.HeldOxygen)}
	t.assume(noteOf("life_support_assumed", hours(float64(lifesupport.Excitement)), fraction(lifesupport.HeldOxygen)))
	t.assume(noteOf("life_support_at_warmest", quantity.Exactly(warmest), quantity.Exactly(ph)))
	if t.request.From.TAN == nil || t.request.To.TAN == nil {
		t.assume(noteOf("no_ammonia_assumed"))
	}
	if !t.acidityKnown() {
		t.assume(noteOf("ph_in_air_assumed", quantity.Exactly(lifesupport.UnknownPHInAir)))
	}
	return k, nil
}

// counted returns the animals; nil if neither count nor mass is given.
func (t *task) counted() ([]lifesupport.Animals, error) {
	var animals []lifesupport.Animals
	var missing []error
	some := false
	for i, a := range t.request.Animals {
		some = some || a.Count != nil || a.Mass != nil || a.Length != nil
		if err := t.weigh(i, &a); err != nil {
			missing = append(missing, err)
			continue
		}
		lacks := func(what string) {
			missing = append(missing, &instrument.MissingError{Name: fmt.Sprintf("animals.%d.%s", i, what), Why: "oxygen and ammonia follow from count and mass of every kind", Note: quantity.Note{Code: "count_and_mass_needed"}})
		}
		if a.Count == nil {
			lacks("count")
		}
		if a.Mass == nil {
			lacks("mass")
		}
		if a.Count != nil && a.Mass != nil {
			animals = append(animals, lifesupport.Animals{Count: *a.Count, Mass: *a.Mass})
		}
	}
	if !some && !t.speaksOfLife() {
		return nil, nil
	}
	return animals, errors.Join(missing...)
}

// speaksOfLife reports whether the request gives anything that only life support uses.
func (t *task) speaksOfLife() bool {
	r := t.request
	for _, w := range []Water{r.From, r.To} {
		if r.From.HoursInBag == nil && (w.PH != nil || w.Alkalinity != nil || w.TAN != nil) {
			return true
		}
	}
	return r.RoomTemperature != nil && !t.unheld() || r.Limits.NH3 != nil || r.Limits.Oxygen != nil
}

// acidity is what is known of the pH of a water.
func (t *task) acidity(w Water, s state) lifesupport.Acidity {
	return lifesupport.Acidity{PH: w.PH, Alkalinity: w.Alkalinity, Salinity: quantity.AbsoluteSalinity(s.sa), Temperature: quantity.Celsius(s.t)}
}

func (t *task) acidityKnown() bool {
	return t.request.From.Alkalinity != nil && t.request.To.Alkalinity != nil
}

// airedWater is a water with as much oxygen as an air stone is assumed to keep.
func airedWater(s state, warmest quantity.Celsius, tan *quantity.Estimate[quantity.AmmoniaNitrogen]) (lifesupport.State, error) {
	sp, outside := seawater.Salinity(quantity.AbsoluteSalinity(s.sa))
	oxygen, noOxygen := seawater.OxygenSaturation(sp, warmest, 1)
	water := lifesupport.State{Oxygen: lifesupport.HeldOxygen * oxygen, Temperature: quantity.Celsius(s.t)}
	if tan != nil {
		water.Ammonia = tan.Value
	}
	return water, errors.Join(outside, noOxygen)
}

// enoughOxygen is the share of saturation that is enough if warm or salty water holds too little
// for lifesupport.LowOxygen. Proposed here.
const enoughOxygen = 0.75

// lifeLimits are proposed for all animals alike. A drip of some hours is held to the ammonia
// usually called harmful (from memory), at the greatest use, so that the likely one comes to about
// half of it.
func (t *task) lifeLimits(saturation quantity.DissolvedOxygen) lifesupport.Limits {
	l := lifesupport.Limits{Ammonia: lifesupport.HarmfulAmmonia, Oxygen: min(lifesupport.LowOxygen, enoughOxygen*saturation)}
	if given := t.request.Limits.NH3; given != nil {
		t.sayGiven("nh3", given.Measure(), quantity.Exactly(l.Ammonia).Measure())
		l.Ammonia = given.Value
	}
	if given := t.request.Limits.Oxygen; given != nil {
		t.sayGiven("oxygen", given.Measure(), quantity.Exactly(l.Oxygen).Measure())
		l.Oxygen = given.Value
	}
	return l
}

// How long animals are held in a container without filter and food at most, h: if oxygen and
// ammonia are followed, and if nobody counts them. Proposed here.
const longestHeld, longestUnwatched = 48.0, 24.0

func (k *keep) shortOfOxygen(c lifesupport.Course) bool {
	return c.LeastOxygen.Worst < k.limits.Oxygen*(1-inside)
}

func (k *keep) fouled(c lifesupport.Course) bool {
	return c.GreatestAmmonia.Worst > k.limits.Ammonia*(1+inside)
}

// mostAnimals is how many animals a drip allows, as a multiple of those given.
func (k *keep) mostAnimals(c lifesupport.Course) float64 {
	most, bounded := c.MostAnimals(k.limits)
	if !bounded {
		return unbounded
	}
	return min(float64(most.Worst), unbounded)
}

// unbounded is more animals than anybody has.
const unbounded = 1e6

// lifeSupport reports on the chosen drip.
func (t *task) lifeSupport(c lifesupport.Course) *LifeSupport {
	k := t.keep
	return &LifeSupport{
		Temperature: quantity.Exactly(*k.care.Held), PH: quantity.Exactly(k.care.PH),
		Oxygen: quantity.Exactly(c.LeastOxygen.Likely), OxygenAtGreatestUse: quantity.Exactly(c.LeastOxygen.Worst),
		NH3: quantity.Exactly(c.GreatestAmmonia.Likely), NH3AtGreatestUse: quantity.Exactly(c.GreatestAmmonia.Worst),
		WithoutAir: quantity.Exactly(c.WithoutAir.Worst), MostAnimals: fraction(k.mostAnimals(c)),
	}
}

// lifeTight is how close the search comes to a limit on life that binds.
const lifeTight = 5e-3

// lifeLimitsKept says how close the chosen drip comes to the limits on life.
func (t *task) lifeLimitsKept(c lifesupport.Course) []Limit {
	k, given := t.keep, t.request.Limits
	return []Limit{
		atMost("nh3", k.limits.Ammonia, c.GreatestAmmonia.Worst, c.GreatestAmmonia.Worst > k.limits.Ammonia*(1-lifeTight), standing(given.NH3, quantity.Proposed)),
		atLeast("oxygen", k.limits.Oxygen, c.LeastOxygen.Worst, c.LeastOxygen.Worst < k.limits.Oxygen*(1+lifeTight), standing(given.Oxygen, quantity.Proposed)),
	}
}

// addLife adds the likely oxygen and ammonia to the points of the curve.
func addLife(curve []CurvePoint, c lifesupport.Course) {
	i := 0
	for n := range curve {
		p := &curve[n]
		for i < len(c.Points)-2 && c.Points[i+1].Time <= p.Time.Value {
			i++
		}
		a, b := c.Points[i], c.Points[i+1]
		part := 1.0
		if b.Time > a.Time {
			part = float64((p.Time.Value - a.Time) / (b.Time - a.Time))
		}
		p.Oxygen = new(quantity.Exactly(a.Oxygen + (b.Oxygen-a.Oxygen)*quantity.DissolvedOxygen(part)))
		p.TAN = new(quantity.Exactly(a.Ammonia + (b.Ammonia-a.Ammonia)*quantity.AmmoniaNitrogen(part)))
		p.NH3 = new(quantity.Exactly(a.Unionized + (b.Unionized-a.Unionized)*quantity.AmmoniaNitrogen(part)))
	}
}

// lifeMethods are the keys of the methods behind life support.
func (t *task) lifeMethods(c lifesupport.Course) []string {
	keys := append(c.Methods, lifesupport.HighestPHMethod)
	if slices.ContainsFunc(t.request.Animals, func(a Animal) bool { return a.Length != nil }) {
		keys = append(keys, tolerance.MassMethod)
	}
	if t.request.From.Alkalinity != nil || t.request.To.Alkalinity != nil {
		keys = append(keys, seawater.CarbonateMethod)
	}
	return keys
}
