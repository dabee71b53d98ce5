package week

import (
	"context"
	"strings"
	"testing"
	"time"
)

// foldText is four sheets and a remnant, whose quarter of the demand does not
// quite fit a sheet: what is left over has room on the remnant.
const foldText = `version: 1
name: quarters
start: 2031-03-03
days: 5
` + plateRates + `   load_per_sheet_s: 240, stack_prep_s: 60, stack_layer_s: 10, setup_min: 10, unload_per_part_s: 1, late_per_hour: 2}
machines:
  - {id: jet 1, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400,
     table_x_mm: 3000, table_y_mm: 1500, hours_per_day: 8, max_stack_mm: 40, max_layers: 4}
stock:
  - {id: R-1, material: test plate, thickness_mm: 1, points_mm: [[0, 0], [300, 0], [300, 200], [0, 200]], cost: 5, since: 2031-01-07}
  - {id: P1, material: test plate, thickness_mm: 1, width_mm: 500, height_mm: 300, count: 9, cost: 60}
orders:
  - {id: K-1, shape: rectangle, width_mm: 90, height_mm: 60, quantity: 81, material: test plate, thickness_mm: 1, due: 2031-03-07}
  - {id: K-2, shape: rectangle, width_mm: 40, height_mm: 40, quantity: 5, material: test plate, thickness_mm: 1, due: 2031-03-04}
`

func TestFoldFillLeavesTheRestToRemnants(t *testing.T) {
	m := shelfMaker(t, foldText)
	tk := m.tasks[0]
	c, err := m.work(context.Background(), tk, tk.foldFill(4, 1, shelfFill, quickFills), m.quick(tk), routed)
	if err != nil {
		t.Fatal(err)
	}
	if c.used[1] != 4 || c.used[0] != 1 || c.way.Short != 0 || c.way.Surplus != 0 {
		t.Errorf("%d sheets and %d remnants, %d parts missing, %d too many: want 4, 1, 0 and 0", c.used[1], c.used[0], c.way.Short, c.way.Surplus)
	}
	if len(c.picks[0].stacks) != 1 && len(c.picks[1].stacks) != 1 || c.picks[0].depth != 4 && c.picks[1].depth != 4 {
		t.Errorf("stacks %v and %v: want one of 4", c.picks[0].stacks, c.picks[1].stacks)
	}
	for _, w := range tk.foldFills(5, shelfFill) {
		if !strings.HasPrefix(w.name, "P1 ") {
			t.Errorf("%q repeats a layout on a sheet there is one of", w.name)
		}
	}
}

// All that is due by the date lies on the sheets filled first.
func TestDueByLaysTheDueTogether(t *testing.T) {
	m := shelfMaker(t, foldText)
	tk := m.tasks[0]
	date := time.Date(2031, 3, 4, 0, 0, 0, 0, time.UTC)
	c, err := m.work(context.Background(), tk, tk.dueBy(shelfFill, date, 0, quickFills), m.quick(tk), routed)
	if err != nil {
		t.Fatal(err)
	}
	if c.way.Short != 0 {
		t.Errorf("%d parts missing", c.way.Short)
	}
	for i := range c.laid {
		if n := c.laid[i].counts(2)[1]; n > 0 && tk.group.Sheets[c.laid[i].sheet].ID != "R-1" {
			t.Errorf("%d due parts lie on %s", n, tk.group.Sheets[c.laid[i].sheet].ID)
		}
	}
	if ways := tk.dueWays(shelfFill); len(ways) != 2 {
		t.Errorf("%d ways by date, want one for each kind of sheet", len(ways))
	}
}

// A way whose sheets are half empty may come to less than one that looks cheaper.
func TestHopeLooksAtEmptySheets(t *testing.T) {
	tk := shelfMaker(t, foldText).tasks[0]
	way := func(sheets int, money float64) *candidate {
		return &candidate{way: Way{Money: money}, placed: []int{81, 5}, used: []int{0, sheets}}
	}
	full, err := tk.hope(way(5, 500))
	if err != nil {
		t.Fatal(err)
	}
	empty, err := tk.hope(way(8, 560))
	if err != nil {
		t.Fatal(err)
	}
	if empty >= full || full > 500 {
		t.Errorf("5 sheets for 500 hope for %.2f, 8 sheets for 560 for %.2f", full, empty)
	}
}

func TestContenderSharesSumToOne(t *testing.T) {
	for n := 1; n <= mostContenders; n++ {
		sum := 0.0
		for k := range n {
			sum += contenderShare(k, n)
		}
		if sum < 1-1e-12 || sum > 1+1e-12 {
			t.Errorf("%d contenders share %v of the effort", n, sum)
		}
	}
}

// Thousands of copies take long to lay out once more: few more ways are tried.
func TestManyCopiesHaveFewWays(t *testing.T) {
	more := func(text string) int {
		tk := gather(testJob(t, text))[0]
		return len(tk.planWays(5, shelfFill)) - len(tk.ways(5, shelfFill))
	}
	few, many := more(foldText), more(strings.Replace(foldText, "quantity: 81", "quantity: 9000", 1))
	if few <= leastMore || many != leastMore {
		t.Errorf("%d more ways for 86 copies, %d for 9,005: want more than %d and %d", few, many, leastMore, leastMore)
	}
}
