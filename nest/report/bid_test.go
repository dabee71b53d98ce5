package report

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// sampleBid is a real bid for plates of two thicknesses.
func sampleBid(t *testing.T) *week.Bid {
	t.Helper()
	job := shop.DemoJob()
	for i, mm := range []float64{2, 6} {
		id := string(rune('A' + i))
		plate := geom.Shape{Outer: geom.RectContour(0, 0, 120, 80)}
		job.Orders = append(job.Orders, shop.OrderByHand(id, plate, 30, "aluminium 6061", mm, cost.Medium))
		job.Stock = append(job.Stock, shop.SheetByHand("S"+id, "aluminium 6061", mm, 500, 500, 20))
	}
	b, err := week.MakeBid(context.Background(), job, week.BidOptions{Buy: true, Markup: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestBidFollowsSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(BidSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("bid.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("bid.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteBidJSON(&b, sampleBid(t)); err != nil {
		t.Fatal(err)
	}
	if err := validate(t, s, b.String()); err != nil {
		t.Errorf("the bid breaks its schema: %v", err)
	}
	for _, c := range []struct{ why, old, new string }{
		{"unknown key", `"currency"`, `"curency"`},
		{"wrong type", `"setups": 2`, `"setups": "2"`},
		{"other version", `"kerfold_bid": 1`, `"kerfold_bid": 2`},
		{"unknown kind", `"kind": "grade"`, `"kind": "shine"`},
	} {
		bad := strings.Replace(b.String(), c.old, c.new, 1)
		if bad == b.String() || validate(t, s, bad) == nil {
			t.Errorf("%s: the schema lets %s pass", c.why, c.new)
		}
	}
}

// Prices are cost with the markup, everywhere; a set-up per thickness is in the total.
func TestBidPrices(t *testing.T) {
	b := sampleBid(t)
	f := NewBidFile(b)
	if f.Price.Likely != f.Cost.Likely*1.5 || f.Price.Low != f.Cost.Low*1.5 || f.Price.High != f.Cost.High*1.5 {
		t.Errorf("price %+v of cost %+v", f.Price, f.Cost)
	}
	sum := cost.SetupLedger(cost.DefaultRates()).Money.Total() * 2
	for _, g := range f.Groups {
		lines := 0.0
		for _, l := range g.Orders {
			lines += l.Cost
		}
		if d := lines - g.Cost.Likely; d > 1e-6 || d < -1e-6 {
			t.Errorf("%s: orders cost %v together, the group %v", g.ID, lines, g.Cost.Likely)
		}
		sum += g.Cost.Likely
	}
	if d := sum - f.Cost.Likely; d > 1e-6 || d < -1e-6 || f.Setups != 2 {
		t.Errorf("groups and %d set-ups cost %v, the bid %v", f.Setups, sum, f.Cost.Likely)
	}
	if !(f.Cost.Low < f.Cost.Likely && f.Cost.Likely < f.Cost.High && f.Yield.Low <= f.Yield.Likely && f.Yield.Likely <= f.Yield.High) {
		t.Errorf("ranges %+v, %+v", f.Cost, f.Yield)
	}
}
