package verify

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// parts works out every part and reports outlines that cannot be judged.
func (j *judge) parts() {
	j.kinds = make([]kind, len(j.l.Parts))
	for i, p := range j.l.Parts {
		k := &j.kinds[i]
		what := "part " + p.ID
		if k.ok = j.contours(what, p.ID, append([]geom.Contour{p.Shape.Outer}, p.Shape.Holes...)); !k.ok {
			continue
		}
		k.template = makeTemplate(p.Shape)
		k.own.edges = k.template.pose(geom.Pose{})
		k.own.box = bound(k.own.edges)
		if k.ok = j.simple(what, p.ID, k.own.edges) && j.holesInside(what, p); k.ok {
			k.own.findCore()
		}
	}
}

// sheets works out every sheet.
func (j *judge) sheets() {
	j.sheet = make([]sheetKind, len(j.l.Sheets))
	for i, s := range j.l.Sheets {
		k := &j.sheet[i]
		what := "sheet kind " + s.ID
		if k.ok = j.contours(what, "", []geom.Contour{s.Outline}); k.ok {
			r := plainRegion(s.Outline)
			k.ok = j.simple(what, "", r.edges)
			k.beyond = r.complement()
		}
		k.zones = make([]*region, len(s.Blocked))
		for z, b := range s.Blocked {
			zone := fmt.Sprintf("%s, blocked zone %d", what, z+1)
			if !j.contours(zone, "", []geom.Contour{b}) {
				continue
			}
			if r := plainRegion(b); j.simple(zone, "", r.edges) {
				r.findCore()
				k.zones[z] = r
			}
		}
	}
}

func plainRegion(c geom.Contour) *region {
	t := makeTemplate(geom.Shape{Outer: c})
	r := &region{edges: t.pose(geom.Pose{})}
	r.box = bound(r.edges)
	return r
}

// contours judges numbers and areas of contours.
func (j *judge) contours(what, id string, cs []geom.Contour) bool {
	for i, c := range cs {
		name := what
		if i > 0 {
			name = fmt.Sprintf("%s, hole %d", what, i)
		}
		v := blank(BadOutline)
		v.PartA = id
		switch at, ok := badVertex(c); {
		case !ok:
			v.Kind = BadNumber
			v.Text = fmt.Sprintf("%s: vertex %d is not a finite number up to %d; correct the drawing", name, at+1, geom.MaxCoordinate)
		case !hasArea(c):
			v.Text = fmt.Sprintf("%s: the outline encloses no area; correct the drawing", name)
		default:
			continue
		}
		j.add(v)
		return false
	}
	return true
}

// badVertex returns the first vertex that cannot be used. An arc may not leave
// the coordinate range either.
func badVertex(c geom.Contour) (int, bool) {
	for i, v := range c {
		if !usablePoint(v.P) || math.IsNaN(v.Bulge) {
			return i, false
		}
		if w := c[(i+1)%len(c)].P; usablePoint(w) && !(dist(v.P, w)*math.Abs(v.Bulge) <= 2*geom.MaxCoordinate) {
			return i, false
		}
	}
	return 0, true
}

// hasArea reports whether a contour has edges and they do not all cancel out.
func hasArea(c geom.Contour) bool {
	edges := plainRegion(c).edges
	if len(edges) < 2 {
		return false
	}
	b := bound(edges)
	return b.Max[0]-b.Min[0] > geom.TouchTolerance && b.Max[1]-b.Min[1] > geom.TouchTolerance
}

// simple reports the first place where edges cross each other.
func (j *judge) simple(what, id string, es []edge) bool {
	at, deep, ok := firstCrossing(es)
	if ok {
		return true
	}
	v := blank(BadOutline)
	v.PartA, v.Where, v.Amount = id, at, deep
	v.Text = fmt.Sprintf("%s: the outline crosses itself at %s; correct the drawing", what, point(at))
	j.add(v)
	return false
}

// holesInside reports a hole that starts outside the part.
func (j *judge) holesInside(what string, p Part) bool {
	outer := plainRegion(p.Shape.Outer)
	for i, h := range p.Shape.Holes {
		if q := h[0].P; outer.depthAt(q) < -geom.TouchTolerance {
			v := blank(BadOutline)
			v.PartA, v.Where = p.ID, q
			v.Text = fmt.Sprintf("%s: hole %d lies outside the outline at %s; correct the drawing", what, i+1, point(q))
			j.add(v)
			return false
		}
	}
	return true
}

// firstCrossing returns a place where two edges cross, and how deep: the
// shorter way from there to an end or to another crossing, times the sine of
// the angle. Touching edges, and crossings no deeper than the touch tolerance,
// are let pass: they change no material.
func firstCrossing(es []edge) (at orb.Point, deep float64, ok bool) {
	order := byLeft(es)
	var front []int
	for _, i := range order {
		keep := front[:0]
		for _, k := range front {
			if es[k].box.Max[0] < es[i].box.Min[0] {
				continue
			}
			keep = append(keep, k)
			if at, deep := crossing(&es[i], &es[k]); deep > geom.TouchTolerance {
				return at, deep, false
			}
		}
		front = append(keep, i)
	}
	return orb.Point{}, 0, true
}
