package server_test

import (
	"flag"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/emersion/go-ical"
)

var update = flag.Bool("update", false, "rewrite testdata/golden")

// question is one request whose text and table are kept as golden files.
type question struct{ name, method, target, body string }

const planBody = `{
	"animals": [{"sensitivity": "hardy", "origin": "captive", "count": 4, "mass": "1 g"}],
	"from": {"salinity": "2 ppt", "temperature": "26 C"},
	"to": {"salinity": "10 ppt", "temperature": "26 C"},
	"container": {"shape": "bucket", "top_diameter": "30 cm", "bottom_diameter": "26 cm", "height": "32 cm", "start_volume": "6 L", "least_volume": "6 L", "aerated": true},
	"line": {"drop_volume": "0.05 mL", "settings": 3},
	"source_tank": {"volume": "450 L", "surface": "7500 cm2"},
	"instrument": {"kind": "hydrometer", "calibration": "60F/60F"}
}`

const planQuery = "/v1/transfers/plan?sensitivity=hardy&origin=captive&count=4&mass=1g&from_salinity=2%20ppt&from_temperature=26C&to_salinity=10%20ppt&to_temperature=26C" +
	"&container_shape=bucket&container_top_diameter=30cm&container_bottom_diameter=26cm&container_height=32cm&container_start_volume=6L&container_least_volume=6L&container_aerated=true" +
	"&line_drop_volume=0.05mL&line_settings=3&source_tank_volume=450L&source_tank_surface=7500cm2&instrument_kind=hydrometer&instrument_calibration=60F/60F"

// A young scat's move: every operation of it.
var questions = []question{
	{"getConversion", "GET", "/v1/conversions?reading=1.0055%20SG&instrument=hydrometer&calibration=60F/60F&temperature=26C", ""},
	{"convertReadings", "POST", "/v1/conversions", `[{"reading": "1.0055 SG", "temperature": "26 C", "instrument": "hydrometer", "calibration": "60F/60F"}, {"reading": "17.3 ms"}]`},
	{"getCalibration", "GET", "/v1/conversions/calibration?standard=35%20ppt&reading=52.0%20mS/cm&temperature=25C&instrument=conductivity&compensation=none", ""},
	{"getSaltMix", "GET", "/v1/mixes/salt?target=10%20ppt&volume=450L&temperature=26C&source=0.2%20ppt", ""},
	{"getBlend", "GET", "/v1/mixes/blend?water=10%20L,%200.2%20ppt,%2024%20C,%203%20dKH,%207.2%20pH&water=35%20ppt,%2026%20C,%208%20dKH,%208.2%20pH&target=10%20ppt", ""},
	{"getWaterChange", "GET", "/v1/mixes/water-change?volume=450L&salinity=8%20ppt&change=90L&target=9%20ppt&source=0.2%20ppt", ""},
	{"getTopOff", "GET", "/v1/mixes/top-off?volume=450L&salinity=10%20ppt&missing=12L&evaporation_per_day=3L&top_off_water=0.3%20ppt&period=30d", ""},
	{"getVesselVolume", "GET", "/v1/vessels/volume?shape=box&length=150cm&width=55cm&height=65cm&fill_height=58cm&glass=12mm&sand_depth=4cm&rock_mass=20kg", ""},
	{"getTransferPlan", "GET", planQuery, ""},
	{"getTransferPlan.hose", "GET", planQuery + "&line_tip_diameter=3mm&line_bore=4mm&line_length=1.5m&line_head=30cm&line_outlet_submerged=true&line_intake_depth=1%20cm", ""},
	{"getTransferPlan.cups", "GET", planQuery + "&route=cups", ""},
	{"getTransferPlan.ramp", "GET", "/v1/transfers/plan?sensitivity=moderate&from_salinity=5%20ppt&from_temperature=25C&to_salinity=15%20ppt&to_temperature=25C&home_tank_volume=450L&home_tank_source=0.2%20ppt&home_tank_evaporation_per_day=3L&instrument_kind=hydrometer", ""},
	{"getTransferPlan.staged", "GET", "/v1/transfers/plan?sensitivity=moderate&origin=captive&from_salinity=2%20ppt&from_temperature=25C&to_salinity=16%20ppt&to_temperature=26C&container_capacity=20L&container_aerated=true&line_drop_volume=0.05mL&holding_tanks_volume=100L&holding_tanks_source=0.2%20ppt&instrument_kind=refractometer", ""},
	{"getTransferPlan.combined", "GET", "/v1/transfers/plan?sensitivity=moderate&origin=captive&from_salinity=5%20ppt&from_temperature=25C&to_salinity=16%20ppt&to_temperature=25C&container_capacity=20L&container_aerated=true&line_drop_volume=0.05mL&home_tank_volume=200L&home_tank_source=0.2%20ppt&instrument_kind=refractometer", ""},
	{"getTransferPlan.overflow", "GET", "/v1/transfers/plan?sensitivity=hardy&origin=captive&from_salinity=2%20ppt&from_temperature=26C&to_salinity=10%20ppt&to_temperature=26C&container_capacity=20L&container_start_volume=8L&container_aerated=true&container_overflow=true&container_waste_capacity=10L&line_drop_volume=0.05mL&line_greatest_drip=20%20drops/s&line_settings=3&instrument_kind=refractometer", ""},
	{"planTransfer", "POST", "/v1/transfers/plan", planBody},
	{"listSpecies", "GET", "/v1/species?q=scat", ""},
	{"listSpecies.question", "GET", "/v1/species?q=what%20salinity%20for%20a%20figure%208%20puffer", ""},
	{"listSpecies.company", "GET", "/v1/species?keeps_with=scatophagus-argus:juvenile&group=fish&sort=max_length&limit=5", ""},
	{"getSpeciesGrowth", "GET", "/v1/species/scatophagus-argus/growth?stage=juvenile&salinity=6%20ppt&target=15%20ppt&grown_in=200d", ""},
	{"getConversion.species", "GET", "/v1/conversions?reading=2%20ppt&temperature=26C&species=scatophagus-argus&stage=adult", ""},
	{"getCompatibility.three", "GET", "/v1/species/compatibility?species=scatophagus-argus:juvenile:4&species=monodactylus-argenteus&species=carassius-auratus:2", ""},
	{"getSpecies", "GET", "/v1/species/scatophagus-argus", ""},
	{"getCompatibility", "GET", "/v1/species/compatibility?species=scatophagus-argus:juvenile&species=monodactylus-argenteus&salinity=10%20ppt&temperature=26C", ""},
	{"listMethods", "GET", "/v1/methods", ""},
}

func TestGolden(t *testing.T) {
	s := newService(t)
	for _, q := range questions {
		for _, form := range []struct{ extension, query string }{
			{"txt", "format=text"}, {"us.txt", "format=text&units=us"}, {"csv", "format=csv"}, {"comma.csv", "format=csv&decimal=comma"},
		} {
			if form.extension == "comma.csv" && strings.Contains(q.target+q.body, ".") {
				continue // its own numbers have points
			}
			joint := "?"
			if strings.Contains(q.target, "?") {
				joint = "&"
			}
			a := s.call(t, q.method, q.target+joint+form.query, q.body)
			if a.status != http.StatusOK {
				t.Errorf("%s: %d\n%s", q.name, a.status, a.body)
				continue
			}
			compare(t, filepath.Join("../testdata/golden", q.name+"."+form.extension), a.body)
		}
		if a := s.call(t, q.method, q.target, q.body); a.status != http.StatusOK {
			t.Errorf("%s as JSON: %d\n%s", q.name, a.status, a.body)
		}
	}
}

func compare(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s: got\n%s\nwant\n%s", path, got, want)
	}
}

// A plan by URL and the same plan posted get the same answer.
func TestPlanByURL(t *testing.T) {
	s := newService(t)
	byURL, posted := s.get(t, planQuery), s.call(t, http.MethodPost, "/v1/transfers/plan", planBody)
	if byURL.status != http.StatusOK || byURL.body != posted.body {
		t.Errorf("by URL %d\n%s\nposted %d\n%s", byURL.status, byURL.body, posted.status, posted.body)
	}
}

// A query may write a boolean and a number in more ways than JSON.
func TestPlanByURLInItsOwnSpelling(t *testing.T) {
	s := newService(t)
	for given, plain := range map[string]string{
		"container_aerated=1": "container_aerated=true", "container_heated=F": "container_heated=false", "count=04": "count=4", "count=%2B4": "count=4",
		"instrument_kind=tds&instrument_tds_factor=.64": "instrument_kind=tds&instrument_tds_factor=0.64",
	} {
		const of = "/v1/transfers/plan?sensitivity=hardy&from_salinity=2ppt&from_temperature=26C&to_salinity=4ppt&to_temperature=26C&"
		if a, want := s.get(t, of+given), s.get(t, of+plain); a.status != http.StatusOK || a.body != want.body {
			t.Errorf("%s: %d\n%s\n%s: %d\n%s", given, a.status, a.body, plain, want.status, want.body)
		}
	}
}

// Two containers filled at the same hour have different visits; the same plan again has the same.
func TestVisitsHaveNamesOfTheirOwn(t *testing.T) {
	s := newService(t)
	names := func(volume string) []string {
		a := s.get(t, "/v1/transfers/plan?sensitivity=hardy&from_salinity=2%20ppt&from_temperature=26C&to_salinity=10%20ppt&to_temperature=26C"+
			"&container_start_volume=6L&container_aerated=true&line_drop_volume=0.05mL&start=2026-12-01T09:00:00Z&format=ics&container_capacity="+volume)
		calendar, err := ical.NewDecoder(strings.NewReader(a.body)).Decode()
		if err != nil {
			t.Fatalf("%v in\n%s", err, a.body)
		}
		var list []string
		for _, e := range calendar.Events() {
			uid, err := e.Props.Text("UID")
			if err != nil {
				t.Error(err)
			}
			list = append(list, uid)
		}
		return list
	}
	small, again, large := names("20L"), names("20L"), names("60L")
	if len(small) == 0 || len(large) == 0 || !slices.Equal(small, again) {
		t.Fatalf("20 L: %v, again %v; 60 L: %v", small, again, large)
	}
	for _, uid := range large {
		if slices.Contains(small, uid) {
			t.Errorf("%s is a visit to both containers", uid)
		}
	}
}
