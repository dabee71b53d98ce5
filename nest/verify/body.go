package verify

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// A body is a placed part. Its edges are made when it is first compared and
// dropped when the sweep has passed it, so that memory holds one front of parts
// rather than all of them.
type body struct {
	index int // of the placement in its use
	kind  *kind
	pose  geom.Pose
	box   orb.Bound
	posed *region
}

// bodies returns the placements of a use that can be judged, from left to right.
func (j *judge) bodies(u int) []*body {
	var out []*body
	j.report.Stats.Placements += len(j.l.Uses[u].Placements)
	for i, p := range j.l.Uses[u].Placements {
		if !j.placementNumbers(u, i) || !j.kinds[p.Part].ok {
			continue
		}
		b := &body{index: i, kind: &j.kinds[p.Part], pose: p.Pose}
		b.box = bound(b.kind.template.pose(p.Pose))
		out = append(out, b)
	}
	slices.SortFunc(out, func(p, q *body) int {
		return cmp.Or(cmp.Compare(p.box.Min[0], q.box.Min[0]), cmp.Compare(p.index, q.index))
	})
	return out
}

func (b *body) region() *region {
	if b.posed == nil {
		b.posed = &region{
			edges:     b.kind.template.pose(b.pose),
			box:       b.box,
			core:      b.pose.Apply(b.kind.own.core),
			coreDepth: b.kind.own.coreDepth,
		}
	}
	return b.posed
}
