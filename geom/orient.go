package geom

import (
	"math"
	"math/big"

	"github.com/paulmach/orb"
)

// orientErrorBound bounds the rounding error of the float64 orientation
// determinant relative to the sum of its two products' magnitudes: with
// ε = 2^-53, (3 + 16ε)ε (Shewchuk 1997, Adaptive Precision Floating-Point
// Arithmetic and Fast Robust Geometric Predicates, section 4.3).
const orientErrorBound = (3 + 16*epsilon) * epsilon

// epsilon is half the distance from 1 to the next float64.
const epsilon = 1.0 / (1 << 53)

// Orient returns the sign of the turn a→b→c: +1 when c lies left of the
// directed line ab, −1 right of it, 0 on it. It is exact for all finite
// float64s.
func Orient(a, b, c orb.Point) int {
	left := (a[0] - c[0]) * (b[1] - c[1])
	right := (a[1] - c[1]) * (b[0] - c[0])
	det := left - right
	if bound := orientErrorBound * (math.Abs(left) + math.Abs(right)); det > bound || -det > bound {
		// A bound that underflows cannot be trusted, nor one that overflows.
		if bound > orientTrustMin && bound < math.MaxFloat64 {
			return sign(det)
		}
	}
	return orientExact(a, b, c)
}

// orientTrustMin is a magnitude far above the smallest normal float64: products
// whose error bound is larger cannot have underflowed by more than that bound.
const orientTrustMin = 1e-280

// orientExact evaluates the determinant in rational arithmetic.
func orientExact(a, b, c orb.Point) int {
	if a == b || b == c || a == c {
		return 0
	}
	ax, ay := exactDiff(a[0], c[0]), exactDiff(a[1], c[1])
	bx, by := exactDiff(b[0], c[0]), exactDiff(b[1], c[1])
	return ax.Mul(ax, by).Cmp(ay.Mul(ay, bx))
}

func exactDiff(x, y float64) *big.Rat {
	p, q := new(big.Rat), new(big.Rat)
	if p.SetFloat64(x) == nil || q.SetFloat64(y) == nil {
		return new(big.Rat) // not finite: everything is collinear
	}
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
