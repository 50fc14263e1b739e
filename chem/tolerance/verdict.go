package tolerance

import (
	"errors"
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// Water is a water to judge. A nil field is not judged.
type Water struct {
	Salinity    *quantity.Estimate[quantity.AbsoluteSalinity]
	Temperature *quantity.Estimate[quantity.Celsius]
	PH          *quantity.Estimate[quantity.PH]
}

var (
	waterSalinity    = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 350}
	waterTemperature = quantity.Range[quantity.Celsius]{Lo: -5, Hi: 60}
	waterPH          = quantity.Range[quantity.PH]{Lo: 0, Hi: 14}
)

// check refuses what cannot be water: NaN, brine above saturation, ice.
func (w Water) check() error {
	var faults []error
	if w.Salinity != nil {
		faults = append(faults, waterSalinity.Check("salinity", w.Salinity.Value))
	}
	if w.Temperature != nil {
		faults = append(faults, waterTemperature.Check("temperature", w.Temperature.Value))
	}
	if w.PH != nil {
		faults = append(faults, waterPH.Check("ph", w.PH.Value))
	}
	return errors.Join(faults...)
}

// Verdict says what a water means for a life stage.
type Verdict string

// The verdicts, from best to worst.
const (
	Preferred Verdict = "preferred" // inside the preferred band
	Tolerated Verdict = "tolerated" // survives it, but it may not be a water to keep it in: see Judgement.Briefly
	Unknown   Verdict = "unknown"   // no source says
	Outside   Verdict = "outside"   // beyond a known bound
)

// rank orders verdicts from best to worst.
func (v Verdict) rank() int {
	switch v {
	case Preferred:
		return 0
	case Tolerated:
		return 1
	case Unknown:
		return 2
	}
	return 3
}

// Judgement is what a water means for one life stage.
type Judgement struct {
	Verdict     Verdict         `json:"verdict"`
	Salinity    Verdict         `json:"salinity,omitempty"`    // empty: not given
	Temperature Verdict         `json:"temperature,omitempty"` // at best tolerated: sources do not say what is preferred
	PH          Verdict         `json:"ph,omitempty"`          // likewise
	Reasons     []quantity.Note `json:"reasons"`
}

// Briefly reports whether the animal survives the salinity but should not be kept in it,
// because it prefers another band.
func (j Judgement) Briefly() bool {
	return slices.ContainsFunc(j.Reasons, func(n quantity.Note) bool { return survivedCodes[n.Code] })
}

// SeaWaterWillDo reports whether the salinity is ordinary sea water, which will do for the
// animal although it is best kept in a narrower band.
func (j Judgement) SeaWaterWillDo() bool {
	return slices.ContainsFunc(j.Reasons, func(n quantity.Note) bool { return n.Code == "salinity_sea_water" })
}

// Lean reports whether the salinity is below ordinary sea water, where shops and quarantine
// keep marine animals.
func (j Judgement) Lean() bool {
	return slices.ContainsFunc(j.Reasons, func(n quantity.Note) bool { return n.Code == "salinity_below_usual" })
}

// survivedCodes are the notes on a salinity that is survived but not preferred.
var survivedCodes = map[quantity.Code]bool{"salinity_within": true, "salinity_within_from": true, "salinity_within_up_to": true}

// Judge says what a water means for the stage.
//
// Salinity decides, because it alone has a band that is survived and one that is preferred.
// A temperature or pH outside its band overrides it; one whose band is unknown only gets a
// note. Without a salinity, the verdict is the worst of the others, and without any it is
// Unknown.
func (s Stage) Judge(w Water) (Judgement, error) {
	if err := w.check(); err != nil {
		return Judgement{}, err
	}
	j := Judgement{Reasons: []quantity.Note{}}
	if w.Salinity != nil {
		j.Salinity = s.judgeSalinity(*w.Salinity, &j.Reasons)
	}
	if w.Temperature != nil {
		var warmth []quantity.Note
		j.Temperature = recorded(s.Temperature.band()).judge(temperatureCodes, *w.Temperature, &warmth)
		if j.Temperature == Outside { // what overrides the salinity is said before it
			j.Reasons = slices.Concat(warmth, j.Reasons)
		} else {
			j.Reasons = append(j.Reasons, warmth...)
		}
	}
	if w.PH != nil {
		j.PH = firm(s.PH.band()).judge(phCodes, *w.PH, &j.Reasons)
	}
	return j.decide(), nil
}

// decide puts the verdicts on each quantity together.
func (j Judgement) decide() Judgement {
	j.Verdict = j.Salinity
	for _, v := range []Verdict{j.Temperature, j.PH} {
		if v == "" {
			continue
		}
		if j.Verdict == "" || v == Outside || (j.Salinity == "" && v.rank() > j.Verdict.rank()) {
			j.Verdict = v
		}
	}
	if j.Verdict == "" {
		j.Verdict = Unknown
	}
	return j
}

// judgeSalinity judges the salinity against both bands, on their scale.
func (s Stage) judgeSalinity(sa quantity.Estimate[quantity.AbsoluteSalinity], reasons *[]quantity.Note) Verdict {
	sp, p := practical(sa), rounded(s.Preferred.band())
	if p.Min != nil && p.Max != nil && p.past(sp.Value) == 0 {
		*reasons = append(*reasons, noteOf("salinity_preferred", sp, *p.Min, *p.Max))
		p.noteNear(salinityCodes, sp, reasons)
		return Preferred
	}
	u := s.usable()
	if u.Min != nil && u.Max != nil && u.past(sp.Value) == 0 {
		*reasons = append(*reasons, s.survivedNote(sp, u.Band))
		u.noteNear(salinityCodes, sp, reasons)
		return Tolerated
	}
	said := salinityCodes
	if known := s.Survived.band(); s.keepsToNarrow() && known.Min != nil && known.Max != nil && s.PastSurvived(sa.Value) == 0 {
		said.below, said.above = "salinity_below_kept", "salinity_above_kept" // although it survives
	}
	v := u.judge(said, sp, reasons)
	if v == Outside && s.keepsToNarrow() {
		*reasons = append(*reasons, noteOf("stenohaline_keeps_to_preferred"))
	}
	return v
}

// survivedNote is the note on a salinity outside the preferred band: what the animal is known
// to survive, and how far this is from where to keep it.
func (s Stage) survivedNote(sp quantity.Estimate[quantity.Salinity], usable Band[quantity.Salinity]) quantity.Note {
	p, known := s.Preferred.band(), s.Survived.band()
	switch {
	case p.Min == nil || p.Max == nil:
		return noteOf("salinity_within_only", sp, *usable.Min, *usable.Max)
	case s.seaWaterWillDo(sp.Value):
		return noteOf("salinity_sea_water", sp, *p.Min, *p.Max)
	case known.Max == nil:
		return noteOf("salinity_within_from", sp, *p.Min, *p.Max, *usable.Min)
	case known.Min == nil:
		return noteOf("salinity_within_up_to", sp, *p.Min, *p.Max, *usable.Max)
	}
	return noteOf("salinity_within", sp, *known.Min, *known.Max, *p.Min, *p.Max)
}

// bandCodes are the notes on a value and a band.
type bandCodes struct {
	within, below, above, belowPreferred, abovePreferred, bandUnknown, minUnknown, maxUnknown, nearBound quantity.Code
	belowUsual, aboveUsual, littleBelow, littleAbove                                                     quantity.Code
}

var (
	// For a salinity within its span see Stage.survivedNote.
	salinityCodes = bandCodes{below: "salinity_below", above: "salinity_above", belowPreferred: "salinity_below_preferred", abovePreferred: "salinity_above_preferred",
		bandUnknown: "salinity_band_unknown", minUnknown: "salinity_min_unknown", maxUnknown: "salinity_max_unknown", nearBound: "salinity_near_bound",
		belowUsual: "salinity_below_usual", aboveUsual: "salinity_above_usual"}
	temperatureCodes = bandCodes{within: "temperature_within", below: "temperature_below", above: "temperature_above",
		bandUnknown: "temperature_band_unknown", minUnknown: "temperature_min_unknown", maxUnknown: "temperature_max_unknown", nearBound: "temperature_near_bound",
		littleBelow: "temperature_little_below", littleAbove: "temperature_little_above"}
	phCodes = bandCodes{within: "ph_within", below: "ph_below", above: "ph_above",
		bandUnknown: "ph_band_unknown", minUnknown: "ph_min_unknown", maxUnknown: "ph_max_unknown", nearBound: "ph_near_bound"}
)

// belowSoft is the note below a soft minimum.
func (c bandCodes) belowSoft(why softness) quantity.Code {
	if why == pastUsual {
		return c.belowUsual
	}
	return c.belowPreferred
}

// aboveSoft is the note above a soft maximum.
func (c bandCodes) aboveSoft(why softness) quantity.Code {
	if why == pastUsual {
		return c.aboveUsual
	}
	return c.abovePreferred
}

// noteNear adds a reason for each bound that the value's uncertainty crosses. A bound of zero
// is left out, since no water is fresher than fresh water.
func (b Band[Q]) noteNear(said bandCodes, q quantity.Estimate[Q], reasons *[]quantity.Note) {
	for _, bound := range []*quantity.Estimate[Q]{b.Min, b.Max} {
		if bound != nil && bound.Value != 0 && q.U > 0 && math.Abs(float64(q.Value-bound.Value)) <= float64(q.U) {
			*reasons = append(*reasons, noteOf(said.nearBound, q, *bound))
		}
	}
}

// judge places a value in the span and adds the reason.
func (b span[Q]) judge(said bandCodes, q quantity.Estimate[Q], reasons *[]quantity.Note) Verdict {
	add := func(code quantity.Code, params ...any) {
		*reasons = append(*reasons, noteOf(code, append([]any{q}, params...)...))
	}
	defer b.noteNear(said, q, reasons)
	switch side := b.past(q.Value); {
	case side < 0 && b.softMin != "" && q.Value >= b.firmBelow:
		add(said.belowSoft(b.softMin), *b.Min)
		return Unknown
	case side > 0 && b.softMax != "" && q.Value <= b.firmAbove:
		add(said.aboveSoft(b.softMax), *b.Max)
		return Unknown
	case side < 0 && q.Value >= b.Min.Value-b.slack && b.slack > 0:
		add(said.littleBelow, *b.Min)
		return Tolerated
	case side > 0 && q.Value <= b.Max.Value+b.slack && b.slack > 0:
		add(said.littleAbove, *b.Max)
		return Tolerated
	case side < 0:
		add(said.below, *b.Min)
		return Outside
	case side > 0:
		add(said.above, *b.Max)
		return Outside
	case b.Empty():
		add(said.bandUnknown)
		return Unknown
	case b.Min == nil:
		add(said.minUnknown, *b.Max)
		return Unknown
	case b.Max == nil:
		add(said.maxUnknown, *b.Min)
		return Unknown
	}
	add(said.within, *b.Min, *b.Max)
	return Tolerated
}
