package server_test

import (
	"encoding/json"
	"net/http"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const (
	scats  = "/v1/transfers/plan?species=scatophagus-argus&stage=juvenile&origin=captive&count=4&mass=1g&from_temperature=26C&to_temperature=26C"
	bucket = "&container_capacity=20L&container_start_volume=6L&container_aerated=true"
	hardy  = "/v1/transfers/plan?sensitivity=hardy&origin=captive&from_temperature=26C&to_temperature=26C"
)

// spoken are questions whose answer in text is kept as a golden, beside those of the
// other tests: what a keeper is told, good or bad. The status is 200 where none is given.
var spoken = []struct {
	name, target string
	status       int
}{
	{"getConversion.refractometer", "/v1/conversions?reading=35%20ppt&temperature=15C&instrument=refractometer&scale=seawater&temperature_compensated=false", 0},
	{"getConversion.salt-refractometer", "/v1/conversions?reading=30%20ppt&temperature=25C&instrument=refractometer&scale=nacl", 0},
	{"getConversion.pen", "/v1/conversions?reading=21.5%20mS/cm&temperature=18C&instrument=conductivity&compensation=1.91%20%25/C", 0},
	{"getConversion.tds", "/v1/conversions?reading=9.5%20g/L&temperature=24C&instrument=tds&tds_factor=0.5", 0},
	{"getConversion.pointer", "/v1/conversions?reading=1.015%20SG&temperature=24C&instrument=pointer_hydrometer", 0},
	{"getConversion.brine", "/v1/conversions?reading=100%20g/kg&temperature=20C", 0},
	{"getConversion.goldfish", "/v1/conversions?reading=12%20ppt&temperature=20C&species=carassius-auratus", 0},
	{"getConversion.bare", "/v1/conversions?reading=1.010&temperature=25C", 400},
	{"getConversion.hot", "/v1/conversions?reading=20%20mS/cm&temperature=60C", 422},
	{"getCalibration.refractometer", "/v1/conversions/calibration?standard=35%20ppt&reading=36.4%20ppt&temperature=20C&instrument=refractometer", 0},
	{"getCalibration.hydrometer", "/v1/conversions/calibration?standard=35%20ppt&reading=1.024%20SG&temperature=25C&instrument=hydrometer", 0},
	{"getCalibration.broken", "/v1/conversions/calibration?standard=35%20ppt&reading=20%20ppt&temperature=20C&instrument=refractometer", 0},
	{"getSaltMix.own-salt", "/v1/mixes/salt?target=1.010%20SG&volume=120gal&temperature=77F&product_water_content=15%25", 0},
	{"getSaltMix.small", "/v1/mixes/salt?target=2%20ppt&volume=8L&temperature=24C", 0},
	{"getSaltMix.trial", "/v1/mixes/salt?target=15%20ppt&volume=60L&calibration_batch_salt=40g&calibration_batch_water=1L&calibration_batch_reading=34%20ppt&temperature=25C", 0},
	{"getSaltMix.table-salt", "/v1/mixes/salt?target=10%20ppt&volume=100L&salt_kind=nacl", 400},
	{"getSaltMix.two-faults", "/v1/mixes/salt?target=35&volume=100%20galons", 400},
	{"getSaltMix.fresher-than-source", "/v1/mixes/salt?target=1%20ppt&volume=100L&source=5%20ppt", 422},
	{"getBlend.unreachable", "/v1/mixes/blend?water=10%20L,%200.2%20ppt,%2024%20C&water=35%20ppt,%2026%20C&target=40%20ppt", 422},
	{"getBlend.two", "/v1/mixes/blend?water=20%20L,%205%20ppt,%2024%20C&water=5%20L,%2035%20ppt,%2028%20C", 0},
	{"getWaterChange.lower", "/v1/mixes/water-change?volume=200L&salinity=15%20ppt&target=12%20ppt&new_water=0.2%20ppt", 0},
	{"getWaterChange.steps", "/v1/mixes/water-change?volume=300L&salinity=2%20ppt&target=12%20ppt&new_water=35%20ppt&greatest_change=2%20g/kg", 0},
	{"getTopOff.salty", "/v1/mixes/top-off?volume=450L&salinity=10%20ppt&evaporation_per_day=3L&top_off_water=5%20ppt&period=30d", 0},
	{"getVesselVolume.bucket", "/v1/vessels/volume?shape=bucket&top_diameter=30cm&bottom_diameter=26cm&height=32cm", 0},
	{"getVesselVolume.cylinder", "/v1/vessels/volume?shape=cylinder&diameter=40cm&height=60cm&fill_height=50cm", 0},
	{"getTransferPlan.direct", hardy + "&from_salinity=2ppt&to_salinity=4ppt", 0},
	{"getTransferPlan.guessed-drop", scats + bucket + "&from_salinity=2ppt&to_salinity=10ppt", 0},
	{"getTransferPlan.down", hardy + "&count=3&mass=1g" + "&container_capacity=40L&container_start_volume=12L&container_aerated=true&line_drop_volume=0.05mL&from_salinity=20ppt&to_salinity=12ppt&instrument_kind=hydrometer", 0},
	{"getTransferPlan.visits", hardy + "&container_capacity=20L&container_start_volume=6L&container_aerated=true&line_drop_volume=0.05mL&from_salinity=2ppt&to_salinity=10ppt&visits_every=4h", 0},
	{"getTransferPlan.cold-bag", hardy + bucket + "&from_salinity=2ppt&to_salinity=10ppt&from_hours_in_bag=12h&count=3&mass=2g", 200},
	{"getTransferPlan.sick", scats + bucket + "&condition=sick&from_salinity=2ppt&to_salinity=10ppt", 422},
	{"getTransferPlan.goldfish", "/v1/transfers/plan?species=carassius-auratus&from_salinity=0.2ppt&from_temperature=20C&to_salinity=12ppt&to_temperature=20C" + bucket, 422},
	{"getTransferPlan.no-air", hardy + "&container_capacity=20L&container_aerated=false&from_salinity=2ppt&to_salinity=10ppt", 422},
	{"getTransferPlan.too-many", hardy + bucket + "&count=60&mass=5g&line_drop_volume=0.05mL&from_salinity=2ppt&to_salinity=10ppt", 422},
	{"getTransferPlan.too-far", "/v1/transfers/plan?sensitivity=moderate&from_temperature=25C&to_temperature=25C&from_salinity=2ppt&to_salinity=30ppt" + bucket, 422},
	{"getTransferPlan.warm", hardy + bucket + "&line_drop_volume=0.05mL&from_salinity=2ppt&to_salinity=8ppt&room_temperature=24C", 0},
	{"listSpecies.nothing", "/v1/species?q=zzqqxx", 0},
	{"listSpecies.misspelt", "/v1/species?q=spoted%20scat", 0},
	{"getSpecies.puffer", "/v1/species/dichotomyctere-nigroviridis", 0},
	{"getSpecies.unknown", "/v1/species/unicorn", 404},
	{"getCompatibility.two", "/v1/species/compatibility?species=scatophagus-argus:juvenile&species=carassius-auratus", 0},
}

// What is said in text, as goldens to be read.
func TestGoldenText(t *testing.T) {
	s := newService(t)
	for _, q := range spoken {
		want := q.status
		if want == 0 {
			want = http.StatusOK
		}
		a := s.get(t, q.target+"&format=text")
		if !strings.Contains(q.target, "?") {
			a = s.get(t, q.target+"?format=text")
		}
		if a.status != want || !strings.HasPrefix(a.header.Get("Content-Type"), "text/plain") {
			t.Errorf("%s: %d as %s, want %d\n%s", q.name, a.status, a.header.Get("Content-Type"), want, a.body)
			continue
		}
		compare(t, filepath.Join("../testdata/golden", q.name+".txt"), a.body)
	}
	kept, err := filepath.Glob("../testdata/golden/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	kept = slices.DeleteFunc(kept, func(name string) bool { return strings.HasSuffix(name, ".us.txt") })
	if len(kept) < 60 {
		t.Errorf("%d answers in text are kept, want 60", len(kept))
	}
}

// organising are warnings of a plan that do not concern the animals' welfare, so its text may
// leave them to the full answer.
var organising = []string{"drops_set_the_time", "stream_is_faster", "cups_are_faster", "one_filling_leaves", "visits_take_longer", "drop_volume_unlike_tip", "intake_hardly_by_hand", "intake_not_checked", "too_fast_to_count"}

var numbered = regexp.MustCompile(`(?m)^\d+\. `)

// toldPlan is what the test reads of a plan.
type toldPlan struct {
	Route              string
	Cautions, Warnings []struct{ Code, Text string }
}

// A drip of four acts is told in twelve lines at the most, each further act in one more,
// and whatever the length no caution for the animals is dropped.
func TestPlanTextIsShortAndWhole(t *testing.T) {
	t.Parallel()
	s := newService(t)
	var targets []string
	for _, q := range questions {
		if strings.HasPrefix(q.name, "getTransferPlan") {
			targets = append(targets, q.target)
		}
	}
	for _, q := range spoken {
		if strings.HasPrefix(q.name, "getTransferPlan") {
			targets = append(targets, q.target)
		}
	}
	for _, to := range []string{"6ppt", "9ppt", "12ppt"} {
		for _, more := range []string{"", "&line_drop_volume=0.05mL&line_settings=4&prefer=time", "&line_drop_volume=0.05mL&prefer=water",
			"&line_drop_volume=0.05mL&room_temperature=20C&limits_per_hour=2%20g/kg/h", "&line_drop_volume=0.05mL&source_tank_volume=450L&source_tank_surface=7500cm2&line_bore=4mm&line_length=1.5m&line_head=30cm"} {
			targets = append(targets, scats+bucket+"&from_salinity=2ppt&to_salinity="+to+more)
		}
	}
	plans, drips := 0, 0
	for _, target := range some(targets) {
		a := s.get(t, target)
		if a.status != http.StatusOK {
			continue
		}
		var p toldPlan
		if err := json.Unmarshal([]byte(a.body), &p); err != nil {
			t.Fatal(err)
		}
		text := s.get(t, target+"&format=text").body
		plans++
		p.keepsItsCautions(t, target, text)
		if p.Route == "drip" {
			drips++
			isShort(t, target, text)
		}
	}
	if !testing.Short() && (plans < 20 || drips < 15) {
		t.Errorf("only %d plans, %d drips", plans, drips)
	}
}

func (p toldPlan) keepsItsCautions(t *testing.T, target, text string) {
	t.Helper()
	for _, n := range p.Warnings {
		if !slices.Contains(organising, n.Code) && !strings.Contains(text, n.Text) {
			t.Errorf("%s: the warning %s is dropped:\n%s", target, n.Code, text)
		}
	}
	for _, n := range p.Cautions {
		if slices.Contains([]string{"stop_on_distress", "keep_a_way_back", "keep_litres_as_way_back", "hold_before_more", "without_air", "life_support_not_planned", "move_under_water", "limit_given", "limit_looser", "hazard_venomous"}, n.Code) && !strings.Contains(text, n.Text) {
			t.Errorf("%s: the caution %s is dropped:\n%s", target, n.Code, text)
		}
	}
}

func isShort(t *testing.T, target, text string) {
	t.Helper()
	lines, acts := strings.Count(text, "\n"), len(numbered.FindAllString(text, -1))
	if most := 12 + max(0, acts-4); acts == 0 || lines > most {
		t.Errorf("%s: %d lines for %d acts, want %d at the most\n%s", target, lines, acts, most, text)
	}
	for _, want := range []string{"Stop if they gasp", "The water should then read", "Never start a siphon by mouth"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s does not say %q:\n%s", target, want, text)
		}
	}
	guessed := !strings.Contains(target, "line_drop_volume")
	if said := strings.Contains(text, "drops were guessed"); said != guessed {
		t.Errorf("%s: the drop is guessed: %v, and that is said: %v", target, guessed, said)
	}
}
