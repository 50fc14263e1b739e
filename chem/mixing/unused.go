package mixing

import (
	"errors"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// idle is an input that may have been given although nothing uses it.
type idle struct {
	name  string
	given bool
}

// unused refuses inputs that would change nothing, because whoever sends one expects it to
// count.
func unused(beside, why string, said quantity.Note, inputs ...idle) error {
	var faults []error
	for _, in := range inputs {
		if in.given {
			faults = append(faults, &instrument.ConflictError{Name: in.name, Other: beside, Why: why, Note: said})
		}
	}
	return errors.Join(faults...)
}

// dimensions lists the sizes of a vessel by name.
func (r VesselRequest) dimensions() map[string]*quantity.Estimate[quantity.Length] {
	return map[string]*quantity.Estimate[quantity.Length]{
		"length": r.Length, "width": r.Width, "middle_width": r.MiddleWidth, "diameter": r.Diameter,
		"top_diameter": r.TopDiameter, "bottom_diameter": r.BottomDiameter,
	}
}

// sized lists the sizes of each shape, apart from the height.
var sized = map[Shape][]string{
	Box: {"length", "width"}, Cylinder: {"diameter"}, Bucket: {"top_diameter", "bottom_diameter"},
	BowFront: {"length", "width", "middle_width"},
}

// unused refuses sizes that the shape does not have, and properties of sand or rock that is
// not there.
func (r VesselRequest) unused() error {
	given := r.dimensions()
	for _, name := range sized[r.Shape] {
		delete(given, name)
	}
	var faults []error
	for _, name := range []string{"length", "width", "middle_width", "diameter", "top_diameter", "bottom_diameter"} {
		faults = append(faults, unused("shape", "a "+string(r.Shape)+" has no such size", quantity.Note{Code: "shape_has_no_such_size", Params: []any{string(r.Shape)}}, idle{name, given[name] != nil}))
	}
	return errors.Join(append(faults,
		unused("sand_depth", "without a sand bed it changes nothing; give its depth", quantity.Note{Code: "sand_without_depth"}, idle{"sand_porosity", r.SandPorosity != nil && r.SandDepth == nil}),
		unused("rock_mass", "without rock it changes nothing; give its mass", quantity.Note{Code: "rock_without_mass"}, idle{"rock_density", r.RockDensity != nil && r.RockMass == nil}))...)
}

// unusedVessel refuses the sizes of a vessel without a shape.
func (r *SaltRequest) unusedVessel() error {
	if r.Shape != nil {
		return nil
	}
	return unused("shape", "without a shape it is no vessel", quantity.Note{Code: "size_without_shape"}, idle{"length", r.Length != nil}, idle{"width", r.Width != nil},
		idle{"middle_width", r.MiddleWidth != nil}, idle{"height", r.Height != nil}, idle{"diameter", r.Diameter != nil},
		idle{"top_diameter", r.TopDiameter != nil}, idle{"bottom_diameter", r.BottomDiameter != nil},
		idle{"fill_height", r.FillHeight != nil}, idle{"glass", r.Glass != nil}, idle{"sand_depth", r.SandDepth != nil},
		idle{"sand_porosity", r.SandPorosity != nil}, idle{"rock_mass", r.RockMass != nil}, idle{"rock_density", r.RockDensity != nil})
}
