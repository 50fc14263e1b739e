package server_test

import (
	"fmt"
	"math"
	"net/http"
	"strings"
	"testing"
)

// Answers whose numbers are known from elsewhere. Unless noted, they were computed with a TEOS-10
// library (python3-gsw 3.6.16), by conservation of mass.
func TestAnswers(t *testing.T) {
	s := newService(t)
	for _, c := range []struct {
		target, field string
		want, within  float64
	}{
		{"/v1/conversions?reading=1.010%20SG%2025C/25C&temperature=25C", "practical_salinity.value", 13.29, 0.005},
		{"/v1/conversions?reading=1.010%20SG%2025C/25C&temperature=25C", "absolute_salinity.value", 13.35, 0.005},
		{"/v1/conversions?reading=1.010%20SG&instrument=hydrometer&calibration=60F/60F&temperature=25C", "absolute_salinity.value", 15.70, 0.02},
		{"/v1/conversions?reading=22.105%20mS/cm&temperature=25C", "practical_salinity.value", 13.289, 0.001},
		{"/v1/mixes/salt?target=35%20ppt&volume=100L&temperature=25C", "salt.value", 3.599, 0.002},
		{"/v1/mixes/salt?target=35%20ppt&volume=100L&temperature=25C&product_water_content=15%25", "salt.value", 4.234, 0.003},
		{"/v1/mixes/blend?water=10L,%200%20ppt,%2015C&water=10L,%2035%20ppt,%2030C", "temperature.value", 22.406, 0.001},
		{"/v1/mixes/blend?water=10L,%200%20ppt,%2015C&water=10L,%2035%20ppt,%2030C", "practical_salinity.value", 17.696, 0.001},
		{"/v1/mixes/top-off?volume=100L&salinity=35%20ppt&missing=1L", "salinity_now.practical.value", 35.35, 0.02}, // 1 % of the water is about 1 % of the salinity
		{"/v1/vessels/volume?shape=box&length=100cm&width=40cm&height=50cm", "net_volume.value", 200, 1e-9},         // 100·40·50 cm³
		{"/v1/conversions/calibration?standard=35ppt&reading=52.0%20mS/cm&temperature=25C&instrument=conductivity&compensation=none", "expected.value", 53.071, 0.001},
	} {
		if got := s.get(t, c.target).number(t, c.field); math.Abs(got-c.want) > c.within {
			t.Errorf("GET %s: %s is %g, want %g within %g", c.target, c.field, got, c.want, c.within)
		}
	}
}

// A plan with an overflow, whose times follow in closed form from ρ' = exp(ρ − 1); see
// chem/transfer.
func TestPlanAnswers(t *testing.T) {
	s := newService(t)
	const body = `{"from": {"salinity": "0.2 ppt", "temperature": "25 C"}, "to": {"salinity": "10 ppt", "temperature": "25 C"},
		"container": {"capacity": "20 L", "freeboard": "0 L", "start_volume": "6 L", "aerated": true, "overflow": true},
		"line": {"drop_volume": "0.05 mL", "least_drip": "0.01 drops/s", "greatest_drip": "100 drops/s", "settings": %d},
		"limits": {"at_once": "20 g/kg", "per_hour": "2 g/kg/h", "per_24_hours": "40 g/kg"}, "tolerance": "3.282 g/kg"}`
	for settings, want := range map[int]float64{1: 5.41, 2: 4.25} { // 4.923 h times ln 3, and times 0.8628
		a := s.call(t, http.MethodPost, "/v1/transfers/plan", fmt.Sprintf(body, settings))
		if got := a.number(t, "exact_duration.value"); math.Abs(got/want-1) > 0.005 {
			t.Errorf("%d settings: exact duration %g h, want %g", settings, got, want)
		}
		if got := a.number(t, "least_duration.value"); math.Abs(got-3.28) > 0.005 {
			t.Errorf("%d settings: least duration %g h, want 3.28", settings, got)
		}
	}
}

// Every instrument is answered, in warm and cold, fresh and salty water, with its corrections
// named.
func TestEveryInstrument(t *testing.T) {
	s := newService(t)
	for _, q := range []string{
		"reading=1.010%20SG&instrument=pointer_hydrometer", "reading=13%20ppt&instrument=refractometer",
		"reading=13%20ppt&instrument=refractometer&temperature_compensated=false", "reading=13%20g/kg&instrument=refractometer&scale=nacl",
		"reading=2%20Brix&instrument=refractometer&scale=brix", "reading=21.5%20mS/cm&instrument=conductivity",
		"reading=21.5%20mS/cm&instrument=conductivity&compensation=nlf", "reading=21.5%20mS/cm&instrument=conductivity&compensation=none",
		"reading=10%20g/L&instrument=tds&tds_factor=0.5", "reading=12%20g/L&instrument=tds&tds_factor=0.7&correction=1.02(1)",
		"reading=1.005%20SG&instrument=hydrometer&correction=-0.0012(5)%20SG", "reading=0.5%20mS/cm&instrument=conductivity",
		"reading=1.002%20SG&instrument=hydrometer&calibration=60F/60F",
	} {
		for _, temperature := range []string{"5C", "25C", "34C"} {
			a := s.get(t, "/v1/conversions?temperature="+temperature+"&"+q)
			if a.status != http.StatusOK && a.status != http.StatusUnprocessableEntity {
				t.Errorf("%s at %s: %d\n%s", q, temperature, a.status, a.body)
			}
		}
	}
}

// dripLine asks for a drip to which a line may be added.
const dripLine = "/v1/transfers/plan?sensitivity=hardy&from_salinity=2%20ppt&from_temperature=26C&to_salinity=10%20ppt&to_temperature=26C" +
	"&container_capacity=20L&container_start_volume=6L&container_aerated=true"

// Each range that an answer rests on: a value just inside is not refused, one just outside gets a
// refusal or a warning.
func TestRangesThroughHTTP(t *testing.T) {
	s := newService(t)
	for _, c := range []struct{ target, inside, outside string }{
		{"/v1/conversions?reading=35%20ppt&temperature=", "0C", "-1.1C"},
		{"/v1/conversions?reading=35%20ppt&temperature=", "40C", "41.1C"},
		{"/v1/conversions?reading=20%20mS/cm&temperature=", "40C", "40.1C"},
		{"/v1/conversions?temperature=25C&reading=", "120%20g/kg", "120.1%20g/kg"},
		{"/v1/conversions?temperature=25C&reading=", "0%20ppt", "-0.1%20ppt"},
		{"/v1/mixes/salt?volume=100L&target=35ppt&temperature=", "40C", "40.1C"},
		{"/v1/mixes/salt?target=35ppt&volume=", "0.001L", "0.0009L"},
		{"/v1/mixes/salt?target=35ppt&volume=10L&product_water_content=", "60%25", "61%25"},
		{"/v1/vessels/volume?shape=cylinder&height=30cm&diameter=", "0.1cm", "0.09cm"},
		{"/v1/vessels/volume?shape=box&length=100cm&width=40cm&height=50cm&sand_depth=5cm&sand_porosity=", "70%25", "71%25"},
		{"/v1/species?lives_at=", "0%20ppt", "-0.1%20ppt"},
		{"/v1/species/compatibility?species=scatophagus-argus&ph=", "14", "14.1"},
		{dripLine + "&line_length=1m&line_head=30cm&line_bore=", "20mm", "20.1mm"},
		{dripLine + "&line_length=1m&line_bore=6mm&line_head=", "3m", "3.01m"},
		{dripLine + "&line_bore=6mm&line_head=30cm&line_length=", "1cm", "0.9cm"},
		{dripLine + "&line_tip_diameter=", "2mm", "1.9mm"},
		{dripLine + "&source_tank_volume=450L&source_tank_surface=7500cm2&line_head=", "5cm", "-5cm"},
		{dripLine + "&source_tank_volume=450L&source_tank_surface=7500cm2&line_intake_depth=", "1.5cm", "-1.5cm"},
	} {
		if a := s.get(t, c.target+c.inside); a.status != http.StatusOK {
			t.Errorf("GET %s%s: %d\n%s", c.target, c.inside, a.status, a.body)
		}
		a := s.get(t, c.target+c.outside)
		if a.status != http.StatusUnprocessableEntity && !strings.Contains(a.body, `"measure_out_of_range"`) {
			t.Errorf("GET %s%s: %d, neither refused nor told\n%s", c.target, c.outside, a.status, a.body)
		}
	}
}

// One bare number for a spreadsheet cell.
func TestOnly(t *testing.T) {
	s := newService(t)
	for query, want := range map[string]string{
		"&only=salt&format=text":                        "3.59859\n",
		"&only=salt&format=text&decimal=comma":          "3,59859\n",
		"&only=salt&format=csv":                         "salt [kg]\r\n3.59859\r\n",
		"&only=salt&format=csv&decimal=comma&sep=comma": "salt [kg]\r\n\"3,59859\"\r\n",
		"&only=salt&format=csv&decimal=comma":           "salt [kg]\r\n3,59859\r\n",
		"&only=salt&format=text&units=us":               "7.9335\n",
		"&only=salt&format=csv&units=us":                "salt [lb]\r\n7.9335\r\n",
	} {
		if a := s.get(t, "/v1/mixes/salt?target=35%20ppt&volume=100L"+query); a.body != want {
			t.Errorf("%s gives %q, want %q", query, a.body, want)
		}
	}
	whole := s.get(t, "/v1/mixes/salt?target=35%20ppt&volume=100L")
	for _, accept := range []string{"application/json", "*/*", oneField} {
		a := s.get(t, "/v1/mixes/salt?target=35%20ppt&volume=100L&only=salt", "Accept", accept)
		if a.header.Get("Content-Type") != oneField || a.number(t, "value") != whole.number(t, "salt.value") || a.field(t, "unit") != "kg" {
			t.Errorf("Accept: %s: %s %s", accept, a.header.Get("Content-Type"), a.body)
		}
	}
	if a := s.get(t, "/v1/mixes/salt?target=35%20ppt&volume=100L", "Accept", oneField); a.status != http.StatusNotAcceptable {
		t.Errorf("one field without saying which: %d, want 406", a.status)
	}
	if a := s.get(t, "/v1/mixes/salt.csv?target=35%20ppt&volume=100L"); !strings.HasPrefix(a.body, "salt [kg],") || strings.Count(a.body, "\r\n") != 2 {
		t.Errorf("salt.csv is %q", a.body)
	}
}

func TestSpecies(t *testing.T) {
	s := newService(t)
	scats := s.get(t, "/v1/species?q=scat").body
	if !strings.Contains(scats, "scatophagus-argus") || !strings.Contains(scats, "selenotoca-multifasciata") {
		t.Errorf("q=scat finds %s", scats)
	}
	none := s.get(t, "/v1/species/compatibility?species=paracheirodon-innesi&species=amphiprion-ocellaris")
	if none.field(t, "status") != "none" || !strings.Contains(none.body, `"set_by"`) {
		t.Errorf("a fresh-water and a marine fish: %s", none.body)
	}
}

// A list that was asked for before is answered with the same bytes and headers.
func TestPreparedAnswer(t *testing.T) {
	s := newService(t)
	for _, path := range []string{"/v1/species?q=scat", "/v1/species/scatophagus-argus?format=text", "/v1/methods", "/"} {
		first, second := s.call(t, http.MethodGet, path, ""), s.call(t, http.MethodGet, path, "")
		if first.status != 200 || second.status != 200 || first.body != second.body {
			t.Errorf("GET %s: %d, then %d: %.200s", path, first.status, second.status, second.body)
		}
		for _, name := range []string{"Content-Type", "ETag", "Cache-Control", "Vary"} {
			if was, is := first.header.Get(name), second.header.Get(name); was != is || was == "" {
				t.Errorf("GET %s: %s is %q, then %q", path, name, was, is)
			}
		}
	}
}
