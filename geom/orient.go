package geom

import (
	"math"
	"math/big"

	"github.com/paulmach/orb"
)

// epsilon is half the distance from 1 to the next float64.
const epsilon = 1.0 / (1 << 53)

// orientErrorBound bounds the rounding error of the float64 orientation
// determinant relative to the sum of its two products' magnitudes: with
// ε = 2^-53, (3 + 16ε)ε (Shewchuk 1997, Adaptive Precision Floating-Point
// Arithmetic and Fast Robust Geometric Predicates, section 4.3).
const orientErrorBound = (3 + 16*epsilon) * epsilon

// A product whose magnitude lies between these has neither lost bits to
// underflow nor overflowed, and the error of rounding it is a float64 too.
const (
	productMin = 1e-280
	productMax = 1e300
)

// Orient returns the sign of the turn a→b→c: +1 when c lies left of the
// directed line ab, −1 right of it, 0 on it. It is exact for all finite
// float64s.
func Orient(a, b, c orb.Point) int {
	x1, y1, x2, y2 := a[0]-c[0], a[1]-c[1], b[0]-c[0], b[1]-c[1]
	left, right := float64(x1*y2), float64(y1*x2)
	det := left - right
	sum := math.Abs(left) + math.Abs(right)
	if bound := orientErrorBound * sum; math.Abs(det) > bound && sum > productMin && sum < productMax {
		return sign(det)
	}
	if exactDiff(a[0], c[0], x1) && exactDiff(a[1], c[1], y1) &&
		exactDiff(b[0], c[0], x2) && exactDiff(b[1], c[1], y2) {
		if s, ok := crossSignFMA(x1, y1, x2, y2); ok {
			return s
		}
	}
	return orientBig(a, b, c)
}

// exactDiff reports whether x − y is exactly the float64 d that it rounded to
// (the tail of Knuth's two-sum vanishes).
func exactDiff(x, y, d float64) bool {
	v := x - d
	return (x-(d+v))+(v-y) == 0
}

// crossSign is the sign of x1·y2 − y1·x2, exact for all finite float64s.
func crossSign(x1, y1, x2, y2 float64) int {
	left, right := float64(x1*y2), float64(y1*x2)
	det := left - right
	sum := math.Abs(left) + math.Abs(right)
	// Both factors are exact: only the products and their difference round.
	if math.Abs(det) > 4*epsilon*sum && sum > productMin && sum < productMax {
		return sign(det)
	}
	if s, ok := crossSignFMA(x1, y1, x2, y2); ok {
		return s
	}
	return crossSignBig(x1, y1, x2, y2)
}

// crossSignFMA compares the two products exactly, each as a rounded value and
// its error. It reports false where a product under- or overflows.
func crossSignFMA(x1, y1, x2, y2 float64) (int, bool) {
	p, pOK := exactProduct(x1, y2)
	q, qOK := exactProduct(y1, x2)
	if !pOK || !qOK {
		return 0, false
	}
	return p.compare(q), true
}

// A product is an exact product of two float64s: the rounded value and what
// rounding took away.
type product struct{ value, rest float64 }

// exactProduct reports false where the product or its rest is not exact.
func exactProduct(x, y float64) (product, bool) {
	if x == 0 || y == 0 {
		return product{}, true
	}
	v := float64(x * y)
	if m := math.Abs(v); !(m > productMin && m < productMax) {
		return product{}, false
	}
	return product{v, math.FMA(x, y, -v)}, true
}

// compare is the sign of p − q. Rounded values that differ decide, unless they
// are neighbours and the rests, each at most half a step, make up for the step.
func (p product) compare(q product) int {
	d := p.value - q.value // its sign is exact; exact where the rests matter
	e := q.rest - p.rest
	if d != e {
		return sign(d - e)
	}
	v := q.rest - e // the tail of e
	return -sign((q.rest - (e + v)) + (v - p.rest))
}

// orientBig evaluates the determinant in rational arithmetic.
func orientBig(a, b, c orb.Point) int {
	if a == b || b == c || a == c {
		return 0
	}
	if !finite(a) || !finite(b) || !finite(c) {
		return 0
	}
	x1, y1 := ratDiff(a[0], c[0]), ratDiff(a[1], c[1])
	x2, y2 := ratDiff(b[0], c[0]), ratDiff(b[1], c[1])
	return x1.Mul(x1, y2).Cmp(y1.Mul(y1, x2))
}

// crossSignBig is crossSign in rational arithmetic; 0 for what is not finite.
func crossSignBig(x1, y1, x2, y2 float64) int {
	if !finite(orb.Point{x1, y1}) || !finite(orb.Point{x2, y2}) {
		return 0
	}
	a, b := ratDiff(x1, 0), ratDiff(y1, 0)
	return a.Mul(a, ratDiff(y2, 0)).Cmp(b.Mul(b, ratDiff(x2, 0)))
}

func ratDiff(x, y float64) *big.Rat {
	p, q := new(big.Rat).SetFloat64(x), new(big.Rat).SetFloat64(y)
	return p.Sub(p, q)
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
