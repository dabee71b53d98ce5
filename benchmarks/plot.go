package main

import (
	"bytes"
	"image/color"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Sizes of the plots: small panels, three in a row, all with the same axis of
// time.
const (
	plotsInRow  = 3
	panelWidth  = 8.6 * vg.Centimeter
	panelHeight = 6 * vg.Centimeter
	panelPad    = 3 * vg.Millimeter
	legendRoom  = 1.5 * vg.Centimeter
	plotFrom    = 0.1 // seconds
	plotBelow   = 4.0 // percentage points shown below the least last yield
	plotText    = 8.5 // points
)

// plotCurves draws the yield over time of every instance in some records, one
// panel each, as an SVG.
func plotCurves(list []record) ([]byte, error) {
	cols := columns(list)
	names := instances(list)
	rows := (len(names) + plotsInRow - 1) / plotsInRow
	width, height := plotsInRow*panelWidth, vg.Length(rows)*panelHeight+legendRoom
	svg := vgsvg.New(width, height)
	all := draw.New(svg)
	all.FillPolygon(color.White, []vg.Point{{}, {X: width}, {X: width, Y: height}, {Y: height}})
	panels := make([][]*plot.Plot, rows)
	for i := range panels {
		panels[i] = make([]*plot.Plot, plotsInRow)
	}
	for i, name := range names {
		p, err := panel(list, name, cols)
		if err != nil {
			return nil, err
		}
		panels[i/plotsInRow][i%plotsInRow] = p
	}
	tiles := draw.Tiles{
		Rows: rows, Cols: plotsInRow, PadX: panelPad, PadY: panelPad,
		PadLeft: panelPad, PadRight: panelPad, PadBottom: panelPad, PadTop: legendRoom,
	}
	for i, line := range plot.Align(panels, tiles, all) {
		for j, canvas := range line {
			if panels[i][j] != nil {
				panels[i][j].Draw(canvas)
			}
		}
	}
	published := slices.ContainsFunc(names, func(name string) bool { return publishedDensities[name].cuckooAvg > 0 })
	drawKey(all, cols, published, height)
	var out bytes.Buffer
	_, err := svg.WriteTo(&out)
	return out.Bytes(), err
}

// panel draws one instance.
func panel(list []record, name string, cols []column) (*plot.Plot, error) {
	p := plot.New()
	p.Title.Text = name
	p.Title.TextStyle.Font.Size = vg.Points(plotText + 1.5)
	p.X.Scale, p.X.Tick.Marker = plot.LogScale{}, plot.ConstantTicks(timeTicks)
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.Tick.Label.Font.Size, axis.Label.TextStyle.Font.Size = vg.Points(plotText), vg.Points(plotText)
	}
	p.Y.Tick.Marker = plainTicks{}
	p.X.Label.Text, p.Y.Label.Text = "seconds", "yield, %"
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = color.Gray{228}, color.Gray{228}
	p.Add(grid)
	pens := pensFor(cols)
	least, most := addPublished(p, publishedDensities[name], math.Inf(1), math.Inf(-1))
	for _, c := range cols {
		r, ok := find(list, name, c)
		if !ok || len(r.Curve) == 0 {
			continue
		}
		line, err := plotter.NewLine(steps(r))
		if err != nil {
			return nil, err
		}
		line.LineStyle = pens.line(c)
		p.Add(line)
		least, most = min(least, r.Density), max(most, r.Density)
	}
	p.X.Min, p.X.Max = plotFrom, longest(list)
	p.Y.Min, p.Y.Max = math.Floor(least-plotBelow), math.Ceil(most+0.7)
	return p, nil
}

// timeTicks are the times that have a number.
var timeTicks = []plot.Tick{
	{Value: 0.1, Label: "0.1"},
	{Value: 1, Label: "1"},
	{Value: 10, Label: "10"},
	{Value: 60, Label: "60"},
	{Value: 600, Label: "600"},
	{Value: 1200},
	{Value: 3600, Label: "3600"},
}

// plainTicks are the usual ticks with numbers as short as they can be.
type plainTicks struct{}

// Ticks are those between two values.
func (plainTicks) Ticks(least, most float64) []plot.Tick {
	ticks := plot.DefaultTicks{}.Ticks(least, most)
	for i, t := range ticks {
		if t.Label != "" {
			ticks[i].Label = strconv.FormatFloat(rounded(t.Value, 3), 'f', -1, 64)
		}
	}
	return ticks
}

// longest is where the axis of time ends.
func longest(list []record) float64 {
	t := 1.0
	for _, r := range list {
		t = max(t, r.Limit)
	}
	return t
}

// steps is a record's curve as a stair: a yield holds until a better one is
// found, the last until the search came back.
func steps(r record) plotter.XYs {
	var xy plotter.XYs
	for i, p := range r.Curve {
		t := max(p[0], plotFrom)
		if i > 0 {
			xy = append(xy, plotter.XY{X: t, Y: r.Curve[i-1][1]})
		}
		xy = append(xy, plotter.XY{X: t, Y: p[1]})
	}
	return append(xy, plotter.XY{X: max(r.Took, xy[len(xy)-1].X), Y: xy[len(xy)-1].Y})
}

// A penBox gives every column a line: the search by its dashes, the limit by its
// width, so that colour tells nothing.
type penBox struct {
	searches []string
	limits   []float64
}

func pensFor(cols []column) penBox {
	var p penBox
	for _, c := range cols {
		if !slices.Contains(p.searches, c.search) {
			p.searches = append(p.searches, c.search)
		}
		if !slices.Contains(p.limits, c.limit) {
			p.limits = append(p.limits, c.limit)
		}
	}
	slices.Sort(p.limits)
	return p
}

// dashes are those of the first, second and so on search, in points.
var dashes = [][]vg.Length{nil, {1, 2}, {5, 2}, {8, 2, 1.5, 2}, {12, 3}, {3, 1.5}}

func (p penBox) line(c column) draw.LineStyle {
	i := slices.Index(p.searches, c.search)
	k := slices.Index(p.limits, c.limit)
	return draw.LineStyle{Color: color.Black, Width: vg.Points(0.8 + 0.7*float64(min(k, 3))), Dashes: dashes[i%len(dashes)]}
}

// addPublished draws published averages as level lines with their year, and
// returns the range widened to hold them.
func addPublished(p *plot.Plot, known published, least, most float64) (float64, float64) {
	for _, l := range []level{{known.cuckooAvg, "2013", draw.YTop}, {known.separateAvg, "2025", draw.YBottom}} {
		if l.value > 0 {
			p.Add(l)
			least, most = min(least, l.value), max(most, l.value)
		}
	}
	return least, most
}

// A level is a published average: a grey line across the panel with its year
// above or below it, so that two close ones do not write over each other.
type level struct {
	value float64
	year  string
	side  text.YAlignment
}

// levelStyle is the line of published averages.
var levelStyle = draw.LineStyle{Color: color.Gray{165}, Width: vg.Points(1.8)}

// Plot draws the level.
func (l level) Plot(c draw.Canvas, p *plot.Plot) {
	_, y := p.Transforms(&c)
	at := y(l.value)
	c.StrokeLine2(levelStyle, c.Min.X, at, c.Max.X, at)
	style := p.X.Tick.Label
	style.XAlign, style.YAlign = draw.XLeft, l.side
	gap := vg.Points(1)
	if l.side == draw.YTop {
		gap = -vg.Points(2)
	}
	c.FillText(style, vg.Point{X: c.Min.X + vg.Points(3), Y: at + gap}, l.year)
}

// drawKey explains the lines above the panels.
func drawKey(c draw.Canvas, cols []column, published bool, height vg.Length) {
	pens := pensFor(cols)
	style := plot.New().Legend.TextStyle
	style.Font.Size = vg.Points(plotText + 1)
	style.YAlign = draw.YCenter
	x, y := 2*panelPad, height-legendRoom/3
	entry := func(line draw.LineStyle, word string) {
		room := vg.Points(34) + style.Width(word) + vg.Points(14)
		if x+room > plotsInRow*panelWidth {
			x, y = 2*panelPad, y-legendRoom/2.4
		}
		c.StrokeLine2(line, x, y, x+vg.Points(30), y)
		c.FillText(style, vg.Point{X: x + vg.Points(34), Y: y}, word)
		x += room
	}
	for _, col := range cols {
		entry(pens.line(col), col.String())
	}
	if published {
		entry(levelStyle, "published average of that year")
	}
}
