package geom

import "github.com/paulmach/orb"

// A Disc is a disc; in mm.
type Disc struct {
	Center orb.Point
	Radius float64
}

// DiscCover returns up to n discs inscribed in the polygon, greedily chosen,
// largest first, until they cover the share coverage of its area.
func DiscCover(poly orb.Polygon, n int, coverage float64) []Disc {
	panic("geom: disc cover not built yet")
}

// Pole returns the largest disc inscribed in the polygon, to within tol mm of
// its radius: its pole of inaccessibility.
func Pole(poly orb.Polygon, tol float64) Disc { panic("geom: pole not built yet") }
