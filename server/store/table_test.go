package store

import (
	"bytes"
	"encoding/csv"
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"
)

// tableWith returns the first row of the species table (line 2) with some
// cells changed, and as many copies of it as asked.
func tableWith(t *testing.T, copies int, cells map[string]string) string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(speciesCSV)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	row := slices.Clone(rows[1])
	for column, value := range cells {
		i := slices.Index(rows[0], column)
		if i < 0 {
			t.Fatalf("no column %q", column)
		}
		row[i] = value
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Write(rows[0])
	for range copies {
		w.Write(row)
	}
	w.Flush()
	return out.String()
}

func TestTableRules(t *testing.T) {
	for _, c := range []struct {
		name   string
		cells  map[string]string
		column string
	}{
		{"unknown source", map[string]string{"source_salinity": "Nobody1999"}, "source_salinity"},
		{"unknown source of the length", map[string]string{"source_length": "Nobody1999:ref1"}, "source_length"},
		{"minimum above maximum", map[string]string{"salinity_min_ppt": "36", "preferred_min_ppt": "", "preferred_max_ppt": "", "preferred_basis": ""}, "salinity_min_ppt"},
		{"preferred above survival", map[string]string{"preferred_max_ppt": "36"}, "preferred_min_ppt"},
		{"preferred below survival", map[string]string{"salinity_min_ppt": "3"}, "preferred_min_ppt"},
		{"unknown class", map[string]string{"sensitivity_class": "tough"}, "sensitivity_class"},
		{"unknown stage", map[string]string{"life_stage": "teenager"}, "life_stage"},
		{"unknown group", map[string]string{"group": "bird"}, "group"},
		{"unknown mark", map[string]string{"confidence": "certain"}, "confidence"},
		{"no mark", map[string]string{"confidence": ""}, "confidence"},
		{"unknown basis", map[string]string{"salinity_basis": "rumour"}, "salinity_basis"},
		{"bad number", map[string]string{"temp_min_c": "warm"}, "temp_min_c"},
		{"not a number", map[string]string{"temp_min_c": "NaN"}, "temp_min_c"},
		{"infinite", map[string]string{"salinity_max_ppt": "Inf"}, "salinity_max_ppt"},
		{"hexadecimal", map[string]string{"temp_min_c": "0x1p4"}, "temp_min_c"},
		{"decimal comma", map[string]string{"temp_min_c": "24,5"}, "temp_min_c"},
		{"no such salinity", map[string]string{"salinity_max_ppt": "900"}, "salinity_max_ppt"},
		{"no such pH", map[string]string{"ph_max": "25", "source_ph": "FB2018"}, "ph_max"},
		{"bound without a source", map[string]string{"source_temp": ""}, "source_temp"},
		{"bound without evidence", map[string]string{"salinity_basis": "none"}, "salinity_basis"},
		{"preferred band without a basis", map[string]string{"preferred_basis": ""}, "preferred_basis"},
		{"published preference without its source", map[string]string{"preferred_basis": "published"}, "source_preferred"},
		{"source of a preference nobody read", map[string]string{"preferred_basis": "published", "source_preferred": "Nordlie1992"}, "source_preferred"},
		{"recalled salinity called published", map[string]string{"source_salinity": "memory"}, "confidence"},
		{"recalled basis called published", map[string]string{"salinity_basis": "memory"}, "confidence"},
		{"unknown hazard", map[string]string{"hazards": "grumpy:memory"}, "hazards"},
		{"hazard without a mark", map[string]string{"hazards": "venomous"}, "hazards"},
		{"law from nowhere", map[string]string{"law": "eu-invasive-list:Nobody1999"}, "law"},
		{"unknown migration", map[string]string{"migration": "commuting"}, "migration"},
		{"unknown build", map[string]string{"body_shape": "round"}, "body_shape"},
		{"build of a plant", map[string]string{"group": "plant"}, "body_shape"},
		{"length without its kind", map[string]string{"length_type": ""}, "max_length_cm"},
		{"change without its basis", map[string]string{"change_basis": ""}, "greatest_change_survived"},
		{"no family", map[string]string{"family": ""}, "family"},
		{"not a scientific name", map[string]string{"scientific_name": "green puffer"}, "scientific_name"},
		{"empty name in a list", map[string]string{"common_names": "a;;b"}, "common_names"},
		{"blank at an end", map[string]string{"family": "Tetraodontidae "}, "family"},
		{"nothing known of the salinity", map[string]string{
			"salinity_min_ppt": "", "salinity_max_ppt": "", "source_salinity": "", "salinity_basis": "none",
			"preferred_min_ppt": "", "preferred_max_ppt": "", "preferred_basis": "", "confidence": "common-practice",
			"greatest_change_survived": "", "change_basis": "",
		}, "source_salinity"},
	} {
		_, err := readTable(strings.NewReader(tableWith(t, 1, c.cells)), bytes.NewReader(sourcesCSV))
		var r *RowError
		if !errors.As(err, &r) || r.Line != 2 || !strings.Contains(err.Error(), "line 2, "+c.column+" ") {
			t.Errorf("%s: error %v, want one of line 2, %s", c.name, err, c.column)
		}
	}
	if _, err := readTable(strings.NewReader(tableWith(t, 1, nil)), bytes.NewReader(sourcesCSV)); err != nil {
		t.Errorf("the row as it is: %v", err)
	}
}

func TestTableRefusesTwoRowsOfAStage(t *testing.T) {
	_, err := readTable(strings.NewReader(tableWith(t, 2, nil)), bytes.NewReader(sourcesCSV))
	var r *RowError
	if !errors.As(err, &r) || r.Line != 3 || r.Column != "life_stage" {
		t.Errorf("error %v, want line 3, life_stage", err)
	}
}

func TestTableRowsOfATaxonAgree(t *testing.T) {
	other := tableWith(t, 1, map[string]string{"life_stage": "larva", "family": "Scatophagidae"})
	_, rest, _ := strings.Cut(other, "\n")
	_, err := readTable(strings.NewReader(tableWith(t, 1, nil)+rest), bytes.NewReader(sourcesCSV))
	var r *RowError
	if !errors.As(err, &r) || r.Line != 3 || r.Column != "family" {
		t.Errorf("error %v, want line 3, family", err)
	}
}

func TestTableNamesMeanOneTaxon(t *testing.T) {
	other := tableWith(t, 1, map[string]string{"scientific_name": "Tetraodon simulans", "synonyms": "Tetraodon nigroviridis"})
	_, rest, _ := strings.Cut(other, "\n")
	_, err := readTable(strings.NewReader(tableWith(t, 1, nil)+rest), bytes.NewReader(sourcesCSV))
	var r *RowError
	if !errors.As(err, &r) || r.Column != "synonyms" {
		t.Errorf("error %v, want synonyms", err)
	}
}

func TestTableTellsAllFaultsAtOnce(t *testing.T) {
	_, err := readTable(strings.NewReader(tableWith(t, 1, map[string]string{"group": "bird", "ph_min": "x", "confidence": "?"})), bytes.NewReader(sourcesCSV))
	for _, column := range []string{"group", "ph_min", "confidence"} {
		if err == nil || !strings.Contains(err.Error(), ", "+column+" ") {
			t.Errorf("error %v does not name %s", err, column)
		}
	}
}

func TestTableColumns(t *testing.T) {
	if _, err := readTable(strings.NewReader("scientific_name,colour\r\n"), bytes.NewReader(sourcesCSV)); err == nil {
		t.Error("a table with other columns was read")
	}
}

func TestSourcesRules(t *testing.T) {
	head := strings.Join(sourceColumns, ",") + "\n"
	for _, c := range []struct{ name, rows, column string }{
		{"twice", "A,x,2000,u,yes,abstract\nA,x,2000,u,yes,abstract\n", "key"},
		{"no citation", "A,,2000,u,yes,abstract\n", "citation"},
		{"colon in a key", "A:1,x,2000,u,yes,abstract\n", "key"},
		{"no year", "A,x,soon,u,yes,abstract\n", "year"},
		{"seen how much", "A,x,2000,u,yes,\n", "seen_what"},
		{"perhaps seen", "A,x,2000,u,perhaps,abstract\n", "seen"},
	} {
		rows := strings.ReplaceAll(strings.ReplaceAll(c.rows, "A,x,", "A,A,x,"), "A,,2000", "A,A,,2000")
		rows = strings.ReplaceAll(rows, "A:1,x", "A:1,A,x")
		_, err := readSources("sources.csv", strings.NewReader(head+rows), map[string]source{})
		var r *RowError
		if !errors.As(err, &r) || r.Column != c.column {
			t.Errorf("%s: error %v, want %s", c.name, err, c.column)
		}
	}
}

// The columns for behaviour, life cycle and sea water must follow rules too.
func TestTableRulesOfBehaviour(t *testing.T) {
	marine := map[string]string{"habitat": "marine:FB2018", "salinity_basis": "habitat-flag", "confidence": "common-practice",
		"salinity_min_ppt": "", "preferred_min_ppt": "", "preferred_max_ppt": "", "preferred_basis": "", "source_preferred": ""}
	with := func(more map[string]string) map[string]string {
		all := maps.Clone(marine)
		maps.Copy(all, more)
		return all
	}
	for _, c := range []struct {
		name   string
		cells  map[string]string
		column string
	}{
		{"unknown temper", map[string]string{"temper": "grumpy:memory"}, "temper"},
		{"temper without a mark", map[string]string{"temper": "peaceful"}, "temper"},
		{"temper from nowhere", map[string]string{"temper": "peaceful:Nobody1999"}, "temper"},
		{"a group of none", map[string]string{"smallest_group": "0:common-practice"}, "smallest_group"},
		{"a group without a mark", map[string]string{"smallest_group": "5"}, "smallest_group"},
		{"lives in trees", map[string]string{"leaves_water": "trees:memory"}, "leaves_water"},
		{"two ways to carry it", map[string]string{"moving": "under-water:memory;in-air-ok:memory"}, "moving"},
		{"perhaps a lid", map[string]string{"lid": "perhaps:memory"}, "lid"},
		{"unknown life cycle", map[string]string{"life_cycle": "commuting:memory"}, "life_cycle"},
		{"larvae without a source", map[string]string{"larva_min_ppt": "5", "larva_from": ""}, "larva_from"},
		{"a source of no larvae", map[string]string{"larva_min_ppt": "", "larva_max_ppt": "", "larva_from": "memory"}, "larva_from"},
		{"larvae by rumour", map[string]string{"larva_min_ppt": "5", "larva_from": "memory", "larva_basis": "rumour"}, "larva_basis"},
		{"unknown habitat", map[string]string{"habitat": "air:FB2018"}, "habitat"},
		{"the same evidence for the maximum", map[string]string{"salinity_max_basis": "experiment"}, "salinity_max_basis"},
		{"evidence of no maximum", map[string]string{"salinity_max_ppt": "", "salinity_max_basis": "memory"}, "salinity_max_basis"},
		{"only tested, and published", map[string]string{"salinity_basis": "tested-only"}, "confidence"},
		{"second-hand, and published", map[string]string{"salinity_basis": "second-hand"}, "confidence"},
		{"a marine animal that ends at 35 by custom", with(map[string]string{"salinity_max_ppt": "35"}), "salinity_max_ppt"},
		{"a marine animal that begins at 34 by custom", with(map[string]string{"salinity_max_ppt": "37", "salinity_min_ppt": "34"}), "salinity_min_ppt"},
	} {
		_, err := readTable(strings.NewReader(tableWith(t, 1, c.cells)), bytes.NewReader(sourcesCSV))
		var r *RowError
		if !errors.As(err, &r) || r.Line != 2 || !strings.Contains(err.Error(), "line 2, "+c.column+" ") {
			t.Errorf("%s: error %v, want one of line 2, %s", c.name, err, c.column)
		}
	}
}

// A common name of two taxa must be marked as shared by both.
func TestTableSharedNames(t *testing.T) {
	two := func(first, second string) error {
		other := tableWith(t, 1, map[string]string{"scientific_name": "Localus clubensis", "synonyms": "", "common_names": second, "german_names": ""})
		_, rest, _ := strings.Cut(other, "\n")
		_, err := readTable(strings.NewReader(tableWith(t, 1, map[string]string{"common_names": first, "german_names": ""})+rest), bytes.NewReader(sourcesCSV))
		return err
	}
	if err := two("club puffer", "Club Puffers"); err == nil || !strings.Contains(err.Error(), "common_names") {
		t.Errorf("a name of two: %v", err)
	}
	if err := two("club puffer (part)", "Club Puffers"); err == nil {
		t.Error("a name of two, marked by one of them, was read")
	}
	if err := two("club puffer (part)", "Club Puffers (part)"); err != nil {
		t.Errorf("a name of two, marked by both: %v", err)
	}
}

// A table for an older program still loads: it has fewer columns, and its bounds are called g/kg.
func TestTableOfAnOlderProgram(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(tableWith(t, 1, nil))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var older bytes.Buffer
	w := csv.NewWriter(&older)
	for _, row := range rows {
		var cells []string
		for i, column := range rows[0] {
			if !slices.Contains(laterColumns, column) {
				cell := row[i]
				for old, today := range olderColumns {
					if cell == today {
						cell = old
					}
				}
				cells = append(cells, cell)
			}
		}
		w.Write(cells)
	}
	w.Flush()
	if !strings.Contains(older.String(), "salinity_max_g_kg") || strings.Contains(older.String(), "temper,") {
		t.Fatalf("not an older table: %s", older.String())
	}
	taxa, err := readTable(&older, bytes.NewReader(sourcesCSV))
	if err != nil || len(taxa) != 1 || taxa[0].Stages[0].Survived.Max.Value != 35 {
		t.Errorf("%+v, %v", taxa, err)
	}
}
