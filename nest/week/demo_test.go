package week

import (
	"context"
	"os"
	"testing"

	"kerfold/nest"
	"kerfold/nest/shop"
)

// The demo week, laid out by one bottom-left pass for every way, is whole and
// legal. It takes some seconds.
func TestDemoWeek(t *testing.T) {
	if testing.Short() {
		t.Skip("plans the whole demo week, some seconds")
	}
	job, err := shop.Load(os.DirFS("../../testdata/week"), "week.yaml")
	if err != nil {
		t.Fatal(err)
	}
	bottomLeft := func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error) {
		return nest.BottomLeft(ctx, p, nil, o)
	}
	p, err := makeWith(context.Background(), job, Options{Seed: 1, Effort: 1, Workers: 2}, engine{bottomLeft, bottomLeft, nestEngine.fill, nestEngine.alone})
	if err != nil {
		t.Fatal(err)
	}
	parts := 0
	for i := range p.Groups {
		g := &p.Groups[i]
		if r := Judge(g); !r.OK() {
			t.Errorf("%s: %s", g.ID, r.Violations[0].Text)
		}
		for k := range g.Layouts {
			parts += len(g.Layouts[k].Placements) * g.Layouts[k].Repeats
		}
	}
	for _, fault := range Audit(p) {
		t.Error(fault)
	}
	for _, o := range p.Orders {
		if o.Placed < o.Wanted {
			t.Errorf("order %s: %d of %d placed", o.Order, o.Placed, o.Wanted)
		}
	}
	if len(p.Groups) < 8 || parts < 600 {
		t.Errorf("%d groups and %d parts, the demo has more", len(p.Groups), parts)
	}
}
