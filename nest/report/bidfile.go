package report

import (
	_ "embed" // for the schema, which is part of the program
	"encoding/json"
	"io"

	"kerfold/cost"
	"kerfold/nest/week"
)

// BidVersion is the version of the bid's JSON form.
const BidVersion = 1

//go:embed bid.schema.json
var bidSchema []byte

// BidSchema is the JSON Schema (2020-12) of a bid.
func BidSchema() []byte { return bidSchema }

// A BidFile is a bid as JSON. Money is cost in Currency; price is cost times
// 1 + Markup. Times are seconds, lengths mm.
type BidFile struct {
	Version       int             `json:"kerfold_bid"`
	Job           string          `json:"job"`
	Currency      string          `json:"currency"`
	Markup        float64         `json:"markup"`
	Load          string          `json:"load"`
	Sheets        int             `json:"sheets"`
	ToBuy         int             `json:"sheets_to_buy"`
	Yield         RangeFile       `json:"yield"`
	Cost          RangeFile       `json:"cost"`
	Price         RangeFile       `json:"price"`
	Ledger        LedgerFile      `json:"ledger"`
	Setups        int             `json:"setups"`
	RemnantCredit float64         `json:"remnant_credit"`
	Seconds       RangeFile       `json:"machine_s"`
	Finish        *FinishFile     `json:"finish"`
	Due           *DueFile        `json:"due_dates"`
	Groups        []BidGroupFile  `json:"groups"`
	Changes       []BidChangeFile `json:"changes"`
	Omitted       int             `json:"changes_omitted"`
	Causes        []BidCauseFile  `json:"causes"`
	Warnings      []string        `json:"warnings"`
	Cautions      []string        `json:"cautions"`
}

// A FinishFile is when work is done: working days from the calendar's start,
// the first being 1, and seconds into that day.
type FinishFile struct {
	Workday int     `json:"workday"`
	Sec     float64 `json:"s"`
	Day     string  `json:"day,omitempty"`
	Machine string  `json:"machine"`
}

// A DueFile says how due dates were weighed.
type DueFile struct {
	Reason  string   `json:"reason,omitempty"`
	PerHour float64  `json:"late_per_hour"`
	Trials  int      `json:"trials"`
	Groups  []string `json:"groups"`
	Sheets  int      `json:"sheets"`
	Cost    float64  `json:"cost"`
	Spared  float64  `json:"late_cost_spared"`
	Late    []string `json:"late"`
	LateFor float64  `json:"late_cost"`
	Cut     bool     `json:"cut_short"`
}

// A BidGroupFile is one group of a bid.
type BidGroupFile struct {
	ID            string         `json:"id"`
	Material      string         `json:"material"`
	ThicknessMM   float64        `json:"thickness_mm"`
	Grade         string         `json:"grade"`
	SpacingMM     float64        `json:"spacing_mm"`
	MarginMM      float64        `json:"margin_mm"`
	Parts         int            `json:"parts"`
	Refusal       string         `json:"refusal,omitempty"`
	Way           string         `json:"way"`
	Short         int            `json:"short"`
	Surplus       int            `json:"surplus"`
	Sheets        []BidSheetFile `json:"sheets"`
	Runs          []BidRunFile   `json:"runs"`
	Yield         RangeFile      `json:"yield"`
	Cost          RangeFile      `json:"cost"`
	Ledger        LedgerFile     `json:"ledger"`
	RemnantCredit float64        `json:"remnant_credit"`
	Seconds       RangeFile      `json:"machine_s"`
	Finish        *FinishFile    `json:"finish"`
	Orders        []BidLineFile  `json:"orders"`
	Warnings      []string       `json:"warnings"`
}

// A BidSheetFile is a kind of sheet.
type BidSheetFile struct {
	ID    string  `json:"id"`
	XMM   float64 `json:"x_mm"`
	YMM   float64 `json:"y_mm"`
	Count int     `json:"count"`
	ToBuy int     `json:"to_buy"`
	Price float64 `json:"price"`
}

// A BidRunFile is equal stacks.
type BidRunFile struct {
	Sheet   string  `json:"sheet"`
	Machine string  `json:"machine"`
	Layers  int     `json:"layers"`
	Count   int     `json:"count"`
	Seconds float64 `json:"s"`
}

// A BidLineFile is an order's share of the cost.
type BidLineFile struct {
	Order     string  `json:"order"`
	Part      string  `json:"part"`
	Quantity  int     `json:"quantity"`
	Cost      float64 `json:"cost"`
	SheetCost float64 `json:"sheet_cost"`
}

// A BidChangeFile is what a change makes of the bid: differences.
type BidChangeFile struct {
	Group   string  `json:"group"`
	Kind    string  `json:"kind"`
	Text    string  `json:"text"`
	Cost    float64 `json:"cost"`
	Seconds float64 `json:"machine_s"`
	Sheets  int     `json:"sheets"`
	Yield   float64 `json:"yield"`
	Refusal string  `json:"refusal,omitempty"`
}

// A BidCauseFile is what makes the cost uncertain, at one standard deviation.
type BidCauseFile struct {
	Key  string  `json:"key"`
	Cost float64 `json:"cost"`
}

// NewBidFile puts a bid into its file form.
func NewBidFile(b *week.Bid) BidFile {
	f := BidFile{
		Version: BidVersion, Job: b.Job, Currency: b.Currency, Markup: b.Markup, Load: b.Loaded, Sheets: b.Sheets, ToBuy: b.ToBuy,
		Yield: RangeFile(b.Yield), Cost: RangeFile(b.MoneyRange), Price: priceRange(b.MoneyRange, b.Markup), Ledger: encodeLedger(b.Ledger),
		Setups: b.Setups, RemnantCredit: b.RemnantCredit, Seconds: RangeFile(b.SecondsRange), Finish: finishFile(b, b.Finish),
		Due: dueFile(b.Due), Groups: []BidGroupFile{}, Changes: []BidChangeFile{}, Omitted: b.Omitted, Causes: []BidCauseFile{},
		Warnings: filledList(b.Warnings), Cautions: filledList(b.Cautions),
	}
	for i := range b.Groups {
		f.Groups = append(f.Groups, bidGroupFile(b, &b.Groups[i]))
	}
	for _, c := range b.Changes {
		f.Changes = append(f.Changes, BidChangeFile{c.Group, string(c.Kind), c.Text, c.Money, c.Seconds, c.Sheets, c.Yield, c.Refusal})
	}
	for _, c := range b.Money.Causes() {
		f.Causes = append(f.Causes, BidCauseFile{c.Key, c.Delta})
	}
	return f
}

func priceRange(r cost.Interval, markup float64) RangeFile {
	k := 1 + markup
	return RangeFile{Low: r.Low * k, Likely: r.Likely * k, High: r.High * k, Level: r.Level}
}

func filledList(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

func dueFile(d *week.DueWeighing) *DueFile {
	if d == nil {
		return nil
	}
	return &DueFile{d.Why, d.PerHour, d.Trials, filledList(d.Groups), d.Sheets, d.Money, d.Spared, filledList(d.Late), d.LateMoney, d.Cut}
}

func finishFile(b *week.Bid, f week.Finish) *FinishFile {
	if f.Workday == 0 {
		return nil
	}
	out := &FinishFile{Workday: f.Workday, Sec: f.Sec, Machine: b.Machines[f.Machine]}
	if !f.Day.IsZero() {
		out.Day = f.Day.Format("2006-01-02")
	}
	return out
}

func bidGroupFile(b *week.Bid, g *week.BidGroup) BidGroupFile {
	f := BidGroupFile{
		ID: g.ID, Material: g.Material, ThicknessMM: g.ThicknessMM, Grade: g.Grade.String(), SpacingMM: g.SpacingMM, MarginMM: g.MarginMM,
		Parts: g.Parts, Refusal: g.Refusal, Way: g.Way, Short: g.Short, Surplus: g.Surplus, Sheets: []BidSheetFile{}, Runs: []BidRunFile{},
		Yield: RangeFile(g.Yield), Cost: RangeFile(g.MoneyRange), Ledger: encodeLedger(g.Ledger), RemnantCredit: g.RemnantCredit,
		Seconds: RangeFile(g.SecondsRange), Finish: finishFile(b, g.Finish), Orders: []BidLineFile{}, Warnings: filledList(g.Warnings),
	}
	for _, s := range g.Sheets {
		f.Sheets = append(f.Sheets, BidSheetFile{s.ID, s.XMM, s.YMM, s.Count, s.ToBuy, s.Price})
	}
	for _, r := range g.Runs {
		f.Runs = append(f.Runs, BidRunFile{r.Sheet, b.Machines[r.Machine], r.Depth, r.Count, r.PerRun})
	}
	for _, l := range g.Lines {
		f.Orders = append(f.Orders, BidLineFile{l.Order, l.Part, l.Quantity, l.Money, l.SheetMoney})
	}
	return f
}

// WriteBidJSON writes a bid as JSON.
func WriteBidJSON(w io.Writer, b *week.Bid) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(NewBidFile(b))
}
