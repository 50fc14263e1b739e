package site

import (
	"fmt"
	"html/template"
	"strings"

	"saltlock/chem/instrument"
	"saltlock/server/contract"
	"saltlock/server/render"
)

// Problem explains one type of problem.
type Problem struct {
	contract.Kind
	Meaning string
	Do      string
}

// pitfall is one mistake and its cost in each water, in words.
type pitfall struct {
	Mistake string
	Errors  [4]string
}

// pitfalls computes the mistakes, so that the page is never out of date.
func pitfalls() ([]pitfall, error) {
	all, err := instrument.Pitfalls()
	if err != nil {
		return nil, err
	}
	rows := make([]pitfall, len(all))
	for i, p := range all {
		rows[i].Mistake = render.Voice{}.Say(p.Mistake.Code, p.Mistake.Params...)
		for k, m := range p.Errors {
			rows[i].Errors[k] = fmt.Sprintf("%+.2f %s", m.Value, m.Unit)
		}
	}
	return rows, nil
}

// prose sets text between backticks as code, and splits paragraphs.
func prose(text string) template.HTML {
	var out strings.Builder
	for paragraph := range strings.SplitSeq(strings.TrimSpace(text), "\n\n") {
		out.WriteString("<p>" + string(coded(paragraph)) + "</p>")
	}
	return template.HTML(out.String())
}

// coded sets what stands between backticks as code and what stands between two
// stars as strong; the rest is escaped.
func coded(text string) template.HTML {
	var out strings.Builder
	for i, part := range strings.Split(text, "`") {
		part = template.HTMLEscapeString(part)
		if i%2 == 1 {
			out.WriteString("<code>" + part + "</code>")
			continue
		}
		for k, piece := range strings.Split(part, "**") {
			if k%2 == 1 {
				piece = "<strong>" + piece + "</strong>"
			}
			out.WriteString(piece)
		}
	}
	return template.HTML(out.String())
}
