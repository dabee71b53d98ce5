package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"

	"kerfold/cost"
	"kerfold/nest/report"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// BidCmd answers what a piece of work takes.
type BidCmd struct {
	byHand
	What []string `arg:"" help:"A job file (YAML); or drawings (DXF, SVG) and sizes in mm (120x80 a rectangle, 90 a disc, 4x2 in), each with :N for how many, such as plate.dxf:40 120x80:200."`

	Order    []string `help:"Only this order of the job; may be given several times." placeholder:"ID" group:"What to cut"`
	Quantity int      `help:"How many of each part that does not say it itself." default:"1" placeholder:"N" group:"What to cut"`

	Sheet []string `help:"Sheet for drawings and sizes: a stock id of the job, or a size such as 1000x2000; further ones are weighed as changes. Default: what the job has, or 1000x2000." placeholder:"SHEET" group:"What to cut it with"`
	Load  string   `help:"plan.json, or its folder: the work that the machines are busy with first. Default: they are free." placeholder:"PLAN" group:"What to cut it with"`

	Markup  float64 `help:"Per cent to add to the costs." placeholder:"N" group:"What to write"`
	JSON    string  `name:"json" help:"Write the bid as JSON; - is standard output, in place of the text. kerfold schema bid prints its schema." placeholder:"FILE" group:"What to write"`
	Explain bool    `help:"Print how times and prices come about: every formula, input and source." group:"What to write"`
	inUnits `embed:"" group:"What to write"`
	Seconds float64 `help:"Leave out what would change the bid where it is not worked out by then; 0 waits for all." default:"2.5" placeholder:"N" group:"What to write"`
	Workers int     `help:"Groups worked out side by side; never changes a figure. Default: one per processor." placeholder:"N" group:"What to write"`
}

// Run works the bid out and writes it.
func (cmd *BidCmd) Run(c *console) error {
	start := time.Now()
	if err := cmd.validate(); err != nil {
		return err
	}
	job, o, err := cmd.load(c)
	if err != nil {
		return err
	}
	if err := cmd.inUnits.put(job); err != nil {
		return err
	}
	if o.Load, err = cmd.busyWith(c, job); err != nil {
		return err
	}
	ctx, in := listen(context.Background(), c)
	defer in.close()
	if cmd.Seconds > 0 {
		limited, cancel := context.WithDeadline(ctx, start.Add(time.Duration(cmd.Seconds*float64(time.Second))))
		defer cancel()
		ctx = limited
	}
	bid, err := week.MakeBid(ctx, job, o)
	if err != nil {
		return err
	}
	if err := cmd.write(c, bid, job.Units); err != nil {
		return err
	}
	return cmd.verdict(c, bid)
}

func (cmd *BidCmd) validate() error {
	if err := shop.CheckQuantity(cmd.Quantity); err != nil {
		return fmt.Errorf("--quantity: %w", err)
	}
	if !(cmd.Markup >= 0) || cmd.Markup > 1e4 {
		return fmt.Errorf("--markup is %v: give per cent, from 0 to 10000", cmd.Markup)
	}
	if !(cmd.Seconds >= 0) || cmd.Seconds > 1e6 {
		return fmt.Errorf("--seconds is %v: give a number between 0 and a million", cmd.Seconds)
	}
	if cmd.Workers < 0 || cmd.Workers > 1024 {
		return fmt.Errorf("--workers is %d: give 1 to 1024", cmd.Workers)
	}
	for _, in := range append(slices.Clone(cmd.What), cmd.Job, cmd.Load) {
		name, _, _ := splitCount(in)
		if cmd.JSON != "" && cmd.JSON != "-" && name != "" && sameFile(cmd.JSON, name) {
			return fmt.Errorf("%s is an input of this command: name another file", cmd.JSON)
		}
	}
	return nil
}

// load makes the job whose orders are bid for.
func (cmd *BidCmd) load(c *console) (*shop.Job, week.BidOptions, error) {
	o := week.BidOptions{Workers: cmd.Workers, Markup: cmd.Markup / 100}
	if o.Workers == 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	if slices.ContainsFunc(cmd.What, isJobFile) {
		job, err := cmd.fromJob()
		return job, o, err
	}
	if len(cmd.Order) > 0 {
		return nil, o, errors.New("--order goes with a job file")
	}
	job, err := cmd.byHand.equipment(c)
	if err != nil {
		return nil, o, err
	}
	if job.Orders, err = cmd.parts(job); err != nil {
		return nil, o, err
	}
	job.Name = strings.Join(cmd.What, ", ")
	return job, o, cmd.sheets(job, &o)
}

func (cmd *BidCmd) fromJob() (*shop.Job, error) {
	if len(cmd.What) > 1 {
		return nil, errors.New("give one job file, or drawings and sizes")
	}
	if err := cmd.noneOf(); err != nil {
		return nil, err
	}
	if len(cmd.Sheet) > 0 || cmd.Price != nil {
		return nil, errors.New("--sheet and --sheet-price go with drawings and sizes: the job file has its own stock")
	}
	job, err := loadJob(cmd.What[0])
	if err != nil {
		return nil, err
	}
	keep, err := pick(cmd.What[0], job, cmd.Order)
	if err != nil {
		return nil, err
	}
	job.Keep(keep)
	return job, nil
}

// parts reads the drawings and sizes, each with its number of copies.
func (cmd *BidCmd) parts(job *shop.Job) ([]shop.Order, error) {
	var out []shop.Order
	seen := map[string]int{}
	for _, word := range cmd.What {
		name, count, err := splitCount(word)
		if err != nil {
			return nil, err
		}
		if count == 0 {
			count = cmd.Quantity
		}
		shapes, err := shapesOf(name)
		if err != nil {
			return nil, err
		}
		orders, err := cmd.orders(job, name, shapes, count)
		if err != nil {
			return nil, err
		}
		for _, o := range orders {
			if seen[o.ID]++; seen[o.ID] > 1 {
				o.ID = fmt.Sprintf("%s (%d)", o.ID, seen[o.ID])
			}
			out = append(out, o)
		}
	}
	return out, nil
}

// splitCount takes the :N off a drawing or size; 0 is none.
func splitCount(word string) (name string, count int, err error) {
	i := strings.LastIndexByte(word, ':')
	if i < 0 {
		return word, 0, nil
	}
	count, err = strconv.Atoi(strings.TrimSpace(word[i+1:]))
	if err != nil {
		if i == 1 { // a drive letter
			return word, 0, nil
		}
		return "", 0, fmt.Errorf("%s: write how many as a whole number, such as %s:20", word, word[:i])
	}
	if err := shop.CheckQuantity(count); err != nil {
		return "", 0, fmt.Errorf("%s: %w", word, err)
	}
	return strings.TrimSpace(word[:i]), count, nil
}

// sheets puts the sheet to cut from into the job: one of its own by id, one by
// size, what it has, or a usual size. Further ones are weighed as changes.
func (cmd *BidCmd) sheets(job *shop.Job, o *week.BidOptions) error {
	first := &job.Orders[0]
	job.Stock = slices.DeleteFunc(job.Stock, func(s shop.Stock) bool {
		return s.Material != first.Material || s.ThicknessMM != first.ThicknessMM
	})
	if len(cmd.Sheet) == 0 && len(job.Stock) > 0 {
		return nil
	}
	names := cmd.Sheet
	if len(names) == 0 {
		names = []string{"1000x2000"}
	}
	var picked []shop.Stock
	for _, name := range names {
		s, err := cmd.sheet(job, first, name)
		if err != nil {
			return err
		}
		picked = append(picked, s)
	}
	o.Buy = picked[0].Where == byCommand
	o.Also = picked[1:]
	for i := range o.Also {
		if o.Also[i].Where == byCommand {
			o.Also[i].Cost = math.NaN() // as dear by area as the first
		}
	}
	job.Stock = picked[:1]
	return nil
}

// byCommand marks sheets that only the command line knows.
const byCommand = "command line"

func (cmd *BidCmd) sheet(job *shop.Job, o *shop.Order, name string) (shop.Stock, error) {
	for _, s := range job.Stock {
		if s.ID == name {
			return s, nil
		}
	}
	x, y, err := rectangle("--sheet", name)
	if err != nil {
		return shop.Stock{}, err
	}
	price, err := cmd.sheetPrice()
	return shop.SheetByHand(name, o.Material, o.ThicknessMM, x, y, price), err
}

// busyWith reads the plan the machines are busy with.
func (cmd *BidCmd) busyWith(c *console, job *shop.Job) (*week.Plan, error) {
	if cmd.Load == "" {
		return nil, nil
	}
	if _, err := os.Stat(cmd.Load); errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("--load %s: there is no such file; name a plan.json, or the folder that plan wrote", cmd.Load)
	}
	p, err := readPlanAt(cmd.Load)
	if err != nil {
		return nil, err
	}
	switch strange := week.UnknownMachines(job, p); {
	case len(strange) == len(p.Machines):
		return nil, fmt.Errorf("--load %s: none of its machines (%s) is in this bid: bid with the same --job", filepath.Clean(cmd.Load), strings.Join(strange, ", "))
	case len(strange) > 0:
		c.say("--load %s: the bid has no machine %s: its load is not counted", filepath.Clean(cmd.Load), strings.Join(strange, ", "))
	}
	return p, nil
}

func (cmd *BidCmd) write(c *console, bid *week.Bid, units cost.UnitSystem) error {
	if cmd.JSON != "" {
		if err := writeTo(c, cmd.JSON, func(w io.Writer) error { return report.WriteBidJSON(w, bid) }); err != nil {
			return err
		}
	}
	if cmd.JSON == "-" {
		return nil
	}
	if err := report.WriteBid(c.out, bid, units); err != nil || !cmd.Explain {
		return err
	}
	accounts, err := week.ExplainBid(bid)
	if err != nil {
		return err
	}
	return report.WriteAccounts(c.out, accounts, units)
}

// verdict says whether all that was asked for can be cut.
func (cmd *BidCmd) verdict(c *console, bid *week.Bid) error {
	for i := range bid.Groups {
		if g := &bid.Groups[i]; g.Refusal != "" || g.Short > 0 {
			c.say("not every part can be cut: see %s, %s", g.ID, g.Material)
			return errProblems
		}
	}
	return nil
}
