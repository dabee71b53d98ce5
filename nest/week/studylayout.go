package week

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/route"
	"kerfold/nest/shop"
	"kerfold/nest/verify"
)

// A searcher lays a problem out with options.
type searcher func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error)

// A fullSheet is a sheet with as many copies of one part as a search fits on it.
type fullSheet struct {
	part       *shop.Order
	sheet      shop.Stock // what was laid out: the whole sheet, or a part of a large one
	placements []nest.Placement
	whole      shop.Stock
	count      int     // copies on the whole sheet
	yield      float64 // of the whole sheet
	warnings   []string
}

// fillSheet fills a sheet with one part and has the layout verified.
func fillSheet(ctx context.Context, job *shop.Job, part *shop.Order, machines []int, o StudyOptions, search searcher) (*fullSheet, error) {
	sheet, err := studySheet(job, part, machines, o)
	if err != nil {
		return nil, err
	}
	whole := sheet
	sheet, times := portion(sheet, part, job.MarginMM(part.Material))
	p, most := fillProblem(job, part, &sheet)
	r, err := search(ctx, p, nest.Options{Seed: o.Seed, Effort: o.Effort, Workers: o.Workers})
	if err != nil {
		return nil, err
	}
	if len(r.Layouts) == 0 || len(r.Layouts[0].Placements) == 0 {
		if ctx.Err() != nil {
			return nil, errors.New("stopped before a sheet was laid out")
		}
		return nil, fmt.Errorf("the part does not fit on sheet %s with %v mm to its edge: give a larger sheet", sheet.ID, p.Margin)
	}
	f := &fullSheet{part: part, sheet: sheet, placements: r.Layouts[0].Placements}
	if err := f.verify(p, most); err != nil {
		return nil, err
	}
	f.count = int(math.Floor(float64(len(f.placements)) * times))
	f.yield = float64(f.count) * netArea(part.Shape.Outer, part.Shape.Holes) / netArea(whole.Outline, whole.Blocked)
	f.whole = whole
	if times > 1 {
		f.warnings = append(f.warnings, fmt.Sprintf("a sheet holds about %d copies: %d were laid out, and the rest of the sheet is taken to be as dense", f.count, len(f.placements)))
	}
	if r.Status == nest.Limit || r.Status == nest.Cancelled {
		f.warnings = append(f.warnings, "the search for a full sheet was stopped early: the yield is the best so far")
	}
	return f, nil
}

// studySheet picks the stock the part is compared on.
func studySheet(job *shop.Job, part *shop.Order, machines []int, o StudyOptions) (shop.Stock, error) {
	best := -1
	for i := range job.Stock {
		s := &job.Stock[i]
		if s.Material != part.Material || s.ThicknessMM != part.ThicknessMM || o.Sheet != "" && s.ID != o.Sheet || !anyTakes(job, machines, s) {
			continue
		}
		if best < 0 || largerStock(s, &job.Stock[best]) {
			best = i
		}
	}
	if best < 0 {
		return shop.Stock{}, fmt.Errorf("no sheet of %s, %v mm in stock%s: add one, or name its size", part.Material, part.ThicknessMM, named(o.Sheet))
	}
	return job.Stock[best], nil
}

func named(id string) string {
	if id == "" {
		return ""
	}
	return " called " + id
}

func anyTakes(job *shop.Job, machines []int, s *shop.Stock) bool {
	return slices.ContainsFunc(machines, func(m int) bool { return shop.TakesSheet(&job.Machines[m], s) })
}

// largerStock prefers whole sheets to remnants, then area.
func largerStock(a, b *shop.Stock) bool {
	if a.Remnant != b.Remnant {
		return b.Remnant
	}
	return a.AreaMM2() > b.AreaMM2()
}

// mostOnSheet bounds the copies that are laid out; a sheet that holds more is
// filled in part, and the rest is taken to be as dense.
const mostOnSheet = 240

// fillProblem asks for more copies than the sheet can hold, by area; those
// without a place are no failure.
func fillProblem(job *shop.Job, part *shop.Order, sheet *shop.Stock) (p nest.Problem, most int) {
	room := netArea(sheet.Outline, sheet.Blocked) / netArea(part.Shape.Outer, part.Shape.Holes)
	most = max(1, int(math.Ceil(room)))
	return nest.Problem{
		Parts: []nest.Part{{
			ID: part.ID, Outline: flatPart(part.Shape), Quantity: most, Angles: part.Angles, FreeAngle: part.FreeAngle,
			Mirror: part.Mirror, Grain: part.GrainDeg,
		}},
		Sheets:  []nest.Sheet{{ID: sheet.ID, Outline: flatSheet(sheet), Count: 1, Cost: sheet.Cost, Grain: sheet.GrainDeg}},
		Spacing: job.SpacingMM(part.Material, part.ThicknessMM), Margin: job.MarginMM(part.Material),
	}, most
}

// portion is the lower part of a plain rectangular sheet that holds about
// mostOnSheet copies, and how many times its usable height the sheet has; the
// sheet itself and 1 where it holds no more or is no plain rectangle.
func portion(sheet shop.Stock, part *shop.Order, margin float64) (shop.Stock, float64) {
	x, y := sheet.Size()
	room := x * y / netArea(part.Shape.Outer, part.Shape.Holes)
	if room <= mostOnSheet || len(sheet.Blocked) > 0 || math.Abs(sheet.AreaMM2()-x*y) > geom.TouchTolerance*(x+y) {
		return sheet, 1
	}
	b := part.Shape.Bounds()
	reach := math.Hypot(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])
	low := math.Max(y*mostOnSheet/room, 2*margin+4*reach)
	if low >= y {
		return sheet, 1
	}
	sheet.Outline = geom.RectContour(0, 0, x, geom.Snap(low))
	return sheet, (y - 2*margin) / (low - 2*margin)
}

// verify has the layout judged.
func (f *fullSheet) verify(p nest.Problem, most int) error {
	use := verify.Use{Copies: 1}
	for _, pl := range f.placements {
		use.Placements = append(use.Placements, verify.Placement{Part: pl.Part, Pose: pl.Pose})
	}
	report := verify.Check(verify.Layout{
		Parts: []verify.Part{{
			ID: f.part.ID, Shape: f.part.Shape, Max: most, Angles: f.part.Angles, FreeAngle: f.part.FreeAngle,
			Mirror: f.part.Mirror, GrainDeg: f.part.GrainDeg,
		}},
		Sheets:  []verify.Sheet{{ID: f.sheet.ID, Outline: f.sheet.Outline, Blocked: f.sheet.Blocked, Count: 1, GrainDeg: f.sheet.GrainDeg}},
		Uses:    []verify.Use{use},
		Spacing: p.Spacing, Margin: p.Margin,
	})
	if !report.OK() {
		return errors.New("the layout found is not legal: " + report.Violations[0].Text)
	}
	return nil
}

// rapids are the rapid moves that one copy takes: those of the whole sheet's
// route, evened out over the copies, one move a pierce.
func (f *fullSheet) rapids(ctx context.Context, s cost.Setup) ([]float64, error) {
	in := route.Input{Sheet: f.sheet.Outline, Blocked: f.sheet.Blocked}
	for i, p := range f.placements {
		in.Pieces = append(in.Pieces, route.Piece{Placement: i, Name: f.part.Part, Shape: f.part.Shape.Transform(p.Pose)})
	}
	o := studyRoute(s)
	o.Effort = studyRouteEffort
	r, err := route.Plan(ctx, in, o)
	if err != nil {
		return nil, err
	}
	moves := make([]float64, 1+len(f.part.Shape.Holes))
	for i := range moves {
		moves[i] = r.RapidMM / float64(len(moves)*len(f.placements))
	}
	return moves, nil
}

// studyRouteEffort is enough to know how long rapid moves are.
const studyRouteEffort = 0.02
