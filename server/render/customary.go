package render

import (
	"math"

	"saltlock/chem/quantity"
)

// customary is the US customary counterpart of a metric unit.
type customary struct {
	unit          string
	scale, offset float64
}

// us returns the counterpart of a unit, if there is one. Factors from NIST SP 811 (2008),
// appendix B. A temperature difference has no offset.
func us(unit string) (c customary, ok bool) {
	switch unit {
	case "L":
		c = customary{"gal", 1 / 3.785411784, 0}
	case "kg":
		c = customary{"lb", 1 / 0.45359237, 0}
	case "cm":
		c = customary{"in", 1 / 2.54, 0}
	case "cm²":
		c = customary{"in²", 1 / 6.4516, 0}
	case "L/cm":
		c = customary{"gal/in", 2.54 / 3.785411784, 0}
	case "°C":
		c = customary{"°F", 1.8, 32}
	case "K":
		c = customary{"°F", 1.8, 0}
	case "K/h":
		c = customary{"°F/h", 1.8, 0}
	}
	return c, c.unit != ""
}

// families are a measure in the metric unit that people use for its size and, if
// there are both, in the customary one.
func (v Voice) families(m quantity.Measure) (metric, other quantity.Measure, both bool) {
	if c, ok := us(m.Unit); ok && !(m.Unit == "L" && m.Value > 0 && m.Value < leastPoured) {
		other, both = handy(quantity.Measure{Value: m.Value*c.scale + c.offset, Unit: c.unit, Uncertainty: m.Uncertainty * c.scale}), true
	}
	return handy(m), other, both
}

// leastPoured is the volume, in L, below which there are only drops, which everybody counts into
// millilitres.
const leastPoured = 0.001

// handy converts an amount to the unit people weigh or measure it in. A temperature difference is
// in degrees.
func handy(m quantity.Measure) quantity.Measure {
	to := func(unit string, scale float64) quantity.Measure {
		return quantity.Measure{Value: m.Value * scale, Unit: unit, Uncertainty: m.Uncertainty * scale}
	}
	size := math.Abs(m.Value)
	switch {
	case m.Unit == "kg" && size < 1:
		return to("g", 1000)
	case m.Unit == "L" && size < 0.1:
		return to("mL", 1000)
	case m.Unit == "cm" && size < 1:
		return to("mm", 10)
	case m.Unit == "lb" && size < 1:
		return to("oz", 16)
	case m.Unit == "gal" && size < 0.1:
		return to("fl oz", 128)
	case m.Unit == "drops/s" && size < 1:
		return to("drops/min", 60)
	case m.Unit == "1":
		return to("%", 100)
	case m.Unit == "K":
		return to("°C", 1)
	case m.Unit == "K/h":
		return to("°C/h", 1)
	}
	return m
}
