package site

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// Pages, elements and charts share their colours: what is named alike is alike,
// in the light and in the dark.
func TestOneLook(t *testing.T) {
	css, err := staticFiles.ReadFile("static/style.css")
	if err != nil {
		t.Fatal(err)
	}
	light, dark, _ := strings.Cut(string(css), "prefers-color-scheme: dark")
	named := regexp.MustCompile(`--(\w+): (#\w+);`)
	colours := map[string][2]string{}
	for _, m := range named.FindAllStringSubmatch(light, -1) {
		colours[m[1]] = [2]string{m[2], m[2]}
	}
	for _, m := range named.FindAllStringSubmatch(dark, -1) {
		colours[m[1]] = [2]string{colours[m[1]][0], m[2]}
	}
	element, err := os.ReadFile("../../clients/embed/src/style.css")
	if err != nil {
		t.Fatal(err)
	}
	chart, err := os.ReadFile("../render/svg.go")
	if err != nil {
		t.Fatal(err)
	}
	for of, name := range map[string]string{"ink": "ink", "sheet": "paper", "soft": "line", "link": "accent", "bad": "fault", "tint": "tint", "gate": "gate"} {
		want := colours[of]
		if !regexp.MustCompile(`--` + name + `:.*light-dark\(` + want[0] + `,` + want[1] + `\)`).Match(element) {
			t.Errorf("--%s of the elements is not the --%s of the pages, %s", name, of, want)
		}
	}
	for _, of := range []string{"ink", "soft", "line"} {
		for _, want := range colours[of] {
			if !strings.Contains(string(chart), want) {
				t.Errorf("charts do not have the --%s of the pages, %s", of, want)
			}
		}
	}
}
