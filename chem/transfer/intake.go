package transfer

import (
	"math"

	"saltlock/chem/quantity"
)

// Intake is how deep the end of the hose hangs under the surface of the source
// when a run of the drip starts: deep enough that it stays under water to the
// end of the run, and so high that a valve that fails cannot flood the floor,
// since the siphon breaks before the container runs over.
//
// It holds for a source with upright walls that nothing refills.
type Intake struct {
	Time     quantity.Estimate[quantity.Duration] `json:"time"`     // of the run's start
	Least    quantity.Estimate[quantity.Length]   `json:"least"`    // the water of the run takes the surface down by this
	Greatest quantity.Estimate[quantity.Length]   `json:"greatest"` // the container is full to the rim when the surface has come down by this
	Depth    quantity.Estimate[quantity.Length]   `json:"depth"`    // to hang it at: midway
}

// intakes returns one for each run, from one pour-off to the next.
//
// In a run the two volumes, in the container and above the intake, have one
// sum, so a failure fills the container as high at whatever moment it happens.
func (t *task) intakes(s *solved, v vat) ([]Intake, error) {
	if t.request.SourceTank == nil || t.request.SourceTank.Surface == nil || t.runsOver() { // what runs over goes to a bucket, not to the rim
		return nil, nil
	}
	surface := float64(t.request.SourceTank.Surface.Value)
	under := func(volume float64) quantity.Estimate[quantity.Length] {
		return quantity.Exactly(quantity.Length(volume * 1000 / surface))
	}
	var list []Intake
	at := 0.0
	for i := 0; i < len(s.stages); {
		first, start := s.stages[i], at
		drawn := 0.0
		for ; i < len(s.stages) && (drawn == 0 || !s.stages[i].pour); i++ {
			drawn += (s.stages[i].end() - s.stages[i].start()) / v.dropMass * v.drop
			at += s.stages[i].hours()
		}
		standing, _, err := t.volume(first, first.from)
		if err != nil {
			return nil, err
		}
		room := v.capacity - standing
		list = append(list, Intake{Time: hours(start), Least: under(drawn), Greatest: under(room), Depth: under((drawn + room) / 2)})
	}
	t.checkHand(list, surface)
	return list, nil
}

// byHand is how far from its mark a hose may end up that is hung by hand, cm. From memory.
const byHand = 1

// checkHand warns where a hose hung as well as hands can could still flood the
// floor, and of how much.
func (t *task) checkHand(list []Intake, surface float64) {
	narrowest, spill := math.Inf(1), 0.0
	for _, hose := range list {
		either := float64(hose.Greatest.Value - hose.Depth.Value)
		narrowest = min(narrowest, either)
		spill = max(spill, (byHand-either)*surface/1000)
	}
	if narrowest < byHand {
		t.warn(noteOf("intake_hardly_by_hand", quantity.Exactly(quantity.Length(narrowest)), quantity.Exactly(quantity.Length(byHand)), litres(spill)))
	}
}
