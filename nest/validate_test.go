package nest

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

func movedRect(w, h, dx, dy float64) orb.Polygon {
	return geom.TranslatePolygon(rect(w, h), orb.Point{dx, dy})
}

func TestValidate(t *testing.T) {
	good := func() Problem {
		return Problem{Parts: []Part{{ID: "a", Outline: rect(1, 1), Quantity: 1}}, Sheets: []Sheet{{ID: "s", Outline: rect(5, 5), Count: 1}}}
	}
	if err := good().Validate(); err != nil {
		t.Fatal(err)
	}
	cases := []struct {
		spoil func(*Problem)
		says  string
	}{
		{func(p *Problem) { p.Parts = nil }, "no parts"},
		{func(p *Problem) { p.Sheets = nil }, "nothing to lay out on"},
		{func(p *Problem) { p.StripWidth = 5 }, "both a strip and sheets"},
		{func(p *Problem) { p.StripWidth = math.NaN() }, "strip width NaN"},
		{func(p *Problem) { p.Spacing = -1 }, "spacing -1"},
		{func(p *Problem) { p.Margin = math.Inf(1) }, "margin +Inf"},
		{func(p *Problem) { p.Parts[0].Quantity = -1 }, `part 1 ("a"): quantity -1`},
		{func(p *Problem) { p.Parts[0].Angles = []float64{math.NaN()} }, "angle NaN"},
		{func(p *Problem) { p.Parts[0].Outline = nil }, "no outline"},
		{func(p *Problem) { p.Parts[0].Outline = orb.Polygon{{{0, 0}, {1, 1}, {2, 2}}} }, "encloses no area"},
		{func(p *Problem) { p.Parts[0].Outline = rect(1e9, 1) }, "out of range"},
		{func(p *Problem) { p.Sheets[0].Count = -2 }, `sheet 1 ("s"): count -2`},
		{func(p *Problem) { p.Sheets[0].Cost = math.NaN() }, "cost NaN"},
	}
	for _, c := range cases {
		p := good()
		c.spoil(&p)
		if err := p.Validate(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("error %v, want one that says %q", err, c.says)
		}
	}
}

func TestBadOrders(t *testing.T) {
	p := Problem{StripWidth: 5, Parts: []Part{{ID: "a", Outline: rect(1, 1), Quantity: 1}}}
	for _, c := range []Choice{{Part: 1}, {Part: -1}, {Turn: 1}, {Turn: -2}} {
		if _, err := BottomLeft(t.Context(), p, []Choice{c}, Options{}); err == nil {
			t.Errorf("order %+v is taken", c)
		}
	}
}
