package nest

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// TestHeldInHoles counts what goes into holes: each hole of every copy once, holes of
// parts that lie in holes too.
func TestHeldInHoles(t *testing.T) {
	ring := func(outer, hole float64, n int) Part {
		return Part{Outline: washer(outer, hole), Quantity: n, Angles: []float64{0}}
	}
	kit := ring(35, 0, 8)
	kit.Kit = "set"
	kit.PerKit = 2
	for _, c := range []struct {
		why   string
		parts []Part
		want  []int
	}{
		{"ring in ring in ring", []Part{ring(100, 90, 10), ring(85, 70, 10), ring(65, 40, 10), ring(35, 0, 10)}, []int{0, 10, 10, 10}},
		{"more than the holes hold", []Part{ring(100, 90, 10), ring(85, 0, 14)}, []int{0, 10}},
		{"two side by side", []Part{ring(100, 90, 10), ring(44, 0, 25)}, []int{0, 20}},
		{"kits stay together", []Part{ring(100, 90, 10), kit}, []int{0, 0}},
		{"a hole too tight by the spacing", []Part{ring(100, 90, 10), ring(89.8, 0, 5)}, []int{0, 0}},
	} {
		got := heldInHoles(t.Context(), Problem{Parts: c.parts, Sheets: []Sheet{{Outline: rect(2000, 2000), Count: 9}}, Spacing: 0.5}, Options{})
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s: %v, want %v", c.why, got, c.want)
		}
	}
}

// TestNestedIsLegalAndWhole lays random rings out, on sheets and strips: nothing is
// lost, and no two parts come nearer than the spacing.
func TestNestedIsLegalAndWhole(t *testing.T) {
	took := 0
	for seed := range 12 {
		rng := rand.New(rand.NewPCG(uint64(seed), 41))
		p := ringsProblem(rng)
		if seed%4 == 0 {
			p.StripWidth, p.Sheets = 90, nil
		}
		if seed%3 == 0 { // as flanges lie that have no grain
			p.Parts[0].FreeAngle, p.Parts[1].Mirror = true, true
		}
		r, err := Nested(t.Context(), p, Options{Seed: uint64(seed), Effort: 0.05})
		if err == ErrUnsupported {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		took++
		if r.missing() > 0 {
			t.Errorf("seed %d: %v found no place", seed, r.Unplaced)
		}
		legal(t, fmt.Sprintf("seed %d", seed), p, r)
	}
	if took < 4 {
		t.Errorf("only %d of the problems had anything to nest", took)
	}
}

func legal(t *testing.T, name string, p Problem, r Result) {
	t.Helper()
	for _, l := range r.Layouts {
		var placed []orb.Polygon
		for _, pl := range l.Placements {
			part := applied(p.Parts[pl.Part].Outline, pl.Pose)
			for _, other := range placed {
				if d := bruteDistance(part, other); d < p.Spacing-2*geom.TouchTolerance {
					t.Errorf("%s: two parts are %v apart, asked for %v", name, d, p.Spacing)
				}
			}
			if len(p.Sheets) > 0 && geom.SticksOutBeyond(part, p.Sheets[l.Sheet].Outline, geom.SheetAllowance) {
				t.Errorf("%s: a part sticks out of the sheet", name)
			}
			placed = append(placed, part)
		}
	}
}

// TestNestedSavesASheet lays out rings that fit one sheet when the outer ones are
// packed by themselves and take two by the bottom-left rule.
func TestNestedSavesASheet(t *testing.T) {
	if testing.Short() {
		t.Skip("searches for some seconds")
	}
	p := Problem{Sheets: []Sheet{{Outline: rect(2000, 1500), Count: 9}}, Spacing: 1.5, Margin: 5}
	for _, s := range [][3]float64{{71, 34, 25}, {92, 49, 34}, {107, 61, 19}, {142, 89, 34}, {168, 115, 43}, {218, 169, 37}} {
		p.Parts = append(p.Parts, Part{Outline: washer(s[0]/2, s[1]/2), Quantity: int(s[2]), Angles: []float64{0}})
	}
	plain, err := BottomLeft(t.Context(), p, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := Solve(t.Context(), p, Options{Seed: 1, Effort: 4, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%s: %d sheets; bottom-left %d", r.Stats.Won, len(r.Layouts), len(plain.Layouts))
	if len(r.Layouts) != 1 || r.missing() > 0 || len(plain.Layouts) != 2 {
		t.Errorf("%d sheets, bottom-left %d, want 1 and 2", len(r.Layouts), len(plain.Layouts))
	}
	legal(t, "gaskets", p, r)
}
