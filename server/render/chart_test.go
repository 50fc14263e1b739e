package render

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"
)

func sample() Chart {
	var rise []Point
	for h := 0.0; h <= 10; h++ {
		rise = append(rise, Point{h, 10 - 8*math.Exp(-h/4)})
	}
	return Chart{Title: "From 2 to 10 <ppt>",
		Panels: []Panel{
			{Name: "Salinity", Unit: "ppt", Points: rise, Goals: []Goal{{Lo: 9, Hi: 11, Name: "near"}}},
			{Name: "Volume", Unit: "L", Points: []Point{{0, 6}, {4, 18}, {4, 6}, {10, 12}}},
		},
		Marks: []Mark{{X: 4, Name: "pour off"}},
	}
}

// Where a reader wants US units, nothing metric stays in the picture: 6 L are
// 1.585 gal and 18 L 4.755 gal (NIST SP 811, 1 gal = 3.785411784 L).
func TestPanelInUSUnits(t *testing.T) {
	p := Voice{Units: US}.panel(sample().Panels[1])
	if p.Unit != "gal" || math.Abs(p.Points[0].Y-1.585) > 5e-4 || math.Abs(p.Points[1].Y-4.755) > 5e-4 {
		t.Errorf("panel of 6 and 18 L is %v", p)
	}
	for _, c := range []struct {
		units Units
		want  []string
		not   string
	}{
		{US, []string{">Volume, gal<", ">Salinity, ppt<"}, ">Volume, L<"},
		{Metric, []string{">Volume, L<"}, ">gal<"},
		{Both, []string{">Volume, L<", ">gal<"}, ">Volume, gal<"},
	} {
		var out strings.Builder
		if err := (Voice{Units: c.units}).WriteSVG(&out, sample()); err != nil {
			t.Fatal(err)
		}
		for _, want := range c.want {
			if !strings.Contains(out.String(), want) {
				t.Errorf("picture in units %q has no %s", c.units, want)
			}
		}
		if strings.Contains(out.String(), c.not) {
			t.Errorf("picture in units %q has %s", c.units, c.not)
		}
	}
}

// What is done at a mark can be read without a pointer, once in the picture.
func TestSVGNamesMarks(t *testing.T) {
	var out strings.Builder
	if err := (Voice{}).WriteSVG(&out, sample()); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(out.String(), ">pour off</text>"); n != 1 {
		t.Errorf("the mark is named %d times, want 1", n)
	}
}

// Who does not see the picture is told what it shows.
func TestStory(t *testing.T) {
	want := "Salinity goes from 2 ppt to 9.3 ppt; near: 9 ppt to 11 ppt. Volume goes from 6 L to 12 L, between 6 L and 18 L. Pour off: after 4 h."
	if got := (Voice{Units: Metric}).Story(sample()); got != want {
		t.Errorf("the story is\n%s, want\n%s", got, want)
	}
	var out strings.Builder
	if err := (Voice{Units: Metric}).WriteSVG(&out, sample()); err != nil || !strings.Contains(out.String(), "<desc>"+want+"</desc>") {
		t.Errorf("the picture does not carry its story (%v)", err)
	}
}

// Names that would meet are left out, but never that of the last mark; one
// without room before it is written on from its time.
func TestCaptions(t *testing.T) {
	c := Chart{Panels: []Panel{{Points: []Point{{0, 1}, {10, 2}}}},
		Marks: []Mark{{X: 0, Name: "start"}, {X: 4, Name: "pour off"}, {X: 8, Name: "pour off"}, {X: 9.5, Name: "pour off"}, {X: 10, Name: "release"}}}
	var got []string
	for _, name := range c.captions() {
		got = append(got, fmt.Sprintf("%g %s %t", name.X, name.Name, name.onward))
	}
	c.Marks = append(c.Marks, Mark{X: 3.9, Name: "now", Must: true})
	slices.SortStableFunc(c.Marks, func(a, b Mark) int { return int(math.Copysign(1, a.X-b.X)) })
	if told := c.captions(); told[1].Name != "now" || slices.ContainsFunc(told, func(n caption) bool { return n.X == 4 }) {
		t.Errorf("now is not named before what is done about then: %v", told)
	}
	want := []string{"10 release false", "8 pour off false", "4 pour off false", "0 start true"}
	if strings.Join(got, "; ") != strings.Join(want, "; ") {
		t.Errorf("captions are %q, want %q", got, want)
	}
}

// The curve in the picture is the curve that was handed in, to half a point of it.
func TestSVGHoldsTheNumbers(t *testing.T) {
	c := sample()
	var out strings.Builder
	if err := (Voice{}).WriteSVG(&out, c); err != nil {
		t.Fatal(err)
	}
	var lines []string
	title := ""
	for d := xml.NewDecoder(strings.NewReader(out.String())); ; {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("no XML: %v", err)
		}
		element, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range element.Attr {
			if element.Name.Local == "polyline" && a.Name.Local == "points" {
				lines = append(lines, a.Value)
			}
		}
		if element.Name.Local == "title" && title == "" {
			if err := d.DecodeElement(&title, &element); err != nil {
				t.Fatal(err)
			}
		}
	}
	if title != c.Title || len(lines) != len(c.Panels) {
		t.Fatalf("title %q, %d lines", title, len(lines))
	}
	for i, p := range c.Panels {
		lo, hi := p.span()
		f := frame{c.hours(), lo, hi, svgTop + i*(svgPanel+svgGap)}
		pairs := strings.Fields(lines[i])
		if len(pairs) != len(p.Points) {
			t.Fatalf("%s: %d points, want %d", p.Name, len(pairs), len(p.Points))
		}
		for k, pair := range pairs {
			var x, y float64
			if _, err := fmt.Sscanf(pair, "%f,%f", &x, &y); err != nil {
				t.Fatal(err)
			}
			hours := (x - svgLeft) / (svgWidth - svgLeft - svgRight) * f.end
			value := lo + (float64(f.top+svgPanel)-y)/svgPanel*(hi-lo)
			if math.Abs(hours-p.Points[k].X) > f.end/500 || math.Abs(value-p.Points[k].Y) > (hi-lo)/svgPanel/2 {
				t.Errorf("%s point %d is drawn at %g h, %g; want %v", p.Name, k, hours, value, p.Points[k])
			}
		}
	}
}

func TestPNG(t *testing.T) {
	var first, second bytes.Buffer
	for _, out := range []*bytes.Buffer{&first, &second} {
		if err := (Voice{}).WritePNG(out, sample()); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("the same chart is drawn in two ways")
	}
	picture, err := png.Decode(&first)
	if err != nil {
		t.Fatal(err)
	}
	if b := picture.Bounds(); b.Dx() != pngWidth || b.Dy() != pngHeight || second.Len() > 1<<20 {
		t.Errorf("picture of %v, %d bytes", b, second.Len())
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		n      int
		want   string
	}{{0, 10, 5, "[0 2 4 6 8 10]"}, {1.9, 12.6, 5, "[5 10]"}, {24, 25.5, 5, "[24 24.5 25 25.5]"}, {0, 0, 5, "[]"}, {0, 450, 5, "[0 100 200 300 400]"}} {
		if got := fmt.Sprint(ticks(c.lo, c.hi, c.n)); got != c.want {
			t.Errorf("ticks(%g, %g) = %s, want %s", c.lo, c.hi, got, c.want)
		}
	}
	if got := fmt.Sprint(hourTicks(14)); got != "[0 3 6 9 12]" {
		t.Errorf("hourTicks(14) = %s", got)
	}
}

// A general parser of iCalendar reads back what the calendar holds.
func TestCalendar(t *testing.T) {
	berlin := time.FixedZone("", 3600)
	events := []Event{
		{UID: "a@x", Start: time.Date(2026, 12, 1, 9, 0, 0, 0, berlin), Length: 15 * time.Minute, Summary: "Set, the; drip", Description: strings.Repeat("Öl und Wäßerchen, ", 12) + "\nend \\ here", Alarm: 10 * time.Minute},
		{UID: "b@x", Start: time.Date(2026, 12, 1, 23, 30, 0, 0, time.UTC), Length: time.Hour, Summary: "Look", Description: "x"},
	}
	var out strings.Builder
	if err := WriteCalendar(&out, "Plan", events[0].Start, events); err != nil {
		t.Fatal(err)
	}
	for line := range strings.SplitSeq(strings.TrimSuffix(out.String(), "\r\n"), "\r\n") {
		if len(line) > 75 || strings.Contains(line, "\n") || strings.ToValidUTF8(line, "") != line {
			t.Errorf("line %q of %d octets", line, len(line))
		}
	}
	calendar, err := ical.NewDecoder(strings.NewReader(out.String())).Decode()
	if err != nil {
		t.Fatal(err)
	}
	got := calendar.Events()
	if len(got) != len(events) {
		t.Fatalf("%d events, want %d", len(got), len(events))
	}
	for i, e := range events {
		text := func(name string) string {
			s, err := got[i].Props.Text(name)
			if err != nil {
				t.Errorf("event %d: %s: %v", i, name, err)
			}
			return s
		}
		start, noStart := got[i].DateTimeStart(time.UTC)
		end, noEnd := got[i].DateTimeEnd(time.UTC)
		if err := errors.Join(noStart, noEnd); err != nil {
			t.Error(err)
		}
		if text("UID") != e.UID || text("SUMMARY") != e.Summary || text("DESCRIPTION") != e.Description || !start.Equal(e.Start) || end.Sub(start) != e.Length {
			t.Errorf("event %d reads back as %v, want %+v", i, got[i].Props, e)
		}
		alarms := slices.DeleteFunc(slices.Clone(got[i].Children), func(c *ical.Component) bool { return c.Name != "VALARM" })
		if (len(alarms) == 1) != (e.Alarm > 0) {
			t.Fatalf("event %d has %d alarms, want it %v before", i, len(alarms), e.Alarm)
		}
		for _, a := range alarms {
			if before, err := a.Props.Get("TRIGGER").Duration(); err != nil || before != -e.Alarm {
				t.Errorf("event %d alarms %v after its start, want %v (%v)", i, before, -e.Alarm, err)
			}
		}
	}
}

func BenchmarkSVG(b *testing.B) {
	for b.Loop() {
		if err := (Voice{}).WriteSVG(io.Discard, sample()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPNG(b *testing.B) {
	for b.Loop() {
		if err := (Voice{}).WritePNG(io.Discard, sample()); err != nil {
			b.Fatal(err)
		}
	}
}
