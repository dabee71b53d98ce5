package nest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// circle is a regular polygon round a circle's inside: its corners lie on it.
func circle(radius float64, corners int) orb.Ring {
	var r orb.Ring
	for k := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(corners))
		r = append(r, orb.Point{radius * cos, radius * sin})
	}
	return geom.NormalPolygon(geom.SnapPolygon(orb.Polygon{r}))[0]
}

// washer is a round part with a round hole, the hole 0 for none.
func washer(outer, hole float64) orb.Polygon {
	p := orb.Polygon{circle(outer, 72)}
	if hole > 0 {
		p = append(p, geom.ReverseRing(circle(hole, 72)))
	}
	return p
}

// TestDiscDensity works the density of triangles out from their angles: of the
// four kinds with discs of two radii the one that the formula names is densest.
func TestDiscDensity(t *testing.T) {
	triangle := func(a, b, c float64) float64 {
		x, y, z := b+c, a+c, a+b
		angle := func(opposite, p, q float64) float64 { return math.Acos((p*p + q*q - opposite*opposite) / (2 * p * q)) }
		sectors := a*a*angle(x, y, z) + b*b*angle(y, x, z) + c*c*angle(z, x, y)
		half := (x + y + z) / 2
		return sectors / 2 / math.Sqrt(half*(half-x)*(half-y)*(half-z))
	}
	last := 1.0
	for q := 0.02; q <= 1; q += 0.02 {
		got := discDensity(q)
		if math.Abs(got-triangle(1, q, q)) > 1e-12 || got < triangle(1, 1, q)-1e-12 || got < triangle(q, q, q)-1e-12 || got > last {
			t.Errorf("radii 1 and %.2f: %v, triangles have %v, %v and %v", q, got, triangle(1, q, q), triangle(1, 1, q), triangle(q, q, q))
		}
		for _, middle := range []float64{q, (1 + q) / 2, 1} { // discs between them make it no denser
			for _, other := range []float64{q, (1 + 2*q) / 3, 1} {
				if d := triangle(1, middle, other); d > got+1e-12 {
					t.Errorf("radii 1, %v, %v: %v, above %v", middle, other, d, got)
				}
			}
		}
		last = got
	}
	if got := discDensity(1); math.Abs(got-math.Pi/math.Sqrt(12)) > 1e-12 {
		t.Errorf("equal discs: %v", got)
	}
	// A square lattice with a small disc in every gap is the densest of its two
	// radii (Heppes 2003, from memory, unverified).
	if got, known := discDensity(math.Sqrt2-1), math.Pi*(2-math.Sqrt2)/2; got < known || got > known*1.002 {
		t.Errorf("radii 1 and √2−1: %v, known %v", got, known)
	}
}

// TestDiscsWithin checks the numbers of equal discs in a disc against rings of them
// that can be drawn, and areas.
func TestDiscsWithin(t *testing.T) {
	for _, c := range []struct {
		radius float64
		want   int
	}{{0.99, 0}, {1, 1}, {1.99, 1}, {2, 2}, {2.15, 2}, {2.155, 3}, {2.42, 4}, {2.71, 5}, {2.99, 5}, {3, 7}, {3.31, 8}, {3.62, 13}} {
		if got := discsWithin(c.radius); got != c.want {
			t.Errorf("radius %v: %d, want %d", c.radius, got, c.want)
		}
	}
	for n := 2; n < 60; n++ { // n discs along the rim, and one more in the middle where there is room
		radius := 1 + 1/math.Sin(math.Pi/float64(n))
		most := n
		if radius >= 3 {
			most++
		}
		if got := discsWithin(radius); got < most || float64(got) > radius*radius*1.001 {
			t.Errorf("radius %v: %d, but %d fit", radius, got, most)
		}
	}
}

// TestBoundOfDiscsInSquares asks for discs that are known to fit a square just so
// (radii of the densest packings in a unit square, from memory, unverified; four and
// nine are plain), and for discs that fit by area alone.
func TestBoundOfDiscsInSquares(t *testing.T) {
	sheets := func(n int, radius float64) int {
		p := boundProblem([]Part{{Outline: washer(radius, 0), Quantity: n, Angles: []float64{0}}}, Sheet{Outline: rect(1000, 1000), Count: 9})
		b, _, err := LowerBound(p)
		if err != nil {
			t.Fatal(err)
		}
		return b.Sheets
	}
	for n, radius := range map[int]float64{
		1: 0.5, 2: 0.292893, 3: 0.254333, 4: 0.25, 5: 0.207106, 6: 0.187680, 7: 0.174457, 8: 0.170540, 9: 0.166666, 10: 0.148204, 30: 0.091671,
	} {
		if got := sheets(n, 1000*radius); got != 1 {
			t.Errorf("%d discs that fit a square need %d", n, got)
		}
		loose := 1000 * math.Sqrt(0.93/(math.Pi*float64(n))) // covers less than the square
		if got := sheets(n, loose); n > 1 && got < 2 {
			t.Errorf("%d discs of 93 %% of a square's area need %d of them, want 2 at least", n, got)
		}
	}
}

// TestBoundOfDensePackings lays small discs into the gaps of large ones in rows: one
// sheet holds them, and a tenth more does not fit.
func TestBoundOfDensePackings(t *testing.T) {
	const n, radius = 12, 50.0
	small := radius * (math.Sqrt2 - 1) * 0.9999
	for _, more := range []int{0, (n - 1) * (n - 1) / 10 * 2} {
		p := boundProblem([]Part{
			{Outline: washer(radius, 0), Quantity: n*n + more/2, Angles: []float64{0}},
			{Outline: washer(small, 0), Quantity: (n - 1) * (n - 1), Angles: []float64{0}},
		}, Sheet{Outline: rect(2*n*radius, 2*n*radius), Count: 9})
		b, _, err := LowerBound(p)
		if want := 1 + min(more, 1); err != nil || b.Sheets != want {
			t.Errorf("%d more: %+v, error %v, want %d sheets", more, b, err, want)
		}
	}
}

// TestBoundOfNestedRings nests rings in rings as deep as they go: holes must count
// for as much as they hold and no more.
func TestBoundOfNestedRings(t *testing.T) {
	ring := func(outer, hole float64, n int) Part {
		return Part{Outline: washer(outer, hole), Quantity: n, Angles: []float64{0}}
	}
	sheet := Sheet{Outline: rect(2010, 210), Count: 20} // ten large rings in a row, half a millimetre apart
	large := ring(100, 90, 10)
	for _, c := range []struct {
		why    string
		parts  []Part
		sheets int
	}{
		{"ring in ring in ring", []Part{large, ring(85, 70, 10), ring(65, 40, 10), ring(35, 0, 10)}, 1},
		{"two side by side in each hole", []Part{large, ring(44, 0, 20)}, 1},
		{"two side by side, with one more in each of them", []Part{large, ring(44, 40, 20), ring(39, 0, 20)}, 1},
		{"as many again as the holes hold", []Part{large, ring(85, 0, 20)}, 2},
		{"a third that no hole can take beside two", []Part{large, ring(44, 0, 80)}, 2},
		{"four in each hole", []Part{large, ring(36, 0, 40)}, 1},
	} {
		p := boundProblem(c.parts, sheet)
		p.Spacing = 0.5
		got, _, err := LowerBound(p)
		if err != nil || got.Sheets != c.sheets {
			t.Errorf("%s: %+v, error %v, want %d sheets", c.why, got, err, c.sheets)
		}
	}
}

// ringsProblem is rings and other parts of many sizes, so that some fit others.
func ringsProblem(rng *rand.Rand) Problem {
	p := Problem{Sheets: []Sheet{{Outline: rect(120+80*rng.Float64(), 80+40*rng.Float64()), Count: 60}}}
	if rng.IntN(2) == 0 {
		p.Spacing, p.Margin = 1.5*rng.Float64(), 2*rng.Float64()
	}
	for range 3 + rng.IntN(3) {
		outer := 4 + 22*rng.Float64()*rng.Float64()
		part := Part{Outline: washer(outer, outer*(0.3+0.65*rng.Float64())), Quantity: 3 + rng.IntN(12), Angles: []float64{0}}
		if rng.IntN(4) == 0 {
			part = Part{Outline: randomPart(rng, 20), Quantity: 2 + rng.IntN(4), Angles: quarterTurns}
		}
		p.Parts = append(p.Parts, part)
	}
	return p
}

// TestNoLayoutBeatsTheProof takes what a search laid on each sheet: it lies there, so
// no weights and prices whatever may prove that it needs more room than the sheet
// has, the best ones and random ones.
func TestNoLayoutBeatsTheProof(t *testing.T) {
	seeds := 24
	if testing.Short() {
		seeds = 8
	}
	stronger := 0
	for seed := range seeds {
		rng := rand.New(rand.NewPCG(uint64(seed), 31))
		p := ringsProblem(rng)
		r, err := Solve(t.Context(), p, Options{Seed: uint64(seed), Effort: 0.05})
		if err != nil {
			t.Fatal(err)
		}
		pre := mustPrepare(t, p)
		for _, l := range r.Layouts {
			counts := make([]int, len(p.Parts))
			for _, pl := range l.Placements {
				counts[pl.Part]++
			}
			b := newBounder(pre, newFits(pre, nil), counts)
			clearOf(t, b, p, l)
			if got := b.bound(); got.Sheets != 1 {
				t.Errorf("seed %d: a layout on one sheet is said to need %+v", seed, got)
			}
			proof := b.proof(bitOf(0))
			best, _ := proof.best()
			if best > b.room[0] {
				t.Errorf("seed %d: a layout on a sheet with room for %v is proven to need %v", seed, b.room[0], best)
			}
			for range 20 {
				randomPrices(proof, rng)
				if room, _ := proof.need(); room > best*(1+1e-6)+1e-6 {
					t.Errorf("seed %d: random prices prove %v, the best %v", seed, room, best)
				}
			}
			if area := b.needOfAreas(); best > area*1.02 {
				stronger++
			}
		}
	}
	if stronger == 0 {
		t.Error("discs and holes never proved more than areas do")
	}
}

// clearOf keeps the largest free rectangle of a layout clear: what it takes must find
// room beside the parts.
func clearOf(t *testing.T, b *bounder, p Problem, l Layout) {
	t.Helper()
	var parts []orb.Polygon
	need, c := 0.0, b.coverage()
	for _, pl := range l.Placements {
		parts = append(parts, geom.TransformPolygon(p.Parts[pl.Part].Outline, pl.Pose))
		need += c.Parts[pl.Part]
	}
	free, ok := FreeRect(p.Sheets[l.Sheet].Outline, parts, p.Spacing, 0)
	if !ok {
		return
	}
	w, h := free.Max[0]-free.Min[0], free.Max[1]-free.Min[1]
	if takes := c.Rect(w, h); need+takes > c.Sheets[l.Sheet]*(1+1e-9) || takes < 0 {
		t.Errorf("parts that need %v and a free rectangle of %v × %v that takes %v lie on a sheet with room for %v", need, w, h, takes, c.Sheets[l.Sheet])
	}
}

// TestDiscsInRect counts discs against rows laid out one by one.
func TestDiscsInRect(t *testing.T) {
	for _, c := range []struct {
		w, h float64
		want int
	}{{2, 2, 1}, {1.9, 5, 0}, {4, 4, 4}, {5, 2 + math.Sqrt(3), 4}, {4.9, 2 + math.Sqrt(3), 3}, {6, 2 + 2*math.Sqrt(3), 8}, {20, 20, 105}} {
		if got := discsInRect(c.w+1e-9, c.h+1e-9, 1); got != c.want {
			t.Errorf("%v × %v: %d discs, want %d", c.w, c.h, got, c.want)
		}
		if got := discsInRect(c.h+1e-9, c.w+1e-9, 1); got != c.want {
			t.Errorf("%v × %v: %d discs, want %d", c.h, c.w, got, c.want)
		}
	}
}

func (b *bounder) needOfAreas() float64 {
	sum := 0.0
	for i, n := range b.counts {
		sum += float64(n) * b.area[i]
	}
	return sum
}

func randomPrices(p *roomProof, rng *rand.Rand) {
	p.clear()
	sum := 0.0
	for k := range p.weights {
		p.weights[k] = rng.ExpFloat64()
		sum += p.weights[k]
	}
	for k := range p.weights {
		p.weights[k] /= sum
	}
	for h := range p.prices {
		for c := range p.prices[h] {
			if rng.IntN(2) == 0 {
				p.prices[h][c] = rng.ExpFloat64() * p.claims[0].takes[p.holes[h].fits[0]]
			}
		}
	}
}
