package server_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"saltlock/api"
)

// bare is a move of hardy animals, and dripped the same in a bucket.
const (
	bare    = "sensitivity=hardy&from_salinity=2 ppt&from_temperature=25 C&to_salinity={8..13} ppt&to_temperature=25 C&container_aerated=true"
	dripped = bare + "&container_capacity=20 L&container_start_volume=6 L"
)

// provoked are requests for each code of a refusal; a later value of a name replaces an earlier
// one, and {a..b} is a number between.
var provoked = map[string]string{
	"no_air_stone":                   dripped + "&container_aerated=false",
	"gap_over_at_once":               dripped + "&route=direct",
	"over_24_hours":                  dripped + "&to_salinity={16..30} ppt",
	"day_used_up":                    dripped + "&recent_change={8..11} g/kg",
	"tolerance_over_at_once":         dripped + "&tolerance={5.5..7} g/kg",
	"tolerance_of_zero":              dripped + "&tolerance=0 g/kg",
	"tolerance_out_of_reach":         dripped + "&container_capacity={6.2..6.5} L&container_freeboard=0 L&tolerance={0.01..0.2} g/kg",
	"overflow_never_ends":            dripped + "&container_overflow=true&tolerance=0 g/kg",
	"marks_out_of_reach":             bare + "&tolerance=0.0001 g/kg",
	"overflow_needs_volume":          bare + "&container_overflow=true",
	"container_not_measured":         bare + "&route=cups",
	"start_leaves_no_room":           dripped + "&container_start_volume={18.2..19.9} L",
	"start_below_least":              dripped + "&container_least_volume={6.5..12} L",
	"overflow_above_the_rim":         dripped + "&container_overflow=true&container_start_volume={18.2..19.9} L",
	"freeboard_takes_all":            dripped + "&container_freeboard={20..25} L",
	"least_drip_above_greatest":      dripped + "&line_least_drip={5..9} drops/s",
	"needs_slower_drip":              dripped + "&container_capacity=2 L&container_start_volume=0.5 L&line_least_drip={2..3.9} drops/s",
	"temperature_over_24_hours":      dripped + "&source_tank_volume=450 L&from_temperature=18 C&to_temperature={26..28} C",
	"temperature_over_24_hours_down": dripped + "&source_tank_volume=450 L&from_temperature=29 C&to_temperature={19..20} C",
	"species_decides_temperature":    dripped + "&from_temperature=25 C&to_temperature={2..12} C",
	"room_changes_too_fast":          dripped + "&container_capacity=4 L&container_start_volume=1 L&room_temperature={5..9} C&count=1&mass=0.1 g",
	"too_much_ammonia":               dripped + "&count={60..90}&mass={20..30} g",
	"too_much_ammonia_in_drops":      dripped + "&count=6&mass={2.5..3.5} g",
	"head_runs_out":                  dripped + "&container_capacity=60 L&container_start_volume=20 L&source_tank_volume=100 L&source_tank_surface=2000 cm2&line_head={2..6} cm&line_greatest_drip=40 drops/s",
	"line_passes_too_little":         dripped + "&source_tank_volume=100 L&source_tank_surface=2500 cm2&line_bore=0.{5..7} mm&line_length={3..5} m&line_head=10 cm",
	"intake_uncovered":               dripped + "&source_tank_volume=60 L&source_tank_surface={500..900} cm2&line_head=60 cm&line_intake_depth=0.{1..5} cm",
	"intake_below_bottom":            dripped + "&source_tank_volume=60 L&source_tank_surface=2400 cm2&line_head=60 cm&line_intake_depth={30..50} cm",
	"intake_above_water":             dripped + "&source_tank_volume=60 L&line_head=60 cm&line_intake_depth=0 cm",
	"source_runs_dry":                dripped + "&source_tank_volume={1..4} L",
	"quiet_hours_never_end":          dripped + "&visits_quiet_from={10..23}:00&visits_quiet_until=same&start=2026-12-01T09:00:00Z",
	"no_cups_with_overflow":          dripped + "&container_overflow=true&route=cups",
	"no_visits_with_overflow":        dripped + "&container_overflow=true&visits_every={1..4} h",
	"waste_bucket_too_small":         dripped + "&container_overflow=true&container_waste_capacity=0.{1..5} L",
	"stages_not_needed":              dripped + "&route=staged",
	"too_many_stages":                dripped + "&route=staged&to_salinity=3{2..5} ppt&sensitivity=delicate",
	"needs_more_holding_tanks":       dripped + "&route=staged&to_salinity={28..35} ppt&holding_tanks_volume=100 L&holding_tanks_count={0..1}",
	"stage_below_the_source":         dripped + "&route=staged&to_salinity={16..25} ppt&holding_tanks_volume=100 L&holding_tanks_source={20..30} ppt",
	"ramp_not_needed":                dripped + "&route=combined&home_tank_volume=200 L",
	"nothing_to_ramp":                bare + "&route=ramp&home_tank_volume={100..500} L&to_salinity=2 ppt",
	"ramp_below_the_tap":             bare + "&route=ramp&from_salinity=10 ppt&to_salinity=0.{1..3} ppt&home_tank_volume=200 L&home_tank_source={1..4} ppt",
	"bag_is_no_home_tank":            dripped + "&route=ramp&home_tank_volume=200 L&from_hours_in_bag={10..50} min",
	"no_step_while_sick":             dripped + "&condition=sick",
	"no_move_while_sick":             bare + "&from_salinity=5 ppt&to_salinity=5 ppt&condition=sick",
	"no_step_while_medicated":        dripped + "&condition=medicated",
	"no_step_just_shipped":           dripped + "&condition=just_shipped",
	"has_no_shell":                   dripped + "&species=scatophagus-argus&condition=moulting",
	"no_step_while_moulting":         dripped + "&condition=moulting",
	"short_spell_is_a_dip":           dripped + "&species=scatophagus-argus&stage=adult&from_salinity=35 ppt&to_salinity=0.2 ppt&stay={10..60} min",
	"target_below_band":              dripped + "&species=sphoeroides-testudineus&stage=adult&from_salinity=10 ppt&to_salinity={1..3} ppt",
	"target_below_kept":              dripped + "&species=amphiprion-ocellaris&from_salinity=34 ppt&to_salinity={17..22} ppt",
	"target_below_as_dip":            dripped + "&species=amphiprion-ocellaris&from_salinity=34 ppt&to_salinity={1..12} ppt",
	"target_above_band":              dripped + "&species=pangasianodon-hypophthalmus&stage=juvenile&from_salinity=5 ppt&to_salinity={18..22} ppt",
	"target_above_kept":              dripped + "&species=corydoras-paleatus&from_salinity=0.2 ppt&to_salinity={6..8} ppt",
	"target_above_as_dip":            dripped + "&species=corydoras-paleatus&from_salinity=0.2 ppt&to_salinity={20..34} ppt",
	"parr_not_to_sea":                dripped + "&species=salmo-salar&stage=juvenile&from_salinity=0.2 ppt&to_salinity={20..33} ppt&from_temperature=12 C&to_temperature=12 C",
	"grown_stay_fresh":               dripped + "&species=caridina-multidentata&stage=adult&from_salinity=0.2 ppt&to_salinity={25..33} ppt",
	"larvae_go_lower":                dripped + "&species=caridina-multidentata&stage=larva&from_salinity=0.2 ppt&to_salinity={29..34} ppt",
	"larvae_not_known":               dripped + "&species=vittina-natalensis&stage=larva&from_salinity=0.2 ppt&to_salinity={25..33} ppt",
	"land_hermit_two_dishes":         dripped + "&species=coenobita-clypeatus&from_salinity=10 ppt&to_salinity={20..33} ppt",
	"land_no_filling":                dripped + "&species=periophthalmus-barbarus&from_salinity=5 ppt&to_salinity={12..15} ppt",
	"nitrite_in_new_water":           dripped + "&to_nitrite={1..4} mg/L NO2",
	"dechlorinate_before":            dripped + "&to_conditioned=false",
	"should_not_stay_below":          dripped + "&species=scatophagus-argus&from_salinity=2 ppt&to_salinity={8..9} ppt&container_aerated=false",
	"water_holds_too_little_oxygen":  dripped + "&count=2&mass=1 g&limits_oxygen={9..12} mg/L",
	"water_brings_ammonia":           dripped + "&count=1&mass=1 g&from_ph=7&from_tan={3..6} mg/L N",
	"cool_them_first":                dripped + "&species=scatophagus-argus&from_temperature={37..39} C&to_temperature=26 C",
	"warm_them_first":                dripped + "&species=scatophagus-argus&from_temperature={10..14} C&to_temperature=26 C",
	"target_too_cool":                dripped + "&species=scatophagus-argus&from_temperature=26 C&to_temperature=17 C",
	"target_winter_cold":             dripped + "&species=carassius-auratus&from_salinity=2 ppt&to_salinity=2 ppt&from_temperature=22 C&to_temperature={3..7} C",
	"target_too_hot":                 dripped + "&species=scatophagus-argus&from_temperature=26 C&to_temperature=34 C",
	"target_too_hot_for_shy":         dripped + "&species=hippocampus-kuda&from_salinity=35 ppt&to_salinity=35 ppt&from_temperature=26 C&to_temperature=32 C",
	"target_too_warm":                dripped + "&species=scatophagus-argus&from_temperature=26 C&to_temperature={36..39} C",
	"target_too_cold":                dripped + "&species=scatophagus-argus&from_temperature=26 C&to_temperature={8..12} C",
	"leave_own_water_first":          dripped + "&from_tan={10..30} mg/L N&from_ph=8.{1..4}",
	"new_water_poisonous":            dripped + "&to_tan={4..9} mg/L N&to_ph=8.{2..6}",
	"own_ph_assumed":                 dripped + "&from_tan={4..9} mg/L N",
	"tank_above_gate":                dripped + "&from_tan=1 mg/L N&route=ramp&home_tank_volume={100..200} L&home_tank_source=0.2 ppt",
	"moults_in_ammonia":              dripped + "&species=lysmata-amboinensis&from_salinity=35 ppt&to_salinity=33 ppt&condition=moulting&from_tan={10..30} mg/L N&from_ph=8.{1..4}",
	"moults_in_nitrite":              dripped + "&species=lysmata-amboinensis&from_salinity=35 ppt&to_salinity=33 ppt&condition=moulting&from_nitrite={1..4} mg/L N",
	"clean_water_cooler":             dripped + "&species=scatophagus-argus&from_temperature={35..38} C&to_temperature=26 C&from_tan={10..30} mg/L N",
	"clean_water_warmer":             dripped + "&species=scatophagus-argus&from_temperature={10..14} C&to_temperature=26 C&from_nitrite={1..4} mg/L N",
	"leave_nitrite_first":            dripped + "&from_nitrite={1..4} mg/L N",
	"new_water_ph_assumed":           dripped + "&to_tan={4..9} mg/L N",
	"new_water_ph":                   dripped + "&to_ph=4.{1..8}",
	"too_salty_for_plans":            dripped + "&from_salinity={43..60} ppt&to_salinity=35 ppt",
	"too_long_without_food":          dripped + "&feed=jug&limits_at_once=0.1 g/kg&tolerance=0.1 g/kg&limits_per_hour={4..5} g/kg/h",
	"too_long_without_food_in_drops": dripped + "&line_greatest_drip=0.{1..3} drops/s",
	"too_many_charges":               dripped + "&feed=jug&limits_at_once=0.1 g/kg&tolerance=0.1 g/kg&limits_per_hour=5 g/kg/h&line_greatest_drip={40..60} drops/s",
	"cups_too_long":                  dripped + "&route=cups&visits_every={10..14} h",
	"cups_change_too_fast":           dripped + "&route=cups&container_capacity=0.5 L&container_freeboard=0 L&container_start_volume={50..55} mL&sensitivity=delicate&to_salinity=3.{7..9} ppt",
	"visits_do_not_suffice":          dripped + "&visits_every={13..15} h&to_salinity={10..12} ppt&line_least_drip=3.{5..7} drops/s",
	"search_ended_without_a_plan":    dripped + "&line_greatest_drip=0.2 drops/s&count=2&mass=1 g&to_salinity=10 ppt",
	"search_ended_without_cups":      dripped + "&container_capacity=200 L&container_start_volume={58..62} L&count=1&mass=1 g&route=cups&to_salinity={10..13} ppt",
}

// withoutOffer are the codes whose refusals need no offer, and why.
var withoutOffer = map[string]string{
	"no_step_while_sick": "a vet decides", "no_move_while_sick": "a vet decides", "no_step_while_medicated": "the treatment ends first", "no_step_just_shipped": "a day of rest", "no_step_while_moulting": "the shell hardens first", "has_no_shell": "only the keeper knows how it is",
	"target_below_kept": "no water to keep it in", "target_above_kept": "no water to keep it in",
	"warm_them_first": "the keeper must do it, and no field does", "cool_them_first": "the keeper must do it, and no field does",
	"species_decides_temperature": "only the keeper knows",
	"target_too_cold":             "no water to keep it in", "target_too_warm": "no water to keep it in",
	"moults_in_ammonia": "the keeper must do it, and no field does", "moults_in_nitrite": "the keeper must do it, and no field does", "moults_before_ph_rises": "the keeper must do it, and no field does",
	"clean_water_warmer": "the keeper must do it, and no field does", "clean_water_cooler": "the keeper must do it, and no field does",
	"new_water_poisonous": "the water is to be changed first", "new_water_ph_assumed": "to be measured", "own_ph_assumed": "to be measured", "tank_above_gate": "the filter takes its time", "leave_nitrite_first": "the keeper must do it, and no field does", "leave_own_water_first": "the keeper must do it, and no field does",
	"new_water_ph": "the water is to be corrected first", "too_salty_for_plans": "the keeper must do it, and no field does",
	"target_below_band": "a smaller version of a lethal idea is none", "target_above_band": "as below", "target_below_as_dip": "a treatment", "short_spell_is_a_dip": "a treatment", "target_above_as_dip": "a treatment",
	"parr_not_to_sea": "they are no smolts yet", "grown_stay_fresh": "they belong in fresh water", "larvae_not_known": "a guess", "land_hermit_two_dishes": "no move at all",
	"nitrite_in_new_water": "the filter takes its time", "dechlorinate_before": "the keeper must do it, and no field does",
	"should_not_stay_below": "how long they stay is the keeper's", "should_not_stay_above": "how long they stay is the keeper's",
	"container_not_measured": "only the keeper can measure", "overflow_needs_volume": "only the keeper can measure",
	"water_holds_too_little_oxygen": "cooler water is to be made first", "water_brings_ammonia": "cleaner water is to be made first", "acidity_would_help": "to be measured",
	"source_runs_dry": "only the keeper knows how much there can be", "ramp_below_the_tap": "only the keeper knows other water", "stage_below_the_source": "only the keeper knows other water",
	"nothing_to_ramp": "there is nothing to do", "ramp_too_long": "no field makes it shorter", "too_many_stages": "their own tank is to be changed, which only the keeper knows",
	"combined_would_do": "takes the volume of their tank", "ramp_would_do": "takes the volume of their tank", "quiet_hours_never_end": "only the keeper knows when they end",
	"too_long_without_food": "the limits themselves make it last", "cups_too_long": "only the keeper knows when to come oftener", "cups_change_too_fast": "no container that was tried has room for its cups", "too_little_oxygen_for_all": "which to leave behind is the keeper's", "too_much_ammonia_of_all": "which to leave behind is the keeper's",
}

// refusals is how many refusals are asked for; .ci/soak asks for the full number.
func refusals(t *testing.T) int {
	if given := os.Getenv("SALTLOCK_OFFERS"); given != "" {
		n, err := strconv.Atoi(given)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	return len(provoked)
}

// leastEach is how often each code must occur when many refusals are asked for.
const leastEach = 10

// The first offer of a refusal, taken up as a program would, leads to a plan; codes without an
// offer are in a list with the reason. The same request is refused in the same order.
func TestOffers(t *testing.T) {
	t.Parallel()
	s, random, met := newService(t), rand.New(rand.NewPCG(20261128, 13)), map[string]int{}
	most, asked, each := refusals(t), 0, 0
	if most >= 500 {
		each = leastEach
	}
	short := func(code string) bool { return met[code] < each }
	for round := 0; asked < most || round < 2*each && slices.ContainsFunc(slices.Collect(maps.Keys(provoked)), short); round++ {
		for _, code := range slices.Sorted(maps.Keys(provoked)) {
			if asked >= most && most > len(provoked) && !short(code) {
				continue
			}
			q := questionOf(t, random, provoked[code])
			if s.refusal(t, code, q, met) {
				asked++
			} else if round == 0 {
				t.Errorf("%s: no refusal of %v", code, q)
				asked++
			}
		}
	}
	for _, code := range slices.Sorted(maps.Keys(met)) {
		t.Logf("%4d %s", met[code], code)
		if provoked[code] != "" && short(code) {
			t.Errorf("%s was met %d times", code, met[code])
		}
	}
	for code := range provoked {
		if met[code] == 0 {
			t.Errorf("%s was never met", code)
		}
	}
	t.Logf("%d refusals", asked)
}

// refusal asks, counts the codes, and takes up the first offer.
func (s *service) refusal(t *testing.T, code string, q url.Values, met map[string]int) bool {
	t.Helper()
	status, body := s.plainly(t, "/v1/transfers/plan?"+q.Encode())
	if status != http.StatusUnprocessableEntity {
		return false
	}
	var told api.Problem
	if err := json.Unmarshal([]byte(body), &told); err != nil || told.Errors == nil {
		t.Fatalf("%s: %s", code, body)
	}
	excused, offered := "", false
	for _, f := range *told.Errors {
		met[f.Rule]++
		if withoutOffer[f.Rule] != "" {
			excused = f.Rule
		}
		if f.Offer == nil || offered {
			continue
		}
		offered = true
		for _, c := range *f.Offer {
			if q.Set(c.Where, c.Value); c.Value == "" {
				q.Del(c.Where)
			}
		}
		if status, after := s.plainly(t, "/v1/transfers/plan?"+q.Encode()); status != http.StatusOK {
			t.Errorf("%s: the offer %v of %s leads to %d %s\n\t%s", code, *f.Offer, f.Rule, status, after, q.Encode())
		}
	}
	if !offered && excused == "" {
		t.Errorf("%s: nothing is offered: %s\n\t%s", code, body, q.Encode())
	}
	return true
}

var between = regexp.MustCompile(`\{([0-9.]+?)\.\.([0-9.]+)\}`)

// questionOf writes a request with random numbers.
func questionOf(t *testing.T, random *rand.Rand, form string) url.Values {
	t.Helper()
	q := url.Values{}
	for pair := range strings.SplitSeq(form, "&") {
		name, value, _ := strings.Cut(pair, "=")
		q.Set(name, between.ReplaceAllStringFunc(value, func(s string) string {
			m := between.FindStringSubmatch(s)
			lo, _ := strconv.ParseFloat(m[1], 64)
			hi, _ := strconv.ParseFloat(m[2], 64)
			if !strings.Contains(m[1]+m[2], ".") {
				return fmt.Sprintf("%0*d", len(m[1]), int(lo)+random.IntN(int(hi-lo)+1))
			}
			return strconv.FormatFloat(lo+random.Float64()*(hi-lo), 'f', 2, 64)
		}))
	}
	if q.Get("visits_quiet_until") == "same" {
		q.Set("visits_quiet_until", q.Get("visits_quiet_from"))
	}
	if q.Get("species") != "" {
		q.Del("sensitivity")
	}
	return q
}
