package server

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
	"saltlock/server/render"
)

// How long the text of a plan may be: so many lines for a drip with so many acts, and one more for
// each further act.
const (
	planLineLimit = 12
	planActs      = 4
)

// planLines writes a plan for the person who carries it out: what happens, what to do before, the
// steps with what the instrument should read, when to stop, what else the animals need, what was
// guessed, other ways. What does not fit is in the full answer, but cautions for the animals
// always stay. If there is a clock, it gives the time of each step.
func planLines(v render.Voice, p *transfer.Plan, clock func(hours float64) time.Time) []string {
	steps := planSteps(v, p)
	l := planHead(v, p, cmp.Or(p.Visits, len(steps)))
	steps = slices.Concat(warmthSteps(p, true), steps, warmthSteps(p, false))
	l.join(slices.Concat(pick(p.Cautions, firstCautions...), pick(p.Warnings, beforehand...)))
	for i, s := range steps {
		if s.after.Value > 0 && clock != nil {
			l.add(v, "step_at", i+1, timeOf(v, clock, float64(s.after.Value)), s.after, strings.Join(s.texts, " "))
		} else if s.after.Value > 0 {
			l.add(v, "step_later", i+1, s.after, strings.Join(s.texts, " "))
		} else {
			l.add(v, "step", i+1, strings.Join(s.texts, " "))
		}
	}
	l.join(pick(p.Cautions, stopping...))
	animals, guessed, people := planCautions(p), pick(p.Assumptions, guesses...), planSafety(p)
	most := planLineLimit + max(0, len(steps)-planActs)
	rest := min(len(guessed), 1) + min(len(people), 1)
	if len(l)+len(animals)+rest <= most {
		l = append(l, animals...)
	} else {
		l.join(animals)
	}
	l.join(guessed)
	l.join(people)
	others := otherWays(v, p)
	return append(l, others[:max(0, min(len(others), most-len(l)))]...)
}

// timeOf is the time of day, with the day if it is not the day of the start.
func timeOf(v render.Voice, clock func(hours float64) time.Time, hours float64) string {
	at := clock(hours)
	if at.YearDay() != clock(0).YearDay() {
		return v.Weekday(at) + at.Format(" 15:04")
	}
	return at.Format("15:04")
}

// join puts sentences on one line.
func (l *lines) join(sentences []string) {
	if len(sentences) > 0 {
		*l = append(*l, strings.Join(sentences, " "))
	}
}

// pick returns the sentences of some codes, in the order of the codes.
func pick(notes []quantity.Note, codes ...quantity.Code) []string {
	var texts []string
	for _, code := range codes {
		for _, n := range notes {
			if n.Code == code && !slices.Contains(texts, n.Text) { // each stretch of a drip may say the same
				texts = append(texts, n.Text)
			}
		}
	}
	return texts
}

// What to do or know before the first step, when to stop, and which assumptions the keeper should
// check.
var (
	beforehand = []quantity.Code{"acts_at_night", "runs_through_night", "start_by_day", "quiet_hours_would_do", "alarm_for_each_act", "alarm_or_clamp",
		"bag_outside_band", "no_bubbles", "runs_through_night_bell", "bag_overheated_bell", "target_rather_warm_bell", "bag_chilled", "bag_overheated", "separate_containers", "company_species_only", "company_eats_small", "company_eats_fish", "company_bites", "company_one_alone",
		"keep_heated", "keep_cool", "ph_rises_at_once", "bask_out_of_bag", "rescue_by_hours_coral", "rescue_by_hours_bell",
		"winters_there", "salinity_in_winter",
		"own_water_poisonous", "own_water_has_nitrite", "own_ph_assumed", "own_water_turns", "ph_apart", "ph_rises_with_it", "target_cool", "target_warm", "target_rather_warm", "target_warm_for_shy", "start_outside_band", "rescue_by_time", "rescue_by_hours", "nitrite_where_they_are", "start_unrecorded", "start_below_preferred", "start_above_preferred", "should_not_stay_below", "should_not_stay_above",
		"passage_not_home", "land_box", "larvae_by_day", "are_they_smolts", "closed_snail", "ramp_water_like_tank", "ramp_stock", "mature_filters_first", "filter_gate", "filter_going_up", "top_off_between", "source_level_falls", "cups_from_source", "waste_bucket_needed", "marks_by_jug", "marks_new_water", "waste_bucket_fills"}
	firstCautions = []quantity.Code{"new_water_poisonous", "nitrite_in_new_water", "dechlorinate_before", "new_water_ph", "target_below_band", "target_below_kept", "target_above_band", "target_above_kept", "target_too_cold", "target_too_warm", "species_decides_temperature",
		"bag_tank_unfit", "bag_float", "bag_tank_saltier", "bag_tank_fresher", "life_support_not_planned", "life_support_not_planned_fed",
		"bag_tank_saltier_bell", "bag_tank_fresher_bell", "life_support_not_planned_bell"}
	stopping = []quantity.Code{"marks_pace", "marks_jug", "no_way_back", "no_way_back_at_signs", "stop_on_distress", "stop_at_signs", "stop_on_wilting", "vet_for_the_sick", "keep_a_way_back", "bag_water_stays_out", "keep_litres_as_way_back", "hold_before_more", "hold_after_ramp"}
	guesses  = []quantity.Code{"volume_not_known", "capacity_assumed", "drop_volume_assumed", "cups_assumed", "drop_volume_of_tip", "called_hardier", "sensitivity_assumed", "thin_as_delicate", "life_support_assumed"}
)

// emergencies are what a plan begins with.
var emergencies = []quantity.Code{"too_cold_now", "too_warm_now", "too_warm_now_bell"}

// saltless are the reasons of plans whose matter is not the salinity.
var saltless = []quantity.Code{"waters_alike", "direct_within_tolerance"}

// otherLines say what sets the time of a drip, and which ways need no counted drops.
var otherLines = []quantity.Code{"drops_set_the_time", "stream_is_faster", "cups_are_faster"}

// openLine says what a failed valve lets in.
var openLine = []quantity.Code{"open_line_fills", "open_line_stops_in_time", "open_line_evens_out"}

// housekeeping are warnings that do not concern the animals' welfare: the steps say them already,
// or the full answer does.
var housekeeping = []quantity.Code{"one_filling_leaves", "visits_take_longer", "drop_volume_unlike_tip",
	"intake_hardly_by_hand", "intake_not_checked", "too_fast_to_count", "drops_set_the_time", "stream_is_faster", "cups_are_faster"}

// planCautions are the cautions for the animals' sake.
func planCautions(p *transfer.Plan) []string {
	texts := pick(p.Cautions, "dechlorinate_first", "bag_water_away", "bag_aftercare", "stuck_valve_passes_a_step", "stuck_valve_stays_within_a_step", "stuck_valve_empties_jug", "stuck_valve_floods", "stuck_valve_floods_after", "stuck_valve_floods_overflow")
	texts = append(texts, pick(p.Warnings, openLine...)...)
	texts = append(texts, pick(p.Cautions, "limit_given", "without_air", "without_air_bell", "move_under_water", "carry_puffer", "carry_spiny", "carry_seahorse", "carry_jellyfish", "carry_moist", "cover_it")...)
	texts = append(texts, pick(p.If, "if_drip_fast")...)
	for _, n := range p.Warnings {
		if !slices.Contains(housekeeping, n.Code) && !slices.Contains(beforehand, n.Code) && !slices.Contains(emergencies, n.Code) && !slices.Contains(openLine, n.Code) {
			texts = append(texts, n.Text)
		}
	}
	return texts
}

// planSafety are the cautions for the keeper's sake.
func planSafety(p *transfer.Plan) []string {
	texts := pick(p.Cautions, "never_siphon_by_mouth", "lift_with_care", "mains_near_salt_water")
	for _, n := range p.Cautions {
		if strings.HasPrefix(string(n.Code), "hazard_") {
			texts = append(texts, n.Text)
		}
	}
	return texts
}

// planHead says in one line what happens, and then why.
func planHead(v render.Voice, p *transfer.Plan, visits int) lines {
	var l lines
	l.join(append(pick(p.Cautions, "limit_looser"), pick(p.Warnings, emergencies...)...))
	if p.Route == transfer.Direct && p.Temperature != nil && slices.Contains(saltless, p.Reason.Code) {
		l.add(v, "plan_temperature", p.Temperature.From, p.Temperature.To)
	}
	from, to := p.Phases[0].FromSalinity, p.Phases[len(p.Phases)-1].ToSalinity
	switch p.Route {
	case transfer.Drip:
		l.add(v, "plan_drip", from, to, p.Release.Time, visits)
	case transfer.ByCups:
		l.add(v, "plan_cups", from, to, p.Release.Time, cups(p))
	case transfer.Staged:
		if p.Reason.Code == "rest_before_fresh" {
			l.add(v, "plan_by_tub", from, to, p.Release.Time)
			break
		}
		l.add(v, "plan_staged", from, to, p.Release.Time, len(p.Stages)-1)
	case transfer.Combined:
		l.add(v, "plan_combined", from, to, p.Release.Time)
	case transfer.Ramped:
		if p.Phases[0].Kind == transfer.Move {
			l.add(v, "plan_by_days", from, to, p.Release.Time)
			break
		}
		l.add(v, "plan_ramp", from, to)
	case transfer.ByMarks:
		l.add(v, "plan_by_marks", from, to, p.Release.Time, p.PourOffs)
	case transfer.OutOfBag:
		l.add(v, "plan_out_of_bag")
	}
	l.join(append([]string{p.Reason.Text}, pick(p.Warnings, otherLines...)...))
	l.ramp(v, p.Ramp)
	for _, stage := range p.Stages {
		if stage.Condition != nil {
			l = append(l, stage.Condition.Text)
		}
	}
	return l
}

// cups counts the cups of a plan.
func cups(p *transfer.Plan) int {
	n := 0
	for _, phase := range p.Phases {
		if phase.Cups != nil {
			n += *phase.Cups
		}
	}
	return n
}

// otherWays are the alternatives that look different, to a person, from the plan and from each
// other. Like the head of the plan they count until the release. A plan saved by the first release
// lists itself among them, which shows what is better.
func otherWays(v render.Voice, p *transfer.Plan) lines {
	var own *transfer.Alternative
	for i := range p.Alternatives {
		if p.Alternatives[i].Chosen {
			own = &p.Alternatives[i]
		}
	}
	var l lines
	met := map[string]bool{}
	for _, a := range p.Alternatives {
		until := quantity.Exactly(a.Duration.Value + p.Release.Rest.Value)
		if a.Release != nil {
			until = *a.Release
		}
		looks := fmt.Sprint(v.Word(until), a.Visits, v.Word(a.Water))
		differs := map[transfer.Preference]bool{
			transfer.PreferTime:   v.Word(until) != v.Word(p.Release.Time),
			transfer.PreferVisits: p.Visits == 0 || a.Visits < p.Visits,
			transfer.PreferWater:  p.Draw != nil && v.Word(a.Water) != v.Word(p.Draw.Volume),
		}
		if differs[a.Prefer] && !met[looks] && (own == nil || a.Gains(*own)) {
			said := append([]string{v.Say(alternativeCodes[a.Prefer], until, a.Visits, a.Water)}, pick(a.Differences, "alternative_pours_off", "alternative_never_pours_off")...)
			l = append(l, strings.Join(said, " "))
		}
		met[looks] = true
	}
	return l
}

// alternativeCodes say what another drip takes least of.
var alternativeCodes = map[transfer.Preference]quantity.Code{
	transfer.PreferTime: "alternative_time", transfer.PreferVisits: "alternative_visits", transfer.PreferWater: "alternative_water",
}

// ramp sums a ramp up and offers the cheaper one.
func (l *lines) ramp(v render.Voice, r *transfer.RampTotals) {
	if r == nil {
		return
	}
	if r.Salt.Value == 0 {
		l.add(v, "ramp_totals_no_salt", r.Days, r.Changes, r.Water)
	} else {
		l.add(v, "ramp_totals", r.Days, r.Changes, r.Water, r.Salt)
	}
	if c := r.Cheaper; c != nil && c.Salt.Value == 0 {
		l.add(v, "ramp_cheaper_no_salt", c.Days, c.Changes, c.Water)
	} else if c != nil {
		l.add(v, "ramp_cheaper", c.Days, c.Changes, c.Water, c.Salt)
	}
}
