package verify_test

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"kerfold/geom"
	"kerfold/nest/verify"
)

// lengthPrint is half a unit of the third decimal, to which the published
// lengths are printed: the strip may be that much longer.
const lengthPrint = 0.0005

// coarseOutlines names the instances whose outlines are printed to whole units
// although their layouts were made from finer ones. A vertex is off by at most
// half a unit on each axis, and an overlap has two outlines: √2. Measured: 23
// overlaps of up to 0.78 units in swim, together 1e-6 of the part area.
var coarseOutlines = map[string]float64{"swim": math.Sqrt2}

// posePrint is how far two parts may have moved against each other when poses
// were printed with seven significant digits: half a unit of the last place, on
// two axes, of two poses.
func posePrint(l verify.Layout) float64 {
	largest := 0.0
	for _, p := range l.Uses[0].Placements {
		largest = max(largest, math.Abs(p.Pose.X), math.Abs(p.Pose.Y))
	}
	last := math.Pow(10, math.Floor(math.Log10(largest))-6)
	return 2 * math.Sqrt2 * last / 2
}

// publishedLayouts returns the published layouts with their print rounding.
func publishedLayouts(t *testing.T) map[string]verify.Layout {
	t.Helper()
	dir := datasets(t)
	paths, err := filepath.Glob(filepath.Join(dir, "layouts", "*.json"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no layouts in %s: %v", dir, err)
	}
	out := map[string]verify.Layout{}
	for _, path := range paths {
		name, l := published(t, dir, path)
		l.Rounding = max(posePrint(l), lengthPrint, coarseOutlines[name])
		out[name] = l
	}
	return out
}

func TestPublishedLayoutsPass(t *testing.T) {
	for name, l := range publishedLayouts(t) {
		r := verify.Check(l)
		for _, v := range r.Violations {
			t.Errorf("%s (rounding %.2g): %s", name, l.Rounding, v.Text)
		}
		if r.Stats.Pairs < len(l.Uses[0].Placements) {
			t.Errorf("%s: only %d pairs compared", name, r.Stats.Pairs)
		}
		if share := overlapShare(t, l); share > 1e-5 {
			t.Errorf("%s: the oracle finds %.2g of the part area in overlaps", name, share)
		}
	}
}

// overlapShare is the area in overlaps over the area of all parts, by the oracle.
func overlapShare(t *testing.T, l verify.Layout) float64 {
	ps := placed(l, 0)
	both, all := 0.0, 0.0
	for i, p := range ps {
		all += p.Area()
		for _, q := range ps[:i] {
			both += sharedArea(t, p, q)
		}
	}
	return both / all
}

// clone copies a layout deep enough to change its placements and parts.
func clone(l verify.Layout) verify.Layout {
	l.Parts = slices.Clone(l.Parts)
	l.Uses = slices.Clone(l.Uses)
	for i := range l.Uses {
		l.Uses[i].Placements = slices.Clone(l.Uses[i].Placements)
	}
	return l
}

// TestShiftedIntoNeighbour moves each part by 0.5 % of its size in each of four
// directions. Wherever the oracle then finds a clear overlap the judge must name
// that pair, and where it names a pair the oracle must find some.
func TestShiftedIntoNeighbour(t *testing.T) {
	for name, l := range publishedLayouts(t) {
		found := 0
		for i := range l.Uses[0].Placements {
			if i%every(4, 12) != 0 {
				continue
			}
			b := l.Parts[l.Uses[0].Placements[i].Part].Shape.Outer.Bounds()
			step := 0.005 * max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])
			if step < 4*l.Rounding {
				continue // lost in the print rounding
			}
			for _, d := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				m := clone(l)
				m.Uses[0].Placements[i].Pose.X += d[0] * step
				m.Uses[0].Placements[i].Pose.Y += d[1] * step
				found += checkShifted(t, name, m, i, step)
			}
		}
		if found == 0 {
			t.Errorf("%s: no shift led to an overlap", name)
		}
	}
}

// checkShifted compares judge and oracle on the overlaps of part i, and returns
// their number.
func checkShifted(t *testing.T, name string, l verify.Layout, i int, step float64) int {
	pairs := pairsOf(verify.Check(l), verify.Overlap)
	ps := placed(l, 0)
	for k := range ps {
		if k == i {
			continue
		}
		depth, named := pairs[[2]int{min(i, k), max(i, k)}]
		area := sharedArea(t, ps[i], ps[k])
		switch {
		case !named && area > l.Rounding*perimeter(l, i):
			t.Errorf("%s: parts %d and %d share %.3g and are not named", name, i, k, area)
		case named && area == 0:
			t.Errorf("%s: parts %d and %d share nothing and are named", name, i, k)
		case named && depth > step+l.Rounding:
			t.Errorf("%s: parts %d and %d: depth %.4g after a shift of %.4g", name, i, k, depth, step)
		}
	}
	return len(pairs)
}

// perimeter bounds the area of a sliver of some width along part i.
func perimeter(l verify.Layout, i int) float64 {
	return l.Parts[l.Uses[0].Placements[i].Part].Shape.Outer.Length()
}

func TestMutatedLayoutsFail(t *testing.T) {
	for name, l := range publishedLayouts(t) {
		first := l.Uses[0].Placements[0]
		id := l.Parts[first.Part].ID
		for what, mutate := range mutations(l) {
			m := clone(l)
			mutate.change(&m)
			r := verify.Check(m)
			if r.OK() {
				t.Errorf("%s, %s: passes", name, what)
				continue
			}
			if !slices.ContainsFunc(r.Violations, func(v verify.Violation) bool {
				return v.Kind == mutate.kind && v.PartA == id
			}) {
				t.Errorf("%s, %s: no %v of part %s among %v", name, what, mutate.kind, id, kindsOf(r))
			}
		}
	}
}

type mutation struct {
	kind   verify.Kind
	change func(l *verify.Layout)
}

// mutations are faults put into the first placement.
func mutations(l verify.Layout) map[string]mutation {
	pose := func(f func(p *geom.Pose)) func(l *verify.Layout) {
		return func(l *verify.Layout) { f(&l.Uses[0].Placements[0].Pose) }
	}
	length := l.Sheets[0].Outline[2].P[0]
	return map[string]mutation{
		"part missing": {verify.TooFew, func(l *verify.Layout) {
			l.Uses[0].Placements = l.Uses[0].Placements[1:]
		}},
		"part twice": {verify.TooMany, func(l *verify.Layout) {
			l.Uses[0].Placements = append(l.Uses[0].Placements, l.Uses[0].Placements[0])
		}},
		"part twice in one place": {verify.Overlap, func(l *verify.Layout) {
			l.Uses[0].Placements = append(l.Uses[0].Placements, l.Uses[0].Placements[0])
		}},
		"turn not allowed":  {verify.Angle, pose(func(p *geom.Pose) { p.AngleDeg += 45 })},
		"turned over":       {verify.Mirrored, pose(func(p *geom.Pose) { p.Mirror = true })},
		"off the strip":     {verify.OutsideSheet, pose(func(p *geom.Pose) { p.X += length })},
		"off the long side": {verify.OutsideSheet, pose(func(p *geom.Pose) { p.Y -= 2 * l.Sheets[0].Outline[2].P[1] })},
		"not a number":      {verify.BadNumber, pose(func(p *geom.Pose) { p.X = math.NaN() })},
	}
}

// every thins a long loop, more so in short runs.
func every(n, short int) int {
	if testing.Short() {
		return short
	}
	return n
}
