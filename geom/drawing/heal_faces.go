package drawing

import (
	"slices"

	"kerfold/geom"
)

// takeOddRegions takes the outer boundary of every connected group that has a
// node with an odd number of ends, until there is none.
func (t *tracer) takeOddRegions() {
	for n := range t.nodes {
		for t.left[n]%2 == 1 {
			t.takeBoundary(n)
		}
	}
}

// takeBoundary takes the outer boundary of the group around a node, and the
// branches that this leaves.
func (t *tracer) takeBoundary(n int) {
	group := t.group(n)
	t.budget -= 4 * len(group)
	face, ok := t.outerFace(group)
	if !ok || t.budget < 0 {
		t.takeRest(group)
		return
	}
	for _, d := range face {
		t.take(d)
	}
	t.addLoops(face)
	var loose []int
	for _, m := range group {
		if t.left[m] == 1 {
			loose = append(loose, m)
		}
	}
	t.takeBranches(loose)
}

// takeRest takes each piece of a group as an open chain.
func (t *tracer) takeRest(group []int) {
	for _, n := range group {
		for d, ok := t.unused(n); ok; d, ok = t.unused(n) {
			t.take(d)
			t.healer.open = append(t.healer.open, t.assemble([]dart{d}))
		}
	}
}

// group lists the nodes connected to a node by unused pieces.
func (t *tracer) group(n int) []int {
	seen := map[int]bool{n: true}
	out := []int{n}
	for i := 0; i < len(out); i++ {
		for _, d := range t.darts[out[i]] {
			if m := t.to(d); !t.used[d.piece()] && !seen[m] {
				seen[m] = true
				out = append(out, m)
			}
		}
	}
	return out
}

// outerFace returns the outer boundary of a group as a counter-clockwise walk,
// where it passes no piece twice. Seen from outside it is the walk that always
// takes the right-most way, and of all such walks the one with positive area.
func (t *tracer) outerFace(group []int) ([]dart, bool) {
	var best []dart
	bestArea := 0.0
	seen := map[dart]bool{}
	for _, n := range group {
		for _, d := range t.darts[n] {
			if t.used[d.piece()] || seen[d] {
				continue
			}
			face := t.face(d, seen)
			if a := t.walkArea(face); a > bestArea {
				best, bestArea = face, a
			}
		}
	}
	pieces := map[int]bool{}
	for _, d := range best {
		if pieces[d.piece()] {
			return nil, false
		}
		pieces[d.piece()] = true
	}
	return best, len(best) > 0
}

// face walks around one face of the group, the face on its right: at every
// node it takes the first unused way counter-clockwise from the one it came by.
func (t *tracer) face(d dart, seen map[dart]bool) []dart {
	var out []dart
	for !seen[d] {
		seen[d] = true
		out = append(out, d)
		d = t.after(d.twin(), 1)
	}
	return out
}

// after returns the unused dart that follows d around its node: step 1
// counter-clockwise, −1 clockwise. d itself counts when nothing else is there.
func (t *tracer) after(d dart, step int) dart {
	ds := t.darts[t.from(d)]
	at := slices.Index(ds, d)
	for k := 1; k <= len(ds); k++ {
		e := ds[((at+step*k)%len(ds)+len(ds))%len(ds)]
		if !t.used[e.piece()] || e == d {
			return e
		}
	}
	return d
}

// walkArea is the signed area of a closed walk.
func (t *tracer) walkArea(walk []dart) float64 {
	return geom.Contour(t.assemble(walk).closedVerts()).Area()
}
