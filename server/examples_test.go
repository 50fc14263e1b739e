package server_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

// beside says what the example of an optional parameter needs around it to make sense: query
// parameters that replace or join the example request; one without a value is removed.
var beside = map[string]string{
	"getConversion.calibration":               "instrument=hydrometer",
	"getConversion.compensation":              "instrument=conductivity&reading=21.5 mS/cm",
	"getCalibration.calibration":              "instrument=hydrometer&reading=1.026 SG",
	"getSaltMix.calibration_batch_salt":       "calibration_batch_water=1 L&calibration_batch_reading=34 ppt",
	"getSaltMix.calibration_batch_water":      "calibration_batch_salt=40 g&calibration_batch_reading=34 ppt",
	"getSaltMix.calibration_batch_reading":    "calibration_batch_salt=40 g&calibration_batch_water=1 L",
	"getBlend.target":                         "water=35 ppt, 26 C",
	"getWaterChange.change":                   "new_water=",
	"getTopOff.salinity_now":                  "missing=",
	"getTopOff.top_off_water":                 "evaporation_per_day=3 L&period=30 days",
	"getTopOff.period":                        "evaporation_per_day=3 L",
	"getTransferPlan.instrument_calibration":  "instrument_kind=hydrometer",
	"getTransferPlan.instrument_compensation": "instrument_kind=conductivity",

	"getConversion.zero_temperature":              "instrument=refractometer&temperature_compensated=false&reading=13 ppt",
	"getCalibration.zero_temperature":             "instrument=refractometer&temperature_compensated=false&reading=34 ppt",
	"getTransferPlan.instrument_zero_temperature": "instrument_kind=refractometer&instrument_temperature_compensated=false",
	"getTransferPlan.instrument_correction":       "instrument_kind=hydrometer",
	"getTransferPlan.source_tank_surface":         "source_tank_volume=450 L",
	"getTransferPlan.limits_per_24_hours":         "to_salinity=7 ppt",
	"getWaterChange.product_water_content":        "source=0.2 ppt",
	"getVesselVolume.middle_width":                "shape=bow_front",
	"getVesselVolume.diameter":                    "shape=cylinder&length=&width=",
	"getVesselVolume.top_diameter":                "shape=bucket&length=&width=&bottom_diameter=26 cm",
	"getVesselVolume.bottom_diameter":             "shape=bucket&length=&width=&top_diameter=30 cm",
	"getVesselVolume.sand_porosity":               "sand_depth=4 cm",
	"getVesselVolume.rock_density":                "rock_mass=20 kg",
	"getSaltMix.length":                           "volume=&shape=box&width=50 cm&height=60 cm",
	"getSaltMix.width":                            "volume=&shape=box&length=150 cm&height=60 cm",
	"getSaltMix.height":                           "volume=&shape=box&length=150 cm&width=50 cm",
	"getSaltMix.middle_width":                     "volume=&shape=bow_front&length=150 cm&width=50 cm&height=60 cm",
	"getSaltMix.diameter":                         "volume=&shape=cylinder&height=60 cm",
	"getSaltMix.top_diameter":                     "volume=&shape=bucket&height=32 cm&bottom_diameter=26 cm",
	"getSaltMix.bottom_diameter":                  "volume=&shape=bucket&height=32 cm&top_diameter=30 cm",
	"getSaltMix.fill_height":                      aBox,
	"getSaltMix.glass":                            aBox,
	"getSaltMix.sand_depth":                       aBox,
	"getSaltMix.sand_porosity":                    aBox + "&sand_depth=4 cm",
	"getSaltMix.rock_mass":                        aBox,
	"getSaltMix.rock_density":                     aBox + "&rock_mass=20 kg",
}

const aBox = "volume=&shape=box&length=150 cm&width=50 cm&height=60 cm"

// trial is the example request of an operation.
func trial(op *openapi3.Operation) (path map[string]string, q url.Values) {
	path, q = map[string]string{}, url.Values{}
	for _, ref := range op.Parameters {
		p := ref.Value
		switch {
		case p.In == openapi3.ParameterInPath:
			path[p.Name] = fmt.Sprint(p.Example)
		case p.Example != nil && (p.Required || p.Extensions["x-try"] == true || p.Extensions["x-try"] == op.OperationID):
			q[p.Name] = examples(p)
		}
	}
	return path, q
}

// kept reports whether a path stores something, or asks for something stored.
func kept(path string) bool {
	return path == "/v1/transfers" || strings.HasPrefix(path, "/v1/transfers/{id}")
}

func examples(p *openapi3.Parameter) []string {
	list, ok := p.Example.([]any)
	if !ok {
		list = []any{p.Example}
	}
	texts := make([]string, len(list))
	for i, v := range list {
		texts[i] = fmt.Sprint(v)
	}
	return texts
}

// Every example in the contract is a request that this server answers, and the answer fits the
// contract (call checks that).
func TestExamples(t *testing.T) {
	s := newService(t)
	asked, good := 0, 0
	for at, item := range s.doc.Paths.Map() {
		for method, op := range item.Operations() {
			path, q := trial(op)
			place := at
			if kept(at) {
				continue // needs what was saved before: the tests of saved transfers ask these
			}
			for name, v := range path {
				place = strings.ReplaceAll(place, "{"+name+"}", url.PathEscape(v))
			}
			if method == http.MethodGet {
				if a := s.get(t, place+"?"+q.Encode()); a.status != http.StatusOK {
					t.Errorf("the example of %s: %d\n%s", op.OperationID, a.status, a.body)
				}
				a, g := tryOptional(t, s, op, place, q)
				asked, good = asked+a, good+g
			}
			tryBodies(t, s, method, place, op)
		}
	}
	if asked < 60 || good*10 < asked*8 {
		t.Errorf("of %d examples of optional parameters %d are answered; a table above says what else they need", asked, good)
	}
}

// tryOptional adds each optional parameter that has an example to the request. The parameter must
// be readable; together with the rest it may be refused.
func tryOptional(t *testing.T, s *service, op *openapi3.Operation, place string, base url.Values) (asked, good int) {
	t.Helper()
	for _, ref := range op.Parameters {
		p := ref.Value
		example := p.Example
		if example == nil && p.Schema != nil {
			example = p.Schema.Value.Example
		}
		if example == nil || base.Has(p.Name) || p.In != openapi3.ParameterInQuery {
			continue
		}
		q := url.Values{}
		for name, v := range base {
			q[name] = v
		}
		joined, err := url.ParseQuery(strings.ReplaceAll(beside[op.OperationID+"."+p.Name], "%", "%25"))
		if err != nil {
			t.Fatal(err)
		}
		for name, v := range joined {
			if name == "water" {
				v = append(slices.Clone(base[name][:1]), v...)
			}
			q[name] = v
			if v[0] == "" {
				delete(q, name)
			}
		}
		alone := *p
		alone.Example = example
		q[p.Name] = examples(&alone)
		asked++
		a := s.get(t, place+"?"+q.Encode())
		if a.status == http.StatusOK {
			good++
			continue
		}
		var problem struct {
			Errors []struct{ Where, Reason, Rule string }
		}
		if err := json.Unmarshal([]byte(a.body), &problem); err != nil {
			t.Errorf("%s with %s: %d, no problem document: %s", op.OperationID, p.Name, a.status, a.body)
		}
		for _, f := range problem.Errors {
			if f.Where == p.Name && f.Rule != "conflict" {
				t.Errorf("%s: the example of %s is refused: %s (%s)", op.OperationID, p.Name, f.Reason, f.Rule)
			}
		}
		t.Logf("%s: the example of %s does not go with the others: %d %v", op.OperationID, p.Name, a.status, problem.Errors)
	}
	return asked, good
}

// tryBodies sends the example of every media type of a body.
func tryBodies(t *testing.T, s *service, method, place string, op *openapi3.Operation) {
	t.Helper()
	if op.RequestBody == nil {
		return
	}
	for media, content := range op.RequestBody.Value.Content {
		if content.Example == nil {
			t.Errorf("%s takes %s and shows no example", op.OperationID, media)
			continue
		}
		body, ok := content.Example.(string)
		if !ok {
			text, err := json.Marshal(content.Example)
			if err != nil {
				t.Fatal(err)
			}
			body = string(text)
		}
		if a := s.call(t, method, place, body, "Content-Type", media); a.status != http.StatusOK || strings.Contains(a.body, `"errors"`) {
			t.Errorf("%s with its example of %s: %d\n%s", op.OperationID, media, a.status, a.body)
		}
	}
}
