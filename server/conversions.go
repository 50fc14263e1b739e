package server

import (
	"slices"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// GetConversion answers GET /v1/conversions.
func (s *Server) GetConversion(c echo.Context, p api.GetConversionParams) error {
	request := instrument.ConversionRequest(p)
	wanted, ok := instrument.MeasureNamed(askedOf(c).only)
	if !ok {
		wanted = instrument.AllMeasures
	}
	conversion, err := instrument.ConvertTo(request, wanted)
	if err != nil {
		return err
	}
	inputs := conversionInputs{ConversionRequest: request.WithDefaults()}
	answer := conversionAnswer{Conversion: &conversion}
	if answer.Suits, err = s.suits(c, &inputs, request, conversion); err != nil {
		return err
	}
	return reply(c, &inputs, answer, view[conversionAnswer]{
		lines: func(v render.Voice, a conversionAnswer) []string {
			if a.Suits == nil {
				return conversionLines(v, a.Conversion)
			}
			return append(suitsLines(v, a.Suits), conversionLines(v, a.Conversion)...)
		},
		rows: func(a conversionAnswer) any {
			row := conversionRow{a.Conversion, gravityAt25(a.Conversion)}
			if a.Suits == nil {
				return []conversionRow{row}
			}
			return []suitsRow{{row, a.Suits}}
		},
	})
}

// conversionRow adds the usual specific gravity to the columns of a table,
// where a list has no place.
type conversionRow struct {
	*instrument.Conversion
	SpecificGravity *quantity.Estimate[quantity.SpecificGravity] `json:"specific_gravity_25C_25C"`
}

func conversionLines(v render.Voice, c *instrument.Conversion) []string {
	l := make(lines, 0, 8)
	l.add(v, "conversion_salinity", c.PracticalSalinity, c.AbsoluteSalinity, string(c.Zone))
	l.join(pick(c.Warnings, otherMeanings...))
	l.add(v, "conversion_density", c.SaltPerLitre, c.Temperature, gravityAt25(c))
	l.add(v, "conversion_conductivity", c.Conductivity, c.Conductivity25)
	l.notes(c.Corrections)
	for _, n := range c.Warnings {
		if !slices.Contains(otherMeanings, n.Code) {
			l = append(l, n.Text)
		}
	}
	l.notes(c.Assumptions)
	return l.most(6)
}

// otherMeanings are the warnings that a reading can mean more than one water; they come first.
var otherMeanings = []quantity.Code{"gravity_on_glass", "conductivity_of_pen", "pen_shows_solids", "pen_of_factor"}

// gravityAt25 is the specific gravity at 25C/25C, nil if it is not known.
func gravityAt25(c *instrument.Conversion) *quantity.Estimate[quantity.SpecificGravity] {
	for i := range c.SpecificGravity {
		if g := &c.SpecificGravity[i]; g.Convention == usualGravity {
			return &g.Value
		}
	}
	return nil
}

// GetCalibration answers GET /v1/conversions/calibration.
func (s *Server) GetCalibration(c echo.Context, p api.GetCalibrationParams) error {
	request := instrument.CalibrationRequest(p)
	calibration, err := instrument.Calibrate(request)
	if err != nil {
		return err
	}
	return reply(c, new(request.WithDefaults()), &calibration, view[*instrument.Calibration]{lines: func(v render.Voice, k *instrument.Calibration) []string {
		var l lines
		far := func(n quantity.Note) bool { return n.Code == "instrument_far_off" }
		switch by := k.Correction; {
		case slices.ContainsFunc(k.Warnings, far): // the warning says what to do instead
		case by.Scale == "":
			l.add(v, "calibration_factor", k.Expected, v.Rounded(by.Value, by.U, ""))
		case by.Value < 0:
			l.add(v, "calibration_less", k.Expected, v.Rounded(-by.Value, by.U, string(by.Scale)))
		default:
			l.add(v, "calibration_more", k.Expected, v.Rounded(by.Value, by.U, string(by.Scale)))
		}
		if len(l) > 0 {
			l.add(v, "calibration_error", k.Error)
		}
		l.notes(k.Warnings, k.Assumptions)
		return l.most(6)
	}})
}
