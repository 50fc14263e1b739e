package hydraulics

import (
	"errors"

	"saltlock/chem/quantity"
)

// IntakeMethod is the key of Intake in Methods.
const IntakeMethod = "intake-depth"

// ByHand is how far off its mark a hose hung by hand may be. From memory.
const ByHand quantity.Length = 1

var (
	drawnVolume   = quantity.Range[quantity.Volume]{Lo: 0, Hi: 1e6}
	sourceSurface = quantity.Range[quantity.Area]{Lo: 1, Hi: 1e8}
)

// Window is the range of depths below the source's surface in which a hose end may hang.
type Window struct{ Least, Greatest quantity.Length }

// Intake returns how deep the upper end of a hose may hang at the start of a run of the
// drip: deep enough to stay under water to the end of the run, and high enough that the
// siphon breaks before a failed valve fills the container.
//
//	drawn    from the source during the run, 0 to 1e6 L
//	room     left in the container at the start of the run, 0 to 1e6 L
//	left     in the source at that time, 0 to 1e6 L
//	surface  of the source, 1 cm² to 1e4 m²
//
// During a run, the volume in the container and that above the hose end have a constant
// sum. So a failure fills the container to the same level whenever it happens. If more is
// drawn than there is room for, the window is empty: Greatest is less than Least.
//
// Uncertainty: that of surface and volumes; a hose hung by hand is off by up to ByHand.
// Check value: 5 L drawn and room for 20 L, out of 500 L under 2500 cm², give 2 to 8 cm.
//
// Source: conservation of volume, for upright walls and a source that nothing refills.
func Intake(drawn, room, left quantity.Volume, surface quantity.Area) (Window, error) {
	if err := errors.Join(
		drawnVolume.Check("draw.volume", drawn),
		drawnVolume.Check("container.capacity", room),
		drawnVolume.Check("source_tank.volume", left),
		sourceSurface.Check("source_tank.surface", surface),
	); err != nil {
		return Window{}, err
	}
	return Window{Least: FallOf(drawn, surface), Greatest: FallOf(min(room, left), surface)}, nil
}

// FallOf is how far the surface of a source with upright walls falls when a volume is taken
// out.
func FallOf(volume quantity.Volume, surface quantity.Area) quantity.Length {
	return quantity.Length(float64(volume) * 1000 / float64(surface))
}
