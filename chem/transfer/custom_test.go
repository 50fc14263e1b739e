package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// A plan for nothing but waters, container and an air stone does what keepers do: common practice,
// no source.
func TestAgainstCustom(t *testing.T) {
	r := Request{From: water(t, "0.2 ppt", "25 C"), To: water(t, "5 ppt", "25 C"),
		Animals:   []Animal{animal("hardy")},
		Container: Container{Capacity: read[quantity.Volume](t, "20 L"), Aerated: new(true)}, Route: new(Drip)}
	p := plan(t, r)
	first := p.Phases[0]
	if start, brim := float64(first.FromVolume.Value), 18.0; math.Abs(start/brim-1./3) > 1e-9 {
		t.Errorf("it starts with %.3f of %g L, custom is a third", start, brim)
	}
	if look := p.Checkpoints[0].Time.Value; look != 0.5 {
		t.Errorf("the first look is after %g h, custom is half an hour", float64(look))
	}
	for _, phase := range p.Phases {
		if phase.Drip != nil && phase.Drip.Value > 4*(1+1e-9) {
			t.Errorf("%g drops/s are a stream, custom is a drip", float64(phase.Drip.Value))
		}
	}
	// From fresh to low brackish a slow transfer takes about ten hours.
	if h := float64(p.Duration.Value + p.Release.Rest.Value); h < 3 || h > 20 {
		t.Errorf("it takes %.1f h, custom is about ten", h)
	}
	// The hose end hangs about a fifth of the depth under water: 10 cm in a tank
	// of 50. Here it must not, for the source would flood a bucket: with 7500 cm2
	// that is 75 L. The plan hangs it where the bucket takes what can come.
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "375 L"), Surface: read[quantity.Area](t, "7500 cm2")}
	for _, hose := range plan(t, r).Draw.Intakes {
		if hose.Greatest.Value >= 10 {
			t.Errorf("the hose may hang %g cm under water, which lets %g L into a bucket of 20", float64(hose.Greatest.Value), float64(hose.Greatest.Value)*7.5)
		}
	}
}
