package drawing

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// check refuses what no reader could make sense of.
func (s Sketch) check() error {
	seen := map[string]bool{"0": true} // every drawing has a layer 0
	for _, l := range s.Layers {
		key := strings.ToUpper(l.Name)
		if !plainName(l.Name) || seen[key] {
			return fmt.Errorf("layer name %q is taken or not plain ASCII letters, digits, dash and underscore", l.Name)
		}
		seen[key] = true
		if err := l.check(); err != nil {
			return fmt.Errorf("layer %s: %w", l.Name, err)
		}
	}
	return nil
}

func (l SketchLayer) check() error {
	for i, c := range l.Contours {
		if err := checkVertices(c); err != nil {
			return fmt.Errorf("contour %d: %w", i+1, err)
		}
	}
	for i, p := range l.Paths {
		if err := checkVertices(p); err != nil {
			return fmt.Errorf("path %d: %w", i+1, err)
		}
	}
	for i, p := range l.Points {
		if !finite(p[0], p[1]) {
			return fmt.Errorf("point %d: coordinate is not finite", i+1)
		}
	}
	for _, t := range l.Labels {
		if !finite(t.At[0], t.At[1], t.HeightMM, t.AngleDeg) || t.HeightMM <= 0 {
			return fmt.Errorf("label %q: place, angle or height is not a usable number", t.Text)
		}
	}
	return nil
}

func checkVertices(vs []geom.Vertex) error {
	if len(vs) < 2 {
		return errors.New("fewer than two vertices")
	}
	for i, v := range vs {
		if !finite(v.P[0], v.P[1], v.Bulge) {
			return fmt.Errorf("vertex %d: coordinate or bulge is not finite", i+1)
		}
	}
	return nil
}

func finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// plainName reports whether every reader keeps the name as it is.
func plainName(name string) bool {
	for _, r := range name {
		ok := r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '_' || r == '-'
		if !ok {
			return false
		}
	}
	return name != "" && len(name) <= 31 // the limit of old readers
}

// bound returns the extents of everything in the sketch; texts count by their
// places.
func (s Sketch) bound() orb.Bound {
	b := emptyBound()
	for _, l := range s.Layers {
		for _, c := range l.Contours {
			b = growBy(b, contourSegments(c))
		}
		for _, p := range l.Paths {
			b = growBy(b, pathSegments(p))
		}
		for _, p := range l.Points {
			b = b.Extend(p)
		}
		for _, t := range l.Labels {
			b = b.Extend(t.At)
		}
	}
	return b
}

func growBy(b orb.Bound, segs []segment) orb.Bound {
	for _, s := range segs {
		b = grow(b, s.bound())
	}
	return b
}
