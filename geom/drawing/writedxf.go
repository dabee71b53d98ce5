package drawing

import (
	"fmt"
	"io"
	"math"
	"sync"

	"github.com/paulmach/orb"
	"github.com/yofu/dxf/color"
	dxf "github.com/yofu/dxf/drawing"
	"github.com/yofu/dxf/insunit"
	"github.com/yofu/dxf/table"

	"kerfold/geom"
)

// dxfTables guards the DXF library's default layer, linetypes and text style,
// which all its drawings share and renumber when they are written.
var dxfTables sync.Mutex

// layerColours are colour numbers of the DXF index for our own layers. Colour
// only helps; the layer names carry the meaning.
var layerColours = map[string]color.ColorNumber{
	LayerCutOutside: color.White,
	LayerCutInside:  color.Cyan,
	LayerLead:       color.Green,
	LayerPierce:     color.Red,
	LayerPartLabel:  color.Yellow,
	LayerSheet:      color.Blue,
	LayerRemnant:    color.Magenta,
	LayerCutSever:   color.Magenta,
	LayerTab:        color.Red,
	LayerRapid:      color.Grey128,
	LayerRaised:     color.Red,
}

// maxArcRadius is the radius in mm up to which a single open arc is written as
// an ARC. Beyond it the end points, which an ARC gives only through centre,
// radius and angles, would lose digits; a polyline with a bulge keeps them.
const maxArcRadius = 1e5

// WriteDXF writes a sketch as an ASCII DXF (R2000) in millimetres. Whole
// circles become CIRCLE, other contours closed LWPOLYLINE with bulges; open
// paths become LINE, ARC or LWPOLYLINE. It fails, writing nothing, where the
// sketch holds a coordinate that is not finite, a contour without area or a
// layer name that is not plain ASCII.
func WriteDXF(w io.Writer, s Sketch) error {
	if err := s.check(); err != nil {
		return err
	}
	dxfTables.Lock()
	defer dxfTables.Unlock()
	d := newDXF()
	for _, l := range s.Layers {
		if err := drawLayer(d, l); err != nil {
			return err
		}
	}
	setExtents(d, s.bound())
	_, err := d.WriteTo(w)
	return err
}

// newDXF starts an empty drawing in millimetres. The caller holds dxfTables.
func newDXF() *dxf.Drawing {
	d := dxf.New()
	tidy(d)
	d.Header().InsUnit = insunit.Millimeters
	d.CurrentStyle.FontName = "txt"
	return d
}

func setExtents(d *dxf.Drawing, b orb.Bound) {
	if b.IsEmpty() {
		b = orb.Bound{}
	}
	h := d.Header()
	h.ExtMin = []float64{b.Min[0], b.Min[1], 0}
	h.ExtMax = []float64{b.Max[0], b.Max[1], 0}
}

func drawLayer(d *dxf.Drawing, l SketchLayer) error {
	colour, ok := layerColours[l.Name]
	if !ok {
		colour = color.White
	}
	if _, err := d.AddLayer(l.Name, colour, table.LT_CONTINUOUS, true); err != nil {
		return fmt.Errorf("layer %q: %w", l.Name, err)
	}
	for _, c := range l.Contours {
		drawContour(d, c)
	}
	for _, p := range l.Paths {
		drawPath(d, p)
	}
	for _, p := range l.Points {
		_, _ = d.Point(p[0], p[1], 0) // never fails
	}
	for _, t := range l.Labels {
		drawLabel(d, t)
	}
	return nil
}

func drawContour(d *dxf.Drawing, c geom.Contour) {
	if centre, r, ok := circleOf(c); ok {
		_, _ = d.Circle(centre[0], centre[1], 0, r) // never fails
		return
	}
	d.AddEntity(newBulged(c, true, d.CurrentLayer))
}

func drawPath(d *dxf.Drawing, p geom.Path) {
	if len(p) > 2 {
		d.AddEntity(newBulged(p, false, d.CurrentLayer))
		return
	}
	s := segment{p[0].P, p[1].P, p[0].Bulge}
	if !s.isArc() {
		_, _ = d.Line(s.a[0], s.a[1], 0, s.b[0], s.b[1], 0) // never fails
		return
	}
	c, r := s.centre()
	if r > maxArcRadius {
		d.AddEntity(newBulged(p, false, d.CurrentLayer))
		return
	}
	if s.bulge < 0 { // an ARC runs counter-clockwise
		s = s.reversed()
	}
	_, _ = d.Arc(c[0], c[1], 0, r, angleDeg(c, s.a), angleDeg(c, s.b)) // never fails
}

func angleDeg(c, p orb.Point) float64 {
	return geom.NormalDeg(math.Atan2(p[1]-c[1], p[0]-c[0]) * 180 / math.Pi)
}

func drawLabel(d *dxf.Drawing, l Label) {
	t, _ := d.Text(dxfText(l.Text), l.At[0], l.At[1], 0, l.HeightMM) // never fails
	t.Rotation = l.AngleDeg
	if l.Centred {
		t.Anchor(centreAnchor)
	}
	d.CurrentStyle.LastHeightUsed = 0 // shared: must not leak into the next drawing
}

// circleOf reports whether a contour is one whole circle, and which.
func circleOf(c geom.Contour) (centre orb.Point, r float64, ok bool) {
	turn := 0.0
	for i, s := range contourSegments(c) {
		if !s.isArc() || s.bulge > 0 != (c[0].Bulge > 0) {
			return centre, 0, false
		}
		ci, ri := s.centre()
		if i == 0 {
			centre, r = ci, ri
		} else if dist(centre, ci) > geom.TouchTolerance || math.Abs(r-ri) > geom.TouchTolerance {
			return centre, 0, false
		}
		turn += s.sweep()
	}
	return centre, r, math.Abs(math.Abs(turn)-2*math.Pi) < 1e-6
}
