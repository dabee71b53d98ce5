package route

import (
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A lead is the way of the jet between a pierce and a contour, or off it.
type lead struct {
	path geom.Path
	pts  []orb.Point // along the path
	// effort is how far the lead is from the best form, in the unit of a
	// millimetre of rapid move.
	effort float64
}

func (l *lead) pierce() orb.Point { return l.path[0].P }

// lineIn is a straight lead-in from the point d along u.
func lineIn(at, u orb.Point, d float64) lead {
	p := step(at, u, d)
	return lead{path: geom.Path{{P: p}, {P: at}}, pts: []orb.Point{p, at}}
}

// arcIn is a quarter circle of length d that meets the heading t tangentially
// from the scrap side.
func arcIn(at, t orb.Point, d float64) lead {
	r := d * 2 / math.Pi
	c := step(at, right(t), r)
	l := lead{path: geom.Path{{P: step(c, t, -r), Bulge: -quarter}, {P: at}}}
	for i := range arcPoints {
		l.pts = append(l.pts, step(c, turned(t, 180-90*float64(i)/(arcPoints-1)), r))
	}
	return l
}

// arcOut is a quarter circle of length d that leaves the heading t towards the
// scrap side.
func arcOut(at, t orb.Point, d float64) lead {
	r := d * 2 / math.Pi
	c := step(at, right(t), r)
	l := lead{path: geom.Path{{P: at, Bulge: -quarter}, {P: step(c, t, r)}}}
	for i := range arcPoints {
		l.pts = append(l.pts, step(c, turned(t, 90-90*float64(i)/(arcPoints-1)), r))
	}
	return l
}

// lineOut is a straight lead-out that leaves forwards, half to the scrap side.
func lineOut(at, t orb.Point, d float64) lead {
	p := step(at, turned(t, -45), d)
	return lead{path: geom.Path{{P: at}, {P: p}}, pts: []orb.Point{at, p}}
}

// arcPoints is how many points stand for a quarter circle: chords within
// r·(1 − cos 9°), about 0.012 r, of it.
const arcPoints = 6

// quarter is the bulge of a quarter circle: tan(90°/4).
var quarter = math.Tan(math.Pi / 8)

// leadDirections returns the directions from a spot towards possible pierces,
// the best first: square to the contour, then tilted back against the travel,
// then forwards. At a corner of the material also along the corner's edges.
func leadDirections(in, out orb.Point) []orb.Point {
	n := right(unit(orb.Point{in[0] + out[0], in[1] + out[1]}))
	if corner := cross(in, out); corner > cornerSine {
		back := orb.Point{-out[0], -out[1]}
		return []orb.Point{n, back, right(in), right(out), in}
	}
	return []orb.Point{n, turned(n, -45), turned(n, 45), turned(n, -65), turned(n, 65)}
}

// cornerSine is the sine of the turn from which a vertex counts as a corner.
const cornerSine = 0.2

// leadLengths returns the lengths to try, the longest first.
func (o Options) leadLengths(n *node) []float64 {
	// The pierce hole must not bite into the part.
	least := math.Max(o.MinLeadMM, o.PierceMM+2*flatTolerance)
	var out []float64
	for _, share := range [...]float64{1, 0.75, 0.55, 0.4} {
		if d := share * o.LeadMM; d > least {
			out = append(out, d)
		}
	}
	w := math.Min(n.box.Max[0]-n.box.Min[0], n.box.Max[1]-n.box.Min[1]) / 2
	if n.hole >= 0 && w < o.LeadMM && w > least {
		out = insertDescending(out, w)
	}
	return append(out, least)
}

func insertDescending(s []float64, x float64) []float64 {
	i := 0
	for i < len(s) && s[i] > x {
		i++
	}
	s = append(s, 0)
	copy(s[i+1:], s[i:])
	s[i] = x
	return s
}

// leadsIn returns the lead-ins to try at a spot, the best first.
func (o Options) leadsIn(n *node, p spot) []lead {
	at := n.outline.at(p)
	in, out := n.outline.headings(p)
	dirs := leadDirections(in, out)
	var ls []lead
	for _, d := range o.leadLengths(n) {
		short := 2 * math.Max(0, o.LeadMM-d)
		if o.Style == ArcLead {
			l := arcIn(at, out, d)
			l.effort = short
			ls = append(ls, l)
		}
		for i, u := range dirs {
			l := lineIn(at, u, d)
			l.effort = short + float64(i)/2
			if o.Style == ArcLead {
				l.effort += 2
			}
			ls = append(ls, l)
		}
	}
	return ls
}

// leadsOut returns the lead-outs to try, the best first.
func (o Options) leadsOut(n *node, p spot) []lead {
	if o.LeadOutMM <= 0 || n.tab > 0 {
		return nil
	}
	at := n.outline.at(p)
	in, _ := n.outline.headings(p)
	var ls []lead
	for _, share := range [...]float64{1, 0.6, 0.3} {
		if o.Style == ArcLead {
			ls = append(ls, arcOut(at, in, share*o.LeadOutMM))
		}
		ls = append(ls, lineOut(at, in, share*o.LeadOutMM))
	}
	return ls
}
