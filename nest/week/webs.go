package week

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/shop"
)

// mostWebs is how many parts a caution names.
const mostWebs = 4

// withWebs notes the parts whose thin webs the jet may break through.
func withWebs(s cost.Setup, parts []shop.Order) cost.Setup {
	if s.Material.Process != cost.Abrasive {
		return s
	}
	var names []string
	for i := range parts {
		name := partName(&parts[i])
		if !slices.Contains(names, name) && hasThinWeb(flatPart(parts[i].Shape), cost.ThinWebMM(s.SolidMM())) {
			names = append(names, name)
		}
	}
	if len(names) > mostWebs {
		names = append(names[:mostWebs], "others")
	}
	s.ThinWebs = strings.Join(names, ", ")
	return s
}

// hasThinWeb reports whether a part has a web of at most web mm: taking half of
// that off all round parts it, opens a hole to the outside or joins two holes.
func hasThinWeb(p orb.Polygon, web float64) bool {
	left := geom.Offset(p, -web/2, geom.ChordTolerance)
	return len(left) != 1 || len(left[0]) != len(p)
}
