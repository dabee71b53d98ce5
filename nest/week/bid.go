package week

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"kerfold/cost"
	"kerfold/nest/shop"
)

// BidOptions says how to work a bid out.
type BidOptions struct {
	Workers  int
	Remnants RemnantRule
	// Load, where not nil, is the plan the machines are busy with: the bid's work
	// comes after it.
	Load *Plan
	// Buy takes the job's sheets as sizes that can be bought, not as stock.
	Buy bool
	// Also are other sheets to weigh as changes, by size and price.
	Also []shop.Stock
	// NoChanges leaves out what would change the bid.
	NoChanges bool
	// Markup is what prices lie above cost, a share of it.
	Markup float64
}

// A Bid answers what a piece of work takes: sheets, utilisation, money, hours
// and the earliest finish, each with how sure it is, and what would change it.
// It is worked out from quick layouts that the judge accepted; [Make] searches
// longer and mostly needs as many sheets.
type Bid struct {
	Job, Currency string
	Markup        float64 // prices are cost times 1 + Markup; all money here is cost
	Loaded        string  // the name of the plan the machines are busy with
	Machines      []string
	Groups        []BidGroup
	// Setups counts the changes of material or thickness; they are in Ledger.
	Setups        int
	Ledger        cost.Ledger
	RemnantCredit float64 // what kept remnants are worth; no money takes it off
	Sheets        int
	ToBuy         int // of Sheets, not in stock
	Money         cost.Estimate
	Seconds       cost.Estimate
	MoneyRange    cost.Interval
	SecondsRange  cost.Interval
	Yield         cost.Interval
	Finish        Finish
	// Due says how due dates were weighed; nil where nothing is due.
	Due *DueWeighing
	// Changes is what would change the bid, most money first.
	Changes []Change
	// Omitted counts the changes that were not worked out because ctx ended.
	Omitted  int
	Warnings []string
	Cautions []string
}

// A BidGroup is the orders of a bid that can share a sheet.
type BidGroup struct {
	ID          string
	Material    string
	ThicknessMM float64
	Grade       cost.Grade
	SpacingMM   float64
	MarginMM    float64
	Orders      []string
	Parts       int
	Way         string
	Runs        []BidRun
	Sheets      []BidSheets
	Surplus     int
	Short       int    // parts that fit on no sheet
	Refusal     string // why nothing of it can be cut
	// SheetArea and PartArea are mm²; their quotient is the likely yield.
	SheetArea, PartArea float64
	Yield               cost.Interval
	Ledger              cost.Ledger // without set-ups
	RemnantCredit       float64
	Money, Seconds      cost.Estimate
	MoneyRange          cost.Interval
	SecondsRange        cost.Interval
	Lines               []BidLine
	Finish              Finish
	Warnings            []string
}

// A BidRun is equal stacks on the machine where they cost least.
type BidRun struct {
	Sheet   string
	Machine int // index into the job's machines
	Depth   int
	Count   int
	PerRun  float64 // seconds one stack holds the machine
	Setup   cost.Setup
	Work    cost.Work
	Price   float64 // of one sheet
}

// BidSheets is a kind of sheet and how many of it are cut.
type BidSheets struct {
	ID     string
	XMM    float64
	YMM    float64
	Count  int
	ToBuy  int
	Price  float64 // of one
	Remain bool    // a remnant
}

// A BidLine is one order's share of its group.
type BidLine struct {
	Order, Part string
	Quantity    int
	Money       float64 // of all copies, without set-ups
	SheetMoney  float64 // of it, for sheets
}

// MakeBid works a bid out for all orders of a job. When ctx ends, what would
// change the bid is left out where it is not known yet. A group that nothing
// can cut says why; the error, where not nil, is that none can be cut.
func MakeBid(ctx context.Context, job *shop.Job, o BidOptions) (*Bid, error) {
	if err := checkBid(job); err != nil {
		return nil, err
	}
	job, gone := behind(job, o.Load)
	b := newBidder(job, o)
	b.gone = gone
	if err := b.layGroups(ctx); err != nil {
		return nil, err
	}
	due, err := b.weighDates(ctx)
	if err != nil {
		return nil, err
	}
	if err := b.each(b.settle); err != nil {
		return nil, err
	}
	bid := b.sum(due)
	if err := b.refusals(bid); err != nil {
		return nil, err
	}
	b.finish(bid)
	if !o.NoChanges {
		if err := b.changes(ctx, bid); err != nil {
			return nil, err
		}
	}
	return bid, nil
}

func checkBid(job *shop.Job) error {
	switch {
	case len(job.Orders) == 0:
		return errors.New("nothing is asked for: give at least one part")
	case len(job.Machines) == 0:
		return errors.New("there are no machines: add at least one")
	}
	return nil
}

// refusals is an error where no group can be cut.
func (b *bidder) refusals(bid *Bid) error {
	var why []string
	for i := range bid.Groups {
		g := &bid.Groups[i]
		if g.Refusal == "" {
			return nil
		}
		why = append(why, fmt.Sprintf("%s, %v mm: %s", g.Material, g.ThicknessMM, g.Refusal))
	}
	return errors.New(joinOr(append(why, b.gone...), "nothing can be cut"))
}

// A bidder is a bid in the making. Slices are indexed by task.
type bidder struct {
	maker
	opts  BidOptions
	bases []bidBase
	out   []BidGroup
	gone  []string // notes on remnants that the load cuts
	late  float64  // what lateness weighs before the jury has heard any way
}

func newBidder(job *shop.Job, o BidOptions) *bidder {
	b := &bidder{maker: maker{job: job, o: filled(Options{Workers: o.Workers, Remnants: o.Remnants}), engine: nestEngine, tasks: gatherFrom(job, shareToBuy)}, opts: o}
	b.meter = newMeter(nil, len(b.tasks))
	b.bases, b.out = make([]bidBase, len(b.tasks)), make([]BidGroup, len(b.tasks))
	return b
}

// sum adds the groups up, and the set-ups between them.
func (b *bidder) sum(due *DueWeighing) *Bid {
	bid := &Bid{
		Due: due, Job: b.job.Name, Currency: b.job.Rates.Currency, Markup: b.opts.Markup, Groups: b.out, Warnings: slices.Clone(b.job.Warnings),
	}
	if b.opts.Load != nil {
		bid.Loaded = b.opts.Load.Job
	}
	for i := range b.job.Machines {
		bid.Machines = append(bid.Machines, b.job.Machines[i].ID)
	}
	families := map[shop.Group]bool{}
	for i := range bid.Groups {
		g := &bid.Groups[i]
		bid.Ledger, bid.RemnantCredit = bid.Ledger.Plus(g.Ledger), bid.RemnantCredit+g.RemnantCredit
		bid.Money, bid.Seconds = bid.Money.Plus(g.Money), bid.Seconds.Plus(g.Seconds)
		for _, s := range g.Sheets {
			bid.Sheets, bid.ToBuy = bid.Sheets+s.Count, bid.ToBuy+s.ToBuy
		}
		if len(g.Runs) > 0 {
			families[shop.Group{Material: g.Material, ThicknessMM: g.ThicknessMM}] = true
		}
	}
	bid.Setups = len(families)
	setup := cost.SetupLedger(b.job.Rates).Times(float64(bid.Setups))
	bid.Ledger = bid.Ledger.Plus(setup)
	bid.Money, bid.Seconds = bid.Money.Plus(cost.Exact(setup.Money.Total())), bid.Seconds.Plus(cost.Exact(setup.Usage.OccupiedSec))
	bid.MoneyRange, bid.SecondsRange = bid.Money.Interval(cost.DefaultLevel), bid.Seconds.Interval(cost.DefaultLevel)
	bid.Yield = sumYields(bid.Groups)
	b.notes(bid)
	return bid
}

// notes gathers warnings and cautions, as a plan does.
func (b *bidder) notes(bid *Bid) {
	p := &Plan{}
	for i, t := range b.tasks {
		p.Groups = append(p.Groups, t.group)
		for _, w := range bid.Groups[i].Warnings {
			bid.Warnings = append(bid.Warnings, bid.Groups[i].ID+": "+w)
		}
	}
	bid.Warnings = append(bid.Warnings, b.gone...)
	bid.Cautions = b.cautions(p)
}

// SheetCount counts the group's sheets, and those of them to buy.
func (g *BidGroup) SheetCount() (sheets, buy int) {
	for _, s := range g.Sheets {
		sheets, buy = sheets+s.Count, buy+s.ToBuy
	}
	return sheets, buy
}
