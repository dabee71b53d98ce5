package week

import (
	"strings"
	"testing"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/shop"
)

// rackJob has plates to cut, sheets enough and one cheap remnant for some of them.
func rackJob() *shop.Job {
	job := plateJob(12)
	job.Stock[0].Count = 6
	r := shop.SheetByHand("R-7", "aluminium 6061", 2, 450, 400, 1)
	r.Remnant = true
	job.Stock = append(job.Stock, r)
	return job
}

// loadOf is a plan that cuts the remnant of rackJob and some of its sheets.
func loadOf(sheets int) *Plan {
	job := rackJob()
	g := Group{Material: "aluminium 6061", ThicknessMM: 2, Sheets: job.Stock, Layouts: []Layout{{Sheet: 1, Repeats: 1}}}
	if sheets > 0 {
		g.Layouts = append(g.Layouts, Layout{Sheet: 0, Repeats: sheets})
	}
	left := job.Stock[0]
	left.Count -= sheets
	p := &Plan{Job: "before", Groups: []Group{g}, Stock: []shop.Stock{left}}
	for i := range job.Machines {
		p.Machines = append(p.Machines, MachineLoad{ID: job.Machines[i].ID, HoursPerDay: 8})
	}
	return p
}

func TestBidLeavesTheLoadsSheets(t *testing.T) {
	free := bidFor(t, rackJob(), BidOptions{NoChanges: true})
	if !cutsSheet(free, "R-7") {
		t.Fatal("the remnant is not cut with no load: the case tests nothing")
	}
	for _, c := range []struct {
		why   string
		cut   int // sheets by the load
		stock int // sheets the job has
		buy   int
	}{
		{"none taken", 0, 6, 0},
		{"all taken: the bid buys", 6, 6, 1},
		{"the job's stock is what the load leaves", 5, 1, 0},
	} {
		job := rackJob()
		job.Stock[0].Count = c.stock
		b := bidFor(t, job, BidOptions{NoChanges: true, Load: loadOf(c.cut)})
		if cutsSheet(b, "R-7") || b.ToBuy != c.buy || b.Groups[0].Short > 0 {
			t.Errorf("%s: sheets %+v, %d to buy", c.why, b.Groups[0].Sheets, b.ToBuy)
		}
		if !strings.Contains(strings.Join(b.Warnings, "\n"), "R-7") {
			t.Errorf("%s: nothing is said of the remnant: %q", c.why, b.Warnings)
		}
		if job.Stock[1].Count != 1 {
			t.Errorf("%s: the job was changed", c.why)
		}
	}
	other := rackJob()
	other.Stock[1].ThicknessMM = 3
	other.Orders[0].ThicknessMM, other.Stock[0].ThicknessMM = 3, 3
	if b := bidFor(t, other, BidOptions{NoChanges: true, Load: loadOf(6)}); !cutsSheet(b, "R-7") || b.ToBuy != 0 {
		t.Errorf("sheets of another thickness that share an id were taken: %+v", b.Groups[0].Sheets)
	}
}

func cutsSheet(b *Bid, id string) bool {
	for _, s := range b.Groups[0].Sheets {
		if s.ID == id {
			return true
		}
	}
	return false
}

// A kind of whole sheet that is out of stock is bought; a group that the stock does
// not reach for buys as well.
func TestBidBuysWhatIsOutOfStock(t *testing.T) {
	job := plateJob(20)
	job.Stock[0].Count = 0
	if b := bidFor(t, job, BidOptions{NoChanges: true}); b.Sheets != 1 || b.ToBuy != 1 {
		t.Errorf("%d sheets, %d to buy", b.Sheets, b.ToBuy)
	}
	two := plateJob(20)
	fine := shop.OrderByHand("fine", geom.Shape{Outer: geom.RectContour(0, 0, 120, 80)}, 1, "aluminium 6061", 2, cost.Good)
	two.Orders = append(two.Orders, fine)
	if b := bidFor(t, two, BidOptions{NoChanges: true}); len(b.Groups) != 2 || b.Sheets != 2 || b.ToBuy != 1 {
		t.Errorf("two grades and one sheet: %d sheets, %d to buy, %+v", b.Sheets, b.ToBuy, b.Groups)
	}
}
