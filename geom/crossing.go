package geom

import (
	"math"
	"math/big"

	"github.com/paulmach/orb"
)

// crossingPoint returns the grid point whose pixel holds the crossing of the
// segments ab and cd: coordinates in [g − Grid/2, g + Grid/2). The ends are grid
// points and the segments cross properly. The rounding is exact, as the
// noding's proof asks for.
func crossingPoint(a, b, c, d orb.Point) orb.Point {
	rx, ry, sx, sy := b[0]-a[0], b[1]-a[1], d[0]-c[0], d[1]-c[1]
	num := wideCross(c[0]-a[0], c[1]-a[1], sx, sy)
	den := wideCross(rx, ry, sx, sy)
	t := num / den
	x, okX := roundNear(a[0]+t*rx, rx)
	y, okY := roundNear(a[1]+t*ry, ry)
	if okX && okY {
		return orb.Point{x, y}
	}
	return crossingPointBig(a, b, c, d)
}

// wideCross is x1·y2 − y1·x2 to nearly full precision even where the products
// all but cancel (Kahan's difference of products).
func wideCross(x1, y1, x2, y2 float64) float64 {
	w := float64(y1 * x2)
	e := math.FMA(-y1, x2, w)
	return math.FMA(x1, y2, -w) + e
}

// roundNear rounds to the grid, half up. It reports false where the computed
// value lies so close to the middle of two grid points that its error might
// matter: t carries a relative error of a few epsilon, which the step scales.
func roundNear(v, step float64) (float64, bool) {
	g := math.Floor(v/Grid + 0.5)
	toEdge := 0.5 - math.Abs(v/Grid-g)
	errorBound := (8*math.Abs(step) + 4*math.Abs(v)) / Grid * epsilon
	return g * Grid, toEdge > errorBound
}

// crossingPointBig is crossingPoint in rational arithmetic.
func crossingPointBig(a, b, c, d orb.Point) orb.Point {
	x1, y1 := ratDiff(b[0], a[0]), ratDiff(b[1], a[1])
	x2, y2 := ratDiff(d[0], c[0]), ratDiff(d[1], c[1])
	px, py := ratDiff(c[0], a[0]), ratDiff(c[1], a[1])
	num := ratCross(px, py, x2, y2)
	den := ratCross(x1, y1, x2, y2)
	t := num.Quo(num, den)
	return orb.Point{ratRound(a[0], t, x1), ratRound(a[1], t, y1)}
}

func ratCross(x1, y1, x2, y2 *big.Rat) *big.Rat {
	l := new(big.Rat).Mul(x1, y2)
	return l.Sub(l, new(big.Rat).Mul(y1, x2))
}

// ratRound is from + t·step on the grid, half up.
func ratRound(from float64, t, step *big.Rat) float64 {
	v := new(big.Rat).Mul(t, step)
	v.Add(v, new(big.Rat).SetFloat64(from))
	v.Mul(v, big.NewRat(int64(1/Grid), 1))
	v.Add(v, big.NewRat(1, 2))
	floor := new(big.Int).Div(v.Num(), v.Denom()) // Euclidean: floors, as the denominator is positive
	f, _ := new(big.Float).SetInt(floor).Float64()
	return f * Grid
}
