package nest_test

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"kerfold/geom"
	"kerfold/nest"
)

// drawProblem draws a small problem with anything the model knows: strip or
// sheets, spacing, margin, grain, mirroring, kits, fillers, copies beyond the
// order, remnants with notches and blocked zones, free angles.
func drawProblem(t *rapid.T) nest.Problem {
	p := nest.Problem{
		Spacing: rapid.SampledFrom([]float64{0, 0, 1, 0.3, 2.54}).Draw(t, "spacing"),
		Margin:  rapid.SampledFrom([]float64{0, 0, 3, 0.7}).Draw(t, "margin"),
	}
	if rapid.Bool().Draw(t, "strip") {
		p.StripWidth = rapid.SampledFrom([]float64{60, 101.6, 77.7}).Draw(t, "width")
	} else {
		for i := range rapid.IntRange(1, 3).Draw(t, "sheets") {
			p.Sheets = append(p.Sheets, drawSheet(t, i))
		}
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "parts") {
		p.Parts = append(p.Parts, drawPart(t, i))
	}
	if len(p.Parts) > 1 && rapid.IntRange(0, 3).Draw(t, "kits") == 0 {
		drawKit(t, p.Parts[:2])
	}
	return p
}

func drawPart(t *rapid.T, i int) nest.Part {
	part := nest.Part{
		ID: fmt.Sprint("part", i), Outline: drawOutline(t),
		Quantity: rapid.SampledFrom([]int{1, 2, 3, 5, 9}).Draw(t, "quantity"),
		Angles:   rapid.SampledFrom([][]float64{nil, {0, 180}, {0, 90, 180, 270}, {30}, {90}, {0, 45}}).Draw(t, "angles"),
		Mirror:   rapid.Bool().Draw(t, "mirror"),
	}
	switch rapid.IntRange(0, 7).Draw(t, "trait") {
	case 0:
		part.FreeAngle = true
	case 1:
		part.Filler = true
	case 2:
		part.Extra = 3
	case 3:
		part.Grain = drawGrain(t)
	}
	return part
}

func drawGrain(t *rapid.T) *float64 {
	g := rapid.SampledFrom([]float64{0, 90, 45}).Draw(t, "grain")
	return &g
}

// drawKit makes two parts a kit of whole sets.
func drawKit(t *rapid.T, parts []nest.Part) {
	sets := rapid.IntRange(1, 3).Draw(t, "sets")
	named := rapid.Bool().Draw(t, "copies given")
	for i := range parts {
		per := rapid.IntRange(1, 2).Draw(t, "copies")
		parts[i].Kit, parts[i].Quantity, parts[i].Filler, parts[i].Extra = "kit", sets*per, false, 0
		if named {
			parts[i].PerKit = per
		}
	}
}

func drawSheet(t *rapid.T, i int) nest.Sheet {
	w := rapid.SampledFrom([]float64{80, 101.6, 133.3}).Draw(t, "sheet width")
	h := rapid.SampledFrom([]float64{60, 76.2, 99.9}).Draw(t, "sheet height")
	s := nest.Sheet{ID: fmt.Sprint("sheet", i), Count: rapid.IntRange(1, 4).Draw(t, "count")}
	s.Outline = orb.Polygon{{{0, 0}, {w, 0}, {w, h}, {0, h}}}
	switch rapid.IntRange(0, 4).Draw(t, "remnant") {
	case 0: // an L
		s.Outline[0] = orb.Ring{{0, 0}, {w, 0}, {w, h / 2}, {w / 2, h / 2}, {w / 2, h}, {0, h}}
	case 1: // a notch with slanting sides
		s.Outline[0] = orb.Ring{{0, 0}, {w, 0}, {w, h}, {0.7 * w, h}, {0.5 * w, 0.6 * h}, {0.4 * w, h}, {0, h}}
	case 2: // a blocked zone
		s.Outline = append(s.Outline, geom.ReverseRing(geom.RectRing(0.4*w, 0.3*h, 0.5*w, 0.5*h)))
	}
	if rapid.IntRange(0, 3).Draw(t, "grained") == 0 {
		s.Grain = drawGrain(t)
	}
	if rapid.IntRange(0, 2).Draw(t, "priced") == 0 {
		s.Cost = rapid.Float64Range(1, 20).Draw(t, "cost")
	}
	return s
}

func drawOutline(t *rapid.T) orb.Polygon {
	w := rapid.Float64Range(4, 45).Draw(t, "w")
	h := rapid.Float64Range(4, 45).Draw(t, "h")
	if rapid.Bool().Draw(t, "inches") {
		w, h = math.Ceil(w/25.4*8)*25.4/8, math.Ceil(h/25.4*8)*25.4/8
	}
	switch rapid.IntRange(0, 5).Draw(t, "shape") {
	case 0:
		return orb.Polygon{{{0, 0}, {w, 0}, {w, h / 3}, {w / 3, h / 3}, {w / 3, h}, {0, h}}}
	case 1:
		return orb.Polygon{geom.RectRing(0, 0, w, h), geom.ReverseRing(geom.RectRing(w/5, h/5, 4*w/5, 4*h/5))}
	case 2:
		return orb.Polygon{geom.CircleContour(orb.Point{w / 2, 0}, w/2).Flatten(geom.ChordTolerance, geom.Outward)}
	case 3:
		return orb.Polygon{drawStar(t, w/2)}
	case 4:
		return orb.Polygon{{{0, 0}, {w, h / 4}, {w / 3, h}}}
	}
	return orb.Polygon{geom.RectRing(0, 0, w, h)}
}

// drawStar is a star-shaped ring about the origin.
func drawStar(t *rapid.T, r float64) orb.Ring {
	n := rapid.IntRange(4, 9).Draw(t, "corners")
	ring := make(orb.Ring, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		d := r * rapid.Float64Range(0.4, 1).Draw(t, "reach")
		ring[i] = orb.Point{d * cos, d * sin}
	}
	return ring
}
