package tolerance

import (
	"errors"
	"fmt"
	"slices"

	"saltlock/chem/quantity"
)

// GrowthMethod is the key of Grow.
const GrowthMethod = "growth-target"

// usualGrowth is how long an animal is assumed to grow to its last stage if the keeper does
// not say, h. Proposed here: a year.
const usualGrowth quantity.Duration = 365 * 24

var growthTime = quantity.Range[quantity.Duration]{Lo: 24, Hi: 1000 * 24}

// GrowthRequest asks how the salinity of a tank should follow its animals.
type GrowthRequest struct {
	GrownIn  *quantity.Estimate[quantity.Duration]         // until the last stage; nil is a year
	Salinity *quantity.Estimate[quantity.AbsoluteSalinity] // they are in now; nil is the middle of what they prefer
	Stage    LifeStage                                     // now; empty is the first whose preference is known, except larvae
	Target   *quantity.Estimate[quantity.AbsoluteSalinity] // of the last stage; nil is the middle of what it prefers
}

// Growth is what an animal needs now and later, and the path between.
type Growth struct {
	Ref
	ScientificName string        `json:"scientific_name"`
	Path           []GrowthPoint `json:"path"` // from now to the last stage
	// TargetCurve is the path in the form that a ramp request accepts.
	TargetCurve []TargetPoint   `json:"target_curve"`
	Remarks     []quantity.Note `json:"notes"`
	Methods     []string        `json:"methods"`
}

// GrowthPoint is the water at the start of a life stage; the first is now.
type GrowthPoint struct {
	Time      quantity.Estimate[quantity.Duration]         `json:"time"`
	Stage     LifeStage                                    `json:"stage"`
	Practical quantity.Estimate[quantity.Salinity]         `json:"practical_salinity"`
	Salinity  quantity.Estimate[quantity.AbsoluteSalinity] `json:"salinity"`
	Preferred Sourced[quantity.Salinity]                   `json:"preferred_range"`
	Class     Class                                        `json:"sensitivity_class"`
	// The band as g/kg, with the same numbers: deprecated.
	PreferredSalinity Sourced[quantity.AbsoluteSalinity] `json:"preferred_salinity"`
}

// TargetPoint is a point of a target curve, as text for a request.
type TargetPoint struct {
	Time     string `json:"time"`
	Salinity string `json:"salinity"`
}

// Notes returns every note, for the renderer to fill.
func (g *Growth) Notes() []*quantity.Note {
	all := make([]*quantity.Note, len(g.Remarks))
	for i := range g.Remarks {
		all[i] = &g.Remarks[i]
	}
	return all
}

// UnknownPreferenceError says that the preferred salinity of a life stage is not known.
type UnknownPreferenceError struct {
	ID    string
	Stage LifeStage
}

func (e *UnknownPreferenceError) Error() string {
	if e.Stage == "" {
		return fmt.Sprintf("%s: no source tells which salinity any of its life stages prefers", e.ID)
	}
	return fmt.Sprintf("%s: no source tells which salinity life stage %q prefers", e.ID, string(e.Stage))
}

// PreferenceError says that a target lies outside what a life stage prefers. Its bounds are
// those of the table, although values up to half of their last digit beyond are accepted.
type PreferenceError struct {
	ID    string
	Stage LifeStage
	quantity.RangeError
}

// Grow returns how the salinity should change as an animal grows from its present stage to
// the last: linearly in time to the target of the last stage, but within what each stage in
// between prefers. Larvae that no water of the next stage would do for stay in theirs.
//
//	GrownIn   24 h to 1000 days
//	Salinity  0 to 350 g/kg; outside what the stage prefers, a note says so, and the path starts there all the same
//	Target    within what the last stage prefers
//
// Check value: spotted scats that prefer 5 to 20 g/kg young and 10 to 35 g/kg
// grown, at 6 g/kg now, with a target of 15 g/kg in 200 days go by 0.045 g/kg
// a day.
//
// Standing: proposed here. The bands come from the species table. None of its sources says
// when a stage begins, so stages are spaced evenly.
func Grow(t Taxon, r GrowthRequest) (Growth, error) {
	stages, err := t.known(r.Stage)
	if err != nil {
		return Growth{}, err
	}
	first, last := stages[0], stages[len(stages)-1]
	g := Growth{Ref: Ref{ID: t.ID, Name: t.Name(), Stage: first.Stage}, ScientificName: t.ScientificName,
		Remarks: []quantity.Note{}, Methods: []string{GrowthMethod}}
	if r.Stage == "" && len(stages) > 1 {
		g.note("stage_assumed", g.Name, string(first.Stage))
	}
	stay := larvaeStay(stages)
	from, to := middle(first.Preferred.Band), middle(last.Preferred.Band)
	if r.Salinity != nil {
		from = practical(*r.Salinity).Value
	}
	if r.Target != nil {
		to = practical(*r.Target).Value
	} else if len(stages) > 1 && !stay {
		g.note("growth_target_proposed", quantity.Exactly(to), string(last.Stage))
	}
	in := usualGrowth
	if r.GrownIn != nil {
		in = r.GrownIn.Value
	} else if len(stages) > 1 && !stay {
		g.note("growth_time_proposed", quantity.Exactly(in))
	}
	if err := errors.Join(waterSalinity.Check("salinity", absolute(from).Value), growthTime.Check("grown_in", in), last.prefers(t.ID, to)); err != nil {
		return Growth{}, err
	}
	if g.tell(t, stages, from); stay {
		g.larvaeStay(first, stages[1])
		stages, to = stages[:1], from
	}
	g.walk(stages, from, to, in)
	return g, nil
}

// prefers is an error if a target lies outside what the stage prefers.
func (s Stage) prefers(id string, target quantity.Salinity) error {
	p := s.Preferred.Band
	if within := (quantity.Range[quantity.Salinity]{Lo: p.Min.Value - rounding(p.Min), Hi: p.Max.Value + rounding(p.Max)}); within.Contains(target) {
		return nil
	}
	return &PreferenceError{ID: id, Stage: s.Stage,
		RangeError: quantity.RangeError{Name: "target", Value: float64(target), Lo: float64(p.Min.Value), Hi: float64(p.Max.Value), Unit: target.Unit()}}
}

// larvaeStay reports whether the first stages are larvae and young that live in waters of which
// none will do for both. No line leads through such a change of shape.
func larvaeStay(stages []Stage) bool {
	if stages[0].Stage != Larva || len(stages) == 1 {
		return false
	}
	larva, young := stages[0].Preferred.Band, stages[1].Preferred.Band
	return larva.Min.Value > young.Max.Value || larva.Max.Value < young.Min.Value
}

// larvaeStay says that larvae stay in their water until they have changed, and that the young go
// over then within days: common practice, no source; New2002 has prawns of fresh water go down
// within 12 h (from memory).
func (g *Growth) larvaeStay(larva, young Stage) {
	p, q := larva.Preferred.Band, young.Preferred.Band
	g.note("growth_larvae_stay", *p.Min, *p.Max)
	g.note("growth_young_go_over", *q.Min, *q.Max, string(young.Stage))
}

// known returns the stages, from one on, for which both preferred bounds are known.
func (t Taxon) known(from LifeStage) ([]Stage, error) {
	var stages []Stage
	for _, s := range t.Stages {
		if p := s.Preferred.band(); p.Min != nil && p.Max != nil {
			stages = append(stages, s)
		}
	}
	if len(stages) == 0 {
		return nil, &UnknownPreferenceError{ID: t.ID}
	}
	if from == "" {
		if len(stages) > 1 && stages[0].Stage == Larva {
			stages = stages[1:]
		}
		return stages, nil
	}
	asked, _, err := t.StageFor(from)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(stages, func(s Stage) bool { return s.Stage == asked.Stage })
	if i < 0 {
		return nil, &UnknownPreferenceError{ID: t.ID, Stage: asked.Stage}
	}
	return stages[i:], nil
}

// walk lays the path through the stages.
func (g *Growth) walk(stages []Stage, from, to quantity.Salinity, in quantity.Duration) {
	n := len(stages) - 1
	for i, s := range stages {
		share := 0.0
		if n > 0 {
			share = float64(i) / float64(n)
		}
		at := from + quantity.Salinity(share)*(to-from)
		if p := s.Preferred; i > 0 && i < n {
			at = min(max(at, p.Min.Value), p.Max.Value)
		}
		point := GrowthPoint{Time: quantity.Exactly(quantity.Duration(share) * in), Stage: s.Stage, Practical: quantity.Exactly(at), Salinity: absolute(at),
			Preferred: *s.Preferred, PreferredSalinity: *sourcedInGrams(s.Preferred), Class: s.SensitivityClass}
		g.Path = append(g.Path, point)
		g.TargetCurve = append(g.TargetCurve, TargetPoint{point.Time.String(), point.Salinity.String()})
	}
}

// tell adds notes on what the keeper should know about the path.
func (g *Growth) tell(t Taxon, stages []Stage, from quantity.Salinity) {
	now := quantity.Exactly(from)
	p := rounded(stages[0].Preferred.Band)
	outside := p.past(from) != 0
	switch {
	case outside && (len(stages) == 1 || larvaeStay(stages)):
		g.note("growth_bring_back", now, string(stages[0].Stage), *p.Min, *p.Max)
	case outside:
		g.note("growth_now_outside", now, string(stages[0].Stage), *p.Min, *p.Max)
	case len(stages) == 1:
		if stages[0].Stage == AllStages {
			g.note("growth_no_difference")
		} else {
			g.note("growth_last_stage", string(stages[0].Stage))
		}
	}
	for _, s := range t.Stages {
		if !slices.ContainsFunc(stages, func(k Stage) bool { return k.Stage == s.Stage }) && order(s.Stage) > order(stages[0].Stage) {
			g.note("growth_stage_unknown", string(s.Stage))
		}
	}
}

// order is the place of a stage in life.
func order(s LifeStage) int { return slices.Index(LifeStages(), s) }

func (g *Growth) note(code quantity.Code, params ...any) {
	g.Remarks = append(g.Remarks, noteOf(code, params...))
}

// middle is the middle of a band with both bounds.
func middle(b Band[quantity.Salinity]) quantity.Salinity {
	return (b.Min.Value + b.Max.Value) / 2
}
