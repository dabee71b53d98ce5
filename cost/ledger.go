package cost

// A Ledger is what a piece of work uses and costs.
type Ledger struct {
	Usage Usage
	Money Money
}

// Plus returns the sum of two ledgers.
func (l Ledger) Plus(o Ledger) Ledger {
	return Ledger{Usage: l.Usage.Plus(o.Usage), Money: l.Money.Plus(o.Money)}
}

// Times returns l n times over.
func (l Ledger) Times(n float64) Ledger {
	return Ledger{Usage: l.Usage.Times(n), Money: l.Money.Times(n)}
}

// LayoutLedger returns what one run of w uses and costs; sheetMoney is the
// price of one layer's sheet. The error is that of [LayoutTime].
func LayoutLedger(s Setup, w Work, sheetMoney float64) (Ledger, error) {
	t, err := LayoutTime(s, w)
	if err != nil {
		return Ledger{}, err
	}
	return LedgerOf(s, t, sheetMoney), nil
}

// LedgerOf is [LayoutLedger] for a time already known.
func LedgerOf(s Setup, t Time, sheetMoney float64) Ledger {
	s = s.filled()
	return s.ledger(t, shift{}, sheetMoney)
}

func (s Setup) ledger(t Time, sh shift, sheetMoney float64) Ledger {
	u := s.usage(t, sh)
	return Ledger{Usage: u, Money: s.Rates.Price(u, sheetMoney)}
}

// SetupLedger returns what a change of material or thickness costs.
func SetupLedger(r Rates) Ledger {
	u := Usage{HandleSec: r.SetupSec, OccupiedSec: r.SetupSec, LabourSec: r.SetupSec}
	return Ledger{Usage: u, Money: r.Price(u, 0)}
}

// An Entry is one line of the week's book: what one order's share of a layout
// uses and costs.
type Entry struct {
	Group, Layout, Order, Part string
	Quantity                   int
	Ledger                     Ledger
}

// A Book is a list of entries.
type Book []Entry

// A Level says what a book is summed by.
type Level int

// The levels, from one sum of all to one for each part of each order.
const (
	ByWeek Level = iota
	ByGroup
	ByLayout
	ByOrder
	ByPart
)

func (e Entry) key(l Level) string {
	switch l {
	case ByGroup:
		return e.Group
	case ByLayout:
		return e.Layout
	case ByOrder:
		return e.Order
	case ByPart:
		return e.Part
	}
	return ""
}

// A Line is one sum of a book.
type Line struct {
	Key      string
	Quantity int
	Ledger   Ledger
}

// By sums the book at a level, in the order in which the keys first occur.
func (b Book) By(l Level) []Line {
	var lines []Line
	at := map[string]int{}
	for _, e := range b {
		k := e.key(l)
		i, seen := at[k]
		if !seen {
			i = len(lines)
			at[k] = i
			lines = append(lines, Line{Key: k})
		}
		lines[i].Quantity += e.Quantity
		lines[i].Ledger = lines[i].Ledger.Plus(e.Ledger)
	}
	return lines
}

// A Claim is an order's part in a layout: how many copies lie there, and the
// weight of one copy in cutting (seconds or mm of cut) and in material (area).
type Claim struct {
	Order, Part    string
	Quantity       int
	CutWeight      float64
	MaterialWeight float64
}

// Split shares a layout's ledger among its claims: sheets and their price by
// material weight, everything else by cut weight. The shares sum to the whole;
// where all weights are zero they go by quantity.
func Split(group, layout string, l Ledger, claims []Claim) Book {
	cut := shares(claims, func(c Claim) float64 { return c.CutWeight })
	area := shares(claims, func(c Claim) float64 { return c.MaterialWeight })
	book := make(Book, len(claims))
	for i, c := range claims {
		book[i] = Entry{Group: group, Layout: layout, Order: c.Order, Part: c.Part, Quantity: c.Quantity, Ledger: l.part(cut[i], area[i])}
	}
	return book
}

func shares(claims []Claim, weight func(Claim) float64) []float64 {
	out := make([]float64, len(claims))
	var sum, count float64
	for i, c := range claims {
		out[i] = float64(c.Quantity) * weight(c)
		sum += out[i]
		count += float64(c.Quantity)
	}
	for i, c := range claims {
		if sum > 0 {
			out[i] /= sum
		} else {
			out[i] = share(float64(c.Quantity), count)
		}
	}
	return out
}

func (l Ledger) part(cut, area float64) Ledger {
	p := l.Times(cut)
	p.Usage.Sheets, p.Money.Material = l.Usage.Sheets*area, l.Money.Material*area
	return p
}
