package hydraulics_test

import (
	"fmt"

	"saltlock/chem/hydraulics"
	"saltlock/chem/quantity"
)

// A metre of 6 mm bore that hangs 30 cm low, open. Without friction at the ends
// and turbulence it would be four times as much.
func ExampleOpenFlow() {
	s, err := hydraulics.OpenFlow(hydraulics.Line{Bore: 0.6, Length: 100, Head: 30}, 35.165, 25)
	fmt.Printf("%.0f %s, Re %.0f, %s %v\n", float64(s.Flow), s.Flow.Unit(), s.Reynolds, s.Regime, err)
	// Output: 1494 mL/min, Re 5638, turbulent <nil>
}

// An air line of 6 mm outside diameter, measured to half a millimetre, makes 12
// drops to the millilitre, not 20.
func ExampleDropVolume() {
	tip := quantity.Of[quantity.Length](0.6, 0.05)
	sa, t := quantity.Of[quantity.AbsoluteSalinity](35.165, 0.5), quantity.Of[quantity.Celsius](25, 1)
	v, err := quantity.Propagate3(hydraulics.DropVolume, hydraulics.DropVolumeFit, tip, sa, t)
	fmt.Printf("%.3f ± %.3f mL, %.0f drops/mL %v\n", 1000*v.Value, 1000*v.U, 0.001/v.Value, err)
	// Output: 0.084 ± 0.007 mL, 12 drops/mL <nil>
}

// The source has fallen from 50 to 45 cm above the outlet: count the drops again.
func ExampleDrift() {
	drift, err := hydraulics.Drift(50, 45)
	fmt.Printf("%.2f to %.2f of the drip is left %v\n", float64(drift.Lo), float64(drift.Hi), err)
	// Output: 0.90 to 0.95 of the drip is left <nil>
}

// Five litres for the drip out of a tank of 500 L, into a bucket with room for
// twenty: the hose hangs between 2 and 8 cm deep.
func ExampleIntake() {
	w, err := hydraulics.Intake(5, 20, 500, 2500)
	fmt.Printf("%g to %g %s %v\n", float64(w.Least), float64(w.Greatest), w.Least.Unit(), err)
	// Output: 2 to 8 cm <nil>
}

// Five litres out of a tank of 50 cm by 50 cm.
func ExampleFallOf() {
	fmt.Printf("%g cm\n", float64(hydraulics.FallOf(5, 2500)))
	// Output: 2 cm
}

// What bore passes a litre and a half in a minute?
func ExampleBoreFor() {
	bore, err := hydraulics.BoreFor(1494, 100, 30, 35.165, 25)
	fmt.Printf("%.2f %s %v\n", float64(bore), bore.Unit(), err)
	// Output: 0.60 cm <nil>
}

func ExampleMethods() {
	for _, m := range hydraulics.Methods() {
		fmt.Println(m.Key, m.Standing)
	}
	// Output:
	// open-line-flow published_fit
	// drop-volume-harkins-brown published_fit
	// surface-tension-iapws standard
	// drip-drift definition
	// intake-depth definition
}
