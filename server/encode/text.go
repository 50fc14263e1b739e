package encode

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Text appends a string as JSON.
func Text(b []byte, s string) []byte { return append(within(append(b, '"'), s), '"') }

// Lines appends strings as one JSON string, each on its own line.
func Lines(b []byte, lines []string) []byte {
	b = append(b, '"')
	for i, line := range lines {
		if i > 0 {
			b = append(b, '\\', 'n')
		}
		b = within(b, line)
	}
	return append(b, '"')
}

// within appends a string without its quotes.
func within(b []byte, s string) []byte {
	var found byte
	rest := s
	for ; len(rest) >= 8; rest = rest[8:] { // in eights, since most of an answer is text
		found |= plainness[rest[0]] | plainness[rest[1]] | plainness[rest[2]] | plainness[rest[3]] |
			plainness[rest[4]] | plainness[rest[5]] | plainness[rest[6]] | plainness[rest[7]]
	}
	for i := range len(rest) {
		found |= plainness[rest[i]]
	}
	if found == 0 || found == ofSeveral && utf8.ValidString(s) {
		return append(b, s...)
	}
	return escaped(b, s)
}

// plainness says of each byte how it is escaped; 0 means not at all.
var plainness = func() (of [256]byte) {
	for c := range of {
		switch {
		case c < ' ' || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&':
			of[c] = escape
		case byte(c) == "\u2028"[0]: // two line separators that are escaped begin with it, among other characters
			of[c] = perhaps
		case c >= utf8.RuneSelf:
			of[c] = ofSeveral
		}
	}
	return of
}()

const (
	escape    = 1 << iota // always escaped
	perhaps               // by what follows
	ofSeveral             // one of the bytes of a letter
)

// escaped is within for a string that is not plain; it escapes what encoding/json escapes.
func escaped(b []byte, s string) []byte {
	from := 0
	for i, r := range s {
		if r < utf8.RuneSelf && plainness[r] == 0 {
			continue
		}
		short := strings.IndexRune("\"\\\n\t\r\b\f", r)
		switch {
		case short >= 0:
			b = append(append(b, s[from:i]...), '\\', "\"\\ntrbf"[short])
		case r < ' ' || r == '<' || r == '>' || r == '&' || r == '\u2028' || r == '\u2029':
			b = fmt.Appendf(append(b, s[from:i]...), `\u%04x`, r)
		case r == utf8.RuneError && !strings.HasPrefix(s[i:], "\ufffd"):
			b = append(append(b, s[from:i]...), `\ufffd`...)
			from = i + 1
			continue
		default:
			continue
		}
		from = i + utf8.RuneLen(r)
	}
	return append(b, s[from:]...)
}
