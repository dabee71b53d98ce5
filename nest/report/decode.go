package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"time"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest"
	"kerfold/nest/route"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// MaxPlanBytes bounds the size of a plan.json that is read.
const MaxPlanBytes = 1 << 28

// ReadPlan reads a plan.json. It refuses unknown keys, indices that point
// nowhere and numbers that are none, so that what it returns can be checked.
func ReadPlan(r io.Reader) (*week.Plan, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxPlanBytes+1))
	if err != nil {
		return nil, err
	}
	if len(data) > MaxPlanBytes {
		return nil, fmt.Errorf("the plan is larger than %d MiB: it was not written by kerfold", MaxPlanBytes>>20)
	}
	f, err := parsePlan(data)
	if err != nil {
		return nil, err
	}
	return Decode(f)
}

func parsePlan(data []byte) (*PlanFile, error) {
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, errors.New("the file is empty: give a plan.json that kerfold plan wrote")
	}
	var head struct {
		Version *int `json:"kerfold_plan"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return nil, placed(data, err)
	}
	switch {
	case head.Version == nil:
		return nil, errors.New(`no "kerfold_plan" key: give a plan.json that kerfold plan wrote`)
	case *head.Version != FormatVersion:
		return nil, fmt.Errorf("plan format %d is not one this program reads: it reads %d", *head.Version, FormatVersion)
	}
	f := &PlanFile{}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(f); err != nil {
		return nil, placed(data, err)
	}
	return f, nil
}

// placed adds the line to a JSON error, where the error knows its offset.
func placed(data []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	var at int64
	switch {
	case errors.As(err, &syntax):
		at = syntax.Offset
	case errors.As(err, &kind):
		at = kind.Offset
	default:
		return err
	}
	at = min(max(at, 0), int64(len(data)))
	return fmt.Errorf("line %d: %w", 1+bytes.Count(data[:at], []byte("\n")), err)
}

// Decode turns the form on disk into a plan. Route contours start at their
// first vertex there, not where the lead-in ends.
func Decode(f *PlanFile) (*week.Plan, error) {
	d := &decoder{machines: map[string]int{}, layouts: map[string][2]int{}, groups: map[string]int{}}
	p := d.plan(f)
	if len(d.errs) > 0 {
		return nil, d.errs[0]
	}
	return p, nil
}

// A decoder collects what is wrong while it walks the file, so that every
// step can be an expression.
type decoder struct {
	errs     []error
	machines map[string]int
	groups   map[string]int
	layouts  map[string][2]int
}

func (d *decoder) failf(format string, args ...any) {
	d.errs = append(d.errs, fmt.Errorf(format, args...))
}

func (d *decoder) plan(f *PlanFile) *week.Plan {
	p := &week.Plan{
		Job: f.Job, Units: d.units(f.Units), Seed: f.Seed, Effort: f.Effort, Currency: f.Currency, Status: d.status("plan", f.Status),
		Ledger: decodeLedger(f.Total), Between: decodeLedger(f.Between), DayStartSec: f.DayStartSec, FromSec: f.FromSec, RemnantCredit: f.RemnantCredit, Seconds: f.Seconds,
		SecondsRange: cost.Interval(f.SecondsRange), MoneyRange: cost.Interval(f.MoneyRange), WeekDays: f.WeekDays,
		Register: f.Register, RegisterSum: f.RegisterSum,
		Remnants: week.RemnantRule{
			MinSideMM: f.Remnants.MinSideMM, ValueShare: f.Remnants.ValueShare, UpkeepMoney: f.Remnants.UpkeepMoney, Sever: f.Remnants.Sever,
			Location: f.Remnants.Location, Source: cost.Source(f.Remnants.Source),
		},
		Warnings: f.Warnings, Cautions: f.Cautions, CuresTried: f.CuresTried, Changes: f.Changes, Done: each(f.Done, d.done), OvertimePerHour: f.OvertimeHour, ExtraShiftPerHour: f.ShiftHour,
	}
	p.Days = each(f.Days, func(s string) time.Time { return d.day("days", s) })
	for i, m := range f.Machines {
		d.machines[m.ID] = i
		p.Machines = append(p.Machines, week.MachineLoad{
			ID: m.ID, HoursPerDay: m.HoursPerDay, Hours: d.hours("machine "+m.ID, m.Hours, len(f.Days)), Tables: m.Tables, BusySec: m.BusySec,
			SetupSec: m.SetupSec, Setups: m.Setups, Slots: m.Slots,
		})
	}
	for i := range f.Groups {
		d.groups[f.Groups[i].ID] = i
		p.Groups = append(p.Groups, d.group(i, &f.Groups[i]))
	}
	for i, s := range f.Stock {
		p.Stock = append(p.Stock, d.sheet(fmt.Sprintf("stock_after %d", i), s))
	}
	p.Calendar = each(f.Calendar, func(s SlotFile) week.Slot { return d.slot(len(f.Days), s) })
	p.Cures = each(f.Cures, func(c CureFile) week.Cure { return d.cure(c) })
	p.Orders = each(f.Orders, func(o OrderFile) week.OrderDate { return d.order(f, o) })
	return p
}

func (d *decoder) units(word string) cost.UnitSystem {
	u, err := cost.ParseUnitSystem(word)
	if err != nil {
		d.failf("units: %w", err)
	}
	return u
}

func (d *decoder) status(where, word string) nest.Status {
	s, ok := week.ParseStatus(word)
	if !ok {
		d.failf("%s: unknown status %q", where, word)
	}
	return s
}

func (d *decoder) day(where, s string) time.Time {
	if s == "" {
		return time.Time{}
	}
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		d.failf("%s: %q is no date: write it as 2031-03-07", where, s)
	}
	return t
}

func (d *decoder) group(index int, f *GroupFile) week.Group {
	where := "group " + f.ID
	grade, err := cost.ParseGrade(f.Grade)
	if err != nil {
		d.failf("%s: %w", where, err)
	}
	if f.SpacingMM < 0 || f.MarginMM < 0 || f.ThicknessMM <= 0 {
		d.failf("%s: spacing %v, margin %v and thickness %v must not be negative, thickness not 0",
			where, f.SpacingMM, f.MarginMM, f.ThicknessMM)
	}
	g := week.Group{
		ID: f.ID, Material: f.Material, ThicknessMM: f.ThicknessMM, Grade: grade, Process: cost.Process(f.Process),
		SpacingMM: f.SpacingMM, MarginMM: f.MarginMM, SheetArea: f.SheetMM2, PartArea: f.PartMM2,
		Ledger: decodeLedger(f.Cost), RemnantCredit: f.RemnantCredit, Seconds: f.Seconds,
		SecondsRange: cost.Interval(f.SecondsRange), MoneyRange: cost.Interval(f.MoneyRange),
		Status: d.status(where, f.Status), Warnings: f.Warnings, Cautions: f.Cautions, Ways: each(f.Ways, decodeWay),
		Bound: week.Bound(f.Bound),
		Stats: nest.Stats{Won: f.Search.Arm, Effort: f.Search.Effort, Decodes: f.Search.Decodes, Moves: f.Search.Moves},
	}
	for _, pf := range f.Parts {
		g.Parts = append(g.Parts, d.part(where, &g, pf))
	}
	for i, s := range f.Sheets {
		g.Sheets = append(g.Sheets, d.sheet(fmt.Sprintf("%s: sheet %d", where, i), s))
	}
	for i := range f.Layouts {
		d.layouts[f.Layouts[i].ID] = [2]int{index, i}
		g.Layouts = append(g.Layouts, d.layout(&g, &f.Layouts[i]))
	}
	g.Unplaced = d.counts(where+": unplaced", f.Unplaced, len(g.Parts))
	g.Surplus = d.counts(where+": surplus", f.Surplus, len(g.Parts))
	return g
}

func (d *decoder) counts(where string, f []CountFile, parts int) map[int]int {
	counts := map[int]int{}
	for _, c := range f {
		if d.inside(where+": part", c.Part, parts) {
			counts[c.Part] = c.Count
		}
	}
	return counts
}

func decodeWay(w WayFile) week.Way {
	return week.Way{
		Name: w.Name, Layouts: w.Layouts, Sheets: w.Sheets, Surplus: w.Surplus,
		Short: w.Short, Money: w.Money, Late: w.Late, Moved: w.Moved, LateKnown: w.LateKnown, Seconds: w.Seconds,
	}
}

func (d *decoder) inside(where string, i, n int) bool {
	if i < 0 || i >= n {
		d.failf("%s %d does not exist: there are %d", where, i, n)
		return false
	}
	return true
}

func (d *decoder) contour(where string, f ContourFile) geom.Contour {
	c := make(geom.Contour, 0, len(f))
	for i, v := range f {
		if len(v) != 2 && len(v) != 3 {
			d.failf("%s: vertex %d has %d numbers: write [x, y] or [x, y, bulge]", where, i, len(v))
			return nil
		}
		vert := geom.Vertex{P: orb.Point{v[0], v[1]}}
		if len(v) == 3 {
			vert.Bulge = v[2]
		}
		if math.Abs(vert.P[0]) > geom.MaxCoordinate || math.Abs(vert.P[1]) > geom.MaxCoordinate || math.Abs(vert.Bulge) > maxBulge {
			d.failf("%s: vertex %d is out of range", where, i)
			return nil
		}
		c = append(c, vert)
	}
	return c
}

// maxBulge bounds a bulge read from a file: beyond it an arc's gap is under a
// millionth of its circle, and the circle's radius is lost in rounding.
const maxBulge = 1 << 20

func (d *decoder) closed(where string, f ContourFile) geom.Contour {
	if len(f) < 2 {
		d.failf("%s: %d vertices enclose nothing", where, len(f))
		return nil
	}
	return d.contour(where, f)
}

func (d *decoder) part(group string, g *week.Group, f PartFile) shop.Order {
	where := fmt.Sprintf("%s: order %s", group, f.Order)
	if f.Quantity < 0 || f.Extra < 0 {
		d.failf("%s: quantity %d and extra %d must not be negative", where, f.Quantity, f.Extra)
	}
	o := shop.Order{
		ID: f.Order, Part: f.Part, Customer: f.Customer, Note: f.Note,
		Quantity: f.Quantity, Extra: f.Extra, Material: g.Material, ThicknessMM: g.ThicknessMM, Grade: g.Grade,
		Angles: f.Angles, FreeAngle: f.FreeAngle, Mirror: f.Mirror, GrainDeg: f.GrainDeg,
		Kit: f.Kit, PerKit: f.PerKit, Filler: f.Filler, ToleranceMM: f.ToleranceMM,
		Due: d.day(where, f.Due), DueSec: f.DueSec, Priority: f.Priority,
	}
	o.Shape.Outer = d.closed(where+": outer contour", f.Outer)
	for i, h := range f.Holes {
		o.Shape.Holes = append(o.Shape.Holes, d.closed(fmt.Sprintf("%s: hole %d", where, i), h))
	}
	return o
}

func (d *decoder) sheet(where string, f SheetFile) shop.Stock {
	s := shop.Stock{
		ID: f.ID, Material: f.Material, ThicknessMM: f.ThicknessMM, Count: f.Count, Cost: f.Cost,
		Outline: d.closed(where+": outline", f.Outline), GrainDeg: f.GrainDeg, Remnant: f.Remnant,
		Lot: f.Lot, Location: f.Location, Since: d.day(where, f.Since), Source: f.Source,
		Origin: f.Origin, Note: f.Note,
	}
	for i, b := range f.Blocked {
		s.Blocked = append(s.Blocked, d.closed(fmt.Sprintf("%s: blocked zone %d", where, i), b))
	}
	return s
}

func (d *decoder) layout(g *week.Group, f *LayoutFile) week.Layout {
	where := "layout " + f.ID
	d.inside(where+": sheet", f.Sheet, len(g.Sheets))
	if f.Repeats < 1 {
		d.failf("%s: repeats %d is less than 1", where, f.Repeats)
	}
	l := week.Layout{
		ID: f.ID, Sheet: f.Sheet, Repeats: f.Repeats, SheetArea: f.SheetMM2, PartArea: f.PartMM2,
		Ledger: decodeLedger(f.Cost), RemnantID: f.RemnantID, RemnantCredit: f.RemnantCredit,
		Route: route.Route{CutMM: f.CutMM, LeadMM: f.LeadMM, RapidMM: f.RapidMM, SeverMM: f.SeverMM, Warnings: f.Notes},
		Runs:  each(f.Runs, func(r RunFile) week.Run { return d.run(where, r) }),
	}
	if len(f.Remnant) > 0 {
		l.Remnant = d.closed(where+": remnant", f.Remnant)
	}
	for _, p := range f.Placements {
		d.inside(where+": part", p.Part, len(g.Parts))
		if math.Abs(p.X) > geom.MaxCoordinate || math.Abs(p.Y) > geom.MaxCoordinate {
			d.failf("%s: a part at (%v, %v) is out of range", where, p.X, p.Y)
		}
		l.Placements = append(l.Placements, nest.Placement{
			Part: p.Part, Pose: geom.Pose{X: p.X, Y: p.Y, AngleDeg: p.Angle, Mirror: p.Mirror},
		})
	}
	if len(d.errs) == 0 {
		for _, s := range f.Severing {
			l.Route.Severing = append(l.Route.Severing, d.severance(where, s))
		}
		l.Route.Cuts = each(f.Cuts, func(c CutFile) route.Cut { return d.cut(where, g, &l, c) })
	}
	return l
}

func (d *decoder) cut(where string, g *week.Group, l *week.Layout, f CutFile) route.Cut {
	c := route.Cut{Placement: f.Placement, Hole: f.Hole, Pierce: f.Pierce}
	if !d.inside(where+": cut of placement", f.Placement, len(l.Placements)) {
		return c
	}
	pl := l.Placements[f.Placement]
	shape := &g.Parts[pl.Part].Shape
	if !d.inside(where+": cut of hole", f.Hole+1, len(shape.Holes)+1) {
		return c
	}
	contour := shape.Outer
	if f.Hole >= 0 {
		contour = shape.Holes[f.Hole]
	}
	c.Contour = contour.Transform(pl.Pose)
	c.LeadIn, c.LeadOut = d.path(where+": lead-in", f.LeadIn), d.path(where+": lead-out", f.LeadOut)
	c.TabMM, c.Rapid, c.Over = f.TabMM, d.way(where, f.Rapid), f.Over
	if !(f.TabMM >= 0 && f.TabMM < c.Contour.Length()) {
		d.failf("%s: a tab of %v mm in a contour of %v mm", where, f.TabMM, c.Contour.Length())
	}
	return c
}

func (d *decoder) severance(where string, f SeverFile) route.Severance {
	s := route.Severance{
		Pierce: f.Pierce, FromEdge: f.FromEdge, Over: f.Over,
		LeadIn: d.path(where+": lead-in", f.LeadIn), LeadOut: d.path(where+": lead-out", f.LeadOut),
		Path: d.path(where+": severing cut", f.Path), Rapid: d.way(where, f.Rapid),
	}
	if len(s.Path) < 2 {
		d.failf("%s: a severing cut of %d points cuts nothing", where, len(s.Path))
	}
	s.CutMM, s.LeadMM = s.Path.Length(), s.LeadIn.Length()+s.LeadOut.Length()
	return s
}

// path is nil for a key left out.
func (d *decoder) path(where string, f ContourFile) geom.Path {
	if f == nil {
		return nil
	}
	return geom.Path(d.contour(where, f))
}

func (d *decoder) way(where string, f ContourFile) []orb.Point {
	var out []orb.Point
	for _, v := range d.path(where+": rapid move", f) {
		out = append(out, v.P)
	}
	return out
}

func (d *decoder) machine(where, id string) int {
	i, ok := d.machines[id]
	if !ok {
		d.failf("%s: machine %q is not in the plan", where, id)
	}
	return i
}

func (d *decoder) run(where string, f RunFile) week.Run {
	if f.Depth < 1 || f.Count < 1 {
		d.failf("%s: a run of depth %d, %d times cuts nothing", where, f.Depth, f.Count)
	}
	return week.Run{
		Depth: f.Depth, Count: f.Count, Machine: d.machine(where, f.Machine), OccupiedSec: f.OccupiedSec,
		Time: cost.Time{
			CutSec: f.CutSec, PierceSec: f.PierceSec, RapidSec: f.RapidSec, HandleSec: f.HandleSec,
			CutMM: f.CutMM, Pierces: f.Pierces, LawSec: f.LawSec, CapSec: f.CapSec, MotionSec: f.MotionSec, LagSec: f.LagSec,
		},
		Speed:  cost.Speed{MMPerMin: f.FeedMMMin, Law: f.LawMMMin, Limit: cost.Limit(f.Limit)},
		Ledger: decodeLedger(f.Cost),
	}
}

func decodeLedger(f LedgerFile) cost.Ledger {
	return cost.Ledger{Money: cost.Money(f.Money), Usage: cost.Usage(f.Usage)}
}

func (d *decoder) slot(days int, s SlotFile) week.Slot {
	where := "calendar: " + s.Layout
	at, ok := d.layouts[s.Layout]
	if !ok {
		d.failf("%s: no such layout", where)
	}
	d.inside(where+": day", s.StartDay, days)
	d.inside(where+": day", s.EndDay, days)
	return week.Slot{
		Machine: d.machine(where, s.Machine), Group: at[0], Layout: at[1], Depth: s.Depth,
		Piece: d.piece(where, s.Piece), SetupSec: s.SetupSec, WorkSec: s.WorkSec, LoadSec: s.LoadSec,
		StartDay: s.StartDay, StartSec: s.StartSec, EndDay: s.EndDay, EndSec: s.EndSec,
	}
}

func (d *decoder) order(f *PlanFile, o OrderFile) week.OrderDate {
	where := "order " + o.Order
	g, ok := d.groups[o.Group]
	if !ok {
		d.failf("%s: no group %q", where, o.Group)
	}
	d.inside(where+": finish day", o.FinishDay+1, len(f.Days)+1)
	return week.OrderDate{
		Order: o.Order, Group: g, Due: d.day(where, o.Due), DueSec: o.DueSec, Placed: o.Placed, Wanted: o.Wanted,
		Finish: o.FinishDay, FinishSec: o.FinishSec, Late: o.Late, LateDays: o.LateDays, LateSec: o.LateSec,
	}
}

// hours are a machine's on each of so many days.
func (d *decoder) hours(where string, hours []float64, days int) []float64 {
	if len(hours) != days {
		d.failf("%s: hours of %d days, there are %d days", where, len(hours), days)
		return make([]float64, days)
	}
	for _, h := range hours {
		if !(h >= 0 && h <= 24) {
			d.failf("%s: a day of %v hours", where, h)
		}
	}
	return hours
}

func (d *decoder) done(f DoneFile) week.DoneLayout {
	copies := func(c CopiesFile) week.Copies {
		if c.Count < 1 {
			d.failf("done: layout %s: %d copies of %s", f.Layout, c.Count, c.Order)
		}
		return week.Copies(c)
	}
	if f.Cut < 0 {
		d.failf("done: layout %s: %d sheets cut", f.Layout, f.Cut)
	}
	return week.DoneLayout{ID: f.Layout, Sheet: f.Sheet, Cut: f.Cut, PerSheet: each(f.PerSheet, copies), Scrapped: each(f.Scrapped, copies)}
}

func (d *decoder) piece(where, word string) week.Piece {
	p := week.Piece(word)
	if p != week.WholeLayout && p != week.UrgentPiece && p != week.LaterPiece {
		d.failf("%s: unknown piece %q", where, word)
	}
	return p
}

func (d *decoder) cure(f CureFile) week.Cure {
	c := week.Cure{
		Money: f.Money, Premium: f.Premium, Saves: f.Saves,
		Days:     each(f.Days, func(s string) time.Time { return d.day("cure: days", s) }),
		Calendar: each(f.Calendar, func(s SlotFile) week.Slot { return d.slot(len(f.Days), s) }),
		Steps:    each(f.Steps, d.step),
	}
	if len(f.Open) != len(d.machines) {
		d.failf("cure: hours of %d machines, there are %d", len(f.Open), len(d.machines))
	}
	c.Open = each(f.Open, func(h []float64) []float64 { return d.hours("cure: open", h, len(f.Days)) })
	return c
}

func (d *decoder) step(f StepFile) week.CureStep {
	s := week.CureStep{Kind: week.CureKind(f.Kind), Hours: f.Hours, Depth: f.Depth, Orders: f.Orders}
	switch {
	case !s.Known():
		d.failf("cure: unknown kind %q", f.Kind)
	case s.OfHours():
		s.Machine, s.Day = d.machine("cure: "+f.Kind, f.Machine), d.day("cure: "+f.Kind, f.Day)
	default:
		at, ok := d.layouts[f.Layout]
		if !ok {
			d.failf("cure: %s: no layout %q", f.Kind, f.Layout)
		}
		s.Group, s.Layout = at[0], at[1]
	}
	return s
}
