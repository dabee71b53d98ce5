package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// builtIn lists the instances the program carries itself. All can be laid out
// without any waste, and the reader knows how long or how many that takes.
func builtIn() []instance {
	list := []instance{squaredSquare()}
	for _, n := range []int{8, 12, 20} {
		list = append(list, jigsawStrip(n, uint64(n)))
	}
	return append(list, jigsawBins(3, 8, 7), jigsawBins(5, 6, 11))
}

const builtInSet = "built-in"

// squaredSquare is the simple perfect squared square of lowest order: 21 squares
// that fill a square of side 112 (Duijvestijn A.J.W. 1978, Simple perfect squared
// square of lowest order, J. Combin. Theory B 25, 240-243).
func squaredSquare() instance {
	in := instance{
		Name: "squares21", Set: builtInSet, StripWidth: 112, BestLength: 112,
		Source: "simple perfect squared square of order 21, Duijvestijn 1978",
	}
	for _, side := range []float64{2, 4, 6, 7, 8, 9, 11, 15, 16, 17, 18, 19, 24, 25, 27, 29, 33, 35, 37, 42, 50} {
		in.Parts = append(in.Parts, part{
			ID: fmt.Sprintf("s%02.0f", side), Quantity: 1, Angles: []float64{0},
			Outline: orb.Polygon{geom.RectRing(0, 0, side, side)},
		})
	}
	return in
}

// jigsawSide is the side of the square that jigsaws are cut from.
const jigsawSide = 1000

func jigsawStrip(n int, seed uint64) instance {
	in := instance{
		Name: fmt.Sprintf("jigsaw%02d", n), Set: builtInSet, StripWidth: jigsawSide, BestLength: jigsawSide,
		Source: fmt.Sprintf("generated: a square cut into %d convex pieces, seed %d", n, seed),
	}
	in.Parts = jigsawParts(cutSquare(n, rand.New(rand.NewPCG(seed, 0))), 0)
	return in
}

func jigsawBins(bins, n int, seed uint64) instance {
	in := instance{
		Name: fmt.Sprintf("jigsaw%dx%d", bins, n), Set: builtInSet, Bin: [2]float64{jigsawSide, jigsawSide}, Optimum: bins,
		Source: fmt.Sprintf("generated: %d squares cut into %d convex pieces each, seed %d", bins, n, seed),
	}
	for b := range bins {
		in.Parts = append(in.Parts, jigsawParts(cutSquare(n, rand.New(rand.NewPCG(seed, uint64(b)))), b*n)...)
	}
	return in
}

func jigsawParts(pieces []orb.Ring, before int) []part {
	parts := make([]part, len(pieces))
	for i, ring := range pieces {
		box := geom.RingBounds(ring)
		at := geom.TranslatePolygon(orb.Polygon{ring}, orb.Point{-box.Min[0], -box.Min[1]})
		parts[i] = part{ID: fmt.Sprintf("p%02d", before+i+1), Quantity: 1, Angles: []float64{0}, Outline: at}
	}
	return parts
}

// cutSquare cuts a square into n convex pieces with straight cuts between whole
// coordinates. A cut ends at a corner or on an upright or level side, so that
// every end lies exactly on what it ends at and the pieces tile the square
// without the least gap.
func cutSquare(n int, rng *rand.Rand) []orb.Ring {
	pieces := []orb.Ring{geom.RectRing(0, 0, jigsawSide, jigsawSide)}
	for len(pieces) < n {
		largest := -1
		for i, p := range pieces {
			if cuttable(p) && (largest < 0 || geom.RingArea(p) > geom.RingArea(pieces[largest])) {
				largest = i
			}
		}
		a, b := cutPiece(pieces[largest], rng)
		pieces[largest] = a
		pieces = append(pieces, b)
	}
	return pieces
}

// cuttable tells whether a cut can cross the ring: between two corners that are
// no neighbours, or from a corner to an upright or level side. The square's own
// corners keep some piece cuttable however often it is cut.
func cuttable(ring orb.Ring) bool {
	if len(ring) > 3 {
		return true
	}
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if math.Abs(p[0]-q[0])+math.Abs(p[1]-q[1]) > 4 && (p[0] == q[0] || p[1] == q[1]) {
			return true
		}
	}
	return false
}

// cutTries is how many cuts are drawn to choose the one with the most compact
// halves from: slivers make poor parts.
const cutTries = 24

// cutPiece cuts a convex ring in two.
func cutPiece(ring orb.Ring, rng *rand.Rand) (a, b orb.Ring) {
	best := 0.0
	for tries := 0; tries < cutTries || best == 0; tries++ {
		p, q := halves(ring, rng)
		if c := min(compactness(p), compactness(q)); c > best {
			a, b, best = p, q, c
		}
	}
	return a, b
}

// halves draws a cut.
func halves(ring orb.Ring, rng *rand.Rand) (a, b orb.Ring) {
	i, p := cutEnd(ring, rng)
	j, q := cutEnd(ring, rng)
	if i > j {
		i, j, p, q = j, i, q, p
	}
	a = append(append(orb.Ring{p}, ring[i+1:j+1]...), q)
	b = append(append(orb.Ring{q}, ring[j+1:]...), append(append(orb.Ring{}, ring[:i+1]...), p)...)
	return geom.OpenRing(a), geom.OpenRing(b)
}

// compactness is a ring's area over its length squared; 0 for what is no ring.
func compactness(ring orb.Ring) float64 {
	if len(ring) < 3 {
		return 0
	}
	length := geom.RingLength(ring)
	return geom.RingArea(ring) / (length * length)
}

// cutEnd picks a whole point of the ring's border: on an upright or level side
// anywhere, on another side its start. It returns the side's index.
func cutEnd(ring orb.Ring, rng *rand.Rand) (int, orb.Point) {
	i := rng.IntN(len(ring))
	a, b := ring[i], ring[(i+1)%len(ring)]
	if a[0] != b[0] && a[1] != b[1] {
		return i, a
	}
	t := math.Round(rng.Float64() * (math.Abs(b[0]-a[0]) + math.Abs(b[1]-a[1])))
	toward := func(from, to float64) float64 {
		switch {
		case to > from:
			return from + t
		case to < from:
			return from - t
		}
		return from
	}
	return i, orb.Point{toward(a[0], b[0]), toward(a[1], b[1])}
}
