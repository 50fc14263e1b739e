package instrument

import (
	"encoding/json"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

// What release 0.2.0 answered is answered still: values to 1e-12 of a number of their
// size or of sea water, which is what the last bit of an index or a density near that
// of pure water is worth, and uncertainties to 1e-6.
func TestRelease(t *testing.T) {
	sea, err := Convert(ask(t, "35 ppt", "25 C"))
	if err != nil {
		t.Fatal(err)
	}
	size := told(t, sea)
	for i, row := range published.Read(t, "release/conversions_0.2.0.csv") {
		var r ConversionRequest
		bind(t, row, &r)
		c, err := Convert(r)
		if refused := row.String("absolute_salinity") == ""; refused != (err != nil) {
			t.Errorf("row %d: Convert(%+v): %v, refused by the release: %v", i+1, r, err, refused)
			continue
		}
		if err != nil {
			continue
		}
		answer := told(t, c)
		for name, of := range size {
			is, given := answer[name]
			if given != (row.String(name) != "") {
				t.Errorf("row %d: %s is given: %v, the release has %q", i+1, name, given, row.String(name))
			} else if given && (math.Abs(is.Value-row.Float(name)) > 1e-12*max(math.Abs(is.Value), math.Abs(of.Value)) ||
				math.Abs(is.Uncertainty-row.Float(name+"_u")) > 1e-6*is.Uncertainty) {
				t.Errorf("row %d: %s is %v, the release has %s ± %s", i+1, name, is, row.String(name), row.String(name+"_u"))
			}
		}
	}
}

// told are the measures of an answer by their names, without the specific gravities.
func told(t *testing.T, c Conversion) map[string]quantity.Measure {
	t.Helper()
	text, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(text, &fields); err != nil {
		t.Fatal(err)
	}
	measures := map[string]quantity.Measure{}
	for s := range slots {
		if field, ok := fields[s.name()]; ok && s.kind() != firstGravity {
			var m quantity.Measure
			if err := json.Unmarshal(field, &m); err != nil {
				t.Fatal(err)
			}
			measures[s.name()] = m
		}
	}
	return measures
}

// bind reads a request from the cells that are not empty.
func bind(t *testing.T, row published.Row, r *ConversionRequest) {
	t.Helper()
	to := reflect.ValueOf(r).Elem()
	for i := range to.NumField() {
		name, _, _ := strings.Cut(to.Type().Field(i).Tag.Get("json"), ",")
		cell := row.String(name)
		if cell == "" {
			continue
		}
		text := strconv.Quote(cell)
		if name == "temperature_compensated" || name == "tds_factor" {
			text = cell
		}
		if err := json.Unmarshal([]byte(text), to.Field(i).Addr().Interface()); err != nil {
			t.Fatalf("%s %q: %v", name, cell, err)
		}
	}
}
