package mixing

import (
	"encoding/json"
	"math"
	"strconv"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

// What release 0.2.0 answered is answered still: values to 1e-12 and uncertainties to 1e-6.
func TestSaltRelease(t *testing.T) {
	refused := 0
	for i, row := range published.Read(t, "release/salt_0.2.0.csv") {
		asked := map[string]string{}
		for _, name := range []string{"target", "volume", "temperature", "source", "product_water_content",
			"calibration_batch_salt", "calibration_batch_water", "calibration_batch_reading"} {
			if cell := row.String(name); cell != "" {
				asked[name] = cell
			}
		}
		text, err := json.Marshal(asked)
		if err != nil {
			t.Fatal(err)
		}
		var r SaltRequest
		if err := json.Unmarshal(text, &r); err != nil {
			t.Fatalf("row %d: %v", i+1, err)
		}
		b, err := Salt(r)
		if no := row.String("salt") == ""; no || err != nil {
			refused++
			if no != (err != nil) {
				t.Errorf("row %d: Salt(%s): %v, refused by the release: %v", i+1, text, err, no)
			}
			continue
		}
		compareSalt(t, i+1, row, b)
	}
	if refused == 0 {
		t.Error("none is refused")
	}
}

func compareSalt(t *testing.T, at int, row published.Row, b Batch) {
	t.Helper()
	is := map[string]quantity.Measure{"salt": b.Salt.Measure(), "source_water": b.SourceWater.Measure(), "final_volume": b.FinalVolume.Measure(),
		"absolute_salinity": b.AbsoluteSalinity.Measure(), "practical_salinity": b.PracticalSalinity.Measure(), "salt_per_litre": b.SaltPerLitre.Measure()}
	if b.SaltHydrated != nil {
		is["salt_hydrated"] = b.SaltHydrated.Measure()
	}
	if b.ProductWaterContent != nil {
		is["product_water_content_used"] = b.ProductWaterContent.Measure()
	}
	given := 0
	for _, name := range []string{"salt", "salt_hydrated", "source_water", "final_volume", "absolute_salinity", "practical_salinity", "salt_per_litre", "product_water_content_used"} {
		if row.String(name) == "" {
			continue
		}
		given++
		m, value, u := is[name], row.Float(name), row.Float(name+"_u")
		// The water content from a trial batch is a small difference of numbers near 1.
		if math.Abs(m.Value-value) > 1e-12*max(math.Abs(value), 1e-3) || math.Abs(m.Uncertainty-u) > 1e-6*u {
			t.Errorf("row %d: %s is %s ± %s, the release has %s ± %s", at, name, strconv.FormatFloat(m.Value, 'g', -1, 64),
				strconv.FormatFloat(m.Uncertainty, 'g', -1, 64), row.String(name), row.String(name+"_u"))
		}
	}
	if given != len(is) {
		t.Errorf("row %d: %d numbers, the release has %d", at, len(is), given)
	}
	if dominant := row.String("dominant"); (b.Dominant == nil) != (dominant == "") || b.Dominant != nil && b.Dominant.Input != dominant {
		t.Errorf("row %d: the dominant input is %v, the release has %q", at, b.Dominant, dominant)
	}
}
