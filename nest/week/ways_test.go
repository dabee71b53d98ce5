package week

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/shop"
)

func TestDealGivesAllByNeed(t *testing.T) {
	for _, c := range []struct {
		n    int
		need []float64
		want []int
	}{
		{10, []float64{1}, []int{10}},
		{10, []float64{1, 1}, []int{5, 5}},
		{1, []float64{1, 1}, []int{1, 0}}, // the more urgent group wins
		{10, []float64{2, 1}, []int{7, 3}},
		{3, []float64{0, 0}, []int{0, 0}},
		{2, []float64{0, 5, 0}, []int{0, 2, 0}},
	} {
		if got := deal(c.n, c.need); !slices.Equal(got, c.want) {
			t.Errorf("%d sheets for %v: %v, want %v", c.n, c.need, got, c.want)
		}
	}
}

func TestTimesWithin(t *testing.T) {
	for _, c := range []struct {
		counts, want []int
		times        int
	}{
		{[]int{3, 2}, []int{12, 9}, 4},
		{[]int{3, 0}, []int{2, 9}, 0},
		{[]int{0, 0}, []int{2, 9}, 0},
	} {
		if got := timesWithin(c.counts, c.want); got != c.times {
			t.Errorf("%v into %v: %d times, want %d", c.counts, c.want, got, c.times)
		}
	}
}

func TestFoldsAreSensible(t *testing.T) {
	wanted := func(n int) *task {
		return &task{depth: 4, group: Group{Parts: []shop.Order{{Quantity: n}}}}
	}
	for _, c := range []struct {
		sheets, wanted int
		must           []int
	}{
		{2, 10, []int{2}},
		{10, 100, []int{2, 3, 4, 5, 8, 10}},
		{40, 100, []int{2, 3, 4, 14, 20, 40}},
		{40, 3, []int{2, 3}},
	} {
		got := wanted(c.wanted).folds(c.sheets)
		if len(got) > mostFolds || !slices.IsSorted(got) {
			t.Errorf("%d sheets: %v is too much or unsorted", c.sheets, got)
		}
		for _, k := range c.must {
			if !slices.Contains(got, k) {
				t.Errorf("%d sheets, %d wanted: %v lacks %d", c.sheets, c.wanted, got, k)
			}
		}
		for _, k := range got {
			if k < 2 || k > c.sheets || k > c.wanted {
				t.Errorf("%d sheets, %d wanted: a %d-fold layout makes no sense", c.sheets, c.wanted, k)
			}
		}
	}
}

func TestFractionKeepsKitsWhole(t *testing.T) {
	tk := &task{group: Group{
		Parts: []shop.Order{
			{Quantity: 10, Kit: "frame", PerKit: 2}, // five kits
			{Quantity: 5, Kit: "frame", PerKit: 1},
			{Quantity: 7},
		},
		Sheets: []shop.Stock{{Count: 7}, {Count: 1}},
	}}
	down, up := tk.fraction(2, false), tk.fraction(2, true)
	if !slices.Equal(down.want, []int{4, 2, 3}) || !slices.Equal(up.want, []int{6, 3, 4}) {
		t.Errorf("halves are %v and %v, want [4 2 3] and [6 3 4]", down.want, up.want)
	}
	if !slices.Equal(down.sheets, []int{3, 0}) {
		t.Errorf("sheets for a twofold layout: %v, want [3 0]", down.sheets)
	}
}

func TestEqualLayoutsMerge(t *testing.T) {
	p := posing{part: []int{4, 2}, sheet: []int{1}}
	a := nest.Placement{Part: 0, Pose: geom.Pose{X: 1}}
	b := nest.Placement{Part: 1, Pose: geom.Pose{X: 5, Mirror: true}}
	got := p.back([]nest.Layout{
		{Placements: []nest.Placement{a, b}},
		{Placements: []nest.Placement{b, a}}, // the same in another order
		{Placements: []nest.Placement{a}},
		{}, // nothing on it
	}, 3)
	if len(got) != 2 || got[0].repeats != 6 || got[1].repeats != 3 {
		t.Fatalf("got %+v, want one layout 6 times and one 3 times", got)
	}
	if got[0].sheet != 1 || got[0].placements[0].Part != 2 || got[0].placements[1].Part != 4 {
		t.Errorf("indices are not the group's: %+v", got[0])
	}
}

func TestStreamSeedsDiffer(t *testing.T) {
	seen := map[uint64]bool{}
	for seed := range uint64(20) {
		for stream := range uint64(200) {
			s := streamSeed(seed, stream)
			if seen[s] {
				t.Fatalf("seed %d, stream %d: used before", seed, stream)
			}
			seen[s] = true
		}
	}
}

func TestTightHolesAreFilled(t *testing.T) {
	hole := func(side float64) orb.Ring { return geom.ReverseRing(geom.RectRing(10, 10, 10+side, 10+side)) }
	parts := []orb.Polygon{
		{geom.RectRing(0, 0, 100, 100), hole(9), hole(20), hole(30)},
		{geom.RectRing(0, 0, 15, 20)},
	}
	dropTightHoles(parts)
	if len(parts[0]) != 3 || len(parts[1]) != 1 || geom.RingArea(parts[0][1]) != -400 {
		t.Errorf("%d rings are left of the first part and %d of the second, want 3 and 1", len(parts[0]), len(parts[1]))
	}
}
