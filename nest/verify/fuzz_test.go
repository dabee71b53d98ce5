package verify_test

import (
	"encoding/binary"
	"math"
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/verify"
)

// A tape reads numbers off fuzz bytes: mostly small and round, so that things
// touch, sometimes any bit pattern.
type tape []byte

func (t *tape) byte() byte {
	if len(*t) == 0 {
		return 0
	}
	b := (*t)[0]
	*t = (*t)[1:]
	return b
}

func (t *tape) number() float64 {
	switch b := t.byte(); {
	case b < 240:
		return float64(int(b)-120) / 4
	case b < 250:
		return float64(int(t.byte())-128) * geom.Grid
	case len(*t) < 8:
		return 0
	default:
		f := math.Float64frombits(binary.LittleEndian.Uint64(*t))
		*t = (*t)[8:]
		return f
	}
}

// length is mostly a clearance, sometimes any number.
func (t *tape) length() float64 {
	if b := t.byte(); b < 250 {
		return float64(b%8) / 2
	}
	return t.number()
}

// contour is one of: anything, a star about the origin, a rectangle.
func (t *tape) contour() geom.Contour {
	switch t.byte() % 4 {
	case 0:
		return t.anything()
	case 1:
		return square(t.number(), t.number(), math.Abs(t.number()), math.Abs(t.number()))
	}
	var c geom.Contour
	n := int(t.byte()%10) + 2
	curved := t.byte()%2 == 1
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := 4 + float64(t.byte()%16)/2
		v := geom.Vertex{P: orb.Point{r * cos, r * sin}}
		if curved || n == 2 {
			v.Bulge = float64(t.byte()%16) / 16
		}
		c = append(c, v)
	}
	return c
}

func (t *tape) anything() geom.Contour {
	var c geom.Contour
	for range t.byte() % 12 {
		v := geom.Vertex{P: orb.Point{t.number(), t.number()}}
		if t.byte()%2 == 1 {
			v.Bulge = t.number() / 16
		}
		c = append(c, v)
	}
	return c
}

func (t *tape) layout() verify.Layout {
	l := verify.Layout{
		Sheets:  []verify.Sheet{{ID: "s", Outline: t.contour(), Blocked: []geom.Contour{t.contour()}}},
		Spacing: t.length(), Margin: t.length(), Limit: int(t.byte()),
	}
	if t.byte()%2 == 0 {
		l.Sheets[0] = wide
	}
	for range t.byte() % 4 {
		p := verify.Part{ID: "p", Shape: geom.Shape{Outer: t.contour()}, Max: 9, FreeAngle: true, Mirror: true}
		if t.byte()%2 == 1 {
			p.Shape.Holes = []geom.Contour{t.contour()}
		}
		l.Parts = append(l.Parts, p)
	}
	var u verify.Use
	for range t.byte() % 6 {
		u.Placements = append(u.Placements, verify.Placement{
			Part: int(t.byte()%5) - 1,
			Pose: geom.Pose{X: t.number(), Y: t.number(), AngleDeg: 2 * t.number(), Mirror: t.byte()%2 == 1},
		})
	}
	l.Uses = []verify.Use{u}
	return l
}

// FuzzCheck feeds the judge anything. It must not panic or hang, must say the
// same twice, must point at things that exist, and must not pass a layout in
// which a vertex of one part lies deep in another.
func FuzzCheck(f *testing.F) {
	f.Add([]byte{0})
	f.Add([]byte("\x01\x78\x78\xa0\xa0\x01\x70\x70\x90\x90\x00\x00\x05\x02\x02\x01\x70\x70\x90\x90\x00\x02\x05\x01\x01\x02\x03\x04\x05\x06\x07\x08\x09\x01\x03\x01\x78\x78\x78\x00\x02\x98\x78\x78\x00\x01\x78\x98\x80\x01"))
	f.Add([]byte("\x02\x08\x01\x04\x04\x04\x04\x04\x04\x04\x04\x04\x04\x04\x04\x04\x04\x04\x04\x01\x60\x60\x40\x40\x02\x02\x00\x01\x01\x02\x04\x00\x01\x02\x03\x04\x05\x06\x00\x05\x01\x78\x78\x78\x00\x01\x98\x78\x78\x00\x01\xb8\x78\x90\x01"))
	f.Fuzz(func(t *testing.T, data []byte) {
		tp := tape(data)
		l := tp.layout()
		r := verify.Check(l)
		if again := verify.Check(l); !reflect.DeepEqual(r, again) {
			t.Fatalf("two verdicts: %+v and %+v", r, again)
		}
		for _, v := range r.Violations {
			if v.Text == "" || v.Use >= len(l.Uses) || (v.Use >= 0 && v.A >= len(l.Uses[v.Use].Placements)) {
				t.Fatalf("violation %+v points nowhere", v)
			}
			if v.Kind == verify.Overlap && !(v.Amount > 0 && v.B > v.A) {
				t.Fatalf("overlap %+v", v)
			}
		}
		if r.OK() {
			noVertexDeep(t, l)
		}
	})
}

// noVertexDeep checks straight parts by the winding number alone.
func noVertexDeep(t *testing.T, l verify.Layout) {
	ps := l.Uses[0].Placements
	for i, p := range ps {
		for k, q := range ps {
			if i == k || curved(l.Parts[q.Part].Shape) || len(l.Parts[q.Part].Shape.Holes) > 0 {
				continue
			}
			ring := posedRing(l.Parts[q.Part].Shape.Outer, q.Pose)
			for _, v := range posedRing(l.Parts[p.Part].Shape.Outer, p.Pose) {
				if depth := ringDepth(ring, v); depth > 1.5*geom.TouchTolerance {
					t.Fatalf("passed, yet vertex %v of placement %d lies %v deep in placement %d", v, i, depth, k)
				}
			}
		}
	}
}

func curved(s geom.Shape) bool {
	for _, v := range s.Outer {
		if v.Bulge != 0 {
			return true
		}
	}
	return false
}

func posedRing(c geom.Contour, p geom.Pose) []orb.Point {
	var out []orb.Point
	for _, v := range c {
		out = append(out, p.Apply(v.P))
	}
	return out
}

// ringDepth returns the distance from q to the ring, negative where an even
// number of edges lies to its right.
func ringDepth(ring []orb.Point, q orb.Point) float64 {
	d, odd := math.Inf(1), false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		ux, uy := b[0]-a[0], b[1]-a[1]
		s := 0.0
		if n := ux*ux + uy*uy; n > 0 {
			s = max(0, min(1, ((q[0]-a[0])*ux+(q[1]-a[1])*uy)/n))
		}
		d = min(d, math.Hypot(q[0]-a[0]-s*ux, q[1]-a[1]-s*uy))
		if (a[1] > q[1]) != (b[1] > q[1]) && q[0] < a[0]+(q[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			odd = !odd
		}
	}
	if odd {
		return d
	}
	return -d
}
