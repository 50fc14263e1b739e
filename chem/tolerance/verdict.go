package tolerance

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
)

// Water is a water to judge. What is nil is not judged.
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

// check refuses what is no water: NaN, brine past saturation, ice.
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
	Tolerated Verdict = "tolerated" // inside what it is known to take
	Unknown   Verdict = "unknown"   // no source says
	Outside   Verdict = "outside"   // past a known bound
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
	Temperature Verdict         `json:"temperature,omitempty"` // at best tolerated: sources do not tell what is preferred
	PH          Verdict         `json:"ph,omitempty"`          // likewise
	Reasons     []quantity.Note `json:"reasons"`
}

// Judge says what a water means for the stage.
//
// Salinity decides, since it alone has a band that is survived and one that is
// preferred; a temperature or pH outside its band overrides it, and one whose
// band is unknown is only told. Without a salinity the worst of the others is
// the verdict, and without those it is Unknown.
func (s Stage) Judge(w Water) (Judgement, error) {
	if err := w.check(); err != nil {
		return Judgement{}, err
	}
	j := Judgement{Reasons: []quantity.Note{}}
	if w.Salinity != nil {
		j.Salinity = s.judgeSalinity(*w.Salinity, &j.Reasons)
	}
	if w.Temperature != nil {
		j.Temperature = firm(s.Temperature.band()).judge(temperatureCodes, *w.Temperature, &j.Reasons)
	}
	if w.PH != nil {
		j.PH = firm(s.PH.band()).judge(phCodes, *w.PH, &j.Reasons)
	}
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
	return j, nil
}

// judgeSalinity judges the salinity against both bands.
func (s Stage) judgeSalinity(sa quantity.Estimate[quantity.AbsoluteSalinity], reasons *[]quantity.Note) Verdict {
	p := s.PreferredSalinity.band()
	if p.Min != nil && p.Max != nil && sa.Value >= p.Min.Value && sa.Value <= p.Max.Value {
		*reasons = append(*reasons, noteOf("salinity_preferred", sa, *p.Min, *p.Max))
		p.noteNear(salinityCodes, sa, reasons)
		return Preferred
	}
	v := s.usable().judge(salinityCodes, sa, reasons)
	if v == Outside && s.keepsToPreferred() {
		*reasons = append(*reasons, noteOf("stenohaline_keeps_to_preferred"))
	}
	return v
}

// keepsToPreferred says that the class leaves no room beyond the preferred
// band: what such a fish outlived for some days is no water to keep it in.
func (s Stage) keepsToPreferred() bool {
	return s.SensitivityClass == StenohalineFresh || s.SensitivityClass == StenohalineMarine
}

// span is a band in which a bound may be soft: past it nothing is known,
// where past a firm one the animal is known or ruled not to live.
type span[Q quantity.Quantity] struct {
	Band[Q]
	softMin, softMax bool
}

// firm makes a span of firm bounds.
func firm[Q quantity.Quantity](b Band[Q]) span[Q] { return span[Q]{Band: b} }

// usable is the salinity the stage may be planned for: what it survives, with
// the preferred bound standing in for an unknown one, and never past the
// preferred band for stenohaline fish.
func (s Stage) usable() span[quantity.AbsoluteSalinity] {
	u, p := firm(s.Salinity.band()), s.PreferredSalinity.band()
	if p.Min != nil && (u.Min == nil || s.keepsToPreferred()) {
		u.Min, u.softMin = p.Min, !s.keepsToPreferred()
	}
	if p.Max != nil && (u.Max == nil || s.keepsToPreferred()) {
		u.Max, u.softMax = p.Max, !s.keepsToPreferred()
	}
	return u
}

// Usable returns the band of salinity within which the stage may be planned
// for: what it is known to survive; where that is unknown the preferred bound,
// since a blank is no freedom; and the preferred band alone for stenohaline
// fish. A bound that stays nil is unknown.
func (s Stage) Usable() Band[quantity.AbsoluteSalinity] { return s.usable().Band }

// Nearest returns the salinity nearest to one that the stage may be planned
// for; not ok where that one is within, or no bound stands against it.
func (s Stage) Nearest(sa quantity.AbsoluteSalinity) (nearest quantity.AbsoluteSalinity, ok bool) {
	switch u := s.Usable(); {
	case u.Min != nil && sa < u.Min.Value:
		return u.Min.Value, true
	case u.Max != nil && sa > u.Max.Value:
		return u.Max.Value, true
	}
	return sa, false
}

// bandCodes are what is said of a value and a band.
type bandCodes struct {
	within, below, above, belowPreferred, abovePreferred, bandUnknown, minUnknown, maxUnknown, nearBound quantity.Code
}

var (
	salinityCodes = bandCodes{"salinity_within", "salinity_below", "salinity_above", "salinity_below_preferred", "salinity_above_preferred",
		"salinity_band_unknown", "salinity_min_unknown", "salinity_max_unknown", "salinity_near_bound"}
	temperatureCodes = bandCodes{within: "temperature_within", below: "temperature_below", above: "temperature_above",
		bandUnknown: "temperature_band_unknown", minUnknown: "temperature_min_unknown", maxUnknown: "temperature_max_unknown", nearBound: "temperature_near_bound"}
	phCodes = bandCodes{within: "ph_within", below: "ph_below", above: "ph_above",
		bandUnknown: "ph_band_unknown", minUnknown: "ph_min_unknown", maxUnknown: "ph_max_unknown", nearBound: "ph_near_bound"}
)

// noteNear adds a reason for each bound that the value's uncertainty reaches
// across. A bound of zero is left out: no water is fresher than fresh.
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
	switch {
	case b.Min != nil && q.Value < b.Min.Value && b.softMin:
		add(said.belowPreferred, *b.Min)
		return Unknown
	case b.Max != nil && q.Value > b.Max.Value && b.softMax:
		add(said.abovePreferred, *b.Max)
		return Unknown
	case b.Min != nil && q.Value < b.Min.Value:
		add(said.below, *b.Min)
		return Outside
	case b.Max != nil && q.Value > b.Max.Value:
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
