package hydraulics

import (
	"errors"
	"fmt"
	"math"

	"saltlock/chem/quantity"
)

// IntakeWindowMethod is the key of IntakeWindow and FillTime in Methods.
const IntakeWindowMethod = "intake-window"

// IntakeMargin is how far under the lowest level of the source the intake must
// still hang, since it draws air before it is uncovered. Proposed by Saltlock. Air
// breaks a siphon early, so the greatest depth needs no margin.
const IntakeMargin quantity.Length = 1

var (
	sourceSurface = quantity.Range[quantity.Area]{Lo: 1, Hi: 1e8}
	rimVolume     = quantity.Range[quantity.Volume]{Lo: 0.05, Hi: 10000}
	drawnVolume   = quantity.Range[quantity.Volume]{Lo: 0, Hi: 1e6}
)

// Moment is a moment of a plan.
type Moment struct {
	Drawn  quantity.Volume // from the source since the start
	Volume quantity.Volume // in the container
}

// Window is how deep the intake, the end of the hose in the source, may hang under
// the level that the source has at the start.
type Window struct {
	Least    quantity.Length // or the plan's own draw uncovers it
	Greatest quantity.Length // or a failed valve floods the floor
	Spill    quantity.Volume // that could reach the floor at the least depth
}

// OK tells whether any depth does both.
func (w Window) OK() bool { return w.Least <= w.Greatest }

// Check returns nil if the intake may hang at a depth. What it returns otherwise is
// a *quantity.RangeError, or a *NoWindowError where no depth will do.
func (w Window) Check(depth quantity.Length) error {
	if !w.OK() {
		return &NoWindowError{Name: intakeDepth, Window: w}
	}
	return quantity.Range[quantity.Length]{Lo: w.Least, Hi: w.Greatest}.Check(intakeDepth, depth)
}

const intakeDepth = "line.intake_depth"

// NoWindowError tells that no depth of the intake both lasts to the end of the plan
// and breaks the siphon before the container runs over.
type NoWindowError struct {
	Name   string // of the depth, as the contract spells it
	Window Window
}

func (e *NoWindowError) Error() string {
	return fmt.Sprintf("%s: the plan needs more than %g cm, and below %g cm a failed valve spills, at the least depth up to %g L: start with less water or pour off sooner, or take a larger container",
		e.Name, float64(e.Window.Least), float64(e.Window.Greatest), float64(e.Window.Spill))
}

// IntakeWindow returns how deep the intake may hang, so that the draw leaves it
// under water to the end and yet, whenever the valve fails, the siphon breaks
// before the container runs over.
//
//	surface  of the source, with upright walls and nothing that refills it, 1 cm² to 1e4 m²
//	rim      volume of the container when it is full to the rim, 0.05 to 10000 L
//	moments  of the plan in their order: its start, its end, and both ends of every pour-off
//
// Standard uncertainty: of the inputs given; the least depth holds a margin of
// 1 cm (IntakeMargin).
// Check value: 6 to 18 L dripped from a surface of 6000 cm² into a container of 20 L
// allow 2 + 1 to 14/6 cm: no depth does, and 4 L could reach the floor.
//
// Source: conservation. Drip and pour-off are straight lines between their ends, so
// no moment between two of the list is worse than both.
func IntakeWindow(surface quantity.Area, rim quantity.Volume, moments []Moment) (Window, error) {
	if err := errors.Join(
		sourceSurface.Check("source_tank.surface", surface),
		rimVolume.Check("container.capacity", rim),
		checkMoments(rim, moments),
	); err != nil {
		return Window{}, err
	}
	perDepth := float64(surface) / 1000 // L/cm
	room := math.Inf(1)                 // in the container and above the lowest safe intake
	for _, m := range moments {
		room = min(room, float64(rim-m.Volume+m.Drawn))
	}
	w := Window{
		Least:    quantity.Length(float64(moments[len(moments)-1].Drawn)/perDepth) + IntakeMargin,
		Greatest: quantity.Length(room / perDepth),
	}
	if !w.OK() {
		w.Spill = quantity.Volume(float64(w.Least-w.Greatest) * perDepth)
	}
	return w, nil
}

// ErrNoMoments tells that a plan came without a single moment.
var ErrNoMoments = errors.New("a plan has a start")

// checkMoments blames every moment that overfills the container or gives water back.
func checkMoments(rim quantity.Volume, moments []Moment) error {
	if len(moments) == 0 {
		return ErrNoMoments
	}
	var faults []error
	drawn := drawnVolume
	for i, m := range moments {
		fault := drawn.Check(fmt.Sprintf("moments.%d.drawn", i), m.Drawn)
		if fault == nil {
			drawn.Lo = m.Drawn
		}
		faults = append(faults, fault, quantity.Range[quantity.Volume]{Hi: rim}.Check(fmt.Sprintf("moments.%d.volume", i), m.Volume))
	}
	return errors.Join(faults...)
}

// FillTime returns how long an open line takes to fill a container to the rim.
//
//	line    as for OpenFlow, with the head it has when the valve fails
//	sa, t   Absolute Salinity and temperature of the source, as for OpenFlow
//	rim     volume of the container when it is full to the rim, 0.05 to 10000 L
//	volume  in the container when the valve fails, 0 L to the rim
//
// Standard uncertainty: 15 % of the time at the most (OpenFlowFit), for an exact
// bore. It comes early: the head falls meanwhile, and is taken as constant.
// Check value: 14 L through the line of the check value of OpenFlow take 9.37 min.
//
// Source: volume over flow.
func FillTime(line Line, sa quantity.AbsoluteSalinity, t quantity.Celsius, rim, volume quantity.Volume) (quantity.Duration, error) {
	stream, err := OpenFlow(line, sa, t)
	if err := errors.Join(
		err,
		rimVolume.Check("container.capacity", rim),
		quantity.Range[quantity.Volume]{Hi: rim}.Check("container.volume", volume),
	); err != nil {
		return 0, err
	}
	return quantity.Duration(float64(rim-volume) * 1000 / float64(stream.Flow) / 60), nil
}
