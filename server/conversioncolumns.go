package server

import (
	"strconv"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// conversionColumns are those of a table of conversions, as conversionRow has them.
var conversionColumns = []render.Column[*instrument.Conversion]{
	measureColumn("practical_salinity", func(c *instrument.Conversion) *quantity.Estimate[quantity.Salinity] { return c.PracticalSalinity }),
	measureColumn("absolute_salinity", func(c *instrument.Conversion) *quantity.Estimate[quantity.AbsoluteSalinity] {
		return c.AbsoluteSalinity
	}),
	measureColumn("salt_per_litre", func(c *instrument.Conversion) *quantity.Estimate[quantity.SaltPerLitre] { return c.SaltPerLitre }),
	measureColumn("density", func(c *instrument.Conversion) *quantity.Estimate[quantity.Density] { return c.Density }),
	measureColumn("conductivity", func(c *instrument.Conversion) *quantity.Estimate[quantity.Conductivity] { return c.Conductivity }),
	measureColumn("conductivity_25", func(c *instrument.Conversion) *quantity.Estimate[quantity.Conductivity] { return c.Conductivity25 }),
	measureColumn("refractive_index", func(c *instrument.Conversion) *quantity.Estimate[quantity.RefractiveIndex] { return c.RefractiveIndex }),
	measureColumn("chlorinity", func(c *instrument.Conversion) *quantity.Estimate[quantity.Chlorinity] { return c.Chlorinity }),
	measureColumn("osmolality", func(c *instrument.Conversion) *quantity.Estimate[quantity.Osmolality] { return c.Osmolality }),
	measureColumn("freezing_point", func(c *instrument.Conversion) *quantity.Estimate[quantity.Celsius] { return c.FreezingPoint }),
	measureColumn("oxygen_saturation", func(c *instrument.Conversion) *quantity.Estimate[quantity.DissolvedOxygen] { return c.OxygenSaturation }),
	measureColumn("temperature", func(c *instrument.Conversion) *quantity.Estimate[quantity.Celsius] { return &c.Temperature }),
	textColumn("zone", func(b []byte, c *instrument.Conversion) []byte { return append(b, c.Zone...) }),
	textColumn("read_as", func(b []byte, c *instrument.Conversion) []byte { return append(b, c.ReadAs...) }),
	textColumn("dominant_input", func(b []byte, c *instrument.Conversion) []byte {
		if c.Dominant == nil {
			return b
		}
		return append(b, c.Dominant.Input...)
	}),
	textColumn("dominant_share", func(b []byte, c *instrument.Conversion) []byte {
		if c.Dominant == nil {
			return b
		}
		return strconv.AppendFloat(b, float64(c.Dominant.Share), 'g', 4, 64)
	}),
	textColumn("methods", func(b []byte, c *instrument.Conversion) []byte {
		for i, key := range c.Methods {
			if i > 0 {
				b = append(b, "; "...)
			}
			b = append(b, key...)
		}
		return b
	}),
	measureColumn("specific_gravity_25C_25C", gravityAt25),
}

// tableMeasures are the measures that have a column in a table.
var tableMeasures = func() instrument.Measures {
	gravities, _ := instrument.MeasureNamed("specific_gravity")
	shown, _ := instrument.GravityOn(quantity.Convention{Sample: 25, Water: 25})
	return instrument.AllMeasures&^gravities | shown
}()

// measureColumn is the column of a measure, nil if the measure is not known.
func measureColumn[Q quantity.Quantity](name string, of func(*instrument.Conversion) *quantity.Estimate[Q]) render.Column[*instrument.Conversion] {
	return render.Column[*instrument.Conversion]{Name: name, Unit: quantity.Estimate[Q]{}.Measure().Unit,
		Measure: func(c *instrument.Conversion) (x, u float64, ok bool) {
			e := of(c)
			if e == nil {
				return 0, 0, false
			}
			return float64(e.Value), float64(e.U), true
		}}
}

func textColumn(name string, text func([]byte, *instrument.Conversion) []byte) render.Column[*instrument.Conversion] {
	return render.Column[*instrument.Conversion]{Name: name, Text: text}
}
