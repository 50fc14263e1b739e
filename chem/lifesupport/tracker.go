package lifesupport

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// TrackerState is how many numbers the state of a Tracker has.
const TrackerState = 4

// Spell is a time in which nobody touches the container, in plain numbers: h, L, L/h and
// g/kg.
type Spell struct {
	Start, Hours             float64
	Volume, Inflow, Overflow float64 // the volume at its start
	FromSalinity, ToSalinity float64
}

// Tracker follows oxygen and ammonia at the greatest use of the animals, in a container
// whose temperature is held. It serves a search that tries very many schedules. Its
// ammonia is that of Support, in closed form. Its oxygen takes longer steps, and no steps
// at all if an air stone always keeps more than is required.
type Tracker struct {
	load, resting, air float64
	start, entering    dissolved
	asked              float64 // the least oxygen allowed
	aerated, held      bool    // held: the air stone alone always keeps enough oxygen
	least, span        float64 // g/kg, of the table
	saturation, share  [tableSteps + 1]float64
}

// tableSteps is how many steps the table of a Tracker has.
const tableSteps = 64

// looks is at how many moments of a spell ammonia is evaluated, and longStep the longest
// step of oxygen, h.
const (
	looks    = 12
	longStep = 0.5
)

// ErrNotHeld says that the temperature of a container would drift.
var ErrNotHeld = errors.New("a tracker follows a container whose temperature is held")

// NewTracker prepares a Tracker; the temperature of care must be held.
//
//	animals, start, care  as in Support
//	in                    the water that flows in
//	least                 the least oxygen allowed
//	volume                that sets the surface, L: the least of the greatest volumes possible
//	from, to              between which its salinity lies
func NewTracker(animals []Animals, start, in State, care Care, least quantity.DissolvedOxygen, volume quantity.Volume, from, to quantity.AbsoluteSalinity) (*Tracker, error) {
	l, noLoad := newLoad(animals)
	if err := errors.Join(noLoad, start.check("from"), in.check("to"), care.check(), waterVolume.Check("volume", volume)); err != nil {
		return nil, err
	}
	if care.Held == nil {
		return nil, ErrNotHeld
	}
	k := &Tracker{load: l.worst, resting: restingUse(float64(*care.Held)), air: airExchange(float64(volume)), aerated: care.Aerated, held: care.Aerated, asked: float64(least),
		entering: dissolved{free: float64(in.Oxygen), tan: float64(in.Ammonia)},
		start:    dissolved{free: float64(start.Oxygen), tan: float64(start.Ammonia)},
		least:    float64(min(from, to)), span: math.Abs(float64(to - from))}
	for i := range tableSteps + 1 {
		sp, outside := seawater.Salinity(quantity.AbsoluteSalinity(k.least + k.span*float64(i)/tableSteps))
		saturation, noOxygen := seawater.OxygenSaturation(sp, *care.Held, 1)
		share, noShare := seawater.UnionizedAmmonia(care.PH, sp, *care.Held, seawater.NBSScale)
		if err := errors.Join(outside, noOxygen, noShare); err != nil {
			return nil, err
		}
		k.saturation[i], k.share[i] = float64(saturation), float64(share)
		k.held = k.held && HeldOxygen*k.saturation[i] >= k.asked
	}
	return k, nil
}

// Start returns the state at the start.
func (k *Tracker) Start() []float64 {
	return []float64{k.start.free, k.start.used, k.start.tan, k.start.added}
}

// Follow carries the state through a spell. It returns the least oxygen, mg/L, and the most
// un-ionized ammonia, mg/L N, during it.
func (k *Tracker) Follow(next, state []float64, s Spell) (oxygen, ammonia float64) {
	f := filling{s.Hours, s.Volume, s.Inflow, s.Inflow - s.Overflow, s.FromSalinity, s.ToSalinity}
	d := dissolved{state[0], state[1], state[2], state[3]}
	oxygen = math.Inf(1)
	calm := min(s.Hours, max(0, float64(Excitement)-s.Start))
	for _, part := range [2][2]float64{{0, calm}, {calm, s.Hours}} {
		if part[1] <= part[0] && !(part[1] == s.Hours && part[0] == 0) {
			continue
		}
		use := k.resting
		if s.Start+(part[0]+part[1])/2 < float64(Excitement) {
			use *= Excited
		}
		ammonia = max(ammonia, k.mostAmmonia(f, d, part[0], part[1], use))
		if !k.held {
			var least float64
			d.free, d.used, least = k.breathe(f, d, part[0], part[1], use)
			oxygen = min(oxygen, least)
		}
		d.tan, d.added = k.excrete(f, d, part[0], part[1], use)
	}
	next[0], next[1], next[2], next[3] = d.free, d.used, d.tan, d.added
	if k.held {
		oxygen = k.asked
	}
	return oxygen, ammonia
}

// excrete is the total ammonia at the end of a part of a spell. It is exact, because only
// inflow and a steady output change it.
func (k *Tracker) excrete(f filling, d dissolved, from, to, use float64) (tan, added float64) {
	var reach float64 // of a source, in what is exchanged
	if f.inflow > 0 {
		reach = f.exchanged(from, to) / f.inflow
	} else {
		reach = f.turnover(from, to)
	}
	return d.tan + f.inflow*(k.entering.tan-d.tan)*reach, d.added + (nitrogenPerOxygen*use-f.inflow*d.added)*reach
}

// mostAmmonia is the most un-ionized ammonia in a part of a spell.
func (k *Tracker) mostAmmonia(f filling, d dissolved, from, to, use float64) float64 {
	most := 0.0
	for i := range looks + 1 {
		at := from + (to-from)*float64(i)/looks
		_, share := k.at(f.salinityAt(at))
		tan, added := k.excrete(f, d, from, at, use)
		most = max(most, share*(tan+k.load*added))
	}
	return most
}

// breathe carries oxygen through a part of a spell and returns the least during it.
func (k *Tracker) breathe(f filling, d dissolved, from, to, use float64) (free, used, least float64) {
	saturation, _ := k.at(f.salinityAt(from))
	least = k.left(d, saturation)
	n := max(1, int(math.Ceil((to-from)/longStep)))
	for i := range n {
		a, b := from+(to-from)*float64(i)/float64(n), from+(to-from)*float64(i+1)/float64(n)
		mix, before := mixing{f.inflow, f.turnover(a, b)}, saturation
		saturation, _ = k.at(f.salinityAt(b))
		d.free = mix.after(d.free, k.entering.free, k.air, (before+saturation)/2, 0)
		d.used = mix.after(d.used, 0, k.air, 0, use)
		least = min(least, k.left(d, saturation))
	}
	return d.free, d.used, least
}

// left is the oxygen that the animals leave.
func (k *Tracker) left(d dissolved, saturation float64) float64 {
	oxygen := d.free - k.load*d.used
	if k.aerated {
		oxygen = max(oxygen, HeldOxygen*saturation)
	}
	return oxygen
}

// at interpolates the table linearly.
func (k *Tracker) at(salinity float64) (saturation, share float64) {
	if k.span == 0 {
		return k.saturation[0], k.share[0]
	}
	x := min(max((salinity-k.least)/k.span, 0), 1) * tableSteps
	i := min(int(x), tableSteps-1)
	x -= float64(i)
	return k.saturation[i] + x*(k.saturation[i+1]-k.saturation[i]), k.share[i] + x*(k.share[i+1]-k.share[i])
}

// after is what is dissolved after a step.
func (d dissolved) after(mix mixing, entering dissolved, air, saturation, use float64) dissolved {
	return dissolved{
		free:  mix.after(d.free, entering.free, air, saturation, 0),
		used:  mix.after(d.used, 0, air, 0, use),
		tan:   mix.after(d.tan, entering.tan, 0, 0, 0),
		added: mix.after(d.added, 0, 0, 0, nitrogenPerOxygen*use),
	}
}

// mostWarmthSteps is how many steps Warmth takes at most, however long a spell is.
// WarmthError is the greatest error of its temperatures, K, and of their rates, K/h.
const (
	mostWarmthSteps = 12
	WarmthError     = 0.005
)

// Warmth returns the temperature after a spell in a room, °C, for a container whose
// temperature is not held. It also returns the fastest change during the spell, K/h, and
// the furthest from its start, K.
func Warmth(celsius float64, s Spell, water, room float64) (after, fastest, furthest float64) {
	f := filling{s.Hours, s.Volume, s.Inflow, s.Inflow - s.Overflow, s.FromSalinity, s.ToSalinity}
	first := celsius
	see := func(volume float64) {
		rate := (s.Inflow*(water-celsius) + heatExchange(volume)*(room-celsius)) / volume
		fastest, furthest = max(fastest, math.Abs(rate)), max(furthest, math.Abs(celsius-first))
	}
	see(f.volume)
	n := max(1, min(mostWarmthSteps, int(math.Ceil(s.Hours/usualStep))))
	for i := range n {
		from, to := s.Hours*float64(i)/float64(n), s.Hours*float64(i+1)/float64(n)
		volume := f.volumeAt(to)
		celsius = mixing{f.inflow, f.turnover(from, to)}.after(celsius, water, heatExchange((f.volumeAt(from)+volume)/2), room, 0)
		see(volume)
	}
	return celsius, fastest, furthest
}
