package site

import (
	"cmp"
	"html/template"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"time"

	"golang.org/x/text/language"

	"saltlock/server/render"
)

// tongue is the language of a page, as lang in its URL gives it; empty is English.
type tongue string

const inGerman tongue = "de"

// tongueOf reads the language that a page is asked for in.
func tongueOf(q url.Values) tongue {
	if q.Get("lang") == string(inGerman) {
		return inGerman
	}
	return ""
}

// code is the tag of the language, other the tag of the language to switch to.
func (l tongue) code() string { return cmp.Or(string(l), "en") }

func (l tongue) other() string {
	if l == inGerman {
		return "en"
	}
	return string(inGerman)
}

// voice is how the service speaks to the reader of a page.
func (l tongue) voice() render.Voice {
	if l == inGerman {
		return render.Voice{Language: language.German, Units: render.Metric, Comma: true}
	}
	return render.Voice{}
}

// says translates a text of the page's own into the page's language. Texts that the service wrote
// stay as they are.
func (l tongue) says(text string) string {
	if german, ok := germanPages[text]; ok && l == inGerman {
		return german
	}
	return text
}

// spoken are the paths whose pages and answers have the language of their URL.
var spokenPaths = []string{"/plan", "/species", "/t/", "/card", "/v1/"}

// here is an address of this server, in the language of the page that links there.
func (l tongue) here(address string) string {
	if l == "" || !slices.ContainsFunc(spokenPaths, func(p string) bool { return strings.HasPrefix(address, p) }) {
		return address
	}
	address, fragment, marked := strings.Cut(address, "#")
	joint := "?"
	if strings.Contains(address, "?") {
		joint = "&"
	}
	if address = strings.TrimSuffix(address, "&") + joint + "lang=" + string(l); marked {
		address += "#" + fragment
	}
	return strings.Replace(address, "?&", "?", 1)
}

// switched is the address of a page in its other language.
func switched(u *url.URL) string {
	q := u.Query()
	if q.Get("lang") == string(inGerman) {
		q.Del("lang")
	} else {
		q.Set("lang", string(inGerman))
	}
	if len(q) == 0 {
		return u.Path
	}
	return u.Path + "?" + readable(q)
}

// called is what an animal is called.
func (l tongue) called(s *speciesCard) string {
	if l == inGerman && len(s.GermanNames) > 0 {
		return s.GermanNames[0]
	}
	return s.Name()
}

// others are its further names.
func (l tongue) others(s *speciesCard) string {
	if l == inGerman {
		return strings.Join(s.GermanNames[min(1, len(s.GermanNames)):], ", ")
	}
	return s.Others()
}

// keep says where a life stage is to be kept.
func (l tongue) keep(s stageCard) string {
	return l.voice().Say("page_keep", l.says(s.Name()), s.Preferred.words(l.voice()))
}

// number writes the decimals of an answer that somebody gave as the language does.
func (l tongue) number(text string) string {
	if l == inGerman {
		return decimals.ReplaceAllString(text, "$1,$2")
	}
	return text
}

var decimals = regexp.MustCompile(`([0-9])\.([0-9])`)

// words are what templates say in a language.
func (l tongue) words() template.FuncMap {
	v := l.voice()
	return template.FuncMap{
		"t": l.says, "here": l.here, "language": l.code, "otherLanguage": l.other,
		"called": l.called, "others": l.others, "keep": l.keep, "says": l.entry,
		"bar":     func(s stageCard) template.HTML { return rangeBar(v, s.Survived, s.Preferred) },
		"words":   func(b *band) string { return b.words(v) },
		"stands":  func(b *band) string { return b.standing(l) },
		"deleted": func(t time.Time) string { return v.Say("page_expires", v.Date(t)) },
	}
}
