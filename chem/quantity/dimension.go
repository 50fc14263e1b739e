package quantity

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// dimension is what people call a quantity, with the units in which they write it.
type dimension struct {
	name    string
	units   []unit            // the fixed one first
	bare    bool              // whether a number without a unit is in the fixed one
	refused map[string]string // ambiguous units, and what to write instead
}

// unit is one way to write a quantity: x of it are (x − zero)·num/den of the fixed unit.
// Numerator and denominator are separate so that 450 mL is exactly the float64 nearest to
// 0.45 L.
type unit struct {
	names    []string // the first is how Saltlock prints it, the second usually its UCUM code
	num, den float64
	zero     float64
	below    float64 // magnitudes below this, in the fixed unit, are printed in this unit
}

// in makes a unit of which one is num/den of the fixed unit.
func in(num, den float64, names ...string) unit { return unit{names: names, num: num, den: den} }

// magnitude is the largest number accepted, and its inverse the smallest other than 0. They
// are far beyond any use and safe to convert between units.
const magnitude = 1e100

// parse reads a quantity of d, returned in the fixed unit.
func (d *dimension) parse(s string) (value, u float64, err error) {
	x, ux, name, err := split(s)
	if err == nil {
		value, u, err = d.fixed(x, ux, name)
	}
	if err != nil {
		return 0, 0, d.parseError(s, err)
	}
	return value, u, nil
}

// fixed returns x ± u, given in the unit of this name, in the fixed unit.
func (d *dimension) fixed(x, u float64, name string) (float64, float64, error) {
	of, err := d.find(name)
	if err != nil {
		return 0, 0, err
	}
	if u < 0 {
		return 0, 0, &reasonError{"the uncertainty is negative; write the standard uncertainty, without a sign", Note{Code: "uncertainty_negative"}}
	}
	value, u := of.fixed(x), u*of.num/of.den
	for _, v := range []float64{value, u} {
		if a := math.Abs(v); a != 0 && !(a >= 1/magnitude && a <= magnitude) {
			return 0, 0, errMagnitude
		}
	}
	return value + 0, u + 0, nil // + 0 turns −0 into 0
}

func (u *unit) fixed(x float64) float64   { return (x - u.zero) * u.num / u.den }
func (u *unit) written(v float64) float64 { return v*u.den/u.num + u.zero }

// printed returns the unit in which v, in the fixed unit, is easiest to read.
func (d *dimension) printed(v float64) *unit {
	for i := range d.units {
		if u := &d.units[i]; math.Abs(v) < u.below {
			return u
		}
	}
	return &d.units[0]
}

// find returns the unit of this name, even if the case of its letters is wrong.
func (d *dimension) find(name string) (*unit, error) {
	if u, ok := d.lookup(name); ok {
		return u, nil
	}
	if u, ok := d.anyCase(name); ok {
		return u, nil
	}
	return nil, d.unknown(name)
}

// anyCase finds a unit as phones and hurried people write it: 25 c, 1.025 sg, 53 ms/cm. A
// capital M still means a million: 5 ML is refused, not read as 5 mL.
func (d *dimension) anyCase(name string) (*unit, bool) {
	for i := range d.units {
		u := &d.units[i]
		for _, n := range u.names {
			if strings.EqualFold(n, name) && strings.Count(n, "M") == strings.Count(name, "M") {
				return u, true
			}
		}
	}
	return nil, false
}

func (d *dimension) lookup(name string) (*unit, bool) {
	if name == "" && d.bare {
		return &d.units[0], true
	}
	for i := range d.units {
		if u := &d.units[i]; slices.Contains(u.names, name) {
			return u, true
		}
	}
	return nil, false
}

// unknown says that name is not a unit of d, and what may have been meant.
func (d *dimension) unknown(name string) error {
	if name == "" {
		return &reasonError{"the unit is missing; write it behind the number", Note{Code: "unit_missing"}}
	}
	if why, ok := d.refused[name]; ok {
		return &reasonError{name + " " + why, Note{Code: "unit_without_basis", Params: []any{strconv.Quote(name)}}}
	}
	for _, other := range append(slices.Clip(dimensions), &readings) {
		if _, ok := other.lookup(name); ok {
			return &reasonError{fmt.Sprintf("%s is a unit of %s, not of %s", name, other.name, d.name),
				Note{Code: "unit_of_another", Params: []any{strconv.Quote(name), other.name, d.name}}}
		}
	}
	if near := d.near(name); near != "" {
		return &reasonError{fmt.Sprintf("%q is no unit of %s; %s may be meant", name, d.name, near),
			Note{Code: "unit_near_another", Params: []any{strconv.Quote(name), d.name, strconv.Quote(near)}}}
	}
	return &reasonError{fmt.Sprintf("%q is no unit of %s", name, d.name), Note{Code: "unit_unknown", Params: []any{strconv.Quote(name), d.name}}}
}

// unit returns the fixed unit as Saltlock prints it.
func (d *dimension) unit() string { return d.units[0].names[0] }

// allowed lists the units as Saltlock prints them.
func (d *dimension) allowed() []string {
	var names []string
	for _, u := range d.units {
		names = append(names, u.names[0])
	}
	return names
}

// format is the name of the dimension's format in the contract.
func (d *dimension) format() string {
	return strings.ToLower(strings.ReplaceAll(d.name, " ", "-"))
}
