package nest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// boundProblem lays parts on large and small sheets.
func boundProblem(parts []Part, sheets ...Sheet) Problem {
	return Problem{Parts: parts, Sheets: sheets}
}

func TestLowerBound(t *testing.T) {
	many := func(w, h float64, n int) Part {
		return Part{Outline: rect(w, h), Quantity: n, Angles: quarterTurns}
	}
	notch := orb.Polygon{{{0, 0}, {60, 0}, {60, 60}, {40, 60}, {40, 20}, {20, 20}, {20, 60}, {0, 60}}}
	for _, c := range []struct {
		why    string
		p      Problem
		sheets int
		cost   float64
	}{
		{"area alone", boundProblem([]Part{many(10, 10, 101)}, Sheet{Outline: rect(100, 100), Count: 9}), 2, 20000},
		{"no two of more than half a sheet", boundProblem([]Part{many(51, 100, 3)}, Sheet{Outline: rect(100, 100), Count: 9}), 3, 30000},
		{"less than half the area, but any two overlap", boundProblem([]Part{many(60, 60, 3)}, Sheet{Outline: rect(100, 100), Count: 9}), 3, 30000},
		{"a notch takes another's leg, so two may share", boundProblem([]Part{{Outline: notch, Quantity: 2, Angles: quarterTurns}}, Sheet{Outline: rect(100, 100), Count: 9}), 1, 10000},
		{"small parts find room beside the large", boundProblem([]Part{many(60, 100, 2), many(40, 10, 10)}, Sheet{Outline: rect(100, 100), Count: 9}), 2, 20000},
		{"small parts find no room beside the large", boundProblem([]Part{many(90, 90, 2), many(40, 45, 3)}, Sheet{Outline: rect(100, 100), Count: 9}), 3, 30000},
		{
			"one large sheet does what two small ones cannot", boundProblem([]Part{many(10, 10, 150)},
				Sheet{Outline: rect(100, 100), Count: 9, Cost: 10}, Sheet{Outline: rect(200, 100), Count: 1, Cost: 25}), 1, 20,
		},
		{
			"what fits the large sheet only needs one, the rest goes beside it", boundProblem([]Part{many(150, 50, 1), many(10, 10, 60)},
				Sheet{Outline: rect(100, 100), Count: 9, Cost: 10}, Sheet{Outline: rect(200, 100), Count: 3, Cost: 25}), 1, 25,
		},
		{"fewer sheets than are needed", boundProblem([]Part{many(60, 60, 5)}, Sheet{Outline: rect(100, 100), Count: 2}), 3, 30000},
		{"a part that fits nowhere asks for nothing", boundProblem([]Part{many(160, 60, 5)}, Sheet{Outline: rect(100, 100), Count: 2}), 0, 0},
		{"spacing is covered too", Problem{Parts: []Part{many(9, 9, 110)}, Sheets: []Sheet{{Outline: rect(100, 100), Count: 4}}, Spacing: 1, Margin: 0.5}, 2, 20000},
	} {
		got, _, err := LowerBound(c.p)
		if err != nil || got.Sheets != c.sheets || math.Abs(got.Cost-c.cost) > 1e-6*c.cost {
			t.Errorf("%s: %+v, error %v, want %d sheets for %v", c.why, got, err, c.sheets, c.cost)
		}
	}
}

// TestBoundOfCutSheets cuts whole sheets up: as many are needed as were cut, and
// the bound must say so, never more.
func TestBoundOfCutSheets(t *testing.T) {
	for seed := range uint64(8) {
		rng := rand.New(rand.NewPCG(seed, 11))
		var parts []Part
		sheets := 1 + rng.IntN(4)
		for range sheets {
			x := 0.0
			for x < 100 {
				w := min(100-x, 10+math.Floor(rng.Float64()*50))
				parts = append(parts, Part{Outline: rect(w, 100), Quantity: 1})
				x += w
			}
		}
		got, _, err := LowerBound(boundProblem(parts, Sheet{Outline: rect(100, 100), Count: 9}))
		if err != nil || got.Sheets != sheets {
			t.Errorf("seed %d: %+v, error %v, want %d sheets", seed, got, err, sheets)
		}
	}
}

// TestBoundIsBelowWhatIsFound holds the bound against plans: a bottom-left pass
// is a plan, so the bound may not exceed it.
func TestBoundIsBelowWhatIsFound(t *testing.T) {
	for seed := range 60 {
		rng := rand.New(rand.NewPCG(uint64(seed), 12))
		p := randomProblem(rng, seed%3 > 0, []float64{0, 0.7}[seed%2], []float64{0, 0.4}[seed/2%2])
		if len(p.Sheets) > 0 {
			p.Sheets = append(p.Sheets, Sheet{Outline: rect(30+20*rng.Float64(), 25), Count: 2, Cost: p.Sheets[0].Cost * rng.Float64()})
		}
		r, err := BottomLeft(t.Context(), p, nil, Options{})
		if err != nil {
			t.Fatal(err)
		}
		b := r.bounded(mustPrepare(t, p), nil)
		if p.StripWidth > 0 {
			if !(b.Bound.Length > 0) || b.Bound.Length > r.Length {
				t.Errorf("seed %d: bound %+v, found length %v", seed, b.Bound, r.Length)
			}
			continue
		}
		if b.Bound.Sheets > len(r.Layouts) || b.Bound.Cost > r.cost(p)*(1+1e-9) || len(r.Layouts) > 0 && b.Bound.Sheets == 0 {
			t.Errorf("seed %d: bound %+v, found %d sheets of cost %v", seed, b.Bound, len(r.Layouts), r.cost(p))
		}
	}
}

// TestLastSheetIsCompacted: whatever the search does for a larger rest on the last
// sheet, it takes no more sheets than a bottom-left pass, and leaves no smaller
// rest than that on as many.
func TestLastSheetIsCompacted(t *testing.T) {
	larger := 0
	for seed := range 4 {
		rng := rand.New(rand.NewPCG(uint64(seed), 21))
		p := Problem{Sheets: []Sheet{{Outline: rect(60, 40), Count: 20}}, Spacing: 0.5}
		for range 4 {
			p.Parts = append(p.Parts, Part{Outline: randomPart(rng, 20), Quantity: 6, Angles: quarterTurns})
		}
		quick, err := BottomLeft(t.Context(), p, nil, Options{})
		if err != nil {
			t.Fatal(err)
		}
		r, err := Solve(t.Context(), p, Options{Seed: 1, Effort: 0.2, Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		was := quick.rest(p).Area()
		if len(r.Layouts) > len(quick.Layouts) || len(r.Layouts) == len(quick.Layouts) && r.Rest.Area() < was {
			t.Errorf("seed %d: %d sheets with a rest of %v mm²; bottom-left takes %d and leaves %v", seed, len(r.Layouts), r.Rest.Area(), len(quick.Layouts), was)
		}
		if len(r.Layouts) < len(quick.Layouts) || r.Rest.Area() > was {
			larger++
		}
	}
	if larger == 0 {
		t.Error("the search never saved a sheet or left a larger rest")
	}
}

// TestRestIsClear checks that the rest that Solve reports is free, on the sheet,
// and at least what was left behind the parts.
func TestRestIsClear(t *testing.T) {
	p := Problem{
		Parts:   []Part{{Outline: rect(40, 30), Quantity: 7, Angles: quarterTurns}, {Outline: rect(15, 15), Quantity: 6}},
		Sheets:  []Sheet{{Outline: rect(100, 80), Count: 5}},
		Spacing: 2, Margin: 3,
	}
	r, err := Solve(t.Context(), p, Options{Seed: 1, Effort: 0.1})
	if err != nil || len(r.Layouts) != 2 || r.Bound.Sheets != 2 {
		t.Fatalf("%d sheets, bound %+v, error %v", len(r.Layouts), r.Bound, err)
	}
	l := r.Layouts[r.Rest.Layout]
	box := orb.Polygon{r.Rest.Box.ToRing()[:4]}
	if geom.SticksOutBeyond(box, p.Sheets[0].Outline, geom.TouchTolerance) || r.Rest.Area() < 100*80/4 {
		t.Errorf("rest %v", r.Rest)
	}
	for _, pl := range l.Placements {
		if d := bruteDistance(applied(p.Parts[pl.Part].Outline, pl.Pose), box); d < p.Spacing-geom.TouchTolerance {
			t.Errorf("a part is %v from the rest", d)
		}
	}
}
