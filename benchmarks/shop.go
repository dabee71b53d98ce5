package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Instances as a shop has them, generated from fixed seeds: hundreds of one
// gasket, and a week's mix of kinds. Nothing is known of their optimum but the
// area bound. Spacing and margin are a shop's.
const (
	gasketSet   = "gaskets"
	mixSet      = "mix"
	shopSpacing = 2
	shopMargin  = 5
)

// gaskets lists 500 copies each of concave outlines, some with holes, in
// quarter turns on sheets of 1250 × 1000 mm, and 2,000 of some of them smaller.
func gaskets() []instance {
	var list []instance
	for _, g := range []struct {
		name    string
		outline orb.Polygon
	}{
		{"angle", orb.Polygon{{{0, 0}, {180, 0}, {180, 45}, {45, 45}, {45, 140}, {0, 140}}}},
		{"tee", orb.Polygon{{{0, 0}, {150, 0}, {150, 40}, {95, 40}, {95, 130}, {55, 130}, {55, 40}, {0, 40}}}},
		{"clamp", clamp(80, 48, 300)},
		{"star", orb.Polygon{star(5, 85, 38)}},
		{"gear", gear(90, 14, 9)},
		{"hook", orb.Polygon{{{0, 0}, {110, 0}, {110, 90}, {85, 90}, {85, 25}, {25, 25}, {25, 150}, {60, 150}, {60, 175}, {0, 175}}}},
	} {
		list = append(list, instance{
			Name: "gasket-" + g.name, Set: gasketSet, Bin: [2]float64{1250, 1000}, Spacing: shopSpacing, Margin: shopMargin,
			Source: "generated: 500 copies of one outline",
			Parts:  []part{{ID: g.name, Quantity: 500, Angles: quarters, Outline: g.outline}},
		})
	}
	return append(list, fine(list[0]), fine(list[3]), fine(list[4]))
}

// fineScale makes a gasket small beside its sheet, so that the rim counts less.
const fineScale = 0.4

// fine is 2,000 copies of a gasket at a smaller scale.
func fine(of instance) instance {
	p := of.Parts[0]
	small := make(orb.Polygon, len(p.Outline))
	for i, ring := range p.Outline {
		for _, v := range ring {
			small[i] = append(small[i], geom.SnapPoint(orb.Point{v[0] * fineScale, v[1] * fineScale}))
		}
	}
	p.Outline, p.Quantity = small, 2000
	of.Name, of.Source, of.Parts = of.Name+"-2000", "generated: 2,000 copies of one outline", []part{p}
	return of
}

var quarters = []float64{0, 90, 180, 270}

// mixes lists a few hundred to many copies of many kinds.
func mixes() []instance {
	return []instance{mix(1000, 40, 1), mix(10000, 200, 2)}
}

// mix is a number of copies of a number of kinds, drawn from a seed.
func mix(copies, kinds int, seed uint64) instance {
	in := instance{
		Name: fmt.Sprintf("mix%d", copies), Set: mixSet, Bin: [2]float64{1500, 1000}, Spacing: shopSpacing, Margin: shopMargin,
		Source: fmt.Sprintf("generated: %d copies of %d kinds, seed %d", copies, kinds, seed),
	}
	rng := rand.New(rand.NewPCG(seed, 0))
	left := copies
	for k := range kinds {
		n := left / (kinds - k)
		if k < kinds-1 {
			n = max(1, int(float64(n)*(0.2+1.6*rng.Float64())))
		}
		left -= n
		in.Parts = append(in.Parts, part{ID: fmt.Sprintf("k%03d", k+1), Quantity: n, Angles: quarters, Outline: mixOutline(rng)})
	}
	return in
}

// mixOutline draws a blank, bracket, flange, gusset, clamp, gear or star.
func mixOutline(rng *rand.Rand) orb.Polygon {
	size := math.Round(40 * math.Exp(rng.Float64()*1.9)) // 40 to 267 mm
	other := math.Round(size * (0.4 + 0.6*rng.Float64()))
	leg := math.Round(min(size, other) * (0.25 + 0.3*rng.Float64()))
	switch rng.IntN(7) {
	case 0:
		return orb.Polygon{geom.RectRing(0, 0, size, other)}
	case 1:
		return orb.Polygon{{{0, 0}, {size, 0}, {size, leg}, {leg, leg}, {leg, other}, {0, other}}}
	case 2:
		return orb.Polygon{round(size / 2), geom.ReverseRing(round(size / 2 * (0.3 + 0.4*rng.Float64())))}
	case 3:
		return orb.Polygon{{{0, 0}, {size, 0}, {size, leg / 2}, {leg / 2, other}, {0, other}}}
	case 4:
		return clamp(size/2, size/2*0.6, 240+60*rng.Float64())
	case 5:
		return gear(size/2, 8+rng.IntN(8), size/2*0.12)
	}
	return orb.Polygon{star(4+rng.IntN(4), size/2, size/2*(0.35+0.3*rng.Float64()))}
}

// round is a circle about the origin as the searches take one: flattened
// outwards.
func round(r float64) orb.Ring {
	return geom.SnapRing(geom.CircleContour(orb.Point{}, r).Flatten(geom.ChordTolerance, geom.Outward))
}

// star has n points.
func star(n int, outer, inner float64) orb.Ring {
	return around(2*n, func(i int) float64 {
		if i%2 == 0 {
			return outer
		}
		return inner
	})
}

// gear is a round outline with teeth, a bore and a ring of bolt holes.
func gear(r float64, teeth int, depth float64) orb.Polygon {
	p := orb.Polygon{around(4*teeth, func(i int) float64 {
		if i%4 < 2 {
			return r
		}
		return r - depth
	})}
	p = append(p, geom.ReverseRing(round(r*0.35)))
	for i := range 4 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i))
		hole := geom.TranslatePolygon(orb.Polygon{round(r * 0.08)}, orb.Point{geom.Snap(0.6 * r * cos), geom.Snap(0.6 * r * sin)})
		p = append(p, geom.ReverseRing(hole[0]))
	}
	return p
}

// clamp is a ring with a gap, of the given turn of material in degrees.
func clamp(outer, inner, turn float64) orb.Polygon {
	const steps = 30
	var ring orb.Ring
	at := func(r, share float64) orb.Point {
		sin, cos := math.Sincos(turn * share * math.Pi / 180)
		return geom.SnapPoint(orb.Point{r * cos, r * sin})
	}
	for i := range steps + 1 {
		ring = append(ring, at(outer, float64(i)/steps))
	}
	for i := range steps + 1 {
		ring = append(ring, at(inner, 1-float64(i)/steps))
	}
	return orb.Polygon{ring}
}

// around is a ring of n corners at even angles.
func around(n int, radius func(i int) float64) orb.Ring {
	ring := make(orb.Ring, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ring[i] = geom.SnapPoint(orb.Point{radius(i) * cos, radius(i) * sin})
	}
	return ring
}
