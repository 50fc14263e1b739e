package render

import (
	"fmt"
	"html"
	"io"
	"strings"
)

// The picture is drawn 720 units wide. On a phone 360 pixels wide, its letters of 24 units are 12
// pixels high.
const (
	svgWidth    = 720
	svgLeft     = 96
	svgRight    = 96
	svgTop      = 126
	svgPanel    = 230
	svgGap      = 64
	svgBottom   = 56
	svgFont     = 24
	svgTick     = 8
	svgMarkRoom = 30
	svgNameRow  = 30
)

// The colours are those of the pages.
const svgStyle = `
text{font:24px system-ui,sans-serif;fill:#16262c}
.name{font-weight:600}
.axis{stroke:#4a5c63;stroke-width:1.5;fill:none}
.grid{stroke:#cfd8d7;stroke-width:1}
.line{stroke:#1d8299;stroke-width:5;fill:none;stroke-linejoin:round}
.goal{fill:#c9b98c;fill-opacity:.3;stroke:#7a6420;stroke-width:2;stroke-dasharray:10 6}
.bar{stroke:#16262c;stroke-width:3;fill:#16262c}
.aside{fill:none;stroke-dasharray:4 4}
.mark{stroke:#16262c;stroke-width:2;stroke-dasharray:2 6}
.done{fill:#16262c}
.paper{fill:#ffffff}
@media (prefers-color-scheme:dark){text,.done{fill:#e5edef}.bar{stroke:#e5edef;fill:#e5edef}.aside{fill:none}.grid{stroke:#33464d}.axis{stroke:#a9bac0}.line{stroke:#7cc9d6}.goal{fill:#b5a57a;stroke:#e3cf94}.mark{stroke:#e5edef}.paper{fill:#142228}}
`

// WriteSVG draws the chart for a page: scalable, readable on a phone, with its own dark colours
// and its story in words, without scripts or anything from elsewhere.
func (v Voice) WriteSVG(w io.Writer, c Chart) error {
	height := svgTop + len(c.Panels)*(svgPanel+svgGap) - svgGap + svgBottom + svgMarkRoom
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img"><title>%s</title><desc>%s</desc><style>%s</style><rect class="paper" width="%d" height="%d"/>`,
		svgWidth, height, html.EscapeString(c.Title), html.EscapeString(v.Story(c)), svgStyle, svgWidth, height)
	fmt.Fprintf(&b, `<text class="name" x="%d" y="34" text-anchor="middle">%s</text>`, svgWidth/2, html.EscapeString(c.Title))
	end := c.hours()
	for i, p := range c.Panels {
		v.svgPanel(&b, v.panel(p), c.Marks, end, svgTop+i*(svgPanel+svgGap))
	}
	v.svgTimes(&b, c, frame{end: end}, svgTop+len(c.Panels)*(svgPanel+svgGap)-svgGap)
	svgCaptions(&b, c, frame{end: end, top: svgTop})
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// frame maps values of a panel to the picture.
type frame struct {
	end, lo, hi float64
	top         int
}

func (f frame) x(hours float64) float64 {
	return svgLeft + hours/max(f.end, 1e-9)*(svgWidth-svgLeft-svgRight)
}

func (f frame) y(value float64) float64 {
	return float64(f.top+svgPanel) - (value-f.lo)/(f.hi-f.lo)*svgPanel
}

func (v Voice) svgPanel(b *strings.Builder, p Panel, marks []Mark, end float64, top int) {
	lo, hi := p.span()
	f := frame{end, lo, hi, top}
	bottom, head := top+svgPanel, top-10
	if top == svgTop {
		head -= svgNameRow // the captions need this room
	}
	right := svgWidth - svgRight
	fmt.Fprintf(b, `<text class="name" x="%d" y="%d">%s, %s</text>`, svgLeft, head, html.EscapeString(p.Name), html.EscapeString(p.Unit))
	for _, tick := range ticks(lo, hi, axisTicks) {
		y := f.y(tick)
		fmt.Fprintf(b, `<path class="grid" d="M%d %.1fH%d"/><text x="%d" y="%.1f" text-anchor="end">%s</text>`, svgLeft, y, right, svgLeft-svgTick, y+svgTick, v.tickLabel(tick))
	}
	if c, ok := us(p.Unit); ok && v.Units == Both {
		fmt.Fprintf(b, `<text class="name" x="%d" y="%d" text-anchor="end">%s</text>`, svgWidth-svgTick, head, c.unit)
		for _, tick := range ticks(lo*c.scale+c.offset, hi*c.scale+c.offset, axisTicks) {
			y := f.y((tick - c.offset) / c.scale)
			fmt.Fprintf(b, `<path class="axis" d="M%d %.1fh%d"/><text x="%d" y="%.1f">%s</text>`, right, y, svgTick, right+svgTick+4, y+svgTick, v.tickLabel(tick))
		}
	}
	for _, g := range p.Goals {
		name := f.y(g.Hi) + svgFont + 2
		if g.low(lo, hi) {
			name = f.y(g.Hi) - svgTick
		}
		if g.Lo == g.Hi {
			fmt.Fprintf(b, `<path class="goal" d="M%d %.1fH%d"/>`, svgLeft, f.y(g.Hi), right)
		} else {
			fmt.Fprintf(b, `<rect class="goal" x="%d" y="%.1f" width="%d" height="%.1f"/>`, svgLeft, f.y(g.Hi), right-svgLeft, f.y(g.Lo)-f.y(g.Hi))
		}
		fmt.Fprintf(b, `<text x="%d" y="%.1f">%s</text>`, svgLeft+svgTick, name, html.EscapeString(g.Name))
	}
	for _, m := range marks {
		fmt.Fprintf(b, `<path class="mark" d="M%.1f %dV%d"><title>%s</title></path>`, f.x(m.X), top, bottom, html.EscapeString(m.Name))
	}
	fmt.Fprintf(b, `<path class="axis" d="M%d %dV%dH%d"/><polyline class="line" points="`, svgLeft, top, bottom, right)
	for _, at := range p.Points {
		fmt.Fprintf(b, "%.1f,%.1f ", f.x(at.X), f.y(at.Y))
	}
	b.WriteString(`"/>`)
	for _, r := range p.Bars {
		name := "bar"
		if r.Aside {
			name = "bar aside"
		}
		fmt.Fprintf(b, `<path class="%s" d="M%.1f %.1fV%.1f"/><circle class="%s" cx="%.1f" cy="%.1f" r="6"/>`,
			name, f.x(r.X), f.y(r.Y-r.U), f.y(r.Y+r.U), name, f.x(r.X), f.y(r.Y))
	}
}

// svgTimes draws the time axis under the last panel.
func (v Voice) svgTimes(b *strings.Builder, c Chart, f frame, bottom int) {
	name, label := v.axis(c)
	for _, tick := range hourTicks(f.end) {
		fmt.Fprintf(b, `<path class="axis" d="M%.1f %dv%d"/><text x="%.1f" y="%d" text-anchor="middle">%s</text>`, f.x(tick), bottom, svgTick, f.x(tick), bottom+svgTick+svgFont, label(tick))
	}
	fmt.Fprintf(b, `<text x="%d" y="%d" text-anchor="middle">%s</text>`, svgWidth/2, bottom+svgTick+2*svgFont+6, name)
}

// svgCaptions names the marks above the first panel: a phone shows no tooltip of a line, and
// inside the panel the names would lie on the curve.
func svgCaptions(b *strings.Builder, c Chart, f frame) {
	for _, m := range c.captions() {
		anchor := "end"
		if m.onward {
			anchor = "start"
		}
		fmt.Fprintf(b, `<text class="done" x="%.1f" y="%d" text-anchor="%s">%s</text>`, f.x(m.X), f.top-svgTick, anchor, html.EscapeString(m.Name))
	}
}
