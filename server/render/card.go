package render

import (
	"bytes"
	"image/color"
	"image/png"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// The picture beside a link: 1200 by 630 pixels, as link previews expect.
const (
	cardWidth  = 1200
	cardHeight = 630
	cardMargin = 70
)

// The colours of the mark, as in server/site/static/mark.svg.
var (
	deep  = color.NRGBA{0x0b, 0x3d, 0x49, 0xff}
	fresh = color.NRGBA{0x7c, 0xc9, 0xd6, 0xff}
	salty = color.NRGBA{0x1d, 0x82, 0x99, 0xff}
	gate  = color.NRGBA{0xf4, 0xea, 0xd2, 0xff}
	foam  = color.NRGBA{0xff, 0xff, 0xff, 0xff}
)

// Card draws a title and a few lines under the mark, as PNG. Lines that do not fit are left out,
// the last first.
func Card(title string, lines []string) ([]byte, error) {
	canvas := vgimg.NewWith(vgimg.UseWH(points(cardWidth), points(cardHeight)), vgimg.UseDPI(pngDPI))
	fill(canvas, deep, 0, 0, cardWidth, cardHeight)
	fill(canvas, fresh, 0, cardHeight-46, 400, 46)
	fill(canvas, salty, 400, cardHeight-70, 800, 70)
	fill(canvas, gate, 396, cardHeight-90, 10, 90)
	drawMark(canvas, cardMargin, 50, 2)
	whole := draw.New(canvas)
	write := func(text string, size, x, y float64, c color.Color) {
		style := textStyle(size)
		style.Color, style.YAlign = c, draw.YTop
		whole.FillText(style, vg.Point{X: points(x), Y: points(cardHeight - y)}, text)
	}
	write("Saltlock", 46, cardMargin+150, 62, gate)
	write(title, 34, cardMargin+150, 122, fresh)
	y := 220.0
	for i, line := range lines {
		size := 34.0
		if i == 0 {
			size = 44
		}
		parts := wrap(line, size, cardWidth-2*cardMargin)
		if y+float64(len(parts))*size*1.3 > cardHeight-100 {
			break
		}
		for _, part := range parts {
			write(part, size, cardMargin, y, foam)
			y += size * 1.3
		}
		y += 12
	}
	var out bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	err := encoder.Encode(&out, canvas.Image())
	return out.Bytes(), err
}

// wrap breaks a line between words so that no part is wider than width.
func wrap(line string, size, width float64) []string {
	style := textStyle(size)
	var parts []string
	part := ""
	for _, word := range strings.Fields(line) {
		longer := strings.TrimSpace(part + " " + word)
		if part != "" && style.Width(longer) > points(width) {
			parts, part = append(parts, part), word
			continue
		}
		part = longer
	}
	return append(parts, part)
}

// fill colours a rectangle, measured from the top left.
func fill(c vg.Canvas, colour color.Color, x, y, w, h float64) {
	c.SetColor(colour)
	c.Fill(corner(x, y, w, h))
}

func corner(x, y, w, h float64) vg.Path {
	var p vg.Path
	p.Move(at(x, y))
	p.Line(at(x+w, y))
	p.Line(at(x+w, y+h))
	p.Line(at(x, y+h))
	p.Close()
	return p
}

// at is a point of the card, measured from the top left.
func at(x, y float64) vg.Point { return vg.Point{X: points(x), Y: points(cardHeight - y)} }

// drawMark draws a lock gate between low fresh and high salt water, and the drop that crosses it.
func drawMark(c vg.Canvas, x, y, scale float64) {
	block := func(colour color.Color, left, top, w, h float64) {
		fill(c, colour, x+left*scale, y+top*scale, w*scale, h*scale)
	}
	block(fresh, 0, 44, 32, 20)
	block(salty, 32, 20, 32, 44)
	block(gate, 28, 9, 8, 55)
	block(gate, 19, 9, 26, 6)
	p := func(left, top float64) vg.Point { return at(x+left*scale, y+top*scale) }
	var drop vg.Path
	drop.Move(p(14, 20))
	drop.CubeTo(p(18.4, 26), p(21, 29.2), p(21, 33))
	drop.CubeTo(p(21, 42.3), p(7, 42.3), p(7, 33))
	drop.CubeTo(p(7, 29.2), p(9.6, 26), p(14, 20))
	drop.Close()
	c.SetColor(foam)
	c.Fill(drop)
}
