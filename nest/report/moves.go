package report

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
	"kerfold/nest/route"
)

// A move is a rapid move and how many parts already cut free it passes over;
// where there are any, the head is raised.
type move struct {
	way  []orb.Point
	over int
}

// moves lists the rapid moves of a route in order, those of no length left out.
func moves(r *route.Route) []move {
	var out []move
	add := func(way []orb.Point, over int) {
		if len(way) > 1 && way[0] != way[len(way)-1] {
			out = append(out, move{way, over})
		}
	}
	for i := range r.Cuts {
		add(r.Cuts[i].Rapid, r.Cuts[i].Over)
	}
	for i := range r.Severing {
		add(r.Severing[i].Rapid, r.Severing[i].Over)
	}
	return out
}

func (m move) path() geom.Path {
	p := make(geom.Path, len(m.way))
	for i, q := range m.way {
		p[i].P = q
	}
	return p
}
