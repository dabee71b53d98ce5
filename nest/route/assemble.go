package route

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// assemble turns the tour into cuts.
func assemble(in Input, t *tour, wanted float64) Route {
	var r Route
	f := newFreed(t)
	for i, n := range t.order {
		c := cut(in, &t.ns[n], t.start(n))
		c.Rapid, c.Over = f.way(i)
		r.Cuts = append(r.Cuts, c)
		r.CutMM += c.CutMM
		r.LeadMM += c.LeadMM
		r.RapidMM += chainLength(c.Rapid)
		if c.Over > 0 {
			r.Crossings++
		}
	}
	r.Pierces = len(r.Cuts)
	r.Warnings = leadWarnings(in, t, wanted)
	return r
}

func cut(in Input, n *node, s *start) Cut {
	c := Cut{
		Placement: in.Pieces[n.piece].Placement, Hole: n.hole, Name: in.Pieces[n.piece].Name,
		Pierce: s.pierce, LeadIn: s.in.path(), LeadOut: s.out.path(),
		Contour: n.outline.from(s.at), TabMM: n.tab,
	}
	c.CutMM = n.outline.length - n.tab
	c.LeadMM = c.LeadIn.Length() + c.LeadOut.Length()
	return c
}

// Path returns the whole way of the jet from the pierce to where it goes off:
// lead-in, contour (short of its end by a tab), lead-out.
func (c Cut) Path() geom.Path {
	var p geom.Path
	if len(c.LeadIn) > 0 {
		p = append(p, c.LeadIn[:len(c.LeadIn)-1]...)
	}
	p = append(p, c.Cut()...)
	if len(c.LeadOut) > 0 && len(p) > 0 {
		p = append(p[:len(p)-1], c.LeadOut...)
	}
	return p
}

// Cut returns the contour as the jet follows it: from its start round to the
// start, or short of it by a tab.
func (c Cut) Cut() geom.Path { return shortened(c.Contour, c.TabMM) }

// Tab returns the stretch of the contour that is left out at its end, nil where
// there is none.
func (c Cut) Tab() geom.Path {
	if c.TabMM <= 0 {
		return nil
	}
	o := newOutline(c.Contour)
	left := o.length - c.TabMM
	for i := range o.segs {
		s := &o.segs[i]
		if left >= s.length && i < len(o.segs)-1 {
			left -= s.length
			continue
		}
		t := math.Max(0, math.Min(1, left/s.length))
		tab := geom.Path{{P: s.at(t), Bulge: s.part(t, 1)}}
		for k := i + 1; k < len(o.segs); k++ {
			tab = append(tab, geom.Vertex{P: o.segs[k].a, Bulge: o.segs[k].bulge})
		}
		return append(tab, geom.Vertex{P: c.Contour[0].P})
	}
	return nil
}

func chainLength(pts []orb.Point) float64 {
	sum := 0.0
	for i := 1; i < len(pts); i++ {
		sum += dist(pts[i-1], pts[i])
	}
	return sum
}

// name says which contour is meant.
func name(p Piece, hole int) string {
	id := p.Name
	if id == "" {
		id = fmt.Sprintf("placement %d", p.Placement+1)
	}
	if hole < 0 {
		return "part " + id
	}
	return fmt.Sprintf("part %s, hole %d", id, hole+1)
}

// leadWarnings names the contours whose lead is not as asked for, one line a
// reason, each contour once with how often it occurs.
func leadWarnings(in Input, t *tour, wanted float64) []string {
	var texts []string
	byText := map[string][]string{}
	count := map[[2]string]int{}
	for n := range t.ns {
		text := t.start(n).warning(wanted)
		if text == "" {
			continue
		}
		id := name(in.Pieces[t.ns[n].piece], t.ns[n].hole)
		if byText[text] == nil {
			texts = append(texts, text)
		}
		if count[[2]string{text, id}]++; count[[2]string{text, id}] == 1 {
			byText[text] = append(byText[text], id)
		}
	}
	slices.Sort(texts)
	var out []string
	for _, text := range texts {
		ids := byText[text]
		for i, id := range ids {
			if k := count[[2]string{text, id}]; k > 1 {
				ids[i] = fmt.Sprintf("%s (%d times)", id, k)
			}
		}
		out = append(out, strings.Join(ids, "; ")+": "+text)
	}
	return out
}

// warning states what is wrong with a start's leads and the mend; wanted is the
// length of lead-in asked for.
func (s *start) warning(wanted float64) string {
	switch {
	case s.room == atEdge:
		return "the pierce hole leaves less of a web to the sheet's edge or a blocked zone than asked for; allow more margin, or shorter leads"
	case s.room == narrow:
		return "the scrap is narrow, and the pierce or a lead may break into a slot beside it; allow more spacing, or shorter leads"
	case s.room == cramped:
		return "the hole is smaller than the pierce hole; drill it, or pierce with a finer jet"
	case s.room == leadless:
		return "there is no room for a lead, and the jet pierces on the contour; allow more spacing, or shorter leads"
	case s.in.path().Length() < wanted*(1-shortShare):
		return "the lead-in is shortened to fit the scrap"
	}
	return ""
}

// shortShare is how much of a lead-in may be missing before that is said.
const shortShare = 0.01
