package week

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"kerfold/nest/shop"
)

// A leftover is kept where its share of the sheet's money is more than keeping
// it costs, and never below the least side.
func TestRemnantRule(t *testing.T) {
	rule := RemnantRule{MinSideMM: 200, ValueShare: 0.5, UpkeepMoney: 4}
	for _, c := range []struct {
		why         string
		mm2, perMM2 float64
		want        float64
	}{
		{"a quarter square metre at 40 a square metre", 250000, 40e-6, 1},
		{"the same of cheaper sheet is worth nothing", 250000, 32e-6, 0},
		{"a dear sheet keeps a small piece", 50000, 400e-6, 6},
	} {
		if got := rule.Worth(c.mm2, c.perMM2); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", c.why, got, c.want)
		}
	}
	labour := shop.DefaultRemnants(45)
	if want := 240.0/3600*45 + 1; math.Abs(labour.UpkeepMoney-want) > 1e-9 {
		t.Errorf("upkeep %v, want %v", labour.UpkeepMoney, want)
	}
}

// The same layout leaves a remnant or scrap, as the rule says; the kept area
// follows the money.
func TestRuleDecidesWhatIsKept(t *testing.T) {
	kept := func(rule RemnantRule) (area float64, ids []string) {
		p := fresh(t, weekText, Options{Effort: 1, Remnants: rule})
		for i := range p.Groups {
			for _, l := range p.Groups[i].Layouts {
				if l.Remnant != nil {
					area += l.Remnant.Area()
					ids = append(ids, l.RemnantID)
					worth := rule.Worth(l.Remnant.Area(), p.Groups[i].Sheets[l.Sheet].Cost/p.Groups[i].Sheets[l.Sheet].AreaMM2())
					if box := l.Remnant.Bounds(); worth <= 0 || math.Abs(worth-l.RemnantCredit) > 1e-9 || box.Max[0]-box.Min[0] < rule.MinSideMM {
						t.Errorf("%s is kept, worth %v, credited %v, box %v", l.ID, worth, l.RemnantCredit, box)
					}
				} else if l.RemnantID != "" || l.RemnantCredit != 0 {
					t.Errorf("%s has no remnant, but an id %q and a credit", l.ID, l.RemnantID)
				}
			}
		}
		return area, ids
	}
	free, ids := kept(RemnantRule{MinSideMM: 100, ValueShare: 0.5})
	if len(ids) == 0 || ids[0] != "R-001" {
		t.Errorf("remnants %q, want R-001 first", ids)
	}
	dear, _ := kept(RemnantRule{MinSideMM: 100, ValueShare: 0.5, UpkeepMoney: 1e6})
	if free == 0 || dear != 0 {
		t.Errorf("%v mm² kept where keeping is free, %v where it costs a million", free, dear)
	}
}

// Ids go on from the highest on the rack, lines used up included, and a new
// remnant says where it comes from and when it was cut.
func TestNewRemnantsAreNumbered(t *testing.T) {
	text := strings.Replace(weekText, "stock:\n", "stock:\n  - {id: R-041, material: cork, thickness_mm: 3, width_mm: 300, height_mm: 300, count: 0, remnant: yes}\n", 1)
	p := shelfPlan(t, text, Options{Effort: 1})
	change := p.StockChange()
	if len(change.Added) == 0 {
		t.Fatal("no remnants")
	}
	for i, s := range change.Added {
		if want := fmt.Sprintf("R-%03d", 42+i); s.ID != want || !s.Remnant || s.Cost <= 0 {
			t.Errorf("remnant %d: %+v, want id %s", i, s, want)
		}
		if s.Since.Before(p.Days[0]) || s.Since.After(p.Days[len(p.Days)-1]) || !strings.Contains(s.Origin, "layout G") {
			t.Errorf("%s: since %v, origin %q", s.ID, s.Since, s.Origin)
		}
	}
	for _, s := range testJob(t, text).Stock {
		if n := change.Taken[s.ID]; n > s.Count {
			t.Errorf("%s: %d taken of %d", s.ID, n, s.Count)
		}
	}
}

const twinText = `version: 1
start: 2031-03-03
machines: [{id: jet, process: abrasive, pressure_mpa: 380, motor_kw: 37, orifice_mm: 0.33, tube_mm: 1.02, abrasive_g_per_min: 400, table_x_mm: 3000, table_y_mm: 1500, max_stack_mm: 60, hours_per_day: 8}]
stock:
  - {id: young, material: mild steel, thickness_mm: 6, width_mm: 500, height_mm: 400, remnant: yes, cost: 5, since: 2031-01-05}
  - {id: undated, material: mild steel, thickness_mm: 6, width_mm: 500, height_mm: 400, remnant: yes, cost: 5}
  - {id: old, material: mild steel, thickness_mm: 6, width_mm: OLD, height_mm: 400, remnant: yes, cost: COST, since: 2029-11-02}
  - {id: middle, material: mild steel, thickness_mm: 6, width_mm: 500, height_mm: 400, remnant: yes, cost: 5, since: 2030-06-02}
orders:
  - {id: K, shape: rectangle, width_mm: 300, height_mm: 250, quantity: 1, material: mild steel, thickness_mm: 6}
`

// Of remnants that cost the same, the older is cut; money comes before age.
func TestOlderRemnantsFirst(t *testing.T) {
	for _, c := range []struct{ why, width, cost, want string }{
		{"all alike", "500", "5", "old"},
		{"the old one has another size", "510", "5", "old"},
		{"the old one costs more", "500", "6", "middle"},
	} {
		job := testJob(t, strings.NewReplacer("OLD", c.width, "COST", c.cost).Replace(twinText))
		p, err := Make(context.Background(), job, Options{Effort: 0.01})
		if err != nil {
			t.Fatal(err)
		}
		g := &p.Groups[0]
		if got := g.Sheets[g.Layouts[0].Sheet].ID; got != c.want {
			t.Errorf("%s: %s is cut, want %s", c.why, got, c.want)
		}
	}
}

func TestOldestOfTwins(t *testing.T) {
	job := testJob(t, strings.NewReplacer("OLD", "500", "COST", "5").Replace(twinText))
	tk := gather(job)[0]
	at := func(id string) int {
		for i := range tk.group.Sheets {
			if tk.group.Sheets[i].ID == id {
				return i
			}
		}
		t.Fatalf("no sheet %s", id)
		return 0
	}
	c := tk.newCandidate("twins")
	for _, id := range []string{"undated", "young"} {
		c.take(laid{sheet: at(id), repeats: 1})
	}
	tk.preferOldest(c)
	for i, want := range []string{"old", "middle"} {
		if got := c.laid[i].sheet; got != at(want) || c.used[got] != 1 {
			t.Errorf("layout %d is on %s, want %s", i+1, tk.group.Sheets[got].ID, want)
		}
	}
	if c.used[at("young")]+c.used[at("undated")] != 0 {
		t.Errorf("used %v", c.used)
	}
}
