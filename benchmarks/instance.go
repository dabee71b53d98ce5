package main

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
)

// An instance is one test problem: a strip to shorten, or bins to save.
type instance struct {
	Name, Set, Source string
	StripWidth        float64    // positive for a strip
	Bin               [2]float64 // width and height of every bin, for bins
	Spacing, Margin   float64    // millimetres; 0 in the public collection
	Optimum           int        // bins known to suffice; 0 when none is known
	BestLength        float64    // strip length known to suffice; 0 when none is
	Parts             []part
}

// A part is one kind of part of an instance.
type part struct {
	ID       string
	Quantity int
	Angles   []float64
	AnyAngle bool
	Outline  orb.Polygon
}

func (in instance) strip() bool { return in.StripWidth > 0 }

// copies is how many parts there are in all.
func (in instance) copies() int {
	n := 0
	for _, p := range in.Parts {
		n += p.Quantity
	}
	return n
}

// area is that of all parts together.
func (in instance) area() float64 {
	a := 0.0
	for _, p := range in.Parts {
		a += float64(p.Quantity) * geom.PolygonArea(p.Outline)
	}
	return a
}

// binOutline is one bin's rectangle.
func (in instance) binOutline() orb.Polygon {
	return orb.Polygon{geom.RectRing(0, 0, in.Bin[0], in.Bin[1])}
}

// target is how many bins are known, or at least sure to be needed: the optimum
// where it is known, else the parts' area in whole bins.
func (in instance) target() int {
	if in.Optimum > 0 {
		return in.Optimum
	}
	return int(math.Ceil(in.area()/(in.Bin[0]*in.Bin[1]) - 1e-9))
}

// problem is the instance as the searches take it.
func (in instance) problem() nest.Problem {
	p := nest.Problem{StripWidth: in.StripWidth, Spacing: in.Spacing, Margin: in.Margin}
	for _, q := range in.Parts {
		p.Parts = append(p.Parts, nest.Part{
			ID: q.ID, Outline: q.Outline, Quantity: q.Quantity, Angles: q.Angles, FreeAngle: q.AnyAngle,
		})
	}
	if !in.strip() {
		p.Sheets = []nest.Sheet{{ID: "bin", Outline: in.binOutline(), Count: in.copies()}}
	}
	return p
}

// check refuses what no search could make sense of.
func (in instance) check() error {
	switch {
	case in.strip() && in.Bin != [2]float64{}:
		return fmt.Errorf("both a strip and bins; an instance is one of them")
	case !in.strip() && !(in.Bin[0] > 0 && in.Bin[1] > 0):
		return fmt.Errorf("neither a strip width nor a bin size; give one of them")
	case in.copies() > maxCopies:
		return fmt.Errorf("%d parts; this reader takes up to %d", in.copies(), maxCopies)
	}
	return in.problem().Validate()
}

// maxCopies bounds an instance, so that a mistyped quantity does not eat all
// memory.
const maxCopies = 1_000_000
