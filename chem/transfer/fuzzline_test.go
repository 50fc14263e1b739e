package transfer

import (
	"encoding/json"
	"testing"

	"saltlock/chem/quantity"
)

// Whatever is said about a line, there is a plan that keeps its limits and can be written, with
// intakes under water and consistent drifts, or a reason why not.
func FuzzPlanOfLine(f *testing.F) {
	f.Add(0.4, 100., 30., 0.6, 12.5, 1000., 40., true)
	f.Add(0.02, 1e4, 0.1, 0.2, 0., 1., 450., false)
	f.Add(2., 1., 300., 1., -5., 7500., 12.2, true)
	f.Add(0.6, 150., 24., 0.3, 1.7, 7500., 450., true)
	f.Fuzz(func(t *testing.T, bore, length, head, tip, intake, surface, volume float64, submerged bool) {
		r := overCanister(t)
		r.Line.Bore, r.Line.Length, r.Line.Head = new(quantity.Of[quantity.Length](bore, 0)), new(quantity.Of[quantity.Length](length, 0)), new(quantity.Of[quantity.Length](head, 0))
		r.Line.TipDiameter, r.Line.IntakeDepth = new(quantity.Of[quantity.Length](tip, 0)), new(quantity.Of[quantity.Length](intake, 0))
		r.Line.OutletSubmerged = &submerged
		r.SourceTank = &SourceTank{Volume: quantity.Of[quantity.Volume](volume, 0), Surface: new(quantity.Of[quantity.Area](surface, 0))}
		p, err := NewPlan(t.Context(), r)
		if err != nil {
			explained(t, err)
			return
		}
		kept(t, p)
		for _, hose := range p.Draw.Intakes {
			if !(hose.Least.Value <= hose.Depth.Value && hose.Depth.Value <= hose.Greatest.Value) {
				t.Errorf("hung at %v, outside %v to %v", hose.Depth, hose.Least, hose.Greatest)
			}
		}
		for _, d := range p.Draw.Drifts {
			if !(d.LeastAtEnd.Value > 0 && d.LeastAtEnd.Value <= d.GreatestAtEnd.Value && d.HeadAtEnd.Value <= d.Head.Value) {
				t.Errorf("drift %+v", d)
			}
		}
		if open := p.Draw.OpenLine; open.TimeToRim != nil && !(open.LeastTimeToRim.Value <= open.TimeToRim.Value) {
			t.Errorf("open line %+v", open)
		}
		if _, err := json.Marshal(p); err != nil {
			t.Error(err)
		}
	})
}
