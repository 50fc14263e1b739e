package seawater

import (
	"math"
	"strconv"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

// The criteria for ammonia as the agency prints them, two significant digits.
var criterionChecks = []published.Check{{
	File: "published/epa2013_ammonia.csv", What: "mg/L N after rounding to two digits", Tolerance: 0,
	Deviation: func(r published.Row) float64 {
		got := orNaN(AmmoniaLimit(AmmoniaCriterion(r.String("criterion")), quantity.PH(r.Float("pH")), quantity.Celsius(r.Float("T_C"))))
		rounded, err := strconv.ParseFloat(strconv.FormatFloat(got, 'g', 2, 64), 64)
		if err != nil {
			return math.NaN()
		}
		return rounded - r.Float("mg_TAN_per_L")
	},
}}

func TestAmmoniaLimitRefuses(t *testing.T) {
	for _, c := range []struct {
		criterion AmmoniaCriterion
		ph        quantity.PH
		t         quantity.Celsius
	}{{Chronic, 6.4, 20}, {Chronic, 9.1, 20}, {Chronic, 7, -1}, {Chronic, 7, 31}, {"hourly", 7, 20}} {
		if got, err := AmmoniaLimit(c.criterion, c.ph, c.t); err == nil {
			t.Errorf("AmmoniaLimit(%q, %g, %g) = %g, want an error", c.criterion, float64(c.ph), float64(c.t), float64(got))
		}
	}
}
