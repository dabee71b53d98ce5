package week

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/shop"
)

// A task is one group while it is being planned.
type task struct {
	index    int
	job      *shop.Job
	group    Group
	material cost.Material
	machines []int         // indices into the job's machines that can cut it
	depth    int           // greatest stack any of them may cut
	memo     nest.Memo     // of the group's outlines, shared by all its searches
	flat     []orb.Polygon // parts as the search sees them
	sheets   []orb.Polygon // flat, blocked zones as holes
	lines    []int         // the job's stock line of each sheet
	area     []float64     // true area of each part, mm²
	round    []float64     // true area of each sheet less blocked zones, mm²
	prices   tariff        // made when first asked for
	fillers  []float64     // likewise: what a copy of each filler is worth
	routing  float64       // share of the routing effort each layout gets at the end
	plain    bool          // every sheet is cut by itself
	numbered int           // highest number of an earlier plan's layouts
}

// gather sorts the orders into groups, in order of their earliest due date, and
// gives each the stock it can be cut from. Orders without stock or machine make
// groups too: what cannot be done is said, not dropped.
func gather(job *shop.Job) []*task { return gatherFrom(job, shareStock) }

// gatherFrom is gather with another rule for who gets which sheets.
func gatherFrom(job *shop.Job, shareOut func(*shop.Job, []*task) [][]stockShare) []*task {
	byKey := map[shop.Group]*task{}
	var tasks []*task
	for i := range job.Orders {
		o := &job.Orders[i]
		t := byKey[o.Group()]
		if t == nil {
			t = &task{job: job, group: newGroup(job, o)}
			byKey[o.Group()] = t
			tasks = append(tasks, t)
		}
		t.group.Parts = append(t.group.Parts, *o)
	}
	slices.SortStableFunc(tasks, byUrgency)
	shares := shareOut(job, tasks)
	for i, t := range tasks {
		t.index, t.group.ID = i, fmt.Sprintf("G%d", i+1)
		t.equip(shares[i])
	}
	return tasks
}

func newGroup(job *shop.Job, o *shop.Order) Group {
	return Group{
		Material: o.Material, ThicknessMM: o.ThicknessMM, Grade: o.Grade, Process: job.Materials[o.Material].Process,
		SpacingMM: job.SpacingMM(o.Material, o.ThicknessMM), MarginMM: job.MarginMM(o.Material),
		Unplaced: map[int]int{}, Surplus: map[int]int{},
	}
}

func byUrgency(a, b *task) int {
	ga, gb := &a.group, &b.group
	return cmp.Or(ga.earliest().Compare(gb.earliest()), -cmp.Compare(ga.priority(), gb.priority()),
		strings.Compare(ga.Material, gb.Material), cmp.Compare(ga.ThicknessMM, gb.ThicknessMM), cmp.Compare(ga.Grade, gb.Grade))
}

// equip fits the task out with machines, stock and flat outlines.
func (t *task) equip(stock []stockShare) {
	g := &t.group
	t.material = t.job.Materials[g.Material]
	t.machines, t.depth = t.capable()
	tol := nestTolerance(g.SpacingMM)
	for _, share := range stock {
		s := t.job.Stock[share.line]
		s.Count = share.count
		if t.fitsTable(&s) {
			g.Sheets = append(g.Sheets, s)
			t.lines = append(t.lines, share.line)
			t.sheets = append(t.sheets, flatSheetTo(&s, tol))
			t.round = append(t.round, netArea(s.Outline, s.Blocked))
			continue
		}
		if len(t.machines) > 0 {
			g.Warnings = append(g.Warnings, fmt.Sprintf(
				"sheet %s is larger than the table of every machine that can cut it: it is left out", s.ID))
		}
	}
	if len(g.Sheets) == 0 {
		g.Warnings = append(g.Warnings, fmt.Sprintf("no stock of %s, %v mm: add sheets", g.Material, g.ThicknessMM))
	}
	for i := range g.Parts {
		t.flat = append(t.flat, flatPartTo(g.Parts[i].Shape, tol))
		t.area = append(t.area, netArea(g.Parts[i].Shape.Outer, g.Parts[i].Shape.Holes))
	}
	dropTightHoles(t.flat)
}

// dropTightHoles fills the holes whose area is less than that of the smallest
// part: nothing can lie in them, and every corner costs the search time.
func dropTightHoles(parts []orb.Polygon) {
	least := math.Inf(1)
	for _, p := range parts {
		least = math.Min(least, math.Abs(geom.RingArea(p[0])))
	}
	for i, p := range parts {
		parts[i] = slices.DeleteFunc(p, func(r orb.Ring) bool {
			return &r[0] != &p[0][0] && math.Abs(geom.RingArea(r)) < least
		})
	}
}

// nestTolerance is how far, in mm, the chords of a flattened arc may lie from
// it: a twentieth of the spacing, so that parts lie at most that much further
// apart than they must, and the search has few corners to look at. Flattening
// is on the safe side, whatever the tolerance.
func nestTolerance(spacing float64) float64 {
	return math.Max(geom.ChordTolerance, math.Min(spacing/20, 10*geom.ChordTolerance))
}

// flatPart is flatPartTo the house's chord tolerance.
func flatPart(s geom.Shape) orb.Polygon { return flatPartTo(s, geom.ChordTolerance) }

// flatSheet is flatSheetTo the house's chord tolerance.
func flatSheet(s *shop.Stock) orb.Polygon { return flatSheetTo(s, geom.ChordTolerance) }

// flatPartTo flattens a part outwards, its holes inwards.
func flatPartTo(s geom.Shape, tol float64) orb.Polygon {
	p := orb.Polygon{s.Outer.Flatten(tol, geom.Outward)}
	for _, h := range s.Holes {
		p = append(p, h.Flatten(tol, geom.Inward))
	}
	return geom.NormalPolygon(p)
}

// flatSheetTo flattens a sheet inwards, its blocked zones outwards.
func flatSheetTo(s *shop.Stock, tol float64) orb.Polygon {
	p := orb.Polygon{s.Outline.Flatten(tol, geom.Inward)}
	for _, b := range s.Blocked {
		p = append(p, b.Flatten(tol, geom.Outward))
	}
	return geom.NormalPolygon(p)
}

func netArea(outer geom.Contour, holes []geom.Contour) float64 {
	a := math.Abs(outer.Area())
	for _, h := range holes {
		a -= math.Abs(h.Area())
	}
	return a
}

// fitsTable reports whether a sheet lies on some capable machine's table.
func (t *task) fitsTable(s *shop.Stock) bool {
	return slices.ContainsFunc(t.machines, func(m int) bool { return shop.TakesSheet(&t.job.Machines[m], s) })
}
