package render

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

// choice is the text for a number: for exactly one number, or for all of one form.
type choice struct {
	exact bool
	n     int
	form  plural.Form
	text  pattern
}

// forms are the plural forms by the names that sentences give them.
var forms = map[string]plural.Form{"zero": plural.Zero, "one": plural.One, "two": plural.Two, "few": plural.Few, "many": plural.Many, "other": plural.Other}

// choose returns the text for a count.
func (at *place) choose(tag language.Tag, thing any) pattern {
	n, counted := thing.(int)
	form := plural.Other
	if counted {
		form = plural.Cardinal.MatchPlural(tag, n, 0, 0, 0, 0)
	}
	for _, c := range at.cases {
		if c.exact && counted && c.n == n || !c.exact && (c.form == form || c.form == plural.Other) {
			return c.text
		}
	}
	return nil // impossible: every plural ends with other
}

// checkForms finds plural forms that a language does not have.
func (p pattern) checkForms(tag language.Tag) error {
	has := map[plural.Form]bool{plural.Other: true}
	for n := range 200 {
		has[plural.Cardinal.MatchPlural(tag, n, 0, 0, 0, 0)] = true
	}
	for _, x := range p {
		if x.place == nil {
			continue
		}
		for _, c := range x.place.cases {
			if !c.exact && !has[c.form] {
				return fmt.Errorf("%v has no plural form of number %d", tag, c.form)
			}
			if err := c.text.checkForms(tag); err != nil {
				return err
			}
		}
	}
	return nil
}

// parseCases reads the texts of a plural, in which # is the number of the parameter.
func parseCases(s string, param int) ([]choice, error) {
	var all []choice
	for s = strings.TrimSpace(s); s != ""; s = strings.TrimSpace(s) {
		selector, rest, found := strings.Cut(s, "{")
		if !found {
			return nil, fmt.Errorf("no text for %q of a plural", s)
		}
		inner, rest, err := closed(rest)
		if err != nil {
			return nil, err
		}
		c, err := parseChoice(strings.TrimSpace(selector))
		if err != nil {
			return nil, err
		}
		if c.text, err = parse(inner); err != nil {
			return nil, err
		}
		c.text = c.text.counting(param)
		all, s = append(all, c), rest
	}
	if last := len(all) - 1; last < 0 || all[last].exact || all[last].form != plural.Other {
		return nil, errors.New("a plural ends with other")
	}
	return all, nil
}

// parseChoice reads which numbers a text is for.
func parseChoice(selector string) (c choice, err error) {
	var known bool
	if c.form, known = forms[selector]; known {
		return c, nil
	}
	number, exact := strings.CutPrefix(selector, "=")
	if c.n, err = strconv.Atoi(number); !exact || err != nil {
		return c, fmt.Errorf("%q chooses no numbers", selector)
	}
	c.exact = true
	return c, nil
}

// counting puts the number for each #.
func (p pattern) counting(param int) pattern {
	var counted pattern
	for _, x := range p {
		if x.place != nil {
			counted = append(counted, x)
			continue
		}
		for i, text := range strings.Split(x.text, "#") {
			if i > 0 {
				counted = append(counted, part{place: &place{param: param, kind: aNumber}})
			}
			if text != "" {
				counted = append(counted, part{text: text})
			}
		}
	}
	return counted
}
