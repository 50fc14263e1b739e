package hydraulics_test

import (
	"fmt"

	"saltlock/chem/hydraulics"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
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
	radius := quantity.Of[quantity.Length](0.3, 0.025)
	sa, t := quantity.Of[quantity.AbsoluteSalinity](35.165, 0.5), quantity.Of[quantity.Celsius](25, 1)
	v, err := quantity.Propagate3(hydraulics.DropVolume, hydraulics.DropVolumeFit, radius, sa, t)
	fmt.Printf("%.3f ± %.3f mL, %.0f drops/mL %v\n", 1000*v.Value, 1000*v.U, 0.001/v.Value, err)
	// Output: 0.084 ± 0.007 mL, 12 drops/mL <nil>
}

// The source has fallen from 50 to 45 cm above the outlet: count the drops again.
func ExampleDrift() {
	drift, err := hydraulics.Drift(50, 45)
	fmt.Printf("%.2f to %.2f of the drip is left %v\n", float64(drift.Lo), float64(drift.Hi), err)
	// Output: 0.90 to 0.95 of the drip is left <nil>
}

// A bucket of 20 L is filled from 6 to 18 L out of a tub of 25 by 40 cm.
func ExampleIntakeWindow() {
	w, err := hydraulics.IntakeWindow(1000, 20, []hydraulics.Moment{{Drawn: 0, Volume: 6}, {Drawn: 12, Volume: 18}})
	fmt.Printf("%.1f to %.1f %s, %v %v\n", float64(w.Least), float64(w.Greatest), w.Least.Unit(), w.OK(), err)
	fmt.Println(w.Check(15))
	// Output:
	// 13.0 to 14.0 cm, true <nil>
	// line.intake_depth: 15 cm is outside 13 to 14 cm
}

// The same out of a tank of 150 by 50 cm, which falls so little that the margin
// alone holds more than the bucket has room for.
func ExampleIntakeWindow_none() {
	w, err := hydraulics.IntakeWindow(7500, 20, []hydraulics.Moment{{Drawn: 0, Volume: 6}, {Drawn: 12, Volume: 18}})
	fmt.Printf("%v, up to %.1f %s on the floor %v\n", w.OK(), float64(w.Spill), w.Spill.Unit(), err)
	// Output: false, up to 5.5 L on the floor <nil>
}

// How soon the bucket runs over if the clamp of an air line of 4 mm bore fails.
func ExampleFillTime() {
	line := hydraulics.Line{Bore: 0.4, Length: 150, Head: 40}
	sa, err := seawater.AbsoluteSalinity(10)
	if err != nil {
		fmt.Println(err)
	}
	t, err := hydraulics.FillTime(line, sa, 25, 20, 6)
	fmt.Printf("%.0f min %v\n", 60*float64(t), err)
	// Output: 25 min <nil>
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
	// intake-window definition
}
