package hydraulics

import (
	"fmt"
	"slices"

	"saltlock/chem/quantity"
)

// Methods lists every formula of the package.
func Methods() []quantity.Method { return slices.Clone(methods) }

var methods = []quantity.Method{
	{
		Key:         OpenFlowMethod,
		Title:       "Flow through an open line, laminar to turbulent, with losses at its ends",
		Source:      "Darcy and Weisbach's balance of head with the friction of Hagen and Poiseuille and of Blasius 1913, entrance 0.5 and exit 1 velocity head; textbook, from memory",
		Validity:    fmt.Sprintf("smooth line, bore %v, length %v, head %v; between the Reynolds numbers %d and %d a convention that passes from one law to the other", Bore, HoseLength, Head, lastLaminar, firstTurbulent),
		Uncertainty: fmt.Sprintf("%g %% of the flow at the most, where flow turns turbulent, for an exact bore", 100*float64(OpenFlowFit)),
		Standing:    quantity.PublishedFit,
	}, {
		Key:         DropVolumeMethod,
		Title:       "Volume of a drop from the outer diameter of the tip",
		Source:      "Tate 1864 with the correction of Harkins & Brown 1919, J. Am. Chem. Soc. 41:499-524, from memory",
		Validity:    "slow drops from a tip that is wetted to its edge, diameter " + TipDiameter.String(),
		Uncertainty: "± " + quantity.Exactly(DropVolumeFit).String(),
		Standing:    quantity.PublishedFit,
	}, {
		Key:         SurfaceTensionMethod,
		Title:       "Surface tension of sea water",
		Source:      "IAPWS R1-76 (2014) for water, IAPWS G14-19 for the salt, from memory",
		Validity:    "clean water, " + dropSalinity.String() + ", " + dropTemperature.String(),
		Uncertainty: "about 0.5 %, from memory; soap and oil lower it by far more",
		Standing:    quantity.Standard,
	}, {
		Key:         DriftMethod,
		Title:       "Drift of a drip with its head",
		Source:      "proportional to the head in a clamp (Hagen and Poiseuille), to its square root in an orifice (Torricelli)",
		Validity:    "one setting of the valve, head up to " + quantity.Exactly(Head.Hi).String(),
		Uncertainty: "given as the range between the two",
		Standing:    quantity.Definition,
	}, {
		Key:         IntakeMethod,
		Title:       "Depth of the hose at which a run of the drip leaves it covered and a failed valve cannot overflow the container",
		Source:      "conservation of volume; what hands miss, 1 cm, from memory",
		Validity:    "source with upright walls that nothing refills",
		Uncertainty: "that of the source's surface and the level marks",
		Standing:    quantity.Definition,
	},
}
