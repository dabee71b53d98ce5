package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"slices"

	"kerfold/cost"
	"kerfold/nest/report"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// StackCmd compares stack depths.
type StackCmd struct {
	byHand
	What string `arg:"" help:"A job file (YAML); or a drawing (DXF, SVG); or a size in mm: 120x80 for a rectangle, 90 for a disc, 4x2 in."`

	Order    []string `help:"Only this order of the job, with all details; may be given several times." placeholder:"ID" group:"What to cut"`
	Quantity int      `help:"How many of each part; default is what the order asks for, or 100." placeholder:"N" group:"What to cut"`

	Machine string `help:"Only this machine; default is the cheapest." placeholder:"ID" group:"What to cut it with"`
	Sheet   string `help:"Sheet to lay out on: a stock id, or a size such as 1000x2000. Default: the largest whole sheet in stock, or 1000x2000." group:"What to cut it with"`
	Depth   int    `help:"Deepest stack to compare; default is as deep as material and machine allow." placeholder:"N" group:"What to cut it with"`

	Gap    *float64 `help:"Air between two layers, in mm; default from the rates, 0 there." placeholder:"MM" group:"How stacks are made"`
	Clamp  *float64 `help:"Share of the solid's speed that a clamped stack reaches; default from the rates, 0.9 there." placeholder:"N" group:"How stacks are made"`
	Covers *int     `help:"Sacrificial sheets of a stack, 0 to 2." placeholder:"N" group:"How stacks are made"`
	Cover  *float64 `name:"cover-mm" help:"Thickness of a cover sheet, in mm." placeholder:"MM" group:"How stacks are made"`
	Prep   *float64 `name:"prep-s" help:"Seconds to square and clamp a stack." placeholder:"S" group:"How stacks are made"`
	Layer  *float64 `name:"layer-s" help:"Seconds for each layer of a stack." placeholder:"S" group:"How stacks are made"`

	CSV     string `name:"csv" help:"Write all depths as a table; - is standard output, in place of the text." placeholder:"FILE" group:"What to write"`
	JSON    string `name:"json" help:"Write all depths as JSON; - is standard output, in place of the text." placeholder:"FILE" group:"What to write"`
	SVG     string `name:"svg" help:"Draw seconds and money over the depth, one order only." placeholder:"FILE" group:"What to write"`
	Explain bool   `help:"Print how the cheapest depth's time and price come about: every formula, input and source." group:"What to write"`
	inUnits `embed:"" group:"What to write"`
	Effort  float64 `help:"Work to spend on filling a sheet; default 0.3 for one order, 0.03 each for several." placeholder:"N" group:"What to write"`
	Seed    uint64  `help:"Root of all random choices." default:"1" group:"What to write"`
}

// Run compares the depths and writes what was asked for.
func (cmd *StackCmd) Run(c *console) error {
	if err := cmd.validate(); err != nil {
		return err
	}
	job, orders, err := cmd.load(c)
	if err != nil {
		return err
	}
	if err := cmd.adjust(job, orders); err != nil {
		return err
	}
	if err := cmd.inUnits.put(job); err != nil {
		return err
	}
	ctx, in := listen(context.Background(), c)
	defer in.close()
	found, errs := week.StudyOrders(ctx, job, orders, cmd.options(len(orders)))
	var studies []*week.Study
	for i, s := range found {
		if s != nil {
			studies = append(studies, s)
		} else {
			c.say("%v", errs[i])
		}
	}
	if err := cmd.write(c, studies, len(orders) == 1 || len(cmd.Order) > 0, job.Units); err != nil {
		return err
	}
	if len(studies) < len(orders) {
		return errProblems
	}
	return nil
}

func (cmd *StackCmd) validate() error {
	if !(cmd.Effort >= 0) || cmd.Effort > 1e4 {
		return fmt.Errorf("--effort is %v: give a number above 0", cmd.Effort)
	}
	if cmd.Depth < 0 {
		return errors.New("--depth: give a number above 0")
	}
	if cmd.Quantity != 0 {
		if err := shop.CheckQuantity(cmd.Quantity); err != nil {
			return fmt.Errorf("--quantity: %w", err)
		}
	}
	if cmd.CSV == "-" && cmd.JSON == "-" {
		return errors.New("--csv and --json both go to standard output: give one of them a file")
	}
	for _, out := range []string{cmd.CSV, cmd.JSON, cmd.SVG} {
		for _, in := range []string{cmd.What, cmd.Job} {
			if out != "" && out != "-" && in != "" && sameFile(out, in) {
				return fmt.Errorf("%s is an input of this command: name another file", out)
			}
		}
	}
	return nil
}

// Work for filling one sheet: for a single order, and for each of several.
const (
	oneEffort  = 0.3
	manyEffort = 0.03
)

func (cmd *StackCmd) options(orders int) week.StudyOptions {
	o := week.StudyOptions{Machine: cmd.Machine, Sheet: cmd.Sheet, MaxDepth: cmd.Depth, Seed: cmd.Seed, Effort: cmd.Effort, Workers: runtime.GOMAXPROCS(0)}
	switch {
	case o.Effort > 0:
	case orders == 1:
		o.Effort = oneEffort
	default:
		o.Effort = manyEffort
	}
	return o
}

// load makes the job and picks the orders to compare.
func (cmd *StackCmd) load(c *console) (*shop.Job, []int, error) {
	if isJobFile(cmd.What) {
		return cmd.fromJob()
	}
	if _, err := cmd.thickness(); err != nil {
		return nil, nil, err
	}
	parts, err := shapesOf(cmd.What)
	if err != nil {
		return nil, nil, err
	}
	job, err := cmd.equipment(c)
	if err != nil {
		return nil, nil, err
	}
	if job.Orders, err = cmd.orders(job, cmd.What, parts, 100); err != nil {
		return nil, nil, err
	}
	orders, err := pick(cmd.What, job, nil)
	return job, orders, err
}

func (cmd *StackCmd) fromJob() (*shop.Job, []int, error) {
	if err := cmd.noneOf(); err != nil {
		return nil, nil, err
	}
	job, err := loadJob(cmd.What)
	if err != nil {
		return nil, nil, err
	}
	orders, err := pick(cmd.What, job, cmd.Order)
	return job, orders, err
}

// adjust applies the flags that change the job.
func (cmd *StackCmd) adjust(job *shop.Job, orders []int) error {
	for _, i := range orders {
		if cmd.Quantity > 0 {
			job.Orders[i].Quantity = cmd.Quantity
		}
		if cmd.Tol != nil {
			job.Orders[i].ToleranceMM = *cmd.Tol
		}
	}
	r := &job.Rates
	for _, set := range []struct {
		from *float64
		to   *float64
	}{{cmd.Gap, &r.LayerGapMM}, {cmd.Clamp, &r.ClampFactor}, {cmd.Cover, &r.CoverMM}, {cmd.Prep, &r.StackPrepSec}, {cmd.Layer, &r.StackLayerSec}} {
		if set.from != nil {
			*set.to = *set.from
		}
	}
	if cmd.Covers != nil {
		r.CoverSheets = *cmd.Covers
	}
	return cmd.sheets(job, orders)
}

// sheets adds the sheet given by size, or a usual one where stock has none.
func (cmd *StackCmd) sheets(job *shop.Job, orders []int) error {
	size := cmd.Sheet
	if slices.ContainsFunc(job.Stock, func(s shop.Stock) bool { return s.ID == size }) {
		return nil
	}
	if size == "" {
		if hasStock(job, orders) {
			return nil
		}
		size = "1000x2000"
	}
	x, y, err := rectangle("--sheet", size)
	if err != nil {
		return err
	}
	price, err := cmd.sheetPrice()
	if err != nil {
		return err
	}
	cmd.Sheet = size
	seen := map[shop.Group]bool{}
	for _, i := range orders {
		o := &job.Orders[i]
		if g := (shop.Group{Material: o.Material, ThicknessMM: o.ThicknessMM}); !seen[g] {
			seen[g] = true
			job.Stock = append(job.Stock, shop.SheetByHand(size, o.Material, o.ThicknessMM, x, y, price))
		}
	}
	return nil
}

func hasStock(job *shop.Job, orders []int) bool {
	for _, i := range orders {
		o := &job.Orders[i]
		if !slices.ContainsFunc(job.Stock, func(s shop.Stock) bool { return s.Material == o.Material && s.ThicknessMM == o.ThicknessMM }) {
			return false
		}
	}
	return true
}

// write puts the studies where they are wanted.
func (cmd *StackCmd) write(c *console, studies []*week.Study, details bool, units cost.UnitSystem) error {
	if cmd.SVG != "" && len(studies) > 1 {
		return fmt.Errorf("--svg draws one order, and there are %d: name one with --order", len(studies))
	}
	for _, f := range []struct {
		name  string
		write func(io.Writer) error
		skip  bool
	}{
		{cmd.CSV, func(w io.Writer) error { return report.WriteStudyCSV(w, studies) }, false},
		{cmd.JSON, func(w io.Writer) error { return report.WriteStudyJSON(w, studies) }, false},
		{cmd.SVG, func(w io.Writer) error { return report.WriteStudySVG(w, studies[0], units) }, len(studies) == 0},
	} {
		if f.name == "" || f.skip {
			continue
		}
		if err := writeTo(c, f.name, f.write); err != nil {
			return err
		}
	}
	if cmd.CSV == "-" || cmd.JSON == "-" || len(studies) == 0 {
		return nil
	}
	return cmd.text(c, studies, details, units)
}

// writeTo writes to standard output for -, else to a file, whole.
func writeTo(c *console, name string, write func(io.Writer) error) error {
	if name == "-" {
		return write(c.out)
	}
	var buf bytes.Buffer
	if err := write(&buf); err != nil {
		return err
	}
	if err := writeWhole(name, buf.Bytes()); err != nil {
		return err
	}
	c.say("wrote %s", name)
	return nil
}

func (cmd *StackCmd) text(c *console, studies []*week.Study, details bool, units cost.UnitSystem) error {
	if !details {
		return report.WriteStudyList(c.out, studies, units)
	}
	for i, s := range studies {
		if i > 0 {
			fmt.Fprintln(c.out)
		}
		if err := report.WriteStudy(c.out, s, units); err != nil {
			return err
		}
		if cmd.Explain {
			if err := explainStudy(c.out, s, units); err != nil {
				return err
			}
		}
	}
	return nil
}

// explainStudy traces one full run at the best depth.
func explainStudy(w io.Writer, s *week.Study, units cost.UnitSystem) error {
	best := &s.Depths[s.Best]
	layers, copies := best.Depth, s.PerSheet
	if best.FullRuns == 0 {
		layers, copies = best.Rest.Layers, best.Rest.PerLayer
	}
	tr, err := cost.Explain(s.Job.Setup.At(layers), s.Job.At(layers).Copies(copies), s.Sheet.Cost)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "\nhow one run of %d layers with %d parts each comes about\n\n", layers, copies)
	return report.WriteTrace(w, tr, units)
}
