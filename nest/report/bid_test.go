package report

import (
	"bytes"
	"context"
	"errors"
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

func bidSchemaOf(t *testing.T) *jsonschema.Schema {
	t.Helper()
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
	return s
}

func TestBidFollowsSchema(t *testing.T) {
	s := bidSchemaOf(t)
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

// How due dates were weighed is told in both forms, and the schema knows it.
func TestBidTellsOfDueDates(t *testing.T) {
	b := sampleBid(t)
	b.Due = &week.DueWeighing{
		PerHour: 15, Trials: 3, Late: []string{"A"}, LateMoney: 12, Groups: []string{"G1", "G2"}, Sheets: 1, Money: 40, Spared: 292, Cut: true,
	}
	for _, c := range []struct{ why, want string }{
		{"", "due dates:    weighed on 3 trial calendars, an hour late at 15.00 EUR: G1, G2 are cut in another way, for 1 sheet more and +60.00 EUR (remnants credited), so that lateness weighs 292.00 less; late all the same: A (weighs 12.00, in no price); not all was tried: time was up, give more --seconds\n"},
		{"nobody asked", "due dates:    not weighed: nobody asked\n"},
	} {
		b.Due.Why = c.why
		var text, data bytes.Buffer
		if err := errors.Join(WriteBid(&text, b, cost.Metric), WriteBidJSON(&data, b)); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(text.String(), c.want) {
			t.Errorf("no %q in\n%s", c.want, text.String())
		}
		if err := validate(t, bidSchemaOf(t), data.String()); err != nil {
			t.Errorf("the bid breaks its schema: %v", err)
		}
	}
	b.Due = nil
	var text bytes.Buffer
	if err := WriteBid(&text, b, cost.Metric); err != nil || strings.Contains(text.String(), "due dates:") {
		t.Errorf("%v: due dates are told of where there are none\n%s", err, text.String())
	}
}
