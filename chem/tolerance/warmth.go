package tolerance

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// Records of temperature say where an animal was found or kept. They are not lethal limits: a
// plan must not refuse a water that is slightly beyond them, and must not lead into one that
// kills.

// zoneWarmth is the usual temperature of water in a climate zone, °C, and what is assumed for
// an animal whose zone is not known. Common practice, no source.
var zoneWarmth = map[string][2]quantity.Celsius{
	"tropical": {20, 32}, "subtropical": {12, 30}, "temperate": {4, 24}, "": {4, 32},
}

// harmfulBeyond is how far outside both the records and the usual water of its zone a
// temperature is assumed to harm an animal, °C. Proposed here.
const harmfulBeyond quantity.Celsius = 4

// Anemones and corals bleach, and seahorses fall ill, in heat that hardy fish of the same reef
// survive. Without a temperature of its own no animal is taken to bear the heat of its zone.
// Common practice, no source.
const (
	warmSea    quantity.Celsius = 29 // from which heat is a caution
	mostOfReef quantity.Celsius = 30 // above which it harms anemones, corals and seahorses
)

// HeatShy reports whether heat that fish of a reef survive harms the animal: anemones,
// corals and their kin, giant clams, which live by the same algae, seahorses and pipefish.
func (t Taxon) HeatShy() bool {
	return t.Group == GroupCnidarian || t.Family == "Syngnathidae" || t.Bivalve()
}

// Bivalve reports whether it is a clam, which neither crawls nor lies on its back. Of these the
// table has giant clams alone.
func (t Taxon) Bivalve() bool { return t.Group == GroupMollusc && t.Family == "Cardiidae" }

// Warmth is the range of temperatures in which an animal lives, as far as is known.
type Warmth struct {
	Least, Most quantity.Celsius // at which it was found or kept, or else those of its zone
	Cold, Hot   quantity.Celsius // beyond which it is harmed

	below, above quantity.Celsius // how far beyond Least and Most a note is enough
	warm         quantity.Celsius // from which it gets a note although it lives there
	winter       quantity.Celsius // down to which it winters, hardly moving and not eating
}

// WarmthOf returns the range of temperatures in which a stage of the taxon lives.
func (t Taxon) WarmthOf(s Stage) Warmth {
	zone, named := zoneWarmth[t.ClimateZone]
	if !named {
		zone = zoneWarmth[""]
	}
	w := Warmth{Least: zone[0], Most: zone[1], Cold: zone[0] - harmfulBeyond, Hot: zone[1] + harmfulBeyond, warm: quantity.Celsius(math.Inf(1)), winter: quantity.Celsius(math.Inf(1))}
	b := s.Temperature.band()
	if shy := t.HeatShy(); zone[1] > warmSea && (shy || b.Max == nil && t.Group != GroupPlant && t.Group != GroupAlgae) {
		w.warm = warmSea
		if shy {
			w.Most, w.above, w.Hot = warmSea, mostOfReef-warmSea, mostOfReef+harmfulBeyond
		}
	}
	if b.Min != nil { // what is usual in a zone is wide already; a record is not
		w.below = recordSlack
		w.Least, w.Cold = b.Min.Value, min(w.Cold, b.Min.Value-harmfulBeyond)
	}
	if b.Max != nil {
		w.above = recordSlack
		w.Most, w.Hot = b.Max.Value, max(w.Hot, b.Max.Value+harmfulBeyond)
	}
	w.Least, w.Most = min(w.Least, w.Most), max(w.Least, w.Most)
	if coldest := s.WintersAt.band().Min; coldest != nil {
		w.winter, w.Cold = coldest.Value, min(w.Cold, coldest.Value)
	}
	return w
}

// Judge says what a water means for a stage of the taxon: as Stage.Judge does, and where no
// source gives a temperature, by the usual water of its climate zone.
func (t Taxon) Judge(s Stage, w Water) (Judgement, error) {
	j, err := s.Judge(w)
	if err != nil || w.Temperature == nil {
		return j, err
	}
	usual := t.WarmthOf(s)
	if cold := *w.Temperature; usual.Winters(cold.Value) {
		return j.wintering(cold, quantity.Exactly(usual.Least)), nil
	}
	if !s.Temperature.band().Empty() {
		return j, nil
	}
	unjudged := slices.IndexFunc(j.Reasons, func(n quantity.Note) bool { return n.Code == temperatureCodes.bandUnknown })
	code, bound := quantity.Code("temperature_below_zone"), usual.Least
	switch usual.Strange(w.Temperature.Value) {
	case 0:
		if usual.Warm(w.Temperature.Value) && unjudged >= 0 {
			j.Reasons[unjudged] = noteOf("temperature_warm_for_sea", *w.Temperature)
		}
		return j, nil
	case 1:
		code, bound = "temperature_above_zone", usual.Most
	}
	j.Verdict, j.Temperature = Outside, Outside
	if unjudged >= 0 {
		j.Reasons = slices.Delete(j.Reasons, unjudged, unjudged+1)
	}
	j.Reasons = slices.Insert(j.Reasons, 0, noteOf(code, *w.Temperature, quantity.Exactly(bound)))
	return j, nil
}

// wintering is a judgement of water in whose cold the animal winters: no harm, and nothing it lives in.
func (j Judgement) wintering(cold, least quantity.Estimate[quantity.Celsius]) Judgement {
	said := []quantity.Code{temperatureCodes.below, temperatureCodes.bandUnknown}
	j.Reasons = slices.DeleteFunc(j.Reasons, func(n quantity.Note) bool { return slices.Contains(said, n.Code) })
	j.Reasons = append(j.Reasons, noteOf("temperature_of_winter", cold, least))
	j.Temperature = Tolerated
	return j.decide()
}

// Winters reports whether a temperature is colder than it lives at and yet no harm, since it
// winters in water that cold.
func (w Warmth) Winters(t quantity.Celsius) bool { return t >= w.winter && t < w.Least-w.below }

// Harms says on which side a temperature harms the animal: -1 by cold, 1 by heat, 0 not at
// all.
func (w Warmth) Harms(t quantity.Celsius) int {
	switch {
	case t < w.Cold:
		return -1
	case t > w.Hot:
		return 1
	}
	return 0
}

// Beyond says on which side a temperature lies outside both the records and the usual water
// of the zone, though it need not harm yet.
func (w Warmth) Beyond(t quantity.Celsius) int {
	switch {
	case t < w.Cold+harmfulBeyond && !w.Winters(t):
		return -1
	case t > w.Hot-harmfulBeyond:
		return 1
	}
	return 0
}

// Warm reports whether a temperature is a caution for an animal of warm water, although it
// lives there.
func (w Warmth) Warm(t quantity.Celsius) bool { return t >= w.warm }

// Strange says on which side a temperature lies so far beyond the records that a note is not
// enough.
func (w Warmth) Strange(t quantity.Celsius) int {
	switch {
	case t < w.Least-w.below && !w.Winters(t):
		return -1
	case t > w.Most+w.above:
		return 1
	}
	return 0
}
