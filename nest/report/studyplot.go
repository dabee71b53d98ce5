package report

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"kerfold/cost"
	"kerfold/nest/week"
)

// Sizes of the study's picture.
const (
	plotWidth   = 22 * vg.Centimeter
	plotHeight  = 20 * vg.Centimeter
	barShare    = 0.7 // of the room between two depths
	plotPadding = 4 * vg.Millimeter
)

// A studyPlot draws one study.
type studyPlot struct {
	s      *week.Study
	units  cost.UnitSystem
	depths []cost.PartDepth // allowed ones
	n      float64          // parts
}

// WriteStudySVG draws a study: above, the seconds a part takes at each depth by
// what they are spent on, with their interval and what bounds the cut; below,
// the money with its interval. The best depth is outlined.
func WriteStudySVG(w io.Writer, s *week.Study, units cost.UnitSystem) error {
	p := &studyPlot{s: s, units: units, n: float64(s.Order.Quantity)}
	for _, d := range s.Depths {
		if d.Allowed() {
			p.depths = append(p.depths, d)
		}
	}
	seconds, err := p.seconds()
	if err != nil {
		return err
	}
	money, err := p.money()
	if err != nil {
		return err
	}
	c := vgsvg.New(plotWidth, plotHeight)
	dc := draw.New(c)
	dc.FillPolygon(color.White, []vg.Point{{}, {X: plotWidth}, {X: plotWidth, Y: plotHeight}, {Y: plotHeight}})
	tiles := draw.Tiles{Rows: 2, Cols: 1, PadTop: plotPadding, PadBottom: plotPadding, PadLeft: plotPadding, PadRight: plotPadding, PadY: plotPadding}
	for i, canvas := range plot.Align([][]*plot.Plot{{seconds}, {money}}, tiles, dc) {
		[]*plot.Plot{seconds, money}[i].Draw(canvas[0])
	}
	_, err = c.WriteTo(w)
	return err
}

func (p *studyPlot) base(title, y string) *plot.Plot {
	q := plot.New()
	q.Title.Text, q.X.Label.Text, q.Y.Label.Text = title, "layers cut at once", y
	q.Title.TextStyle.Font.Size, q.Title.Padding = vg.Points(12), vg.Points(6)
	q.X.Min, q.X.Max, q.Y.Min = 0.4, float64(len(p.depths))+0.6, 0
	q.X.Tick.Marker, q.Y.Tick.Marker = plot.ConstantTicks(p.ticks()), roundTicks{}
	q.Legend.Top, q.Legend.XOffs, q.Legend.Padding = true, -vg.Millimeter, vg.Points(3)
	if p.rises() {
		q.Legend.Left, q.Legend.XOffs = true, vg.Millimeter
	}
	q.Legend.TextStyle.Font.Size = vg.Points(10)
	grid := plotter.NewGrid()
	grid.Vertical.Width = 0
	grid.Horizontal.Color = color.Gray{225}
	q.Add(grid)
	return q
}

// rises tells that the deepest stack takes longer than single sheets, so that
// there is room for the legend on the left.
func (p *studyPlot) rises() bool {
	n := len(p.depths)
	return n > 1 && p.depths[n-1].Time.TotalSec() > p.depths[0].Time.TotalSec()
}

func (p *studyPlot) ticks() []plot.Tick {
	var out []plot.Tick
	every := (len(p.depths) + 19) / 20
	for i, d := range p.depths {
		if i%every == 0 {
			out = append(out, plot.Tick{Value: float64(d.Depth), Label: fmt.Sprint(d.Depth)})
		}
	}
	return out
}

// A share is a part of the seconds with its colour. Colours are those of Okabe
// and Ito 2002, which colour-blind readers tell apart.
type share struct {
	name  string
	color color.RGBA
	of    func(t cost.Time) float64
}

var studyShares = []share{
	{"cutting, power law", color.RGBA{0, 114, 178, 255}, func(t cost.Time) float64 { return t.LawSec }},
	{"cutting, feed cap", color.RGBA{230, 159, 0, 255}, func(t cost.Time) float64 { return t.CapSec }},
	{"cutting, arcs and corners", color.RGBA{86, 180, 233, 255}, func(t cost.Time) float64 { return t.LagSec }},
	{"cutting, acceleration", color.RGBA{0, 158, 115, 255}, cost.Time.AccelSec},
	{"piercing", color.RGBA{213, 94, 0, 255}, func(t cost.Time) float64 { return t.PierceSec }},
	{"rapid moves", color.RGBA{204, 121, 167, 255}, func(t cost.Time) float64 { return t.RapidSec }},
	{"handling", color.RGBA{170, 170, 170, 255}, func(t cost.Time) float64 { return t.HandleSec }},
}

func (p *studyPlot) seconds() (*plot.Plot, error) {
	title := fmt.Sprintf("%s: %d parts of %s, %s, %s", partTitle(p.s), p.s.Order.Quantity, p.s.Order.Material, measure{units: p.units}.length(p.s.Order.ThicknessMM), p.s.Order.Grade)
	q := p.base(title, "seconds a part")
	bars := make([]float64, len(p.depths))
	shares := p.sharesSeen()
	for _, sh := range shares {
		b := &boxes{color: sh.color}
		for i, d := range p.depths {
			low := bars[i]
			bars[i] += sh.of(d.Time) / p.n
			b.add(float64(d.Depth), low, bars[i])
		}
		q.Add(b)
		q.Legend.Add(sh.name, b)
	}
	err := p.range90(q, func(d cost.PartDepth) cost.Estimate { return d.SecondsEstimate })
	q.Y.Max = p.headroom(len(shares), func(d cost.PartDepth) float64 {
		return max(d.Time.TotalSec()/p.n, p.high(d.SecondsEstimate))
	})
	p.bounds(q, bars)
	return q, err
}

// sharesSeen are the shares that can be seen at some depth.
func (p *studyPlot) sharesSeen() []share {
	const least = 0.001 // of the time
	var out []share
	for _, sh := range studyShares {
		if slices.ContainsFunc(p.depths, func(d cost.PartDepth) bool { return sh.of(d.Time) > least*d.Time.TotalSec() }) {
			out = append(out, sh)
		}
	}
	return out
}

// high is the upper end of an estimate for one part.
func (p *studyPlot) high(e cost.Estimate) float64 {
	return e.Times(1 / p.n).Interval(cost.DefaultLevel).High
}

// headroom is the end of an axis on which every mark has room for a label, and
// those beside the legend stay below its lines.
func (p *studyPlot) headroom(lines int, top func(cost.PartDepth) float64) float64 {
	const (
		room   = 205.0 // height of one graph, points
		line   = 13.0  // of the legend
		label  = 26.0  // over the highest mark
		beside = 0.45  // of the width, taken by the legend and some air
	)
	end := 0.0
	for i, d := range p.depths {
		taken, x := label, (float64(i)+0.5)/float64(len(p.depths))
		if p.rises() && x < beside || !p.rises() && x > 1-beside {
			taken += line * float64(lines)
		}
		end = max(end, top(d)/(1-taken/room))
	}
	return end
}

// bounds writes over each bar what bounds the cut there.
func (p *studyPlot) bounds(q *plot.Plot, bars []float64) {
	const mostLabels = 14
	if len(p.depths) > mostLabels {
		return
	}
	var l plotter.XYLabels
	for i, d := range p.depths {
		l.XYs = append(l.XYs, plotter.XY{X: float64(d.Depth), Y: max(bars[i], p.high(d.SecondsEstimate))})
		l.Labels = append(l.Labels, strings.Replace(string(d.Limit), " and ", " and\n", 1))
	}
	labels, err := plotter.NewLabels(l)
	if err != nil {
		return
	}
	for i := range labels.TextStyle {
		labels.TextStyle[i].Font.Size = vg.Points(8)
		labels.TextStyle[i].XAlign = draw.XCenter
	}
	labels.Offset.Y = vg.Points(3)
	q.Add(labels)
}

func (p *studyPlot) money() (*plot.Plot, error) {
	q := p.base("", p.s.Job.Setup.Rates.Currency+" a part")
	b := &boxes{color: color.RGBA{0, 158, 115, 255}}
	sheets := &boxes{color: color.RGBA{240, 228, 66, 255}}
	for _, d := range p.depths {
		material := d.Ledger.Money.Material / p.n
		sheets.add(float64(d.Depth), 0, material)
		b.add(float64(d.Depth), material, d.Money()/p.n)
	}
	q.Add(sheets, b)
	q.Legend.Add("machine, labour, consumables", b)
	q.Legend.Add("sheets", sheets)
	best := p.s.Depths[p.s.Best]
	outline := &boxes{edge: true}
	outline.add(float64(best.Depth), 0, best.Money()/p.n)
	q.Add(outline)
	q.Legend.Add("cheapest depth", outline)
	err := p.range90(q, func(d cost.PartDepth) cost.Estimate { return d.MoneyEstimate })
	q.Y.Max = p.headroom(3, func(d cost.PartDepth) float64 { return p.high(d.MoneyEstimate) })
	return q, err
}

// range90 adds the intervals as error bars.
func (p *studyPlot) range90(q *plot.Plot, of func(cost.PartDepth) cost.Estimate) error {
	var e yErrors
	for _, d := range p.depths {
		r := of(d).Times(1 / p.n).Interval(cost.DefaultLevel)
		e.XYs = append(e.XYs, plotter.XY{X: float64(d.Depth), Y: r.Likely})
		e.YErrors = append(e.YErrors, struct{ Low, High float64 }{r.Likely - r.Low, r.High - r.Likely})
	}
	bars, err := plotter.NewYErrorBars(e)
	if err != nil {
		return err
	}
	bars.LineStyle.Width = vg.Points(1.2)
	q.Add(bars)
	return nil
}

type yErrors struct {
	plotter.XYs
	plotter.YErrors
}

// boxes is a plotter of upright boxes at whole depths.
type boxes struct {
	color color.RGBA
	edge  bool // outline only
	at    []float64
	low   []float64
	high  []float64
}

func (b *boxes) add(x, low, high float64) {
	b.at, b.low, b.high = append(b.at, x), append(b.low, low), append(b.high, high)
}

// Plot draws the boxes.
func (b *boxes) Plot(c draw.Canvas, q *plot.Plot) {
	x, y := q.Transforms(&c)
	for i := range b.at {
		b.box(c, x(b.at[i]-barShare/2), x(b.at[i]+barShare/2), y(b.low[i]), y(b.high[i]))
	}
}

func (b *boxes) box(c draw.Canvas, x0, x1, y0, y1 vg.Length) {
	ring := []vg.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	if b.edge {
		c.StrokeLines(draw.LineStyle{Color: color.Black, Width: vg.Points(2)}, append(ring, ring[0]))
		return
	}
	c.FillPolygon(b.color, ring)
}

// Thumbnail draws the boxes' sign in the legend.
func (b *boxes) Thumbnail(c *draw.Canvas) {
	b.box(*c, c.Min.X, c.Max.X, c.Min.Y, c.Max.Y)
}

// DataRange is what the boxes cover.
func (b *boxes) DataRange() (xmin, xmax, ymin, ymax float64) {
	xmin, xmax, ymin, ymax = math.Inf(1), math.Inf(-1), 0, math.Inf(-1)
	for i := range b.at {
		xmin, xmax, ymax = math.Min(xmin, b.at[i]-0.5), math.Max(xmax, b.at[i]+0.5), math.Max(ymax, b.high[i])
	}
	return xmin, xmax, ymin, ymax
}
