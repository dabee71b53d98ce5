package report

import (
	"fmt"
	"strings"

	"kerfold/cost"
	"kerfold/nest/week"
)

// A layoutPage is one layout as the floor gets it: one sheet of paper.
type layoutPage struct {
	ID, Group, Prev, Next string
	Load                  string
	Facts                 []fact
	Picture               picture
	Rows                  []partLine
	OnSheet, InAll        int
	Dense                 bool // many rows, small print
	Runs                  []runLine
	Why                   []string
	Split                 []splitLine
	SplitBar              []segment
	Hidden                string // loading beside the cut
	Costs                 []fact
	Leads                 []string
	Ticks                 []string
	Cautions              []string
	Remnant               string
	FeedUnit              string
}

// A fact is a name and what it is.
type fact struct{ Name, Value string }

// A partLine explains a part number.
type partLine struct {
	Number                 int
	Kind, Box              string // outline and where to look at it
	Part, Order, Due, Note string
	OnSheet, InAll         int
}

// A runLine is equal stacks on one machine.
type runLine struct {
	Stacks, Machine, Feed, Limit, Each, PerSheet, Cost string
}

// A splitLine is a share of the machine's time.
type splitLine struct {
	Name, Time, Share string
	Kind              int
}

// denseRows is how many part rows still fit a page in usual print.
const denseRows = 14

func layoutPages(p *week.Plan) []layoutPage {
	var out []layoutPage
	for i := range p.Groups {
		for k := range p.Groups[i].Layouts {
			out = append(out, newLayoutPage(p, &p.Groups[i], &p.Groups[i].Layouts[k]))
		}
	}
	for i := range out {
		if i > 0 {
			out[i].Prev = out[i-1].ID
		}
		if i+1 < len(out) {
			out[i].Next = out[i+1].ID
		}
	}
	return out
}

func newLayoutPage(p *week.Plan, g *week.Group, l *week.Layout) layoutPage {
	m := measureOf(p)
	page := layoutPage{
		FeedUnit: m.unit("mm/min"),
		ID:       l.ID, Group: g.ID, Load: cutWords(l), Facts: layoutFacts(p, g, l), Picture: newPicture(p, g, l),
		Rows: partLines(g, l), Why: depthReasons(p, g, l), Costs: layoutCosts(p, l), Leads: m.texts(l.Route.Warnings),
		Ticks: ticks(p, g, l), Cautions: m.texts(g.Cautions),
	}
	page.OnSheet, page.InAll = len(l.Placements), len(l.Placements)*l.Repeats
	page.Dense = len(page.Rows) > denseRows
	page.Split, page.SplitBar, page.Hidden = timeSplit(l)
	for _, r := range l.Runs {
		page.Runs = append(page.Runs, newRunLine(p, r))
	}
	return page
}

func layoutFacts(p *week.Plan, g *week.Group, l *week.Layout) []fact {
	s := &g.Sheets[l.Sheet]
	x, y := s.Size()
	facts := []fact{
		{"material", sheetWords(p, g)},
		{"edge grade", g.Grade.String()},
		{"sheet", s.ID + ", " + measure{units: p.Units}.size(x, y)},
	}
	if s.Location != "" {
		facts = append(facts, fact{"fetch from", s.Location})
	}
	if s.Lot != "" {
		facts = append(facts, fact{"lot", s.Lot})
	}
	if s.GrainDeg != nil {
		facts = append(facts, fact{"grain", Length(*s.GrainDeg) + "° from x"})
	}
	return append(facts,
		fact{"yield", Percent(l.Yield())},
		fact{"machine time, all runs", Duration(l.Seconds())},
		fact{"cost, all runs", Amount(l.Ledger.Money.Total(), p.Currency)})
}

func partLines(g *week.Group, l *week.Layout) []partLine {
	var out []partLine
	for _, r := range legendRows(g, l) {
		o := &g.Parts[r.part]
		b := o.Shape.Outer.Bounds()
		out = append(out, partLine{
			Number: r.part + 1, Kind: kindID(g, r.part), Part: o.Part, Order: o.ID, Due: dayOrDash(o.Due), Note: o.Note,
			Box:     strings.Join([]string{num(b.Min[0]), num(-b.Max[1]), num(b.Max[0] - b.Min[0]), num(b.Max[1] - b.Min[1])}, " "),
			OnSheet: r.onSheet, InAll: r.onSheet * l.Repeats,
		})
	}
	return out
}

func newRunLine(p *week.Plan, r week.Run) runLine {
	m := measure{units: p.Units}
	return runLine{
		Stacks: stackCount(r), Machine: p.Machines[r.Machine].ID, Feed: m.feed(r.Speed.MMPerMin),
		Limit: limitWords(r.Speed, m), Each: Duration(r.OccupiedSec), PerSheet: Duration(r.OccupiedSec / float64(max(r.Depth, 1))),
		Cost: money(r.Ledger.Money.Total() / float64(max(r.Depth, 1))),
	}
}

func stackCount(r week.Run) string {
	switch {
	case r.Depth == 1:
		return plural(r.Count, "single sheet")
	case r.Count == 1:
		return fmt.Sprintf("1 stack of %d", r.Depth)
	}
	return fmt.Sprintf("%d stacks of %d", r.Count, r.Depth)
}

// limitWords says what holds the straight-line feed where it is.
func limitWords(s cost.Speed, m measure) string {
	switch s.Limit {
	case cost.LimitLaw:
		return "what the jet cuts at this grade and height"
	case cost.LimitMaterial:
		return "the material's feed cap; the jet alone would allow " + m.feed(s.Law)
	case cost.LimitMachine:
		return "the machine's feed cap; the jet alone would allow " + m.feed(s.Law)
	case cost.LimitMotion:
		return "acceleration"
	}
	return string(s.Limit)
}

// timeSplit is where the machine's time goes, all runs together, and in words how
// much loading takes none of it, because a second table is loaded meanwhile.
func timeSplit(l *week.Layout) (lines []splitLine, bar []segment, hidden string) {
	var cut, pierce, rapid, wait, meanwhile float64
	for _, r := range l.Runs {
		n := float64(r.Count)
		cut += n * r.Time.CutSec
		pierce += n * r.Time.PierceSec
		rapid += n * r.Time.RapidSec
		waits := min(r.Time.HandleSec, max(0, r.OccupiedSec-r.Time.HeadSec()))
		wait += n * waits
		meanwhile += n * (r.Time.HandleSec - waits)
	}
	loading := "loading and unloading"
	if meanwhile > hiddenLeast {
		loading = "waiting to be loaded"
		hidden = fmt.Sprintf("%s of loading beside it, on the other table", Duration(meanwhile))
	}
	whole := cut + pierce + rapid + wait
	values := []float64{cut, pierce, rapid, wait}
	for i, name := range []string{"cutting", "piercing", "rapid moves", loading} {
		if values[i] == 0 && hidden != "" {
			continue
		}
		lines = append(lines, splitLine{Name: name, Time: Duration(values[i]), Share: Percent(ratio(values[i], whole)), Kind: i})
	}
	return lines, stackedBar(whole, values...), hidden
}

// hiddenLeast is the least loading beside a cut worth saying, in seconds.
const hiddenLeast = 0.5

func layoutCosts(p *week.Plan, l *week.Layout) []fact {
	var out []fact
	for i, v := range costCells(l.Ledger.Money) {
		out = append(out, fact{costKinds[i], money(v)})
	}
	out = append(out, fact{"in all", Amount(l.Ledger.Money.Total(), p.Currency)})
	if l.RemnantCredit > 0 {
		out = append(out, fact{"remnants " + l.RemnantID + " worth", money(l.RemnantCredit * float64(l.Repeats))})
	}
	return out
}
