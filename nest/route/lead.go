package route

import (
	"iter"
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A lead is the way of the jet between a pierce and a contour, or off it: a line
// or a quarter circle.
type lead struct {
	chain [arcPoints]orb.Point
	n     int  // points in chain
	arc   bool // a quarter circle, clockwise
	// effort is how far the lead is from the best form, in the unit of a
	// millimetre of rapid move.
	effort float64
}

// pts returns points along the lead.
func (l *lead) pts() []orb.Point { return l.chain[:l.n] }

// path returns the lead's true form, nil where there is none.
func (l *lead) path() geom.Path {
	if l.n == 0 {
		return nil
	}
	p := geom.Path{{P: l.chain[0]}, {P: l.chain[l.n-1]}}
	if l.arc {
		p[0].Bulge = -quarter
	}
	return p
}

func line(a, b orb.Point) lead { return lead{chain: [arcPoints]orb.Point{a, b}, n: 2} }

// lineIn is a straight lead-in from the point d along u.
func lineIn(at, u orb.Point, d float64) lead { return line(step(at, u, d), at) }

// lineOut is a straight lead-out that leaves forwards, half to the scrap side.
func lineOut(at, t orb.Point, d float64) lead { return line(at, step(at, turned(t, -45), d)) }

// arcIn is a quarter circle of length d that meets the heading t tangentially
// from the scrap side, arcOut one that leaves it so.
func arcIn(at, t orb.Point, d float64) lead  { return arcLead(at, t, d, 180) }
func arcOut(at, t orb.Point, d float64) lead { return arcLead(at, t, d, 90) }

// arcLead goes clockwise about a centre square to the heading, on the scrap
// side, from an angle against the heading.
func arcLead(at, t orb.Point, d, from float64) lead {
	r := d * 2 / math.Pi
	c := step(at, right(t), r)
	l := lead{n: arcPoints, arc: true}
	for i := range l.chain {
		l.chain[i] = step(c, turned(t, from-90*float64(i)/(arcPoints-1)), r)
	}
	if from > 90 {
		l.chain[arcPoints-1] = at
	} else {
		l.chain[0] = at
	}
	return l
}

// arcPoints is how many points stand for a quarter circle: chords within
// r·(1 − cos 9°), about 0.012 r, of it.
const arcPoints = 6

// quarter is the bulge of a quarter circle: tan(90°/4).
var quarter = math.Tan(math.Pi / 8)

// leadDirections returns the directions from a spot towards possible pierces,
// the best first: square to the contour, then tilted back against the travel,
// then forwards. At a corner of the material also along the corner's edges.
func leadDirections(in, out orb.Point) [5]orb.Point {
	n := right(unit(orb.Point{in[0] + out[0], in[1] + out[1]}))
	if corner := cross(in, out); corner > cornerSine {
		back := orb.Point{-out[0], -out[1]}
		return [...]orb.Point{n, back, right(in), right(out), in}
	}
	return [...]orb.Point{n, turned(n, -45), turned(n, 45), turned(n, -65), turned(n, 65)}
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

// leadsIn yields the lead-ins to try at a spot, the best first.
func (o Options) leadsIn(n *node, p spot) iter.Seq[lead] {
	at := n.outline.at(p)
	in, out := n.outline.headings(p)
	dirs := leadDirections(in, out)
	return func(yield func(lead) bool) {
		for _, d := range n.lengths {
			short := 2 * math.Max(0, o.LeadMM-d)
			if o.Style == ArcLead {
				l := arcIn(at, out, d)
				if l.effort = short; !yield(l) {
					return
				}
				short += 2 // a line where an arc was asked for
			}
			for i, u := range dirs {
				l := lineIn(at, u, d)
				if l.effort = short + float64(i)/2; !yield(l) {
					return
				}
			}
		}
	}
}

// leadsOut yields the lead-outs to try, the best first.
func (o Options) leadsOut(n *node, p spot) iter.Seq[lead] {
	at := n.outline.at(p)
	in, _ := n.outline.headings(p)
	return func(yield func(lead) bool) {
		if o.LeadOutMM <= 0 || n.tab > 0 {
			return
		}
		for _, share := range [...]float64{1, 0.6, 0.3} {
			d := share * o.LeadOutMM
			if o.Style == ArcLead && !yield(arcOut(at, in, d)) || !yield(lineOut(at, in, d)) {
				return
			}
		}
	}
}
