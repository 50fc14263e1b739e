package render

import (
	"errors"
	"fmt"
	"image/color"
	"image/png"
	"io"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// The picture that chats show: 1200 by 675 pixels.
const (
	pngWidth  = 1200
	pngHeight = 675
	pngDPI    = 96

	sideBySide = 2 // panels, at the most; more take two rows
)

// The colours of the pages, as in the SVG of the same chart.
var (
	lineColour  = color.NRGBA{0x1d, 0x82, 0x99, 0xff}
	goalColour  = color.NRGBA{0xc9, 0xb9, 0x8c, 0x4c}
	limitColour = color.NRGBA{0x7a, 0x64, 0x20, 0xff}
	inkColour   = color.NRGBA{0x16, 0x26, 0x2c, 0xff}
	gridColour  = color.NRGBA{0xcf, 0xd8, 0xd7, 0xff}
)

// WritePNG draws the chart for a chat, panels side by side, in two rows if there are many.
func (v Voice) WritePNG(w io.Writer, c Chart) error {
	canvas := vgimg.NewWith(vgimg.UseWH(points(pngWidth), points(pngHeight)), vgimg.UseDPI(pngDPI))
	whole := draw.New(canvas)
	title := textStyle(26)
	title.XAlign, title.YAlign = draw.XCenter, draw.YTop
	whole.FillText(title, vg.Point{X: whole.Center().X, Y: whole.Max.Y - points(14)}, c.Title)
	room := draw.Crop(whole, points(20), -points(24), points(20), -points(64))
	tiles := draw.Tiles{Rows: 1, Cols: len(c.Panels), PadX: points(40), PadY: points(24)}
	if tiles.Cols > sideBySide {
		tiles.Rows, tiles.Cols = 2, (tiles.Cols+1)/2
	}
	plots := make([][]*plot.Plot, tiles.Rows)
	for row := range plots {
		plots[row] = make([]*plot.Plot, tiles.Cols)
	}
	for i, p := range c.Panels {
		f, err := v.pngPanel(v.panel(p), c)
		if err == nil && i == 0 {
			err = addCaptions(f, c)
		}
		if err != nil {
			return fmt.Errorf("draw %q: %w", p.Name, err)
		}
		plots[i/tiles.Cols][i%tiles.Cols] = f
	}
	for row, canvases := range plot.Align(plots, tiles, room) {
		for col, place := range canvases {
			if f := plots[row][col]; f != nil {
				f.Draw(place)
			}
		}
	}
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	return encoder.Encode(w, canvas.Image())
}

// points converts pixels to typographic points.
func points(pixels float64) vg.Length { return vg.Length(pixels * 72 / pngDPI) }

func textStyle(size float64) draw.TextStyle {
	return draw.TextStyle{Color: inkColour, Font: sans(size), Handler: plot.DefaultTextHandler}
}

func sans(size float64) font.Font {
	return font.From(font.Font{Typeface: "Liberation", Variant: "Sans"}, points(size))
}

func (v Voice) pngPanel(p Panel, c Chart) (*plot.Plot, error) {
	f, end := plot.New(), c.hours()
	name, label := v.axis(c)
	lo, hi := p.span()
	f.Title.Text, f.Title.TextStyle.Font = p.Name+", "+p.Unit, sans(22)
	f.X.Label.Text, f.X.Label.TextStyle.Font = name, sans(18)
	f.X.Min, f.X.Max, f.Y.Min, f.Y.Max = 0, max(end, 1e-9), lo, hi
	f.X.Tick.Label.Font, f.Y.Tick.Label.Font = sans(18), sans(18)
	f.X.Tick.Marker = plot.ConstantTicks(labelled(hourTicks(end), label))
	f.Y.Tick.Marker = plot.ConstantTicks(labelled(ticks(lo, hi, axisTicks), func(y float64) string { return v.bothLabel(p.Unit, y) }))
	for _, y := range ticks(lo, hi, axisTicks) {
		if err := addLine(f, gridColour, 1, nil, Point{0, y}, Point{end, y}); err != nil {
			return nil, err
		}
	}
	for _, g := range p.Goals {
		area, err := plotter.NewPolygon(xys(Point{0, g.Lo}, Point{end, g.Lo}, Point{end, g.Hi}, Point{0, g.Hi}))
		if err != nil {
			return nil, err
		}
		area.Color, area.LineStyle.Width = goalColour, 0
		name, err := plotter.NewLabels(plotter.XYLabels{XYs: xys(Point{end * 0.02, g.Hi}), Labels: []string{g.Name}})
		if err != nil {
			return nil, err
		}
		name.TextStyle[0].Font, name.TextStyle[0].YAlign = sans(18), draw.YTop
		if name.Offset.Y = -points(4); g.low(lo, hi) {
			name.Offset.Y, name.TextStyle[0].YAlign = points(4), draw.YBottom
		}
		f.Add(area, name)
		if g.Lo == g.Hi {
			if err := addLine(f, limitColour, 2, []vg.Length{points(10), points(6)}, Point{0, g.Lo}, Point{end, g.Hi}); err != nil {
				return nil, err
			}
		}
	}
	for _, m := range c.Marks {
		if err := addLine(f, inkColour, 2, []vg.Length{points(2), points(6)}, Point{m.X, lo}, Point{m.X, hi}); err != nil {
			return nil, err
		}
	}
	for _, b := range p.Bars {
		dashes := []vg.Length(nil)
		if b.Aside {
			dashes = []vg.Length{points(4), points(4)}
		}
		half := end / 250
		if err := errors.Join(addLine(f, inkColour, 3, dashes, Point{b.X, b.Y - b.U}, Point{b.X, b.Y + b.U}),
			addLine(f, inkColour, 3, nil, Point{b.X - half, b.Y}, Point{b.X + half, b.Y})); err != nil {
			return nil, err
		}
	}
	return f, addLine(f, lineColour, 4, nil, p.Points...)
}

// addCaptions names the marks above the panel.
func addCaptions(f *plot.Plot, c Chart) error {
	for _, m := range c.captions() {
		name, err := plotter.NewLabels(plotter.XYLabels{XYs: xys(Point{m.X, f.Y.Max}), Labels: []string{m.Name}})
		if err != nil {
			return err
		}
		style := &name.TextStyle[0]
		style.Font, style.Color, style.XAlign = sans(18), inkColour, draw.XRight
		if m.onward {
			style.XAlign = draw.XLeft
		}
		name.Offset.Y = points(4)
		f.Add(name)
	}
	return nil
}

// bothLabel writes a tick in both unit families.
func (v Voice) bothLabel(unit string, y float64) string {
	c, ok := us(unit)
	if !ok || v.Units != Both {
		return v.tickLabel(y)
	}
	return v.tickLabel(y) + " (" + v.number(y*c.scale+c.offset, 1) + " " + c.unit + ")"
}

func labelled(at []float64, label func(float64) string) []plot.Tick {
	marks := make([]plot.Tick, len(at))
	for i, x := range at {
		marks[i] = plot.Tick{Value: x, Label: label(x)}
	}
	return marks
}

func addLine(f *plot.Plot, c color.Color, width float64, dashes []vg.Length, through ...Point) error {
	line, err := plotter.NewLine(xys(through...))
	if err != nil {
		return err
	}
	line.LineStyle = draw.LineStyle{Color: c, Width: points(width), Dashes: dashes}
	f.Add(line)
	return nil
}

func xys(through ...Point) plotter.XYs {
	list := make(plotter.XYs, len(through))
	for i, p := range through {
		list[i].X, list[i].Y = p.X, p.Y
	}
	return list
}
