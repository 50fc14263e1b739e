package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	saltlock "saltlock/clients/go"
)

// reply is what the chat shows.
type reply struct {
	Text     string `json:"text"`
	ImageURL string `json:"image_url,omitempty"`
}

// sea is the salinity of "sea water" if no number is given.
const sea = "35 ppt"

// answer answers one message, each question in it separately.
func (b *bot) answer(ctx context.Context, text string) reply {
	all := message{german: inGerman.MatchString(text)}
	if n := utf8.RuneCountInString(text); n > longestText {
		return reply{Text: all.say(tooLong, n, longestText) + " " + all.say(help)}
	}
	if strings.TrimSpace(text) == "" {
		return reply{Text: empty + " " + help}
	}
	if all.german {
		text = reword(text, german)
	}
	text = reword(text, english)
	if stop := all.stop(text); stop != "" {
		return reply{Text: stop}
	}
	var mixed bool
	if all.comma, mixed = decimal(text); mixed {
		return reply{Text: all.say(mixedMarks)}
	}
	var whole reply
	var texts []string
	for _, part := range questions(text) {
		m := all
		m.text, m.rest = part, part
		r := b.question(ctx, &m)
		all.before = append(all.before, append(m.known(), m.unclear()...)...)
		if whole.ImageURL != "" && r.ImageURL != "" { // a reply has room for one picture
			r.Text += "\nIts picture: " + r.ImageURL
		}
		texts = append(texts, r.Text)
		whole.ImageURL = cmp.Or(whole.ImageURL, r.ImageURL)
	}
	whole.Text = strings.Join(texts, "\n\n")
	return whole
}

// stop is what the bot says instead of a figure that somebody might act on.
func (m *message) stop(text string) string {
	if ill.MatchString(text) {
		return m.say(illness)
	}
	for _, s := range wrongSalts {
		if name := s.name.FindString(text); name != "" {
			return m.say(notSeaSalt, name, m.say(s.is))
		}
	}
	if bad := malformed.FindString(text); bad != "" {
		return m.say(askNumber, bad)
	}
	return ""
}

// question finds out which question a message asks.
func (b *bot) question(ctx context.Context, m *message) reply {
	m.read()
	if err := b.lookUp(ctx, m); err != nil {
		return m.refused(err)
	}
	asked := func(cue *regexp.Regexp) bool { return cue.MatchString(m.text) }
	reading := m.target != "" || m.source != ""
	switch {
	case other.MatchString(m.text) && !asked(saltNoun), asked(howMuchWater): // its numbers are not salinities, or it asks the other way round
		return reply{Text: m.say(notUnderstood) + " " + m.say(help)}
	case m.slip() != "":
		return reply{Text: m.slip()}
	case asked(howFast) && m.target == "":
		return b.species(ctx, m)
	case asked(move) && !(asked(howMuch) && asked(saltNoun)):
		return b.plan(ctx, m)
	case asked(saltNoun) && (asked(howMuch) || m.volume != nil), m.volume != nil && reading, m.source != "" && m.target != "" && len(m.known()) == 0:
		return b.salt(ctx, m)
	case reading && m.instrument != "" && len(m.those(func(a animal) bool { return a.near })) == 0: // the name next to it may be a manufacturer's
		return b.convert(ctx, m)
	case len(m.known())+len(m.unclear()) > 0, len(m.animals) > 0 && !reading && asked(water):
		return b.species(ctx, m)
	case reading, m.sea && asked(whatFor):
		return b.convert(ctx, m)
	case asked(scales):
		return m.answered(m.say(askReading))
	case asked(water) && asked(whatFor):
		return m.answered(m.say(askAnimal))
	case greeting.MatchString(m.text):
		return reply{Text: m.say(help)}
	}
	return reply{Text: m.say(notUnderstood) + " " + m.say(help)}
}

// conversion asks what a reading means; on most scales that depends on the temperature.
func (m *message) conversion(reading string) *saltlock.GetConversionParams {
	p := &saltlock.GetConversionParams{Reading: reading, Decimal: mark[saltlock.GetConversionParamsDecimal](m), Lang: lang[saltlock.GetConversionParamsLang](m)}
	switch {
	case len(m.warmth) > 0:
		p.Temperature = &m.warmth[0]
	case !strings.HasSuffix(reading, " ppt"):
		p.Temperature = new("25 C")
		m.note(asWarm)
	}
	return p
}

// water is the water that a question about an animal means, if it names one.
func (m *message) water() string {
	w := cmp.Or(m.target, m.source)
	if w == "" && m.sea {
		m.note(asSea)
		w = sea
	}
	return w
}

// convert answers what a reading means on the other scales.
func (b *bot) convert(ctx context.Context, m *message) reply {
	p := m.conversion(m.water())
	if m.instrument != "" {
		p.Instrument = &m.instrument
		if p.Temperature == nil {
			p.Temperature = new("25 C")
			m.note(asWarm)
		}
	}
	r, err := b.service.GetConversionWithResponse(ctx, p)
	if err != nil {
		return m.refused(err)
	}
	return m.answered(r.JSON200.Summary)
}

// salt answers how much salt a volume of water needs. Animals named in the message decide: there
// is no figure for a water that is wrong for them.
func (b *bot) salt(ctx context.Context, m *message) reply {
	p := &saltlock.GetSaltMixParams{Volume: cmp.Or(m.volume, m.start, m.bucket), Target: m.target,
		Decimal: mark[saltlock.GetSaltMixParamsDecimal](m), Lang: lang[saltlock.GetSaltMixParamsLang](m)}
	if p.Target == "" && m.sea {
		p.Target = m.water()
	}
	if m.source != "" {
		p.Source = &m.source
	}
	if len(m.warmth) > 0 {
		p.Temperature = &m.warmth[0]
	}
	if p.Target == "" && len(m.known()) > 0 {
		return b.species(ctx, m)
	}
	if p.Target != "" || len(m.unclear()) > 0 {
		if unfit, err := b.unfit(ctx, m, p.Target); err != nil {
			return m.refused(err)
		} else if unfit != "" && p.Volume == nil {
			return m.answered(unfit + "\n" + m.say(askVolume))
		} else if unfit != "" {
			return m.answered(unfit)
		}
	}
	switch {
	case m.many:
		return m.answered(m.say(askWhich))
	case p.Volume == nil:
		return m.answered(m.say(askVolume))
	case p.Target == "":
		return m.answered(m.say(askTarget))
	case strings.HasSuffix(p.Target, "ppm"):
		return m.answered(m.say(askMass))
	}
	return b.weigh(ctx, m, p)
}

// weigh answers with the figures, after what the animals need.
func (b *bot) weigh(ctx context.Context, m *message, p *saltlock.GetSaltMixParams) reply {
	r, err := b.service.GetSaltMixWithResponse(ctx, p)
	if err != nil {
		return m.refused(err)
	}
	text, err := m.inGallons(r.JSON200.Summary, func() ([]byte, error) {
		p.Units, p.Format = new(saltlock.GetSaltMixParamsUnitsUs), new(saltlock.GetSaltMixParamsFormatText)
		r, err := b.service.GetSaltMixWithResponse(ctx, p)
		if err != nil {
			return nil, err
		}
		return r.Body, nil
	})
	if err != nil {
		return m.refused(err)
	}
	for _, a := range m.known() { // it says how fast the water may change for them
		text = a.said + "\n" + text
	}
	return m.answered(text)
}

// inGallons asks again for an answer with US units first, if the message counts in gallons; the
// summary in JSON has one order for everybody.
func (m *message) inGallons(summary string, again func() ([]byte, error)) (string, error) {
	if !m.us {
		return summary, nil
	}
	text, err := again()
	if err != nil {
		return "", err
	}
	m.comma = false // in text the service uses the mark asked for
	return string(text), nil
}

// answered adds to an answer what was read into the message, and what was not understood.
func (m *message) answered(answer string) reply {
	lines := []string{strings.TrimSpace(answer)}
	if len(m.took) > 0 {
		lines = append(lines, m.say(iRead, strings.Join(slices.Compact(m.took), ", ")))
	}
	if m.comma && !m.german { // the service puts the mark asked for into tables and pictures, not into a summary
		lines = append(lines, pointMarks)
	}
	var unread []string
	for _, a := range m.animals {
		if a.is == nil && !strings.Contains(answer, a.said) {
			unread = append(unread, a.name)
		}
	}
	if len(unread) > 0 {
		lines = append(lines, m.say(unreadWords, strings.Join(unread, " ")))
	}
	return reply{Text: strings.Join(lines, "\n")}
}

// hints say in a chat's words what the service asks for.
var hints = map[string]string{
	"container_capacity":     "in a 20 L bucket",
	"container_start_volume": "with 6 L",
	"container_aerated":      "with an air stone",
	"species":                "4 young spotted scats",
	"stage":                  "young, or adult",
	"mass":                   "of 1 g",
	"target":                 "at 10 ppt",
}

// mostReasons is how many faults a person will read in a chat.
const mostReasons = 3

// refused words the first faults that the service found, and how to ask better.
func (m *message) refused(err error) reply {
	var problem *saltlock.ProblemError
	if !errors.As(err, &problem) || problem.Status >= 500 || problem.Status == http.StatusTooManyRequests || len(problem.Faults()) == 0 {
		log.Print(err)
		return reply{Text: m.say(away)}
	}
	var lines []string
	faults := problem.Faults()
	for _, f := range faults[:min(len(faults), mostReasons)] {
		line := strings.ReplaceAll(f.Where, "_", " ") + ": " + f.Reason
		if hint := hints[f.Where]; hint != "" {
			line += " (say: " + hint + ")"
		}
		lines = append(lines, line)
	}
	if more := len(faults) - mostReasons; more > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", more))
	}
	return m.answered(strings.Join(lines, "\n"))
}
