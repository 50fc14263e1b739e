package render

import (
	"bytes"
	"image/png"
	"strings"
	"testing"
)

// Whatever the lines, the picture has its size, and no word is lost in wrapping.
func TestCard(t *testing.T) {
	for _, lines := range [][]string{nil, {""}, {"short"}, {strings.Repeat("w", 400)}, {strings.Repeat("many words ", 200)}, {"a", "b", "c", "d", "e", "f", "g", "h", "i", "j"}} {
		body, err := Card("How much salt?", lines)
		if err != nil {
			t.Fatal(err)
		}
		c, err := png.DecodeConfig(bytes.NewReader(body))
		if err != nil || c.Width != cardWidth || c.Height != cardHeight {
			t.Errorf("%.40q gives a picture of %d by %d, %v", lines, c.Width, c.Height, err)
		}
	}
	const line = "Dissolve 3.599 ± 0.001 kg (7.93 lb) of salt in 99 L (26.2 gal) of source water for 100 L (26.4 gal) at 35 ppt."
	parts := wrap(line, 44, 1060)
	if got := strings.Join(parts, " "); got != line || len(parts) < 2 {
		t.Errorf("wrapped to %q", parts)
	}
	style := textStyle(44)
	for _, p := range parts {
		if style.Width(p) > points(1060) {
			t.Errorf("%q is wider than the room", p)
		}
	}
}
