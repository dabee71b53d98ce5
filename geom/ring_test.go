package geom

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestSnapRing(t *testing.T) {
	for _, tc := range []struct {
		name string
		r    orb.Ring
		want orb.Ring
	}{
		{"on the grid already", orb.Ring{{0, 0}, {1, 0}, {0, 0.5}}, orb.Ring{{0, 0}, {1, 0}, {0, 0.5}}},
		{"closed comes back open", orb.Ring{{0, 0}, {1, 0}, {0, 1}, {0, 0}}, orb.Ring{{0, 0}, {1, 0}, {0, 1}}},
		{"neighbours that fall together", orb.Ring{{0, 0}, {1, 0}, {1, Grid / 4}, {0, 1}}, orb.Ring{{0, 0}, {1, 0}, {0, 1}}},
		{"to the nearest", orb.Ring{{Grid * 0.6, 0}, {1, 0}, {0, 1}}, orb.Ring{{Grid, 0}, {1, 0}, {0, 1}}},
		{"nothing", nil, nil},
	} {
		if got := SnapRing(tc.r); !slices.Equal(got, tc.want) {
			t.Errorf("%s: %v, want %v", tc.name, got, tc.want)
		}
	}
	speck := orb.Ring{{5, 5}, {5, 5 + Grid/8}, {5 + Grid/8, 5}}
	if got := SnapPolygon(poly(RectRing(0, 0, 9, 9), speck)); len(got) != 1 {
		t.Errorf("a hole that collapses stays: %v", got)
	}
	if got := SnapPolygon(poly(speck, RectRing(0, 0, 9, 9))); got != nil {
		t.Errorf("an outer ring that collapses leaves %v", got)
	}
}

func TestPolygonMeasures(t *testing.T) {
	if a := PolygonArea(frame); a != 84 {
		t.Errorf("area %g", a)
	}
	if a := PolygonArea(poly(ReverseRing(frame[0]), ReverseRing(frame[1]))); a != 84 {
		t.Errorf("area of the rings run the other way %g", a)
	}
	if l := PolygonLength(frame); l != 56 {
		t.Errorf("length %g", l)
	}
	far := TranslatePolygon(rect(0, 0, Grid*8, Grid*8), orb.Point{MaxCoordinate / 2, MaxCoordinate / 2})
	if a := RingArea(far[0]); a != 64*Grid*Grid {
		t.Errorf("a speck far out has area %g", a)
	}
	n := NormalPolygon(poly(ReverseRing(frame[0]), ReverseRing(frame[1]), orb.Ring{{1, 1}, {2, 2}}))
	if len(n) != 2 || RingArea(n[0]) <= 0 || RingArea(n[1]) >= 0 {
		t.Errorf("normal form %v", n)
	}
	if b := Bounds(nil); !b.IsEmpty() {
		t.Errorf("box of nothing %v", b)
	}
}

// Poses keep area and sense; quarter turns are exact and undo themselves.
func TestTransformPolygon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, pose := drawStar(t, "p"), drawPose(t)
		q := TransformPolygon(p, pose)
		tol := 2 * Grid * PolygonLength(p)
		if math.Abs(RingArea(q[0])-RingArea(p[0])) > tol {
			t.Fatalf("area %g became %g under %+v", RingArea(p[0]), RingArea(q[0]), pose)
		}
		if math.Mod(pose.AngleDeg, 90) == 0 {
			back := TransformPolygon(q, pose.Inverse())
			if !slices.Equal(startAtLeast(back[0]), startAtLeast(p[0].Clone())) {
				t.Fatalf("%+v there and back: %v, want %v", pose, back, p)
			}
		}
	})
}

func TestRelateSegmentsTable(t *testing.T) {
	o := orb.Point{0, 0}
	for _, tc := range []struct {
		name       string
		a, b, c, d orb.Point
		want       SegmentRelation
	}{
		{"crossing", o, orb.Point{2, 2}, orb.Point{0, 2}, orb.Point{2, 0}, Crossing},
		{"apart", o, orb.Point{2, 2}, orb.Point{3, 0}, orb.Point{5, 1}, Disjoint},
		{"boxes meet, segments do not", o, orb.Point{4, 4}, orb.Point{3, 0}, orb.Point{4, 3}, Disjoint},
		{"end on end", o, orb.Point{2, 2}, orb.Point{2, 2}, orb.Point{5, 1}, Touching},
		{"end on middle", o, orb.Point{2, 2}, orb.Point{1, 1}, orb.Point{5, 1}, Touching},
		{"parallel", o, orb.Point{2, 2}, orb.Point{0, 1}, orb.Point{1, 2}, Disjoint},
		{"one line, apart", o, orb.Point{1, 1}, orb.Point{2, 2}, orb.Point{3, 3}, Disjoint},
		{"one line, end to end", o, orb.Point{1, 1}, orb.Point{1, 1}, orb.Point{3, 3}, Touching},
		{"one line, overlapping", o, orb.Point{2, 2}, orb.Point{1, 1}, orb.Point{3, 3}, Overlapping},
		{"one line, one in the other", o, orb.Point{0, 9}, orb.Point{0, 2}, orb.Point{0, 3}, Overlapping},
		{"a point on a segment", o, orb.Point{2, 2}, orb.Point{1, 1}, orb.Point{1, 1}, Touching},
		{"a point off a segment", o, orb.Point{2, 2}, orb.Point{1, 1.5}, orb.Point{1, 1.5}, Disjoint},
		{"one step right of a slope", o, orb.Point{3, 3}, orb.Point{1, math.Nextafter(1, 0)}, orb.Point{9, 1}, Disjoint},
		{"one step left of a slope", o, orb.Point{3, 3}, orb.Point{1, math.Nextafter(1, 2)}, orb.Point{9, 1}, Crossing},
	} {
		for _, got := range []SegmentRelation{
			RelateSegments(tc.a, tc.b, tc.c, tc.d), RelateSegments(tc.b, tc.a, tc.c, tc.d),
			RelateSegments(tc.c, tc.d, tc.a, tc.b), RelateSegments(tc.d, tc.c, tc.b, tc.a),
		} {
			if got != tc.want {
				t.Errorf("%s: %d, want %d", tc.name, got, tc.want)
			}
		}
	}
}

func TestLocateTable(t *testing.T) {
	notched := orb.Ring{{0, 0}, {4, 0}, {4, 4}, {2, 2}, {0, 4}}
	for _, tc := range []struct {
		name string
		p    orb.Point
		want Location
	}{
		{"inside", orb.Point{1, 1}, Inside},
		{"level with the notch's vertex", orb.Point{1, 2}, Inside},
		{"in the notch", orb.Point{2, 3}, Outside},
		{"level with the top vertices", orb.Point{2, 4}, Outside},
		{"a vertex", orb.Point{4, 4}, OnBoundary},
		{"the notch's vertex", orb.Point{2, 2}, OnBoundary},
		{"on a slope", orb.Point{3, 3}, OnBoundary},
		{"on the floor", orb.Point{2, 0}, OnBoundary},
		{"beside the floor, on its line", orb.Point{5, 0}, Outside},
		{"a step over a slope", orb.Point{3, math.Nextafter(3, 4)}, Outside},
		{"a step under it", orb.Point{3, math.Nextafter(3, 2)}, Inside},
	} {
		for _, r := range []orb.Ring{notched, ReverseRing(notched), append(notched.Clone(), notched[0])} {
			if got := LocateInRing(r, tc.p); got != tc.want {
				t.Errorf("%s: %d, want %d", tc.name, got, tc.want)
			}
		}
	}
	if Locate(frame, orb.Point{5, 5}) != Outside || Locate(frame, orb.Point{3, 5}) != OnBoundary || Locate(nil, orb.Point{}) != Outside {
		t.Error("a hole's inside is outside, its rim boundary")
	}
}

func TestIndexMeetsSegment(t *testing.T) {
	ix := NewIndex(socket)
	for _, tc := range []struct {
		name string
		a, b orb.Point
		want bool
	}{
		{"inside", orb.Point{1, 1}, orb.Point{4, 9}, false},
		{"across the slot", orb.Point{4, 8}, orb.Point{7, 8}, true},
		{"in the slot", orb.Point{5.2, 7}, orb.Point{5.8, 9}, false},
		{"touching the floor", orb.Point{5.2, 7}, orb.Point{5.5, 6}, true},
		{"outside", orb.Point{11, 0}, orb.Point{12, 10}, false},
		{"past a corner", orb.Point{9, 11}, orb.Point{11, 9}, true},
	} {
		if got := ix.MeetsSegment(tc.a, tc.b); got != tc.want {
			t.Errorf("%s: %v", tc.name, got)
		}
	}
}

func TestIsSimpleTable(t *testing.T) {
	for _, tc := range []struct {
		name string
		p    orb.Polygon
		want bool
	}{
		{"slot", socket, true},
		{"frame", frame, true},
		{"bow tie", poly(orb.Ring{{0, 0}, {2, 2}, {2, 0}, {0, 2}}), false},
		{"hole across the rim", poly(RectRing(0, 0, 4, 4), RectRing(3, 1, 5, 2)), false},
		{"hole touching the rim at a point", poly(RectRing(0, 0, 4, 4), orb.Ring{{0, 2}, {1, 3}, {1, 1}}), true},
		{"hole along the rim", poly(RectRing(0, 0, 4, 4), RectRing(0, 1, 1, 2)), false},
		{"spike", poly(orb.Ring{{0, 0}, {2, 0}, {5, 0}, {2, 0}, {2, 2}}), false},
	} {
		if got := IsSimple(tc.p); got != tc.want {
			t.Errorf("%s: %v", tc.name, got)
		}
	}
}

func TestRegion(t *testing.T) {
	r := NoFit(socket, rect(0, 0, 1, 1))
	if r.Empty() || !(Region{}).Empty() {
		t.Error("empty")
	}
	if b := r.Bounds(); b != (orb.Bound{Min: orb.Point{-1, -1}, Max: orb.Point{10, 10}}) {
		t.Errorf("box %v", b)
	}
	m := r.Translate(orb.Point{100, 0})
	for _, tc := range []struct {
		name       string
		at         orb.Point
		rings      Location
		degenerate bool
	}{
		{"in the block", orb.Point{101, 1}, Inside, false},
		{"against its side", orb.Point{110, 3}, OnBoundary, false},
		{"down the slot", orb.Point{105, 8}, Inside, true},
		{"beside the slot", orb.Point{105.1, 8}, Inside, false},
		{"away", orb.Point{5, 8}, Outside, false},
	} {
		if at, deg := m.LocateRings(tc.at), m.OnDegenerate(tc.at); at != tc.rings || deg != tc.degenerate {
			t.Errorf("%s: %d %v", tc.name, at, deg)
		}
	}
}
