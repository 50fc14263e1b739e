package server_test

import (
	"encoding/csv"
	"math"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// tableRow is a row of the species table, read by the test itself, so that answers are compared
// with the file and not with the code that reads it.
type tableRow map[string]string

func speciesTable(t *testing.T) []tableRow {
	t.Helper()
	f, err := os.Open("store/species/species.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var all []tableRow
	for _, cells := range rows[1:] {
		r := tableRow{}
		for i, column := range rows[0] {
			r[column] = cells[i]
		}
		all = append(all, r)
	}
	return all
}

// id is the scientific name in lower case with hyphens.
func (r tableRow) id() string {
	return strings.ReplaceAll(strings.TrimSuffix(strings.ToLower(r["scientific_name"]), "."), " ", "-")
}

// bound is a bound and half of the last digit that it is printed with.
func (r tableRow) bound(t *testing.T, column string) (value, half float64, known bool) {
	t.Helper()
	text := r[column]
	if text == "" {
		return 0, 0, false
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	_, decimals, _ := strings.Cut(text, ".")
	return value, 0.5 * math.Pow(10, -float64(len(decimals))), true
}

// marine reports whether the species is flagged as living in the sea and in no other water.
func (r tableRow) marine() bool {
	return strings.HasPrefix(r["habitat"], "marine:") && !strings.Contains(r["habitat"], ";")
}

// custom reports whether a bound is nobody's observation.
func custom(basis string) bool { return basis == "habitat-flag" || basis == "common-practice" }

// expected is the verdict on a salinity, in ppt, by the rules in the table's README and the
// documentation of the classes.
func (r tableRow) expected(t *testing.T, sp float64) string {
	t.Helper()
	pLo, pLoHalf, pMin := r.bound(t, "preferred_min_ppt")
	pHi, pHiHalf, pMax := r.bound(t, "preferred_max_ppt")
	if pMin && pMax && sp >= pLo-pLoHalf && sp <= pHi+pHiHalf {
		return "preferred"
	}
	lo, loHalf, min := r.bound(t, "salinity_min_ppt")
	hi, hiHalf, max := r.bound(t, "salinity_max_ppt")
	maxBasis := r["salinity_max_basis"]
	if maxBasis == "" {
		maxBasis = r["salinity_basis"]
	}
	// past a soft bound nothing is known; below 28 ppt that ends for animals of sea water.
	softMin, softMax := min && lo > 0 && custom(r["salinity_basis"]), max && custom(maxBasis)
	softDownTo := 0.0
	if softMin {
		softDownTo = math.Min(28, lo)
	}
	switch class := r["sensitivity_class"]; {
	case class == "stenohaline-fresh":
		if pMin {
			lo, loHalf, min = pLo, pLoHalf, true
		}
		if pMax {
			hi, hiHalf, max = pHi, pHiHalf, true
		}
		softMin, softMax = false, false
	case class == "stenohaline-marine":
		least, most := 33.0, 37.0
		if pMin {
			least = math.Min(least, pLo)
		}
		if pMax {
			most = math.Max(most, pHi)
		}
		if min && lo > most || max && hi < least {
			break
		}
		switch {
		case !min:
			lo, loHalf, min, softMin, softDownTo = least, 0.5, true, true, math.Min(28, least)
		case lo < least:
			lo, loHalf, softMin, softDownTo = least, 0.5, true, math.Min(28, least)
		}
		switch {
		case !max:
			hi, hiHalf, max, softMax = most, 0.5, true, true
		case hi > most:
			hi, hiHalf, softMax = most, 0.5, false
		}
	default:
		if !min && pMin {
			lo, loHalf, min, softMin, softDownTo = pLo, pLoHalf, true, true, 0
		}
		if !max && pMax {
			hi, hiHalf, max, softMax = pHi, pHiHalf, true, true
		}
	}
	switch {
	case min && sp < lo-loHalf:
		if softMin && sp >= softDownTo {
			return "unknown"
		}
		return "outside"
	case max && sp > hi+hiHalf:
		if softMax {
			return "unknown"
		}
		return "outside"
	case !min || !max:
		return "unknown"
	}
	return "tolerated"
}

// What the service says of every species at every stage in five waters, and in
// sea water as the sea has it, is what the rows of the table say.
func TestEverySpeciesInFiveWaters(t *testing.T) {
	t.Parallel()
	s := newService(t)
	counts := map[string]int{}
	for _, r := range some(speciesTable(t)) {
		for _, sp := range []float64{0, 5, 10, 20, 30, 33, 35, 35.3, 37} {
			a := s.get(t, "/v1/conversions?reading="+url.QueryEscape(strconv.FormatFloat(sp, 'f', -1, 64)+" ppt")+"&species="+r.id()+"&stage="+r["life_stage"])
			if a.status != http.StatusOK {
				t.Fatalf("%s %s: %d %s", r.id(), r["life_stage"], a.status, a.body)
			}
			got, want := a.field(t, "suits.salinity"), r.expected(t, sp)
			if got != want {
				t.Errorf("%s %s at %g ppt: %v, want %s", r.id(), r["life_stage"], sp, got, want)
			}
			counts[want]++
		}
	}
	t.Log(counts)
}

// Sea water is sea water: no fully marine animal is refused 33 to 37 ppt unless
// an experiment or a field record says less, nor one of the estuaries 35 ppt
// where its row says 35.
func TestSeaWaterIsSeaWater(t *testing.T) {
	t.Parallel()
	s := newService(t)
	marine, euryhaline := 0, 0
	said := []string{"preferred", "tolerated"}
	at := func(r tableRow, reading string) any {
		return s.get(t, "/v1/conversions?reading="+url.QueryEscape(reading)+"&species="+r.id()+"&stage="+r["life_stage"]).field(t, "suits.salinity")
	}
	for _, r := range speciesTable(t) {
		switch hi, _, known := r.bound(t, "salinity_max_ppt"); {
		case r.marine():
			marine++
			for _, reading := range []string{"33 ppt", "34 ppt", "35 ppt", "35.165 g/kg", "36 ppt", "37 ppt"} {
				if v := at(r, reading); !slices.Contains(said, v.(string)) && r["salinity_basis"] != "experiment" && r["salinity_basis"] != "field-range" {
					t.Errorf("%s %s at %s: %v", r.id(), r["life_stage"], reading, v)
				}
			}
		case known && hi >= 35 && r["sensitivity_class"] != "stenohaline-fresh" && r["salinity_min_ppt"] != "":
			euryhaline++
			for _, reading := range []string{"35 ppt", "35.165 g/kg", "35.3 ppt"} {
				if v := at(r, reading); !slices.Contains(said, v.(string)) {
					t.Errorf("%s %s at %s: %v", r.id(), r["life_stage"], reading, v)
				}
			}
		}
	}
	t.Logf("%d rows of marine animals, %d of others that take sea water", marine, euryhaline)
	if marine < 40 || euryhaline < 100 {
		t.Error("so few rows were looked at that the test says nothing")
	}
}
