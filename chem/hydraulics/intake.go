package hydraulics

import (
	"errors"

	"saltlock/chem/quantity"
)

// IntakeMethod is the key of Intake in Methods.
const IntakeMethod = "intake-depth"

// ByHand is how far from its mark a hose may end up that is hung by hand. From memory.
const ByHand quantity.Length = 1

var (
	drawnVolume   = quantity.Range[quantity.Volume]{Lo: 0, Hi: 1e6}
	sourceSurface = quantity.Range[quantity.Area]{Lo: 1, Hi: 1e8}
)

// Window is between which depths under the source's surface the end of a hose may hang.
type Window struct{ Least, Greatest quantity.Length }

// Intake returns how deep the upper end of a hose may hang when a run of the
// drip starts: deep enough that it stays under water to the end of the run, and
// so high that the siphon breaks before a valve that fails fills the container.
//
//	drawn    what the run takes from the source, 0 to 1e6 L
//	room     left in the container at the start of the run, 0 to 1e6 L
//	left     in the source then, 0 to 1e6 L
//	surface  of the source, 1 cm² to 1e4 m²
//
// In a run the volumes in the container and above the intake have one sum, so a
// failure fills the container as high at whatever moment it happens. Where more
// is drawn than there is room for, the window is empty: Greatest is less than Least.
//
// Uncertainty: that of surface and volumes; hands miss by ByHand.
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

// FallOf is by how much a volume taken from a source with upright walls lets its surface sink.
func FallOf(volume quantity.Volume, surface quantity.Area) quantity.Length {
	return quantity.Length(float64(volume) * 1000 / float64(surface))
}
