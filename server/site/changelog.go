package site

import (
	"fmt"
	"html/template"
	"strings"
)

// release is one version in pages/changelog.md.
type release struct {
	Title  string
	Groups []changeGroup
}

// changeGroup holds changes of one kind: numbers, or fields.
type changeGroup struct {
	Title string
	Items []template.HTML
}

// readChangelog reads the few marks that the file uses: ## a version, ### a kind of change, and -
// a change, which may continue on indented lines.
func readChangelog() ([]release, error) {
	text, err := pageFiles.ReadFile("pages/changelog.md")
	if err != nil {
		return nil, err
	}
	var releases []release
	var item []string
	end := func() {
		if len(item) > 0 {
			g := &releases[len(releases)-1].Groups
			(*g)[len(*g)-1].Items = append((*g)[len(*g)-1].Items, coded(strings.Join(item, " ")))
		}
		item = nil
	}
	for n, line := range strings.Split(string(text), "\n") {
		line = strings.TrimSpace(line)
		version, isVersion := strings.CutPrefix(line, "## ")
		kind, isKind := strings.CutPrefix(line, "### ")
		change, isChange := strings.CutPrefix(line, "- ")
		switch {
		case isVersion:
			end()
			releases = append(releases, release{Title: version})
		case isKind && len(releases) > 0:
			end()
			last := &releases[len(releases)-1]
			last.Groups = append(last.Groups, changeGroup{Title: kind})
		case isChange && len(releases) > 0 && len(releases[len(releases)-1].Groups) > 0:
			end()
			item = []string{change}
		case line == "":
			end()
		case len(item) > 0:
			item = append(item, line)
		case len(releases) > 0:
			return nil, fmt.Errorf("pages/changelog.md:%d: %q belongs to no change", n+1, line)
		}
	}
	end()
	return releases, nil
}
