package store

import (
	"slices"
	"strings"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// What a cell of the species table may hold: no animal is kept beyond this.
var (
	salinityCells    = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 300}
	temperatureCells = quantity.Range[quantity.Celsius]{Lo: -5, Hi: 50}
	phCells          = quantity.Range[quantity.PH]{Lo: 3, Hi: 11}
	lengthCells      = quantity.Range[quantity.Length]{Lo: 0.01, Hi: 1000}
)

// readStage reads what a row says about its life stage.
func readStage(r row, sources map[string]source) tolerance.Stage {
	s := tolerance.Stage{
		Stage:            tolerance.LifeStage(r.oneOf("life_stage", words(tolerance.LifeStages())...)),
		SensitivityClass: tolerance.Class(r.oneOf("sensitivity_class", words(tolerance.Classes())...)),
		Confidence:       tolerance.Mark(r.oneOf("confidence", string(tolerance.Published), string(tolerance.CommonPractice), string(tolerance.Memory))),
		Notes:            r.list("notes"),
	}
	s.Survived = salinity(r, sources)
	s.Preferred = preferred(r, sources)
	s.Temperature = sourced(r, sources, "temp_min_c", "temp_max_c", "source_temp", temperatureCells)
	s.WintersAt = winters(r, sources)
	s.PH = sourced(r, sources, "ph_min", "ph_max", "source_ph", phCells)
	s.MaxLength = maxLength(r, sources)
	s.GreatestChangeSurvived = greatestChange(r, sources)
	checkSalinity(r, s)
	return s
}

// words turns an enum into the strings of its values.
func words[S ~string](values []S) []string {
	w := make([]string, len(values))
	for i, v := range values {
		w[i] = string(v)
	}
	return w
}

// bases are the kinds of evidence for a survived salinity.
var bases = []string{"experiment", "experiment-other-stage", "experiment-related-taxon", "field-range", "habitat-flag",
	"tested-only", "second-hand", string(tolerance.CommonPractice), "memory", "none"}

// markByBasis lowers the mark of a source where the basis is weaker: a range that was only tested,
// or is quoted from elsewhere, was not read as survived.
func markByBasis(basis string, m tolerance.Mark) tolerance.Mark {
	switch basis {
	case "memory":
		return tolerance.Memory
	case string(tolerance.CommonPractice):
		return tolerance.CommonPractice
	case "tested-only", "second-hand":
		if m == tolerance.Published {
			return tolerance.CommonPractice
		}
	case "habitat-flag":
		if m == tolerance.Published {
			return tolerance.ByDefinition
		}
	}
	return m
}

// salinity reads the salinity that the stage survives. A custom has no source.
func salinity(r row, sources map[string]source) *tolerance.Sourced[quantity.Salinity] {
	basis, maxBasis := r.oneOf("salinity_basis", bases...), r.oneOf("salinity_max_basis", append(bases[:len(bases)-1:len(bases)-1], "")...)
	b := band(r, "salinity_min_ppt", "salinity_max_ppt", salinityCells)
	cited, read := r.cite("source_salinity", sources)
	if b.Empty() && cited == nil {
		return nil
	}
	s := &tolerance.Sourced[quantity.Salinity]{Band: b, Basis: basis, Source: cited}
	if maxBasis != "" && (b.Max == nil || maxBasis == basis) {
		r.fault("salinity_max_basis", "is for a maximum that rests on something else than the minimum")
	}
	if b.Empty() {
		return s
	}
	if basis == "none" {
		r.fault("salinity_basis", "stands beside a bound")
	}
	if cited == nil && basis != string(tolerance.CommonPractice) {
		r.fault("source_salinity", "is missing beside a bound")
	}
	s.Mark = markByBasis(basis, markOf(read))
	if maxBasis != "" {
		s.MaxBasis, s.MaxMark = maxBasis, markByBasis(maxBasis, markOf(read))
	}
	return s
}

// preferred reads the preferred salinity. A range of the trade has no source and is marked as
// common practice.
func preferred(r row, sources map[string]source) *tolerance.Sourced[quantity.Salinity] {
	basis := r.oneOf("preferred_basis", "", string(tolerance.Published), string(tolerance.ByDefinition),
		string(tolerance.CommonPractice), string(tolerance.Memory))
	b := band(r, "preferred_min_ppt", "preferred_max_ppt", salinityCells)
	cited, read := r.cite("source_preferred", sources)
	if b.Empty() != (basis == "") {
		r.fault("preferred_basis", "and the preferred band go together")
	}
	if (basis == string(tolerance.Published)) != (cited != nil) || cited != nil && !read {
		r.fault("source_preferred", "must name a source that was read where the basis is published, and only there")
	}
	if b.Empty() {
		return nil
	}
	return &tolerance.Sourced[quantity.Salinity]{Band: b, Mark: tolerance.Mark(basis), Basis: basis, Source: cited}
}

// sourced reads a range with its source, nil if there is neither. What comes from a source that
// nobody read is recalled; a custom has no source.
func sourced[Q quantity.Quantity](r row, sources map[string]source, lo, hi, from string, within quantity.Range[Q]) *tolerance.Sourced[Q] {
	b := band(r, lo, hi, within)
	if r.cells[from] == string(tolerance.CommonPractice) && !b.Empty() {
		return &tolerance.Sourced[Q]{Band: b, Mark: tolerance.CommonPractice}
	}
	cited, read := r.cite(from, sources)
	if b.Empty() && cited == nil {
		return nil
	}
	s := &tolerance.Sourced[Q]{Band: b, Source: cited}
	switch {
	case b.Empty():
	case cited == nil:
		r.fault(from, "is missing beside a bound")
	default:
		s.Mark = markOf(read)
	}
	return s
}

// winters reads the coldest water in which a stage winters, and what that rests on.
func winters(r row, sources map[string]source) *tolerance.Sourced[quantity.Celsius] {
	cell, from, _ := strings.Cut(r.cells["winters_at_c"], ":")
	if cell == "" {
		return nil
	}
	number := row{r.file, r.line, map[string]string{"winters_at_c": cell}, r.faults}
	s := &tolerance.Sourced[quantity.Celsius]{Band: band(number, "winters_at_c", "", temperatureCells)}
	s.Mark, s.Source = r.founded("winters_at_c", cell, from, sources)
	return s
}

// markOf is the mark of a source: recalled unless somebody read it.
func markOf(read bool) tolerance.Mark {
	if read {
		return tolerance.Published
	}
	return tolerance.Memory
}

// maxLength reads the largest length on record.
func maxLength(r row, sources map[string]source) *tolerance.Length {
	l := estimate[quantity.Length](r, "max_length_cm")
	how := r.oneOf("length_type", "", "TL", "SL", "OT", "NG", "WD", "shell-width", "shell-height", "shell-length", "snout-vent")
	cited, read := r.cite("source_length", sources)
	if (l == nil) != (how == "") || (l == nil) != (cited == nil) {
		r.fault("max_length_cm", "goes together with length_type and source_length")
		return nil
	}
	if l == nil {
		return nil
	}
	if lengthCells.Check("max_length_cm", l.Value) != nil {
		r.fault("max_length_cm", "is outside %g to %g", float64(lengthCells.Lo), float64(lengthCells.Hi))
	}
	return &tolerance.Length{Length: *l, Type: how, Mark: markOf(read), Source: cited}
}

// greatestChange reads the largest change that a laboratory saw survived.
func greatestChange(r row, sources map[string]source) *tolerance.Change {
	c := estimate[quantity.AbsoluteSalinity](r, "greatest_change_survived")
	basis := r.cells["change_basis"]
	if (c == nil) != (basis == "") {
		r.fault("greatest_change_survived", "goes together with change_basis")
		return nil
	}
	if c == nil {
		return nil
	}
	if salinityCells.Check("greatest_change_survived", quantity.Salinity(c.Value)) != nil {
		r.fault("greatest_change_survived", "is outside %g to %g", float64(salinityCells.Lo), float64(salinityCells.Hi))
	}
	cited, read := r.cite("source_salinity", sources)
	if cited == nil {
		r.fault("source_salinity", "is missing beside a change that was survived")
	}
	return &tolerance.Change{Change: *c, Basis: basis, Mark: markOf(read), Source: cited}
}

// checkSalinity checks a row's ranges against each other and its confidence: a preferred range
// lies within what is survived, something is known or a source was read, and nothing recalled
// passes as published.
func checkSalinity(r row, s tolerance.Stage) {
	var marks []tolerance.Mark
	if s.Survived != nil {
		marks = append(marks, s.Survived.Mark, s.Survived.MaxMark)
	}
	if p := s.Preferred; p != nil {
		marks = append(marks, p.Mark)
		if s.Survived != nil && (past(p.Min, s.Survived.Min) || past(p.Max, s.Survived.Min) ||
			past(s.Survived.Max, p.Min) || past(s.Survived.Max, p.Max)) {
			r.fault("preferred_min_ppt", "the preferred band is not within what is survived")
		}
	}
	if s.Survived == nil && s.Preferred == nil && !strings.HasPrefix(r.cells["leaves_water"], "land-and-water:") {
		r.fault("source_salinity", "is missing and no salinity is known of an animal that lives in water: nothing to load")
	}
	if recalled := slices.Contains(marks, tolerance.Memory); recalled && s.Confidence != tolerance.Memory {
		r.fault("confidence", "a salinity was recalled, so it must be %s", tolerance.Memory)
	}
	if s.Confidence == tolerance.Published && (s.Survived == nil || s.Survived.Source == nil) {
		r.fault("confidence", "published without a source of the salinity")
	}
	if s.Confidence == tolerance.Published && slices.Contains(marks, tolerance.CommonPractice) && s.Survived.Mark == tolerance.CommonPractice {
		r.fault("confidence", "published, though what is survived was only tested, quoted or is a custom")
	}
	checkSea(r, s)
}

// checkSea checks that sea water is survived: a fully marine animal tolerates 33 to 37 ppt unless
// an experiment or a field record says less.
func checkSea(r row, s tolerance.Stage) {
	if hs := r.list("habitat"); len(hs) != 1 || !strings.HasPrefix(hs[0], "marine:") || s.Survived == nil {
		return
	}
	if b := s.Survived; b.Basis == "habitat-flag" || b.Basis == string(tolerance.CommonPractice) {
		if b.Min != nil && b.Min.Value > 33 {
			r.fault("salinity_min_ppt", "a fully marine animal tolerates 33 ppt unless a source says less")
		}
		if b.Max == nil || b.Max.Value < 37 {
			r.fault("salinity_max_ppt", "a fully marine animal tolerates 37 ppt unless a source says less")
		}
	}
}

// past reports whether both are known and the first is below the second.
func past(a, b *quantity.Estimate[quantity.Salinity]) bool {
	return a != nil && b != nil && a.Value < b.Value
}
