package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A Disc is a disc; in mm.
type Disc struct {
	Center orb.Point
	Radius float64
}

// Two rules of DiscCover: how far a new disc may reach into an older one, as a
// share of the older one's radius, and how many samples along the longer side
// measure the coverage.
const (
	discOverlap = 0.2
	discSamples = 48
)

// DiscCover returns up to n discs inscribed in the polygon, chosen one by one,
// each the largest that barely reaches into the ones before it, until they
// cover the share coverage of its area (measured on a lattice of samples). The
// discs lie inside the polygon but for float64 rounding.
func DiscCover(poly orb.Polygon, n int, coverage float64) []Disc {
	ix := NewIndex(poly)
	open := ix.samples() // not covered yet
	most := (1 - coverage) * float64(len(open))
	var discs []Disc
	for len(discs) < n && (len(discs) == 0 || float64(len(open)) > most) {
		next := ix.nextDisc(discs)
		if next.Radius <= 0 {
			break
		}
		discs = append(discs, next)
		open = slices.DeleteFunc(open, next.holds)
	}
	return discs
}

// nextDisc is the largest inscribed disc that keeps clear of the others.
func (ix *Index) nextDisc(discs []Disc) Disc {
	size := max(ix.box.Max[0]-ix.box.Min[0], ix.box.Max[1]-ix.box.Min[1])
	d := ix.farthest(size/500, func(p orb.Point, floor float64) float64 {
		v := math.Inf(1)
		for _, o := range discs {
			v = min(v, distance(p, o.Center)-o.Radius*(1-discOverlap))
			if v <= floor {
				return v
			}
		}
		return min(v, ix.signedDistance(p))
	})
	if d.Radius > 0 {
		d.Radius = ix.BoundaryDistance(d.Center)
	}
	return d
}

// samples is a lattice of points inside the polygon.
func (ix *Index) samples() []orb.Point {
	var pts []orb.Point
	w, h := ix.box.Max[0]-ix.box.Min[0], ix.box.Max[1]-ix.box.Min[1]
	step := max(w, h) / discSamples
	if !(step > 0) || math.IsInf(step, 0) {
		return nil
	}
	for x := ix.box.Min[0] + step/2; x < ix.box.Max[0]; x += step {
		for y := ix.box.Min[1] + step/2; y < ix.box.Max[1]; y += step {
			if p := (orb.Point{x, y}); ix.Locate(p) == Inside {
				pts = append(pts, p)
			}
		}
	}
	return pts
}

func (d Disc) holds(p orb.Point) bool { return distance2(p, d.Center) <= d.Radius*d.Radius }
