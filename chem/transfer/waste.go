package transfer

import "math"

// waste is the volume that has run over by a gap. The new water comes to volume/gap for each bit
// of gap; what mixing shrinks stays.
func (h *held) waste(gap float64) float64 {
	return h.volume * (math.Log(h.gap/gap) - math.Log(h.density(gap/h.gap)/h.density(1)))
}

// gapAt is the gap at which so much has run over.
func (h *held) gapAt(waste float64) float64 {
	gap := h.gap
	for range 20 { // the density hardly changes: this converges at once
		gap = h.gap * math.Exp(-waste/h.volume) * h.density(1) / h.density(gap/h.gap)
	}
	return gap
}

// tellWaste says what runs over, and when to empty the bucket under the overflow.
func (t *task) tellWaste(p *Plan, s *solved) error {
	h := s.legs[0].held
	all := h.waste(s.end())
	p.Draw.Waste = new(litres(all))
	given := t.request.Container.WasteCapacity
	if given == nil {
		t.warn(noteOf("waste_bucket_needed", litres(all)))
		return nil
	}
	full := float64(given.Value) * (1 - usualFreeboard)
	times := t.emptyings(s)
	fromJug := p.Draw.Feed == FromJug
	if fromJug {
		times = len(p.Draw.Charges) - 1
	}
	switch {
	case times > mostPours:
		t.refuseWith("container.waste_capacity", noteOf("waste_bucket_too_small", litres(all), litres(all/(1-usualFreeboard)/(mostPours+1)), mostPours), noteOf("waste_bucket_fills_too_often", litres(all), mostPours), wasteTo(roundedUp(all/(1-usualFreeboard)/(mostPours+1))))
		return nil
	case times > 0:
		t.warn(noteOf("waste_bucket_fills", *given, litres(all), times))
	}
	if fromJug {
		return nil // the bucket is emptied when the jug is refilled
	}
	for n := range times {
		if err := t.lookAtWaste(p, s.legs, h.gapAt(full*float64(n+1))); err != nil {
			return err
		}
	}
	p.inOrder()
	return nil
}

// emptyings is how often the bucket under the overflow is emptied before the end, if nobody comes
// to a jug.
func (t *task) emptyings(s *solved) int {
	bucket := t.request.Container.WasteCapacity
	if !t.runsOver() || bucket == nil {
		return 0
	}
	full := float64(bucket.Value) * (1 - usualFreeboard)
	return int(math.Ceil(s.legs[0].held.waste(s.end())/full*(1-inside))) - 1
}

// lookAtWaste adds a look at which the bucket under the overflow is emptied.
func (t *task) lookAtWaste(p *Plan, legs []leg, gap float64) error {
	at := 0.0
	for _, s := range legs {
		if gap > s.to {
			return t.inContainer(&p.Checkpoints, at+s.hoursTo(gap), "look_at_waste", s, gap)
		}
		at += s.hours()
	}
	return nil
}
