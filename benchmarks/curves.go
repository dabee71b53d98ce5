package main

import "slices"

// settledWithin is how far, in percentage points, a yield may still be from its
// last value to count as settled.
const settledWithin = 0.01

// lastRise is when the yield improved last; 0 without a curve.
func (c curveOf) lastRise() float64 {
	if len(c) == 0 {
		return 0
	}
	return c[len(c)-1][0]
}

// settled is when the yield first came within [settledWithin] of its last value.
func (c curveOf) settled() float64 {
	for _, p := range c {
		if p[1] >= c[len(c)-1][1]-settledWithin {
			return p[0]
		}
	}
	return 0
}

// first is when the first layout was there.
func (c curveOf) first() float64 {
	if len(c) == 0 {
		return 0
	}
	return c[0][0]
}

// at is the yield at a time; 0 before the first layout.
func (c curveOf) at(seconds float64) float64 {
	i := slices.IndexFunc(c, func(p [3]float64) bool { return p[0] > seconds })
	switch {
	case i == 0 || len(c) == 0:
		return 0
	case i < 0:
		i = len(c)
	}
	return c[i-1][1]
}

// shareAt is the yield at a time over the last yield, in per cent.
func (c curveOf) shareAt(seconds float64) float64 {
	if len(c) == 0 || c[len(c)-1][1] == 0 {
		return 0
	}
	return 100 * c.at(seconds) / c[len(c)-1][1]
}

// reaches is when the yield first was a share of its last value.
func (c curveOf) reaches(share float64) float64 {
	for _, p := range c {
		if p[1] >= share*c[len(c)-1][1] {
			return p[0]
		}
	}
	return 0
}
