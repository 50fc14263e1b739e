package transfer

import "saltlock/chem/quantity"

// TemperatureSteps are the steps by which the animals come from one temperature to another.
// Their times do not count into those of the phases.
type TemperatureSteps struct {
	From  quantity.Estimate[quantity.Celsius] `json:"from"`  // of their water
	To    quantity.Estimate[quantity.Celsius] `json:"to"`    // of the new water, as far as they go
	First []quantity.Note                     `json:"first"` // before the first phase
	Last  []quantity.Note                     `json:"last"`  // after the last
}

// temperatureSteps are the steps of a plan on temperature; nil where there are none.
func (t *task) temperatureSteps() *TemperatureSteps {
	h := t.heat
	if len(h.First)+len(h.Last) == 0 {
		return nil
	}
	return &TemperatureSteps{celsius(t.from.t), celsius(t.warmth), append([]quantity.Note{}, h.First...), append([]quantity.Note{}, h.Last...)}
}

// WarmsFirst is what brings the animals' own water to its temperature before any other water comes,
// and how long that takes with the rest after it; not ok where nothing waits for the temperature.
func (p *Plan) WarmsFirst() (act quantity.Note, wait quantity.Duration, ok bool) {
	if p.Temperature == nil {
		return act, 0, false
	}
	for _, n := range p.Temperature.First {
		switch n.Code {
		case "warm_their_water", "cool_their_water", "warm_out_of_winter":
			for _, param := range n.Params {
				if lasts, is := param.(quantity.Estimate[quantity.Duration]); is {
					wait += lasts.Value
				}
			}
			return n, wait, true
		}
	}
	return act, 0, false
}

// heatBefore puts what warms or cools the animals in their own water before a plan that begins
// at the temperature which they have then.
func (p *Plan) heatBefore(t *task, why quantity.Note) {
	p.Warnings = append([]quantity.Note{why}, p.Warnings...)
	h := t.temperatureSteps()
	if p.Temperature != nil {
		h.To, h.First, h.Last = p.Temperature.To, append(h.First, p.Temperature.First...), p.Temperature.Last
	}
	p.Temperature = h
}
