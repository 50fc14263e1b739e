package quantity

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Scale is the measure of salinity that a Reading uses.
type Scale string

// The scales a reading can be on; each is also the unit that names it on the wire.
const (
	PracticalScale       Scale = "ppt"
	AbsoluteScale        Scale = "g/kg"
	PerLitreScale        Scale = "g/L"
	SpecificGravityScale Scale = "SG"
	DensityScale         Scale = "kg/m³"
	ConductivityScale    Scale = "mS/cm"
	RefractiveIndexScale Scale = "nD"
	BrixScale            Scale = "°Bx"
	ChlorinityScale      Scale = "g/kg Cl"
	OsmolalityScale      Scale = "mOsm/kg"
	PenScale             Scale = "ppm" // dissolved solids, by a pen's own factor
)

// Reading is a salinity as a person has it: a number on some scale. What it means depends on
// the instrument and the temperature; chem/instrument resolves it.
type Reading struct {
	Value, U   float64
	Scale      Scale
	Convention *Convention // with SG only, and only if the reading states it: "1.010 SG 60F/60F"
}

// String prints the reading so that it can be parsed again.
func (r Reading) String() string { return string(r.append(nil)) }

func (r Reading) append(b []byte) []byte {
	b = appendWritten(b, r.Value, r.U, string(r.Scale))
	if r.Convention != nil {
		b = append(append(b, ' '), r.Convention.String()...)
	}
	return b
}

// MarshalText is String for a reading that is finite and has a scale.
func (r Reading) MarshalText() ([]byte, error) { return r.AppendText(nil) }

// AppendText is MarshalText that appends.
func (r Reading) AppendText(b []byte) ([]byte, error) {
	if err := r.whole(); err != nil {
		return b, err
	}
	return r.append(b), nil
}

// MarshalJSON writes the reading as an object.
func (r Reading) MarshalJSON() ([]byte, error) {
	if err := r.whole(); err != nil {
		return nil, err
	}
	return json.Marshal(object{&r.Value, string(r.Scale), r.U, r.Convention})
}

func (r Reading) whole() error {
	if r.Scale == "" {
		return fmt.Errorf("a reading without a scale cannot be written")
	}
	return finite(r.Value, r.U)
}

// UnmarshalText parses a number with the unit that names its scale, "1.010 SG",
// its standard uncertainty if it is stated, and for a specific gravity the
// convention if it is not the instrument's: "1.010(1) SG 60F/60F".
func (r *Reading) UnmarshalText(text []byte) error { return r.Bind(string(text)) }

// Bind parses a query parameter, or any other text, as UnmarshalText does.
func (r *Reading) Bind(s string) error {
	number := s
	if len(s) > 2 && strings.EqualFold(s[:2], "SG") { // SG 1.025, as people say it
		number = s[2:] + " SG"
	}
	x, u, unit, err := split(number)
	if err != nil {
		return readings.parseError(s, err)
	}
	if unit == "" {
		return readings.parseError(s, bare(x))
	}
	var convention *Convention
	if name, after, ok := strings.Cut(unit, " "); ok && strings.EqualFold(name, "SG") {
		unit, convention = "SG", new(Convention)
		if err := convention.Bind(after); err != nil {
			return err
		}
	}
	read, err := onScale(x, u, unit, convention)
	if err != nil {
		return readings.parseError(s, err)
	}
	*r = read
	return nil
}

// UnmarshalJSON accepts the string of a request or the object of an answer.
func (r *Reading) UnmarshalJSON(b []byte) error {
	text, o, err := decode(b)
	if err == nil && o == nil {
		return r.Bind(text)
	}
	var read Reading
	if err == nil {
		read, err = onScale(*o.Value, o.Uncertainty, o.Unit, o.Convention)
	}
	if err != nil {
		return readings.parseError(string(b), err)
	}
	*r = read
	return nil
}

// onScale makes the reading x ± u in the unit of this name, which determines the scale.
func onScale(x, u float64, name string, c *Convention) (Reading, error) {
	d, ok := scaleOf[name]
	if !ok {
		i := slices.IndexFunc(scales, func(d *dimension) bool { _, ok := d.anyCase(name); return ok })
		if i < 0 {
			return Reading{}, readings.unknown(name)
		}
		d = scales[i]
	}
	if c != nil && d != &specificGravity {
		return Reading{}, &reasonError{"only a specific gravity has a convention", Note{Code: "convention_out_of_place"}}
	}
	value, u, err := d.fixed(x, u, name)
	return Reading{value, u, Scale(d.unit()), c}, err
}

// MeantGravity returns the specific gravity that a number was probably meant to be which is none:
// 1020, 20, 1.2 and 0.02 are all written where 1.020 was read. Not ok if nothing is likely.
//
//	x  the number as given, without a unit, at least 0 and outside 1 to 1.1
//
// Check value: 1026, 26, 1.26 and 0.026 give 1.026.
//
// Source: common practice, no source; keepers say "ten-twenty" and "twenty".
func MeantGravity(x float64) (meant float64, ok bool) {
	switch {
	case x > 0 && x <= 0.09:
		meant = 1 + x
	case x > 1.1 && x <= 1.9:
		meant = 1 + (x-1)/10
	case x >= 2 && x <= 90:
		meant = 1 + x/1000
	case x >= 1000 && x <= 1090:
		meant = x / 1000
	}
	return math.Round(meant*1e5) / 1e5, meant != 0
}

// bare says what a number without a scale may have been meant to be.
func bare(x float64) error {
	offer := strconv.FormatFloat(x, 'f', -1, 64) + " ppt"
	switch {
	case x > 0.98 && x < 1.2:
		offer = strconv.FormatFloat(x, 'f', 3, 64) + " SG"
	case x > 980 && x < 1200: // without its point, as people say it
		offer = strconv.FormatFloat(x/1000, 'f', 3, 64) + " SG"
	}
	return &reasonError{fmt.Sprintf("the unit is missing. Write %q if you mean that", offer), Note{Code: "unit_offered", Params: []any{strconv.Quote(offer)}}}
}
