package week

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kerfold/geom"
	"kerfold/nest/shop"
)

func replan(t *testing.T, text string, earlier *Plan, d *shop.Done) *Plan {
	t.Helper()
	p, err := replanWith(context.Background(), testJob(t, text), earlier, d, Options{Effort: 1}, shelfEngine)
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Groups {
		if r := Judge(&p.Groups[i]); !r.OK() {
			t.Errorf("%s: %s", p.Groups[i].ID, r.Violations[0].Text)
		}
	}
	for _, f := range Audit(p) {
		t.Error(f)
	}
	return p
}

// accounts holds every order's copies: cut and good, and still to be cut.
func accounts(t *testing.T, p *Plan, wanted map[string]int) {
	t.Helper()
	have := good(p.Done)
	for _, o := range p.Orders {
		have[o.Order] += o.Placed
	}
	for order, n := range wanted {
		if have[order] < n {
			t.Errorf("order %s: %d cut or to be cut, %d wanted", order, have[order], n)
		}
	}
}

var weekWants = map[string]int{"K-1": 60, "K-2": 40, "K-3": 500, "K-4": 40}

func layoutsByID(p *Plan) map[string]Layout {
	out := map[string]Layout{}
	for i := range p.Groups {
		for _, l := range p.Groups[i].Layouts {
			out[l.ID] = l
		}
	}
	return out
}

// Cut sheets are used up, layouts not begun lie as they lay, and what is
// scrapped is cut again.
func TestReplanKeepsWhatIsNotBegun(t *testing.T) {
	first := shelfPlan(t, weekText, Options{Effort: 1})
	g := &first.Groups[len(first.Groups)-1] // the rubber
	l := g.Layouts[0]
	d := &shop.Done{Lines: []shop.DoneLine{{Layout: l.ID, Cut: 1, Scrapped: []shop.Scrap{{Order: perSheet(g, 0)[0].Order, Count: 2}}}}}
	p := replan(t, weekText, first, d)
	accounts(t, p, weekWants)
	was, is := layoutsByID(first), layoutsByID(p)
	for id, lay := range was {
		now, ok := is[id]
		if id == l.ID && l.Repeats == 1 {
			continue
		}
		if !ok || cmp.Diff(lay.Placements, now.Placements) != "" {
			t.Errorf("%s was not begun, and is not as it was", id)
		}
	}
	used, left := map[string]int{}, map[string]int{}
	for i := range p.Groups {
		for _, lay := range p.Groups[i].Layouts {
			used[p.Groups[i].Sheets[lay.Sheet].ID] += lay.Repeats
		}
	}
	for _, s := range p.Stock {
		if !s.Remnant {
			left[s.ID] = s.Count
		}
	}
	for _, s := range testJob(t, weekText).Stock {
		if cut := sheetsCut(p.Done)[s.ID]; cut+used[s.ID]+left[s.ID] != s.Count {
			t.Errorf("%s: %d cut, %d to be cut and %d left of %d", s.ID, cut, used[s.ID], left[s.ID], s.Count)
		}
	}
	text := strings.Join(p.Changes, "\n")
	for _, want := range []string{l.ID + ": 1 sheet cut, 2 of ", "kept as they were: ", "new: "} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// The same file once more, against the plan it made, changes nothing but the
// beginning it was made from.
func TestReplanTwiceSaysNothingNew(t *testing.T) {
	first := shelfPlan(t, weekText, Options{Effort: 1})
	id := first.Groups[0].Layouts[0].ID
	d := &shop.Done{Lines: []shop.DoneLine{{Layout: id, Cut: 1}}, From: first.Days[1], FromSec: 9 * 3600}
	once := replan(t, weekText, first, d)
	twice := replan(t, weekText, once, d)
	if diff := cmp.Diff(layoutsByID(once), layoutsByID(twice)); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(once.Calendar, twice.Calendar); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(once.Done, twice.Done); diff != "" {
		t.Error(diff)
	}
	if !once.Days[0].Equal(first.Days[1]) || once.FromSec != 2*3600 || once.Calendar[0].StartSec < 2*3600 {
		t.Errorf("begins on %v, %v s in, the first stack at %v", once.Days[0], once.FromSec, once.Calendar[0].StartSec)
	}
	for _, workers := range []int{2, 5} {
		p, err := replanWith(context.Background(), testJob(t, weekText), first, d, Options{Effort: 1, Workers: workers}, shelfEngine)
		if err != nil || cmp.Diff(once, p) != "" {
			t.Errorf("%d workers plan otherwise: %v", workers, err)
		}
	}
}

// A new order gets layouts of its own, a smaller quantity loses parts and moves
// none.
func TestReplanTouchesOnlyWhatItMust(t *testing.T) {
	first := shelfPlan(t, weekText, Options{Effort: 1})
	nothing := &shop.Done{From: first.Days[0]}
	more := weekText + "  - {id: K-9, shape: disc, diameter_mm: 50, quantity: 6, material: test plate, thickness_mm: 3, grade: good, due: 2031-03-07}\n"
	p := replan(t, more, first, nothing)
	accounts(t, p, map[string]int{"K-1": 60, "K-2": 40, "K-3": 500, "K-4": 40, "K-9": 6})
	is := layoutsByID(p)
	for id, l := range layoutsByID(first) {
		if cmp.Diff(l.Placements, is[id].Placements) != "" || is[id].Repeats != l.Repeats {
			t.Errorf("%s has changed for an order on other sheets", id)
		}
	}
	less := strings.Replace(weekText, "diameter_mm: 90, quantity: 40", "diameter_mm: 90, quantity: 37", 1)
	p = replan(t, less, first, nothing)
	lay := map[geom.Pose]bool{} // where K-2 lay
	for i := range first.Groups {
		for _, l := range first.Groups[i].Layouts {
			for _, pl := range l.Placements {
				lay[pl.Pose] = lay[pl.Pose] || first.Groups[i].Parts[pl.Part].ID == "K-2"
			}
		}
	}
	for _, o := range p.Orders {
		if o.Order == "K-2" && o.Placed != 37 {
			t.Errorf("%d of K-2 are cut, want 37", o.Placed)
		}
	}
	for i := range p.Groups {
		for _, l := range p.Groups[i].Layouts {
			for _, pl := range l.Placements {
				if p.Groups[i].Parts[pl.Part].ID == "K-2" && !lay[pl.Pose] {
					t.Errorf("a K-2 has moved to %v", pl.Pose)
				}
			}
		}
	}
	if text := strings.Join(p.Changes, "\n"); !strings.Contains(text, "of its 40 parts, the others are no longer wanted") {
		t.Errorf("nobody says so in\n%s", text)
	}
}

func TestReplanRefusesWhatDoesNotMatch(t *testing.T) {
	first := shelfPlan(t, weekText, Options{Effort: 1})
	id := first.Groups[0].Layouts[0].ID
	n := first.Groups[0].Layouts[0].Repeats
	for _, c := range []struct {
		line shop.DoneLine
		says string
	}{
		{shop.DoneLine{Layout: "G9-L9", Cut: 1}, "no such layout"},
		{shop.DoneLine{Layout: id, Cut: n + 1}, "sheets in the plan"},
		{shop.DoneLine{Layout: id, Cut: 1, Scrapped: []shop.Scrap{{Order: "K-3", Count: 1}}}, "0 were cut"},
		{shop.DoneLine{Layout: id, Cut: 1, Scrapped: []shop.Scrap{{Order: perSheet(&first.Groups[0], 0)[0].Order, Count: 9999}}}, "were cut"},
	} {
		c.line.At = shop.Problem{File: "done.csv", Line: 7, Column: 1, Subject: "layout " + c.line.Layout}
		_, err := doneWork(first, &shop.Done{Lines: []shop.DoneLine{c.line}})
		var faults shop.Problems
		if !errors.As(err, &faults) || !strings.Contains(err.Error(), c.says) || !strings.HasPrefix(err.Error(), "done.csv:7:1: layout ") {
			t.Errorf("no %q in %v", c.says, err)
		}
	}
	once := *first
	once.Done = []DoneLayout{{ID: id, Cut: 3}}
	if _, err := doneWork(&once, &shop.Done{Lines: []shop.DoneLine{{Layout: id, Cut: 2}}}); err == nil || !strings.Contains(err.Error(), "were already") {
		t.Errorf("cut less than before: %v", err)
	}
	all := &shop.Done{}
	for lid, l := range layoutsByID(first) {
		all.Lines = append(all.Lines, shop.DoneLine{Layout: lid, Cut: l.Repeats})
	}
	if _, err := Replan(context.Background(), testJob(t, weekText), first, all, Options{}); err == nil || !strings.Contains(err.Error(), "nothing left") {
		t.Errorf("all is cut: %v", err)
	}
}
