package drawing

import (
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A stroke is the plan view of one entity: a chain of lines and arcs in mm on
// the grid.
type stroke struct {
	verts  []geom.Vertex // of an open stroke the last bulge is unused
	closed bool
	from   *origin
	layer  int
	out    Kind // why it is left out; "" where it is used
}

// segments lists the stroke's pieces.
func (s stroke) segments() []segment {
	if s.closed {
		return contourSegments(s.verts)
	}
	return pathSegments(s.verts)
}

// An origin says where in the file something comes from.
type origin struct {
	typ    string
	line   int
	handle uint64 // 0 where the file gives none
}

// A layer of a drawing, as its tables declare it.
type layer struct {
	name        string
	off, frozen bool
	ltype       string // in capitals; "" is continuous
}

// A draft is what a file draws, before healing.
type draft struct {
	log      *log
	layers   []layer
	strokes  []stroke
	entities map[string]int
	skipped  map[string]int
	drawn    Measure
	copying  bool // drawing the inside of a block
	copied   int  // vertices that came from blocks
	maximum  int  // that copied may reach
}

func newDraft(l *log, size int) *draft {
	return &draft{
		log: l, entities: map[string]int{}, skipped: map[string]int{},
		drawn: Measure{Bounds: emptyBound()}, maximum: copyLimit(size),
	}
}

// copyLimit bounds what copies of blocks, and in the same way arcs fitted to
// curves, may add, in vertices. A few lines of a file can ask for billions;
// memory must stay in proportion to the bytes that are there, with room for a
// real perforated plate.
func copyLimit(size int) int { return 60_000 + size/20 }

// full reports whether copies have reached their limit.
func (d *draft) full() bool { return d.copied > d.maximum }

// beyondSense is a coordinate in mm that no drawing means, 1000 km.
const beyondSense = 1e9

// add takes an entity drawn as one chain of segments in mm, and counts it.
func (d *draft) add(segs []segment, closed bool, from *origin, layer int, out Kind) {
	if d.place(segs, closed, from, layer, out) {
		d.entities[from.typ]++
	}
}

// place takes a chain of segments in mm; false where there is none. It drops
// what is not finite or beyond sense, saying so.
func (d *draft) place(segs []segment, closed bool, from *origin, layer int, out Kind) bool {
	if len(segs) == 0 {
		return false
	}
	for _, s := range segs {
		if !finite(s.bulge) || !inside(s.bound(), beyondSense) {
			d.outOfRange(from, layer)
			return false
		}
	}
	if d.copying {
		d.copied += len(segs)
	}
	for _, s := range segs {
		d.drawn.PathMM += s.length()
		d.drawn.Bounds = grow(d.drawn.Bounds, s.bound())
	}
	d.strokes = append(d.strokes, stroke{chain(segs, closed), closed, from, layer, out})
	return true
}

func (d *draft) outOfRange(from *origin, layer int) {
	d.log.add(Finding{
		Kind: OutOfRange, Level: Problem, Line: from.line, Handle: from.name(), Layer: d.layers[layer].name,
		Text: from.typ + " reaches more than 1 km away from the rest; left out: check the drawing's unit and for strays",
	})
}

// chain turns segments that follow one another into vertices.
func chain(segs []segment, closed bool) []geom.Vertex {
	vs := make([]geom.Vertex, 0, len(segs)+1)
	for _, s := range segs {
		vs = append(vs, geom.Vertex{P: s.a, Bulge: s.bulge})
	}
	if !closed {
		vs = append(vs, geom.Vertex{P: segs[len(segs)-1].b})
	}
	return vs
}

// within reports whether both coordinates are at most limit from 0; false where
// one is no number.
func within(p orb.Point, limit float64) bool {
	return math.Abs(p[0]) <= limit && math.Abs(p[1]) <= limit
}

// skip counts an entity that draws no outline.
func (d *draft) skip(typ string) { d.skipped[typ]++ }

// inside reports whether a box lies within limit of 0; false where one of its
// corners is no number.
func inside(b orb.Bound, limit float64) bool { return within(b.Min, limit) && within(b.Max, limit) }

// addLayer returns the place of a new layer.
func (d *draft) addLayer(l layer) int {
	d.layers = append(d.layers, l)
	return len(d.layers) - 1
}

// name returns the handle as files write it.
func (o *origin) name() string {
	if o.handle == 0 {
		return ""
	}
	return strings.ToUpper(strconv.FormatUint(o.handle, 16))
}
