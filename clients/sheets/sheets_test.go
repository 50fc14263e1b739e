// Package sheets drives the tests of the functions and formulas for spreadsheets.
package sheets

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"saltlock/clients/internal/live"
)

// base is where the real program answers.
var base string

func TestMain(m *testing.M) {
	code := live.Main(m, &base)
	if profile != "" {
		os.RemoveAll(profile)
	}
	os.Exit(code)
}

// The Apps Script functions run under Node, with Google's services stubbed onto the real program.
func TestScript(t *testing.T) {
	live.Need(t, "node", "apt-get install nodejs")
	live.Run(t, []string{"SALTLOCK_URL=" + base}, "node", "--test")
}

// placeholder is the reader's own server in FORMULAS.md.
const placeholder = "https://salt.example"

// formulas are the lines of FORMULAS.md in the blocks of a sheet, asking the program of the test.
func formulas(t *testing.T, sheet string) []string {
	t.Helper()
	page, err := os.ReadFile("FORMULAS.md")
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, block := range regexp.MustCompile("(?s)```"+sheet+"\n(.*?)\n```").FindAllStringSubmatch(string(page), -1) {
		all = append(all, strings.Split(strings.ReplaceAll(block[1], placeholder, base), "\n")...)
	}
	if len(all) < 5 {
		t.Fatalf("the page has %d formulas for %s", len(all), sheet)
	}
	return all
}

var address = regexp.MustCompile(`"(http[^"]*)"\)`)

// What only Google and Excel can run is tested by its address, which must answer what the function
// needs: one number, or one plain table.
func TestAddresses(t *testing.T) {
	for _, formula := range append(formulas(t, "google"), formulas(t, "excel")...) {
		m := address.FindStringSubmatch(formula)
		if m == nil {
			if !strings.Contains(formula, "ENCODEURL(A2)") {
				t.Errorf("no address in %s", formula)
			}
			continue
		}
		body := get(t, m[1])
		if strings.Contains(m[1], ".csv?") {
			rows, err := csv.NewReader(strings.NewReader(body)).ReadAll()
			if err != nil || len(rows) < 2 {
				t.Errorf("%s: %d rows, %v; want a table", m[1], len(rows), err)
			}
			continue
		}
		if _, err := strconv.ParseFloat(strings.TrimSpace(body), 64); err != nil {
			t.Errorf("%s answers %q, want a bare number", m[1], body)
		}
		if len(m[1]) > 2000 {
			t.Errorf("%s is longer than sheets take", m[1])
		}
	}
	if got := get(t, base+"/v1/mixes/salt?target=10,5%20ppt&volume=450L&only=salt&format=text&decimal=comma"); !strings.HasPrefix(got, "4,7") {
		t.Errorf("with decimal=comma it answers %q, want 4,7…", got)
	}
}

func get(t *testing.T, url string) string {
	t.Helper()
	text, ok := ask(t, url)
	if !ok {
		t.Fatalf("%s is refused\n%s", url, text)
	}
	return text
}

// ask gives an answer, or a refusal.
func ask(t *testing.T, url string) (text string, ok bool) {
	t.Helper()
	r, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(body), r.StatusCode == http.StatusOK
}

// LibreOffice really types and computes every formula of its kind.
func TestLibreOffice(t *testing.T) {
	live.Need(t, "soffice", "apt-get install --no-install-recommends libreoffice-calc")
	typed := "A2\t1.010 SG\nB2\t120 gal\n"
	want := map[string]float64{} // by cell
	for i, formula := range formulas(t, "libreoffice") {
		cell := fmt.Sprint("D", i+1)
		typed += cell + "\t" + formula + "\n"
		asked := base + "/v1/mixes/salt?target=1.010%20SG&volume=120%20gal&only=salt&format=text"
		if m := address.FindStringSubmatch(formula); m != nil {
			asked = m[1]
		}
		value, err := strconv.ParseFloat(strings.TrimSpace(get(t, asked)), 64)
		if err != nil {
			t.Fatal(err)
		}
		want[cell] = value
	}
	for line := range strings.Lines(compute(t, typed)) {
		parts := strings.Split(strings.TrimRight(line, "\r\n"), "\t")
		value, asked := want[parts[0]]
		if !asked {
			continue
		}
		delete(want, parts[0])
		// A cell of default width shows six digits or more.
		shown, err := strconv.ParseFloat(parts[2], 64)
		if err != nil || parts[1] != "0" || shown < value-1e-4*max(value, 1) || shown > value+1e-4*max(value, 1) {
			t.Errorf("cell %s shows %q with error %s, want %g", parts[0], parts[2], parts[1], value)
		}
	}
	for cell := range want {
		t.Errorf("cell %s was not computed", cell)
	}
}

// LibreOffice opens the ready workbooks of both formats, and every formula shows the
// number that the service gives.
func TestWorkbooks(t *testing.T) {
	live.Need(t, "soffice", "apt-get install --no-install-recommends libreoffice-calc")
	for _, book := range []string{"Saltlock.xlsx", "Saltlock.ods"} {
		path, err := filepath.Abs(book)
		if err != nil {
			t.Fatal(err)
		}
		shown := filepath.Join(t.TempDir(), "shown.txt")
		asked, numbers, sheets := "", 0, map[string]bool{}
		for line := range strings.Lines(macro(t, fmt.Sprintf(`Compute("%s","%s","%s")`, path, base, shown), shown)) {
			parts := strings.Split(strings.TrimRight(line, "\r\n"), "\t")
			sheets[parts[0]] = true
			if parts[2] == "Question" {
				asked = parts[4]
				continue
			}
			only := strings.ReplaceAll(strings.ToLower(parts[2]), " ", "_")
			text, ok := ask(t, asked+"&only="+only)
			if !ok {
				if parts[4] != "no answer" {
					t.Errorf("%s, sheet %s: %s shows %q where the service has none: %s", book, parts[0], parts[2], parts[4], text)
				}
				continue
			}
			value, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
			if err != nil {
				t.Fatal(err)
			}
			at, err := strconv.ParseFloat(parts[4], 64)
			if err != nil || parts[3] != "0" || at < value-1e-4*max(value, 1) || at > value+1e-4*max(value, 1) {
				t.Errorf("%s, sheet %s: %s shows %q with error %s, want %g", book, parts[0], parts[2], parts[4], parts[3], value)
			}
			numbers++
		}
		if len(sheets) != 6 || numbers < 25 {
			t.Errorf("%s: %d sheets with %d numbers", book, len(sheets), numbers)
		}
	}
}

// compute has LibreOffice fill a sheet from lines of cell TAB content and gives what it shows.
func compute(t *testing.T, typed string) string {
	t.Helper()
	dir := t.TempDir()
	given, shown := filepath.Join(dir, "given.txt"), filepath.Join(dir, "shown.txt")
	if err := os.WriteFile(given, []byte(typed), 0o600); err != nil {
		t.Fatal(err)
	}
	return macro(t, fmt.Sprintf(`Fill("%s","%s")`, given, shown), shown)
}

// macro has LibreOffice run a macro of testdata and gives what it wrote.
func macro(t *testing.T, call, shown string) string {
	t.Helper()
	if profile == "" {
		layOut(t)
	}
	soffice(t, "macro:///Standard.Module1."+call)
	text, err := os.ReadFile(shown)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// profile is the folder of LibreOffice's settings; TestMain removes it.
var profile string

// soffice runs LibreOffice without a window.
func soffice(t *testing.T, args ...string) {
	t.Helper()
	live.Run(t, []string{"LC_ALL=C.UTF-8"}, "soffice", append([]string{"-env:UserInstallation=file://" + profile, "--headless", "--norestore", "--nologo"}, args...)...)
}

// layOut makes a profile with the macros of testdata, which every test uses.
func layOut(t *testing.T) {
	t.Helper()
	dir, err := os.MkdirTemp("", "saltlock-sheets")
	if err != nil {
		t.Fatal(err)
	}
	profile = dir
	// The first start lays out the profile, with an empty module that ours replaces.
	soffice(t, "--terminate_after_init")
	module, err := os.ReadFile("testdata/Module1.xba")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(profile, "user", "basic", "Standard", "Module1.xba"), module, 0o600); err != nil {
		t.Fatal(err)
	}
	// A file may update its links if it is in a folder that its user trusts.
	settings := filepath.Join(profile, "user", "registrymodifications.xcu")
	text, err := os.ReadFile(settings)
	if err != nil {
		t.Fatal(err)
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	text = bytes.Replace(text, []byte("</oor:items>"), fmt.Appendf(nil, `<item oor:path="/org.openoffice.Office.Common/Security/Scripting"><prop oor:name="SecureURL" oor:op="fuse"><value><it>file://%s</it></value></prop></item><item oor:path="/org.openoffice.Office.Calc/Content/Update"><prop oor:name="Link" oor:op="fuse"><value>0</value></prop></item></oor:items>`, here), 1)
	if err := os.WriteFile(settings, text, 0o600); err != nil {
		t.Fatal(err)
	}
}
