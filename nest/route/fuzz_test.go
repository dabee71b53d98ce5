package route_test

import (
	"context"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/route"
)

// FuzzPlan feeds routes whatever shapes the bytes give, self-crossing and
// overlapping ones too. Plan must not panic or hang, must cut every contour it
// does not name, and keep the order of holes and outlines.
func FuzzPlan(f *testing.F) {
	f.Add([]byte{3, 0, 0, 9, 0, 9, 9, 1, 4, 4, 4, 6, 6, 6})
	f.Add([]byte("0000 0 0 0 0 000099990000 1110000 1 1 1 222222"))
	f.Fuzz(func(t *testing.T, data []byte) {
		next := func() byte {
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			return b
		}
		contour := func() geom.Contour {
			var c geom.Contour
			for range next() % 10 {
				v := geom.Vertex{P: orb.Point{float64(next()) / 4, float64(next()) / 4}}
				if next()%3 == 0 {
					v.Bulge = float64(int8(next())) / 32
				}
				c = append(c, v)
			}
			return c
		}
		in := route.Input{Sheet: contour()}
		for i := range int(next() % 6) {
			s := geom.Shape{Outer: contour()}
			for range next() % 3 {
				s.Holes = append(s.Holes, contour())
			}
			in.Pieces = append(in.Pieces, route.Piece{Placement: i, Shape: s})
		}
		o := route.Defaults(1, float64(next()%30))
		o.Style, o.TabMM, o.TabBelowMM = route.LeadStyle(next()%2), float64(next()%3), 30
		r, err := route.Plan(context.Background(), in, o)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Cuts)+len(r.Warnings) < contours(in) {
			t.Fatalf("%d cuts and %d warnings for %d contours", len(r.Cuts), len(r.Warnings), contours(in))
		}
		outer := map[int]bool{}
		for _, c := range r.Cuts {
			if c.Hole >= 0 && outer[c.Placement] {
				t.Fatalf("hole %d of placement %d after its outline", c.Hole, c.Placement)
			}
			outer[c.Placement] = outer[c.Placement] || c.Hole < 0
		}
	})
}
