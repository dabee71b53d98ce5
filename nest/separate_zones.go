package nest

import (
	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A sheet is its bounding box less zones that must stay clear: its own blocked
// zones, and, where its outline is no rectangle, the frame between the outline
// and a larger box. Zones are items that never move.

// addZones appends the zones of one kind of sheet.
func (s *sepStore) addZones(sheet int, sh Sheet) error {
	for _, z := range sepZones(stretched(sh.Outline)) {
		k, err := sepNewKind(sheet, z, 0)
		if err != nil {
			return err
		}
		k.zone = true
		s.add(k, []Turn{{}}, false)
	}
	return nil
}

// zonesOf lists the kinds that are zones of a kind of sheet.
func (s *sepStore) zonesOf(sheet int) []int {
	var out []int
	for i := range s.kinds {
		if s.kinds[i].zone && s.kinds[i].part == sheet {
			out = append(out, i)
		}
	}
	return out
}

func sepZones(outline orb.Polygon) []orb.Polygon {
	var zones []orb.Polygon
	if outer := geom.OrientRing(outline[0], true); !sepIsBox(outer) {
		zones = append(zones, sepFrame(outer))
	}
	for _, hole := range outline[1:] {
		zones = append(zones, orb.Polygon{geom.OrientRing(hole, true)})
	}
	return zones
}

// sepIsBox reports whether a ring covers its bounding box.
func sepIsBox(ring orb.Ring) bool {
	b := ring.Bound()
	return ringArea(ring) >= (b.Max[0]-b.Min[0])*(b.Max[1]-b.Min[1])-geom.Grid
}

// sepFrame is what lies around the ring: a box as far out as the ring is long,
// so that the way out of the frame is always the way in, less the ring.
func sepFrame(ring orb.Ring) orb.Polygon {
	b := ring.Bound()
	pad := max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])
	x0, y0, x1, y1 := b.Min[0]-pad, b.Min[1]-pad, b.Max[0]+pad, b.Max[1]+pad
	return orb.Polygon{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, geom.OrientRing(ring, false)}
}
