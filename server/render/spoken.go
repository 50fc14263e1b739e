package render

import (
	"math"
	"strconv"
	"strings"

	"golang.org/x/text/language"

	"saltlock/chem/quantity"
)

// duration writes hours as people say and can keep them: to five minutes from one hour
// on, to the hour from one day on, to the day from two weeks on.
func (v Voice) duration(hours float64) string {
	if v.lean == up {
		hours = kept(hours)
	}
	of := func(part float64) int { // so many parts of an hour make a step
		return int(math.Round(v.lean.round(hours*part, 0)))
	}
	switch {
	case hours >= 14*24:
		return v.inUnit(quantity.Measure{Value: float64(of(1. / 24)), Unit: "days"})
	case hours >= 48:
		whole := of(1)
		days := v.inUnit(quantity.Measure{Value: float64(whole / 24), Unit: "days"})
		if whole%24 == 0 {
			return days
		}
		return days + " " + strconv.Itoa(whole%24) + " h"
	case hours >= 24:
		return strconv.Itoa(of(1)) + " h"
	}
	minutes := of(60)
	if hours >= 1 {
		minutes = of(12) * 5
	}
	switch {
	case minutes < 60:
		return strconv.Itoa(minutes) + " min"
	case minutes%60 == 0:
		return strconv.Itoa(minutes/60) + " h"
	}
	return strconv.Itoa(minutes/60) + " h " + strconv.Itoa(minutes%60) + " min"
}

// kept is a wait as people keep one: to five minutes below six hours, to half an hour below
// twelve, to the hour below two days, to half a day below a week, otherwise to the day. Rounding
// takes off a fifth at most.
func kept(hours float64) float64 {
	step, letGo := 12., 0.2
	switch {
	case hours < 6:
		step, letGo = 1./12, digits
	case hours < 12:
		step = 0.5
	case hours < 48:
		step = 1
	case hours >= 7*24:
		step = 24
	}
	return math.Ceil(hours/step-letGo) * step
}

// halfWater is a specific gravity that no water has, but the difference of two may have.
const halfWater = 0.5

// Reading writes what an instrument shows, in steps its user can tell apart.
func (v Voice) Reading(r quantity.Reading) string {
	if r.Scale != quantity.SpecificGravityScale {
		return v.inUnit(quantity.Measure{Value: r.Value, Unit: string(r.Scale)})
	}
	text := strconv.FormatFloat(math.Round(r.Value*2000)/2000, 'f', 4, 64)
	text = strings.TrimSuffix(text, "0") // a hydrometer is read to half a division, 0.0005
	text = v.point(text)
	of := ""
	if r.Convention != nil {
		of = " " + r.Convention.String()
	}
	switch {
	case v.Language == language.German && r.Value < halfWater: // a difference
		return text + of
	case v.Language == language.German: // German does not write SG
		return "Dichte " + text + of
	}
	return text + " SG" + of
}

// Gravity writes a specific gravity as hydrometers of the trade show it.
func (v Voice) Gravity(sg quantity.SpecificGravity) string {
	return v.point(strconv.FormatFloat(float64(sg), 'f', 3, 64))
}
