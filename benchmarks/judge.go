package main

import (
	"fmt"

	"github.com/paulmach/orb"
	sf "github.com/peterstace/simplefeatures/geom"

	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/verify"
)

// judge has a result examined twice: by the project's verifier and by another
// library's polygon intersection. It returns what they found wrong.
func judge(in instance, r nest.Result) []string {
	var faults []string
	report := verify.Check(in.layout(r))
	for _, v := range report.Violations {
		faults = append(faults, v.Text)
	}
	for i, l := range r.Layouts {
		faults = append(faults, oracle(in, i, l)...)
	}
	return faults
}

// layout is a result as the verifier takes it.
func (in instance) layout(r nest.Result) verify.Layout {
	l := verify.Layout{Limit: 5, Spacing: in.Spacing, Margin: in.Margin}
	for _, p := range in.Parts {
		l.Parts = append(l.Parts, verify.Part{
			ID: p.ID, Shape: verify.Plain(p.Outline), Min: p.Quantity, Max: p.Quantity, Angles: p.Angles, FreeAngle: p.AnyAngle,
		})
	}
	if in.strip() {
		l.Sheets = []verify.Sheet{verify.Strip(in.StripWidth, r.Length)}
	} else {
		w, h := in.Bin[0], in.Bin[1]
		bin := verify.Strip(h, w)
		bin.ID, bin.Count = "bin", in.copies()
		l.Sheets = []verify.Sheet{bin}
	}
	for _, layout := range r.Layouts {
		use := verify.Use{}
		for _, p := range layout.Placements {
			use.Placements = append(use.Placements, verify.Placement{Part: p.Part, Pose: p.Pose})
		}
		l.Uses = append(l.Uses, use)
	}
	return l
}

// oracleShare is the overlap, as a share of the smaller part's area, that the
// second judge lets pass. Outlines that touch may run four grid steps into each
// other along a whole side, which is less than this for any part of the
// collection, and the other library rounds in floating point.
const oracleShare = 1e-5

// oracle intersects the parts of one layout, pair by pair, with another library.
func oracle(in instance, at int, l nest.Layout) []string {
	var faults []string
	placed := make([]orb.Polygon, len(l.Placements))
	for i, p := range l.Placements {
		placed[i] = geom.TransformPolygon(in.Parts[p.Part].Outline, p.Pose)
	}
	for i := range placed {
		for k := range i {
			if share := overlapShare(placed[i], placed[k]); share > oracleShare {
				faults = append(faults, fmt.Sprintf("the second judge finds parts %d and %d of layout %d overlapping by %.2g of the smaller one's area", k+1, i+1, at+1, share))
			}
		}
	}
	return faults
}

// overlapShare is the area two polygons share over the smaller one's. Where the
// other library cannot tell, because too many corners coincide, one of the two
// is moved by a few millionths of a unit.
func overlapShare(a, b orb.Polygon) float64 {
	if !geom.Bounds(a).Intersects(geom.Bounds(b)) {
		return 0
	}
	smaller := min(geom.PolygonArea(a), geom.PolygonArea(b))
	for _, d := range []orb.Point{{0, 0}, {1e-6, 2e-6}, {-2e-6, 1e-6}} {
		common, err := sf.Intersection(simple(a), simple(geom.TranslatePolygon(b, d)))
		if err == nil {
			return common.Area() / smaller
		}
	}
	return 1
}

func simple(p orb.Polygon) sf.Geometry {
	rings := make([]sf.LineString, len(p))
	for i, ring := range p {
		var xy []float64
		for _, v := range ring {
			xy = append(xy, v[0], v[1])
		}
		xy = append(xy, ring[0][0], ring[0][1])
		rings[i] = sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
	}
	return sf.NewPolygon(rings).AsGeometry()
}

// used is the area of the parts of a layout.
func (in instance) used(l nest.Layout) float64 {
	area := 0.0
	for _, p := range l.Placements {
		area += geom.PolygonArea(in.Parts[p.Part].Outline)
	}
	return area
}
