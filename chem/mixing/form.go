package mixing

import (
	"errors"
	"math"

	"saltlock/chem/instrument"
	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// form is the inside of a vessel: its height in cm, the litres below a level,
// and the surface there in cm².
type form struct {
	height  float64
	below   func(level float64) float64
	surface func(level float64) float64
}

// upright is a form with the same surface at every level.
func upright(height, surface float64) form {
	return form{height,
		func(level float64) float64 { return surface * level / 1000 },
		func(float64) float64 { return surface },
	}
}

// sides collects the dimensions of a vessel as inputs, and their faults.
type sides struct {
	j      *joint
	shape  Shape
	glass  func(x []float64) float64
	faults []error
}

// inner adds a dimension that the shape needs, and returns it minus the glass of a number of
// walls.
func (s *sides) inner(name string, l *quantity.Estimate[quantity.Length], walls float64) func(x []float64) float64 {
	if l == nil {
		s.faults = append(s.faults, &instrument.MissingError{Name: name, Why: "a " + string(s.shape) + " needs it", Note: quantity.Note{Code: "shape_needs_size", Params: []any{string(s.shape)}}})
		return nil
	}
	s.faults = append(s.faults, lengths.Check(name, l.Value))
	outer := input(s.j, name, *l)
	return func(x []float64) float64 { return outer(x) - walls*s.glass(x) }
}

// form returns the inside of the vessel as a function of its dimensions, which
// are added to j.
func (r VesselRequest) form(j *joint) (func(x []float64) (form, error), error) {
	s := &sides{j: j, shape: r.Shape, glass: optional(j, "glass", r.Glass)}
	of := r.shaped(s)
	if err := errors.Join(s.faults...); err != nil {
		return nil, err
	}
	return func(x []float64) (form, error) {
		f, err := of(x)
		if err == nil && !(s.glass(x) >= 0 && f.height > 0 && f.surface(f.height) > 0 && f.surface(0) > 0) {
			err = &quantity.RangeError{Name: "glass", Value: s.glass(x), Lo: 0, Hi: float64(r.Height.Value), Unit: "cm"}
		}
		return f, err
	}, nil
}

// shaped is form by shape, before the result is checked.
func (r VesselRequest) shaped(s *sides) func(x []float64) (form, error) {
	height := s.inner("height", r.Height, 1) // above the bottom
	switch r.Shape {
	case Box:
		length, width := s.inner("length", r.Length, 2), s.inner("width", r.Width, 2)
		return func(x []float64) (form, error) { return upright(height(x), length(x)*width(x)), nil }
	case Cylinder:
		diameter := s.inner("diameter", r.Diameter, 2)
		return func(x []float64) (form, error) {
			return upright(height(x), math.Pi/4*diameter(x)*diameter(x)), nil
		}
	case Bucket:
		top, bottom := s.inner("top_diameter", r.TopDiameter, 2), s.inner("bottom_diameter", r.BottomDiameter, 2)
		return func(x []float64) (form, error) { return frustum(height(x), bottom(x)/2, top(x)/2), nil }
	case BowFront:
		length, width := s.inner("length", r.Length, 2), s.inner("width", r.Width, 2)
		middle := s.inner("middle_width", r.MiddleWidth, 2)
		return func(x []float64) (form, error) {
			bow := middle(x) - width(x)
			if !(bow >= 0 && bow <= length(x)/2) {
				return form{}, &quantity.RangeError{Name: "middle_width", Value: float64(r.MiddleWidth.Value),
					Lo: float64(r.Width.Value), Hi: float64(r.Width.Value) + length(x)/2, Unit: "cm"}
			}
			return upright(height(x), length(x)*width(x)+segment(length(x), bow)), nil
		}
	}
	s.faults = []error{&instrument.MissingError{Name: "shape", Why: "give box, cylinder, bucket or bow_front", Note: quantity.Note{Code: "shape_missing"}}}
	return nil
}

// frustum is the inside of a bucket: a cone cut off at the bottom.
func frustum(height, bottom, top float64) form {
	radius := func(level float64) float64 { return bottom + (top-bottom)*level/height }
	return form{height,
		func(level float64) float64 {
			r := radius(level)
			return math.Pi / 3 * level * (bottom*bottom + bottom*r + r*r) / 1000
		},
		func(level float64) float64 { return math.Pi * radius(level) * radius(level) },
	}
}

// segment is the area between a chord and an arc whose height above it is bow.
func segment(chord, bow float64) float64 {
	if bow < 1e-3*chord { // the closed form would be a difference of two large numbers
		return 2./3*chord*bow + 8./15*bow*bow*bow/chord
	}
	half := 2 * math.Atan(2*bow/chord) // the angle of half the arc
	r := chord / 2 / math.Sin(half)
	return r * r * (half - math.Sin(half)*math.Cos(half))
}

// Capacity returns what the empty vessel holds to the rim.
//
// Check value: a cylinder of 20 cm diameter and 30 cm height holds 9.42 L (3π).
func (r VesselRequest) Capacity() (quantity.Volume, error) {
	f, err := r.bare()
	if err != nil {
		return 0, err
	}
	return quantity.Volume(f.below(f.height)), nil
}

// LevelAt returns the level of a volume of water in the empty vessel.
//
// Check value: 2 L are 1 cm deep in a box of 100 × 20 cm.
func (r VesselRequest) LevelAt(v quantity.Volume) (quantity.Length, error) {
	f, err := r.bare()
	if err != nil {
		return 0, err
	}
	full := f.below(f.height)
	if err := (quantity.Range[quantity.Volume]{Lo: 0, Hi: quantity.Volume(full * (1 + 1e-9))}).Check("volume", v); err != nil {
		return 0, err
	}
	level, err := numeric.Root(func(level float64) float64 { return f.below(level) - min(float64(v), full) }, 0, f.height)
	return quantity.Length(level), err
}

// bare is the inside of the vessel as given.
func (r VesselRequest) bare() (form, error) {
	var j joint
	f, err := r.form(&j)
	if err != nil {
		return form{}, err
	}
	return f(j.nominal)
}
