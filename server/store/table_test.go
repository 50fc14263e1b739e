package store

import (
	"bytes"
	"encoding/csv"
	"errors"
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
		{"minimum above maximum", map[string]string{"salinity_min_g_kg": "36", "preferred_min_g_kg": "", "preferred_max_g_kg": "", "preferred_basis": ""}, "salinity_min_g_kg"},
		{"preferred above survival", map[string]string{"preferred_max_g_kg": "36"}, "preferred_min_g_kg"},
		{"preferred below survival", map[string]string{"salinity_min_g_kg": "3"}, "preferred_min_g_kg"},
		{"unknown class", map[string]string{"sensitivity_class": "tough"}, "sensitivity_class"},
		{"unknown stage", map[string]string{"life_stage": "teenager"}, "life_stage"},
		{"unknown group", map[string]string{"group": "bird"}, "group"},
		{"unknown mark", map[string]string{"confidence": "certain"}, "confidence"},
		{"no mark", map[string]string{"confidence": ""}, "confidence"},
		{"unknown basis", map[string]string{"salinity_basis": "rumour"}, "salinity_basis"},
		{"bad number", map[string]string{"temp_min_c": "warm"}, "temp_min_c"},
		{"not a number", map[string]string{"temp_min_c": "NaN"}, "temp_min_c"},
		{"infinite", map[string]string{"salinity_max_g_kg": "Inf"}, "salinity_max_g_kg"},
		{"hexadecimal", map[string]string{"temp_min_c": "0x1p4"}, "temp_min_c"},
		{"decimal comma", map[string]string{"temp_min_c": "24,5"}, "temp_min_c"},
		{"no such salinity", map[string]string{"salinity_max_g_kg": "900"}, "salinity_max_g_kg"},
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
			"salinity_min_g_kg": "", "salinity_max_g_kg": "", "source_salinity": "", "salinity_basis": "none",
			"preferred_min_g_kg": "", "preferred_max_g_kg": "", "preferred_basis": "", "confidence": "common-practice",
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
		_, err := readSources("sources.csv", strings.NewReader(head+c.rows), map[string]source{})
		var r *RowError
		if !errors.As(err, &r) || r.Column != c.column {
			t.Errorf("%s: error %v, want %s", c.name, err, c.column)
		}
	}
}
