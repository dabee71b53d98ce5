package week

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/shop"
)

// shelfEngine lays boxes on shelves, as they are drawn, on rectangular sheets.
// It is poor and quick, and lets the plan be tested by itself.
var shelfEngine = engine{
	quick:  func(_ context.Context, p nest.Problem, _ nest.Options) (nest.Result, error) { return shelves(p), nil },
	search: func(_ context.Context, p nest.Problem, _ nest.Options) (nest.Result, error) { return shelves(p), nil },
	fill:   shelfFill,
	alone:  shelfFill,
}

// shelfFill fills one sheet with shelves of what is worth most for its area.
func shelfFill(_ context.Context, p nest.Problem, values []float64, _ nest.Options) (nest.Result, error) {
	order := make([]int, len(p.Parts))
	for i := range order {
		order[i] = i
	}
	rate := func(i int) float64 { return values[i] / geom.PolygonArea(p.Parts[i].Outline) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rate(b), rate(a)) })
	q := nest.Problem{Sheets: p.Sheets, Spacing: p.Spacing, Margin: p.Margin}
	for _, i := range order {
		if values[i] > 0 {
			q.Parts = append(q.Parts, p.Parts[i])
		}
	}
	r := shelves(q)
	for _, l := range r.Layouts {
		for k := range l.Placements {
			l.Placements[k].Part = order[l.Placements[k].Part]
		}
	}
	return r, nil
}

func shelves(p nest.Problem) nest.Result {
	left := make([]int, len(p.Parts))
	for i := range p.Parts {
		left[i] = p.Parts[i].Quantity
	}
	r := nest.Result{Unplaced: map[int]int{}}
	for s := range p.Sheets {
		for range p.Sheets[s].Count {
			if l := shelfSheet(p, s, left); len(l.Placements) > 0 {
				r.Layouts = append(r.Layouts, l)
			}
		}
	}
	for i, n := range left {
		if n > 0 {
			r.Unplaced[i], r.Status = n, nest.Infeasible
		}
	}
	return r
}

func shelfSheet(p nest.Problem, sheet int, left []int) nest.Layout {
	l := nest.Layout{Sheet: sheet}
	b := geom.Bounds(p.Sheets[sheet].Outline)
	x, y, high := b.Min[0]+p.Margin, b.Min[1]+p.Margin, 0.0
	for i := range p.Parts {
		box := geom.Bounds(p.Parts[i].Outline)
		w, h := box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]
		for left[i] > 0 {
			if x+w > b.Max[0]-p.Margin {
				x, y, high = b.Min[0]+p.Margin, y+high+p.Spacing, 0
			}
			if y+h > b.Max[1]-p.Margin || x+w > b.Max[0]-p.Margin {
				break
			}
			l.Placements = append(l.Placements, nest.Placement{Part: i, Pose: geom.Pose{X: x - box.Min[0], Y: y - box.Min[1]}})
			x, high = x+w+p.Spacing, math.Max(high, h)
			left[i]--
		}
	}
	return l
}

func TestShelvesKeepTheirRules(t *testing.T) {
	p := nest.Problem{
		Spacing: 2, Margin: 5,
		Parts:  []nest.Part{{Outline: orb.Polygon{geom.RectRing(0, 0, 40, 30)}, Quantity: 5}},
		Sheets: []nest.Sheet{{Outline: orb.Polygon{geom.RectRing(0, 0, 100, 100)}, Count: 1}},
	}
	if r := shelves(p); len(r.Layouts[0].Placements) != 4 || r.Unplaced[0] != 1 {
		t.Errorf("%d placed, %d not, want 4 and 1", len(r.Layouts[0].Placements), r.Unplaced[0])
	}
}

// weekText is a job with two machines, two groups that share their stock, and
// a soft sheet that is worth stacking.
const weekText = `version: 1
name: test week
start: 2031-03-03
days: 5
materials:
  - {name: test plate, process: abrasive, family: metal, machinability: 213, density_kg_per_m3: 2700, source: demo}
  - {name: test rubber, process: plain, family: rubber, plain_k: 600, density_kg_per_m3: 1300, source: demo}
rates:
  {source: demo, currency: EUR, machine_per_hour: 60, labour_per_hour: 40, abrasive_per_kg: 0.5, power_per_kwh: 0.2,
   water_per_m3: 4, disposal_per_kg: 0.2, tube_price: 100, orifice_price: 20, tube_life_h: 70, orifice_life_h: 70,
   load_per_sheet_s: 240, stack_prep_s: 120, stack_layer_s: 30, setup_min: 10, unload_per_part_s: 1}
machines:
  - {id: jet 1, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400,
     table_x_mm: 3000, table_y_mm: 1500, hours_per_day: 8, max_stack_mm: 40, max_layers: 4}
  - {id: jet 2, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400,
     table_x_mm: 2000, table_y_mm: 1000, hours_per_day: 6, max_stack_mm: 40, max_layers: 2}
stock:
  - {id: P3, material: test plate, thickness_mm: 3, width_mm: 1000, height_mm: 600, count: 9, cost: 50}
  - {id: R2, material: test rubber, thickness_mm: 2, width_mm: 1000, height_mm: 1000, count: 20, cost: 30}
orders:
  - {id: K-1, shape: rectangle, width_mm: 200, height_mm: 100, quantity: 60, material: test plate, thickness_mm: 3, grade: medium, due: 2031-03-05}
  - {id: K-2, shape: disc, diameter_mm: 90, quantity: 40, material: test plate, thickness_mm: 3, grade: good, due: 2031-03-04}
  - {id: K-3, shape: ring, diameter_mm: 120, bore_mm: 80, quantity: 500, material: test rubber, thickness_mm: 2, grade: medium, due: 2031-03-07}
  - {id: K-4, shape: rectangle, width_mm: 60, height_mm: 60, quantity: 40, material: test rubber, thickness_mm: 2, grade: medium, due: 2031-03-06}
`

func testJob(t *testing.T, text string) *shop.Job {
	t.Helper()
	job, err := shop.Load(fstest.MapFS{"job.yaml": {Data: []byte(text)}}, "job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return job
}

// shelfPlan plans a job with the shelf engine. Equal asks get one plan, which
// nobody may change; fresh makes a new one.
func shelfPlan(t *testing.T, text string, o Options) *Plan {
	t.Helper()
	key := fmt.Sprintf("%v %v %v %s", o.Seed, o.Effort, o.Workers, text)
	if shelfPlans[key] == nil {
		shelfPlans[key] = fresh(t, text, o)
	}
	return shelfPlans[key]
}

var shelfPlans = map[string]*Plan{}

func fresh(t *testing.T, text string, o Options) *Plan {
	t.Helper()
	p, err := makeWith(context.Background(), testJob(t, text), o, shelfEngine)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
