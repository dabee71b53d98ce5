package report

import (
	"encoding/json"
	"io"
	"time"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/route"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// WritePlan writes plan.json.
func WritePlan(w io.Writer, p *week.Plan) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(Encode(p))
}

// Encode gives a plan the form it has on disk.
func Encode(p *week.Plan) PlanFile {
	return PlanFile{
		Version: FormatVersion, Job: p.Job, Units: encodeUnits(p.Units), Seed: p.Seed, Effort: p.Effort,
		Status: week.StatusWord(p.Status), Currency: p.Currency, Total: encodeLedger(p.Ledger), Between: encodeLedger(p.Between), RemnantCredit: p.RemnantCredit, Seconds: p.Seconds,
		SecondsRange: RangeFile(p.SecondsRange), MoneyRange: RangeFile(p.MoneyRange),
		Days: each(p.Days, encodeDay), WeekDays: p.WeekDays, DayStartSec: p.DayStartSec, FromSec: p.FromSec,
		Machines: each(p.Machines, encodeMachine),
		Groups:   each(p.Groups, func(g week.Group) GroupFile { return encodeGroup(p, &g) }),
		Calendar: each(p.Calendar, func(s week.Slot) SlotFile { return encodeSlot(p, s) }),
		Orders:   each(p.Orders, func(o week.OrderDate) OrderFile { return encodeOrder(p, o) }),
		Cures:    each(p.Cures, func(c week.Cure) CureFile { return encodeCure(p, c) }), CuresTried: p.CuresTried,
		OvertimeHour: p.OvertimePerHour, ShiftHour: p.ExtraShiftPerHour,
		Done: each(p.Done, encodeDone), Changes: words(p.Changes),
		Stock:    each(p.Stock, encodeSheet),
		Remnants: encodeRule(p.Remnants), Register: p.Register, RegisterSum: p.RegisterSum,
		Warnings: words(p.Warnings), Cautions: words(p.Cautions),
	}
}

// encodeUnits is the word for what people read the plan in; metric is not said.
func encodeUnits(u cost.UnitSystem) string {
	if u == cost.Metric {
		return ""
	}
	return u.String()
}

func encodeRule(r week.RemnantRule) RuleFile {
	return RuleFile{
		MinSideMM: r.MinSideMM, ValueShare: r.ValueShare, UpkeepMoney: r.UpkeepMoney, Sever: r.Sever,
		Location: r.Location, Source: string(r.Source),
	}
}

// each maps a slice; the result is never nil, so that JSON shows [].
func each[A, B any](in []A, f func(A) B) []B {
	out := make([]B, 0, len(in))
	for _, a := range in {
		out = append(out, f(a))
	}
	return out
}

func words(in []string) []string { return each(in, func(s string) string { return s }) }

func encodeDay(d time.Time) string {
	if d.IsZero() {
		return ""
	}
	return d.Format(time.DateOnly)
}

func encodeGroup(p *week.Plan, g *week.Group) GroupFile {
	return GroupFile{
		ID: g.ID, Material: g.Material, ThicknessMM: g.ThicknessMM, Grade: g.Grade.String(),
		Process: string(g.Process), SpacingMM: g.SpacingMM, MarginMM: g.MarginMM, Status: week.StatusWord(g.Status),
		Yield: g.Yield(), SheetMM2: g.SheetArea, PartMM2: g.PartArea, Seconds: g.Seconds,
		SecondsRange: RangeFile(g.SecondsRange), MoneyRange: RangeFile(g.MoneyRange),
		Cost: encodeLedger(g.Ledger), RemnantCredit: g.RemnantCredit,
		Parts: each(g.Parts, encodePart), Sheets: each(g.Sheets, encodeSheet),
		Layouts:  each(g.Layouts, func(l week.Layout) LayoutFile { return encodeLayout(p, &l) }),
		Unplaced: encodeCounts(g, g.Unplaced), Surplus: encodeCounts(g, g.Surplus), Ways: encodeWays(g.Ways), Bound: BoundFile(g.Bound),
		Search:   SearchFile{Arm: g.Stats.Won, Effort: g.Stats.Effort, Decodes: g.Stats.Decodes, Moves: g.Stats.Moves},
		Warnings: words(g.Warnings), Cautions: words(g.Cautions),
	}
}

func encodeContour(c geom.Contour) ContourFile {
	return each(c, func(v geom.Vertex) []float64 {
		if v.Bulge == 0 {
			return []float64{v.P[0], v.P[1]}
		}
		return []float64{v.P[0], v.P[1], v.Bulge}
	})
}

func encodePart(o shop.Order) PartFile {
	return PartFile{
		Order: o.ID, Part: o.Part, Customer: o.Customer, Note: o.Note,
		Outer: encodeContour(o.Shape.Outer), Holes: each(o.Shape.Holes, encodeContour),
		Quantity: o.Quantity, Extra: o.Extra, Angles: o.Angles, FreeAngle: o.FreeAngle, Mirror: o.Mirror,
		GrainDeg: o.GrainDeg, Kit: o.Kit, PerKit: o.PerKit, Filler: o.Filler, ToleranceMM: o.ToleranceMM,
		Due: encodeDay(o.Due), DueSec: o.DueSec, Priority: o.Priority,
	}
}

func encodeSheet(s shop.Stock) SheetFile {
	return SheetFile{
		ID: s.ID, Material: s.Material, ThicknessMM: s.ThicknessMM,
		Outline: encodeContour(s.Outline), Blocked: each(s.Blocked, encodeContour),
		Count: s.Count, Cost: s.Cost, GrainDeg: s.GrainDeg, Remnant: s.Remnant,
		Lot: s.Lot, Location: s.Location, Since: encodeDay(s.Since), Source: s.Source,
		Origin: s.Origin, Note: s.Note,
	}
}

func encodeLayout(p *week.Plan, l *week.Layout) LayoutFile {
	f := LayoutFile{
		ID: l.ID, Sheet: l.Sheet, Repeats: l.Repeats, Yield: l.Yield(), SheetMM2: l.SheetArea, PartMM2: l.PartArea,
		Cost: encodeLedger(l.Ledger), RemnantID: l.RemnantID, RemnantCredit: l.RemnantCredit,
		Runs:  each(l.Runs, func(r week.Run) RunFile { return encodeRun(p, r) }),
		CutMM: l.Route.CutMM, LeadMM: l.Route.LeadMM, RapidMM: l.Route.RapidMM,
		Cuts: each(l.Route.Cuts, encodeCut), Notes: l.Route.Warnings,
		Placements: make([]PlacementFile, 0, len(l.Placements)),
	}
	if len(l.Route.Severing) > 0 {
		f.SeverMM, f.Severing = l.Route.SeverMM, each(l.Route.Severing, encodeSever)
	}
	if l.Remnant != nil {
		f.Remnant = encodeContour(l.Remnant)
	}
	for _, pl := range l.Placements {
		q := pl.Pose
		f.Placements = append(f.Placements, PlacementFile{Part: pl.Part, X: q.X, Y: q.Y, Angle: q.AngleDeg, Mirror: q.Mirror})
	}
	return f
}

func encodeCut(c route.Cut) CutFile {
	return CutFile{
		Placement: c.Placement, Hole: c.Hole, Pierce: c.Pierce, LeadIn: encodePath(c.LeadIn), LeadOut: encodePath(c.LeadOut),
		TabMM: c.TabMM, Rapid: encodeWay(c.Rapid), Over: c.Over,
	}
}

func encodeSever(s route.Severance) SeverFile {
	return SeverFile{
		Pierce: s.Pierce, FromEdge: s.FromEdge, LeadIn: encodePath(s.LeadIn), Path: encodePath(s.Path),
		LeadOut: encodePath(s.LeadOut), Rapid: encodeWay(s.Rapid), Over: s.Over,
	}
}

// encodePath is nil for no path, so that the key is left out.
func encodePath(p geom.Path) ContourFile {
	if p == nil {
		return nil
	}
	return encodeContour(geom.Contour(p))
}

func encodeWay(pts []orb.Point) ContourFile {
	if pts == nil {
		return nil
	}
	return each(pts, func(p orb.Point) []float64 { return []float64{p[0], p[1]} })
}

func encodeRun(p *week.Plan, r week.Run) RunFile {
	return RunFile{
		Depth: r.Depth, Count: r.Count, Machine: p.Machines[r.Machine].ID,
		FeedMMMin: r.Speed.MMPerMin, LawMMMin: r.Speed.Law, Limit: string(r.Speed.Limit),
		Pierces: r.Time.Pierces, CutMM: r.Time.CutMM, CutSec: r.Time.CutSec, PierceSec: r.Time.PierceSec,
		RapidSec: r.Time.RapidSec, HandleSec: r.Time.HandleSec, OccupiedSec: r.OccupiedSec,
		LawSec: r.Time.LawSec, CapSec: r.Time.CapSec, MotionSec: r.Time.MotionSec, LagSec: r.Time.LagSec,
		Cost: encodeLedger(r.Ledger),
	}
}

func encodeLedger(l cost.Ledger) LedgerFile {
	return LedgerFile{Total: l.Money.Total(), Money: MoneyFile(l.Money), Usage: UsageFile(l.Usage)}
}

func encodeCounts(g *week.Group, counts map[int]int) []CountFile {
	out := []CountFile{}
	for i := range g.Parts {
		if n := counts[i]; n > 0 {
			out = append(out, CountFile{Part: i, Count: n})
		}
	}
	return out
}

func encodeWays(ways []week.Way) []WayFile {
	out := make([]WayFile, 0, len(ways))
	for i, w := range ways {
		out = append(out, WayFile{
			Name: w.Name, Chosen: i == 0, Layouts: w.Layouts, Sheets: w.Sheets,
			Surplus: w.Surplus, Short: w.Short, Money: w.Money, Late: w.Late, Moved: w.Moved, LateKnown: w.LateKnown, Seconds: w.Seconds,
		})
	}
	return out
}

func encodeMachine(m week.MachineLoad) MachineFile {
	return MachineFile{
		ID: m.ID, HoursPerDay: m.HoursPerDay, Hours: each(m.Hours, sameFloat), Tables: m.Tables, BusySec: m.BusySec,
		SetupSec: m.SetupSec, Setups: m.Setups, Slots: m.Slots,
	}
}

func encodeSlot(p *week.Plan, s week.Slot) SlotFile {
	return SlotFile{
		Machine: p.Machines[s.Machine].ID, Layout: p.Groups[s.Group].Layouts[s.Layout].ID, Depth: s.Depth,
		Piece: string(s.Piece), SetupSec: s.SetupSec, WorkSec: s.WorkSec, LoadSec: s.LoadSec,
		StartDay: s.StartDay, StartSec: s.StartSec, EndDay: s.EndDay, EndSec: s.EndSec,
	}
}

func encodeOrder(p *week.Plan, o week.OrderDate) OrderFile {
	return OrderFile{
		Order: o.Order, Group: p.Groups[o.Group].ID, Wanted: o.Wanted, Placed: o.Placed, Due: encodeDay(o.Due), DueSec: o.DueSec,
		FinishDay: o.Finish, FinishSec: o.FinishSec, Late: o.Late, LateDays: o.LateDays, LateSec: o.LateSec,
	}
}

func encodeDone(l week.DoneLayout) DoneFile {
	copies := func(c week.Copies) CopiesFile { return CopiesFile(c) }
	return DoneFile{Layout: l.ID, Sheet: l.Sheet, Cut: l.Cut, PerSheet: each(l.PerSheet, copies), Scrapped: each(l.Scrapped, copies)}
}

func sameFloat(x float64) float64 { return x }

func encodeCure(p *week.Plan, c week.Cure) CureFile {
	return CureFile{
		Steps: each(c.Steps, func(s week.CureStep) StepFile { return encodeStep(p, s) }), Money: c.Money, Premium: c.Premium,
		Saves: words(c.Saves), Days: each(c.Days, encodeDay),
		Open:     each(c.Open, func(h []float64) []float64 { return each(h, sameFloat) }),
		Calendar: each(c.Calendar, func(s week.Slot) SlotFile { return encodeSlot(p, s) }),
	}
}

func encodeStep(p *week.Plan, s week.CureStep) StepFile {
	f := StepFile{Kind: string(s.Kind), Hours: s.Hours, Day: encodeDay(s.Day), Depth: s.Depth, Orders: s.Orders}
	if s.OfHours() {
		f.Machine = p.Machines[s.Machine].ID
	} else {
		f.Layout = p.Groups[s.Group].Layouts[s.Layout].ID
	}
	return f
}
