package nest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// benchProblem is a strip of 40 parts of 8 concave kinds in quarter turns.
func benchProblem() Problem {
	rng := rand.New(rand.NewPCG(9, 9))
	p := Problem{StripWidth: 60}
	for range 8 {
		p.Parts = append(p.Parts, Part{Outline: concave(rng), Quantity: 5, Angles: quarterTurns})
	}
	return p
}

func concave(rng *rand.Rand) orb.Polygon {
	for {
		if p := randomPart(rng, 16); len(p) == 1 && len(p[0]) > 5 {
			return p
		}
	}
}

// BenchmarkDecodeFresh decodes whole orders.
func BenchmarkDecodeFresh(b *testing.B) { benchDecode(b, true) }

// BenchmarkDecodeResumed decodes neighbours that part from the order before
// somewhere on the way, last places first, as the search does.
func BenchmarkDecodeResumed(b *testing.B) { benchDecode(b, false) }

func benchDecode(b *testing.B, fresh bool) {
	pre := mustPrepare(b, benchProblem())
	d := newDecoder(pre, newFits(pre, nil), demandOf(pre.problem, pre.kinds).units, openingOrder(pre))
	rng := rand.New(rand.NewPCG(1, 1))
	order := randomOrder(pre, rng)
	d.decode(order, rating{reach: 1}, math.Inf(1))
	for i := 0; b.Loop(); i++ {
		if fresh {
			d.rollback(0)
			rng.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		} else {
			swapGenes(order, len(order)-2-i%(len(order)-1), rng)
		}
		d.decode(order, rating{reach: 1}, math.Inf(1))
	}
}

// BenchmarkBlocks tests points against one no-fit polygon.
func BenchmarkBlocks(b *testing.B) {
	pre := mustPrepare(b, benchProblem())
	no := newFits(pre, nil).apart(0, 1)
	rng := rand.New(rand.NewPCG(1, 1))
	points := make([][2]float64, 1024)
	for i := range points {
		points[i] = [2]float64{no.loX + rng.Float64()*(no.hiX-no.loX), no.loY + rng.Float64()*(no.hiY-no.loY)}
	}
	for i := 0; b.Loop(); i++ {
		p := points[i%len(points)]
		no.blocks(p[0], p[1])
	}
}

// BenchmarkPair works out a no-fit polygon and lays it out for scanning.
func BenchmarkPair(b *testing.B) {
	pre := mustPrepare(b, benchProblem())
	for i := 0; b.Loop(); i++ {
		n := len(pre.shapes)
		newFits(pre, nil).apart(i%n, i/n%n)
	}
}
