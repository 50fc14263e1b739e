package render

import (
	"io"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// Event is one visit in a calendar.
type Event struct {
	UID                  string // the same for the same visit of the same plan
	Start                time.Time
	Length               time.Duration
	Summary, Description string
	Alarm                time.Duration // before the start
	Cancelled            bool
	Made                 time.Time // or last changed; zero if nobody knows
	Sequence             int       // counts the changes of what the event belongs to
}

// refreshed is how often a calendar that subscribes asks again (RFC 7986).
const refreshed = "PT15M"

// WriteCalendar writes events as iCalendar (RFC 5545), in UTC. The stamp is theirs, not the
// clock's, so that the same plan makes the same file.
func WriteCalendar(w io.Writer, name string, stamp time.Time, events []Event) error {
	var b strings.Builder
	line := func(key, value string) { fold(&b, key+":"+value) }
	line("BEGIN", "VCALENDAR")
	line("VERSION", "2.0")
	line("PRODID", "-//Saltlock//Saltlock//EN")
	line("X-WR-CALNAME", escapeText(name))
	line("REFRESH-INTERVAL;VALUE=DURATION", refreshed)
	line("X-PUBLISHED-TTL", refreshed)
	for _, e := range events {
		line("BEGIN", "VEVENT")
		line("UID", e.UID)
		made := e.Made
		if made.IsZero() {
			made = stamp
		}
		line("DTSTAMP", utc(made))
		line("DTSTART", utc(e.Start))
		line("DTEND", utc(e.Start.Add(e.Length)))
		line("SUMMARY", escapeText(e.Summary))
		line("DESCRIPTION", escapeText(e.Description))
		if e.Sequence > 0 {
			line("SEQUENCE", strconv.Itoa(e.Sequence))
		}
		if e.Cancelled {
			line("STATUS", "CANCELLED")
		}
		if e.Alarm > 0 && !e.Cancelled {
			line("BEGIN", "VALARM")
			line("ACTION", "DISPLAY")
			line("DESCRIPTION", escapeText(e.Summary))
			line("TRIGGER", "-PT"+strconv.Itoa(int(e.Alarm.Minutes()))+"M")
			line("END", "VALARM")
		}
		line("END", "VEVENT")
	}
	line("END", "VCALENDAR")
	_, err := io.WriteString(w, b.String())
	return err
}

func utc(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

var textEscapes = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`)

func escapeText(s string) string { return textEscapes.Replace(s) }

// fold ends a line and breaks it before 75 octets, between characters.
func fold(b *strings.Builder, s string) {
	const most = 75
	room := most
	for len(s) > room {
		cut := room
		for !utf8.RuneStart(s[cut]) {
			cut--
		}
		b.WriteString(s[:cut] + "\r\n ")
		s, room = s[cut:], most-1 // the blank that leads on counts
	}
	b.WriteString(s + "\r\n")
}
