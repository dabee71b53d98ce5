package nest

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

func mustPrepare(t testing.TB, p Problem) *prepared {
	t.Helper()
	pre, err := prepare(p)
	if err != nil {
		t.Fatal(err)
	}
	return pre
}

func rect(w, h float64) orb.Polygon { return orb.Polygon{geom.RectRing(0, 0, w, h)} }

// randomOrder is the problem's copies in any order and turns.
func randomOrder(pre *prepared, rng *rand.Rand) []gene {
	genes := orderBy(pre, demandOf(pre.problem, pre.kinds), byArea)
	rng.Shuffle(len(genes), func(i, j int) { genes[i], genes[j] = genes[j], genes[i] })
	for i := range genes {
		if u := genes[i].unit; int(u) < len(pre.kinds) {
			genes[i].turn = int32(rng.IntN(len(pre.kinds[u].turns)+1)) - 1
		}
	}
	return genes
}

func allSpots(d *decoder) [][]spot {
	var out [][]spot
	for _, fd := range d.inUse() {
		out = append(out, slices.Clone(fd.placed))
	}
	return out
}

// TestResumedDecodeEqualsFresh changes orders step by step, as the search does,
// and compares the resumed decode with one from nothing.
func TestResumedDecodeEqualsFresh(t *testing.T) {
	rounds := 24
	if testing.Short() {
		rounds = 6
	}
	for seed := range rounds {
		rng := rand.New(rand.NewPCG(uint64(seed), 2))
		pre := mustPrepare(t, randomProblem(rng, seed%2 == 0, 0, 0))
		fits := newFits(pre, nil)
		dem := demandOf(pre.problem, pre.kinds)
		by := rating{reach: 1, fill: 0.01}
		kept := newDecoder(pre, fits, dem.units, openingOrder(pre))
		kept.usable = make([][]int32, len(pre.kinds))
		for k := range kept.usable {
			kept.usable[k] = pre.kinds[k].distinct
		}
		order := randomOrder(pre, rng)
		for step := range 30 {
			kept.change(order, rng.IntN(len(order)), rng)
			limit := math.Inf(1)
			if step%3 == 0 {
				limit = 20 // give up half way now and then
			}
			got := kept.decode(order, by, limit)
			fresh := newDecoder(pre, fits, dem.units, openingOrder(pre))
			want := fresh.decode(order, by, limit)
			if got != want {
				t.Fatalf("seed %d step %d: value %v, fresh %v", seed, step, got, want)
			}
			if !math.IsInf(got, 1) && !slices.EqualFunc(allSpots(kept), allSpots(fresh), slices.Equal[[]spot]) {
				t.Fatalf("seed %d step %d: the layouts differ", seed, step)
			}
		}
	}
}

// TestSmallProblemsExhaustively tries every order of a few rectangles in every
// turn with the slow rule, and asks the search for the best length.
func TestSmallProblemsExhaustively(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	for seed := range 4 {
		rng := rand.New(rand.NewPCG(uint64(seed), 3))
		p := Problem{StripWidth: 9}
		for range 4 {
			p.Parts = append(p.Parts, Part{Outline: randomPart(rng, 7), Quantity: 1, Angles: []float64{0, 90}})
		}
		pre := mustPrepare(t, p)
		best := math.Inf(1)
		eachOrder(pre, nil, make([]bool, 4), func(placed []spot) {
			reach := 0.0
			for _, s := range placed {
				reach = max(reach, s.x+pre.shapes[s.shape].w)
			}
			best = min(best, reach)
		})
		r, err := Genetic(t.Context(), p, Options{Seed: 1, Effort: 0.05})
		if err != nil {
			t.Fatal(err)
		}
		if r.Length != best {
			t.Errorf("seed %d: the search found %v, every order in turn %v", seed, r.Length, best)
		}
	}
}

// eachOrder calls use with the slow rule's layout of every order and turn.
func eachOrder(pre *prepared, placed []spot, done []bool, use func([]spot)) {
	if len(placed) == len(done) {
		use(placed)
		return
	}
	for k := range done {
		if done[k] {
			continue
		}
		done[k] = true
		for _, turn := range pre.kinds[k].distinct {
			shape := pre.kinds[k].turns[turn].shape
			if x, y, ok := referenceLowest(pre, &pre.grounds[0], placed, shape); ok {
				eachOrder(pre, append(slices.Clone(placed), spot{int32(k), turn, shape, x, y}), done, use)
			}
		}
		done[k] = false
	}
}

// TestExactFits lays jigsaws that leave no room at all: every piece must find
// the one place where it touches on all sides.
func TestExactFits(t *testing.T) {
	l := orb.Polygon{{{0, 0}, {4, 0}, {4, 1}, {1, 1}, {1, 3}, {0, 3}}}
	plug := orb.Polygon{{{0, 0}, {3, 0}, {3, 2}, {0, 2}}}
	frame := orb.Polygon{geom.RectRing(0, 0, 6, 6), geom.ReverseRing(geom.RectRing(1, 1, 5, 4))}
	slot := orb.Polygon{{{0, 0}, {6, 0}, {6, 2}, {2, 2}, {2, 4}, {6, 4}, {6, 6}, {0, 6}}}
	cases := []struct {
		name   string
		width  float64
		parts  []orb.Polygon
		length float64
	}{
		{"a corner filled", 3, []orb.Polygon{l, plug}, 4},
		{"a hole filled without play", 6, []orb.Polygon{frame, rect(4, 3)}, 6},
		{"a slot no wider than its key", 6, []orb.Polygon{slot, rect(4, 2)}, 6},
		{"a strip no wider than its part", 2, []orb.Polygon{rect(3, 2), rect(1, 2)}, 4},
		{"triangles to a square", 5, []orb.Polygon{{{{0, 0}, {5, 0}, {0, 5}}}, {{{5, 0}, {5, 5}, {0, 5}}}}, 5},
		{"slanted sides off the whole numbers", 7, []orb.Polygon{{{{0, 0}, {3, 0}, {1, 7}, {0, 7}}}, {{{2, 0}, {9, 0}, {9, 7}, {0, 7}}}}, 10},
	}
	for _, c := range cases {
		p := Problem{StripWidth: c.width}
		var order []Choice
		for i, o := range c.parts {
			p.Parts = append(p.Parts, Part{Outline: o, Quantity: 1})
			order = append(order, Choice{Part: i})
		}
		r, err := BottomLeft(t.Context(), p, order, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if r.Length != c.length || r.Status != Finished {
			t.Errorf("%s: length %v, want %v (status %v)", c.name, r.Length, c.length, r.Status)
		}
	}
}

// squareSides is the simple perfect squared square of lowest order (Duijvestijn
// 1978).
var squareSides = []float64{2, 4, 6, 7, 8, 9, 11, 15, 16, 17, 18, 19, 24, 25, 27, 29, 33, 35, 37, 42, 50}

// TestSquaredSquareIsReachable finds the known tiling of the 112 square by the
// leftmost-lowest rule itself: at every step some square must fit the gap
// exactly. The order it finds must decode to length 112.
func TestSquaredSquareIsReachable(t *testing.T) {
	p := Problem{StripWidth: 112}
	for _, s := range squareSides {
		p.Parts = append(p.Parts, Part{Outline: rect(s, s), Quantity: 1})
	}
	order := tileSquare(make([]float64, 112), make([]bool, len(squareSides)), nil)
	if order == nil {
		t.Fatal("no tiling was found")
	}
	r, err := BottomLeft(t.Context(), p, order, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Length != 112 || r.Density != 1 {
		t.Errorf("length %v, density %v; want 112 and 1", r.Length, r.Density)
	}
}

// tileSquare places squares at the lowest of the leftmost gaps of a skyline.
func tileSquare(sky []float64, used []bool, order []Choice) []Choice {
	if len(order) == len(used) {
		return order
	}
	y := 0
	for i, x := range sky {
		if x < sky[y] {
			y = i
		}
	}
	gap := y
	for gap < len(sky) && sky[gap] == sky[y] {
		gap++
	}
	x := sky[y]
	for i := len(used) - 1; i >= 0; i-- {
		side := int(squareSides[i])
		if used[i] || side > gap-y || x+squareSides[i] > 112 {
			continue
		}
		used[i] = true
		for k := y; k < y+side; k++ {
			sky[k] += squareSides[i]
		}
		if found := tileSquare(sky, used, append(order, Choice{Part: i})); found != nil {
			return found
		}
		for k := y; k < y+side; k++ {
			sky[k] -= squareSides[i]
		}
		used[i] = false
	}
	return nil
}
