package report

import (
	"time"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/route"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// samplePlan is a plan made by hand: two groups, a blocked zone, a remnant, a
// mirrored part, holes, stacks of two depths, an order that is late.
func samplePlan() *week.Plan {
	monday := time.Date(2031, 3, 3, 0, 0, 0, 0, time.UTC)
	grain := 0.0
	flange := shop.Order{
		ID: "K-101/1", Part: "flange DN 80", Quantity: 12, Angles: []float64{0}, Due: monday.AddDate(0, 0, 2),
		Shape: geom.Shape{
			Outer: geom.CircleContour(orb.Point{100, 100}, 100),
			Holes: []geom.Contour{geom.CircleContour(orb.Point{100, 100}, 45).Reverse()},
		},
	}
	bracket := shop.Order{
		ID: "K-102/1", Part: "bracket, left and right", Quantity: 8, Extra: 2, Angles: []float64{0, 90, 180, 270},
		Mirror: true, GrainDeg: &grain, Due: monday,
		Shape: geom.Shape{Outer: geom.Contour{
			{P: orb.Point{0, 0}},
			{P: orb.Point{200, 0}},
			{P: orb.Point{200, 60}, Bulge: 0.41421356237309503},
			{P: orb.Point{180, 80}},
			{P: orb.Point{80, 80}},
			{P: orb.Point{80, 200}},
			{P: orb.Point{0, 200}},
		}},
	}
	sheet := shop.Stock{
		ID: "AL-6-1000x600", Material: "aluminium 6061", ThicknessMM: 6, Count: 6, Cost: 84, GrainDeg: &grain,
		Location: "rack 3", Outline: geom.RectContour(0, 0, 1000, 600),
		Blocked: []geom.Contour{geom.RectContour(0, 560, 120, 600)},
		Since:   time.Date(2031, 2, 11, 0, 0, 0, 0, time.UTC),
	}
	l := week.Layout{
		ID: "G1-L1", Sheet: 0, Repeats: 4, SheetArea: 600000, PartArea: 2*31415.9 - 2*6361.7 + 2*25600,
		Placements: []nest.Placement{
			{Part: 0, Pose: geom.Pose{X: 6, Y: 6}},
			{Part: 0, Pose: geom.Pose{X: 6, Y: 220}},
			{Part: 1, Pose: geom.Pose{X: 240, Y: 20}},
			{Part: 1, Pose: geom.Pose{X: 460, Y: 240, Mirror: true}},
		},
		Remnant: geom.RectContour(470, 5, 995, 595), RemnantID: "R-042", RemnantCredit: 21,
		Runs: []week.Run{
			{Depth: 3, Count: 1, Machine: 0, OccupiedSec: 900, Time: cost.Time{CutSec: 700, PierceSec: 80, RapidSec: 20, HandleSec: 300, CutMM: 4000, Pierces: 6}, Speed: cost.Speed{MMPerMin: 210, Law: 210, Limit: cost.LimitLaw}, Ledger: cost.Ledger{Money: cost.Money{Material: 252, Machine: 15}}},
			{Depth: 1, Count: 1, Machine: 1, OccupiedSec: 400, Time: cost.Time{CutSec: 300, CutMM: 4000, Pierces: 6}, Speed: cost.Speed{MMPerMin: 800, Law: 800, Limit: cost.LimitMotion}},
		},
		Ledger: cost.Ledger{Money: cost.Money{Material: 336, Machine: 22, Labour: 14, Abrasive: 9}, Usage: cost.Usage{WaterL: 70, AbrasiveKg: 9.5}},
	}
	g := week.Group{
		ID: "G1", Material: "aluminium 6061", ThicknessMM: 6, Grade: cost.Medium, Process: cost.Abrasive,
		SpacingMM: 3, MarginMM: 5, Parts: []shop.Order{flange, bracket}, Sheets: []shop.Stock{sheet},
		Layouts: []week.Layout{l}, Unplaced: map[int]int{0: 4}, Surplus: map[int]int{}, SheetArea: 4 * l.SheetArea, PartArea: 4 * l.PartArea,
		Ledger: l.Ledger, Seconds: 1300, RemnantCredit: 84,
		Ways: []week.Way{
			{Name: "one layout 4 times", Layouts: 1, Sheets: 4, Money: 360, Seconds: 1300, Short: 4},
			{Name: "each sheet by itself", Layouts: 4, Sheets: 4, Money: 410, Seconds: 1800, Short: 4},
		},
		Stats: nest.Stats{Won: "genetic", Effort: 2, Decodes: 400},
	}
	for i := range g.Parts {
		g.Parts[i].Material, g.Parts[i].ThicknessMM, g.Parts[i].Grade = g.Material, g.ThicknessMM, g.Grade
	}
	sampleRoute(&g, &g.Layouts[0])
	rest := sheet
	rest.Count = 2
	return &week.Plan{
		Job: "sample week", Seed: 7, Effort: 3, Currency: "EUR", Groups: []week.Group{g},
		Days: []time.Time{monday, monday.AddDate(0, 0, 1)}, WeekDays: 2,
		Machines: []week.MachineLoad{
			{ID: "jet-1", HoursPerDay: 8, Hours: []float64{8, 8}, Tables: 1, BusySec: 1500, SetupSec: 600, Setups: 1, Slots: 1},
			{ID: "jet-2", HoursPerDay: 8, Hours: []float64{8, 8}, Tables: 1, BusySec: 1000, SetupSec: 600, Setups: 1, Slots: 1},
		},
		Calendar: []week.Slot{
			{Machine: 0, Depth: 3, SetupSec: 600, WorkSec: 900, EndSec: 1500},
			{Machine: 1, Depth: 1, SetupSec: 600, WorkSec: 400, StartDay: 1, EndDay: 1, EndSec: 1000},
		},
		Orders: []week.OrderDate{
			{Order: "K-101/1", Due: flange.Due, Placed: 8, Wanted: 12, Finish: 1, FinishSec: 1000},
			{Order: "K-102/1", Due: bracket.Due, Placed: 8, Wanted: 8, Finish: 1, FinishSec: 1000, Late: true, LateDays: 1, LateSec: 1000},
		},
		Stock:    []shop.Stock{rest},
		Remnants: week.RemnantRule{MinSideMM: 200, ValueShare: 0.5, UpkeepMoney: 3.73, Sever: true, Location: "bay 2", Source: "demo"},
		Register: "rack.csv", RegisterSum: shop.RegisterSum([]byte("id")),
		Done: []week.DoneLayout{{
			ID: "G1-L9", Sheet: "AL-6-1000x600", Cut: 2, PerSheet: []week.Copies{{Order: "K-101/1", Count: 3}},
			Scrapped: []week.Copies{{Order: "K-101/1", Count: 1}},
		}},
		Changes:     []string{"G1-L9: 2 sheets cut, 1 of K-101/1 scrapped and cut again"},
		DayStartSec: 7 * 3600, OvertimePerHour: 20, ExtraShiftPerHour: 40, CuresTried: 5,
		Cures:  []week.Cure{sampleCure(monday)},
		Ledger: g.Ledger, RemnantCredit: 84, Seconds: 2500,
		SecondsRange: cost.Interval{Low: 2300, Likely: 2500, High: 2700, Level: 0.9},
		Warnings:     []string{"order K-101/1: 4 of 12 found no place: add a sheet of aluminium 6061, 6 mm"},
		Cautions:     []string{"aluminium fines in a tank give off hydrogen: ventilate and empty it regularly"},
	}
}

// sampleCure is two hours of overtime, and the layout divided, so that the late
// order is done on the first day.
func sampleCure(monday time.Time) week.Cure {
	return week.Cure{
		Steps: []week.CureStep{
			{Kind: week.Overtime, Machine: 1, Day: monday, Hours: 2},
			{Kind: week.DivideLayout, Orders: []string{"K-102/1"}},
		},
		Money: 55, Premium: 40, Saves: []string{"K-102/1"},
		Days: []time.Time{monday, monday.AddDate(0, 0, 1)}, Open: [][]float64{{8, 8}, {10, 8}},
		Calendar: []week.Slot{
			{Machine: 0, Depth: 3, SetupSec: 600, WorkSec: 500, EndSec: 1100, Piece: week.UrgentPiece},
			{Machine: 0, Depth: 3, WorkSec: 600, StartSec: 1100, EndSec: 1700, Piece: week.LaterPiece},
			{Machine: 1, Depth: 1, SetupSec: 600, WorkSec: 200, EndSec: 800, Piece: week.UrgentPiece},
			{Machine: 1, Depth: 1, WorkSec: 300, StartSec: 800, EndSec: 1100, Piece: week.LaterPiece},
		},
	}
}

// sampleRoute cuts every contour from its first vertex, with a short lead.
func sampleRoute(g *week.Group, l *week.Layout) {
	for i, p := range l.Placements {
		s := posed(g.Parts[p.Part].Shape, p.Pose)
		for h := len(s.Holes) - 1; h >= -1; h-- {
			c := s.Outer
			if h >= 0 {
				c = s.Holes[h]
			}
			at, in := c[0].P, c.Bounds().Center()
			if h < 0 {
				in = orb.Point{2*at[0] - in[0], 2*at[1] - in[1]}
			}
			d := orb.Point{in[0] - at[0], in[1] - at[1]}
			pierce := orb.Point{at[0] + d[0]*0.05, at[1] + d[1]*0.05}
			from := orb.Point{}
			if n := len(l.Route.Cuts); n > 0 {
				from = l.Route.Cuts[n-1].Contour[0].P
			}
			l.Route.Cuts = append(l.Route.Cuts, route.Cut{
				Placement: i, Hole: h, Pierce: pierce, Contour: c, LeadIn: geom.Path{{P: pierce}, {P: at}}, Rapid: []orb.Point{from, pierce},
			})
			l.Route.CutMM += c.Length()
		}
	}
	last := &l.Route.Cuts[len(l.Route.Cuts)-1]
	last.TabMM, last.Over = 1.5, 1
	l.Route.CutMM -= last.TabMM
	sever := route.Severance{
		Pierce: orb.Point{470, 604}, FromEdge: true, LeadIn: geom.Path{{P: orb.Point{470, 604}}, {P: orb.Point{470, 595}}},
		Path:    geom.Path{{P: orb.Point{470, 595}}, {P: orb.Point{470, 5}}},
		LeadOut: geom.Path{{P: orb.Point{470, 5}}, {P: orb.Point{470, -2}}},
		Rapid:   []orb.Point{last.Contour[0].P, {470, 604}}, CutMM: 590, LeadMM: 16, Over: 2,
	}
	l.Route.Severing, l.Route.SeverMM = []route.Severance{sever}, 590
}
