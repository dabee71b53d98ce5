package verify

import (
	"cmp"
	"slices"

	"kerfold/geom"
)

// compareAll judges every part of a use against the sheet and against the parts
// near it. The parts come sorted by their left ends; a part is compared with
// those before it whose boxes reach it.
func (j *judge) compareAll(u int, bodies []*body) {
	from := len(j.report.Violations)
	var front []*body
	reach := j.l.Spacing
	for _, b := range bodies {
		front = passed(front, b.box.Min[0]-reach)
		j.againstSheet(u, b)
		for _, o := range front {
			if boxGap(&o.box, &b.box) <= reach {
				j.pair(u, o, b)
			}
		}
		front = append(front, b)
	}
	slices.SortStableFunc(j.report.Violations[from:], byPlace)
}

func byPlace(v, w Violation) int {
	return cmp.Or(cmp.Compare(v.A, w.A), cmp.Compare(v.B, w.B), cmp.Compare(v.Kind, w.Kind), cmp.Compare(v.Zone, w.Zone))
}

// passed drops the bodies that end left of x.
func passed(front []*body, x float64) []*body {
	keep := front[:0]
	for _, b := range front {
		if b.box.Max[0] < x {
			b.posed = nil
			continue
		}
		keep = append(keep, b)
	}
	clear(front[len(keep):])
	return keep
}

// pair judges two parts.
func (j *judge) pair(u int, p, q *body) {
	if p.index > q.index {
		p, q = q, p
	}
	j.report.Stats.Pairs++
	v := compare(p.region(), q.region(), j.l.Spacing, j.tol)
	j.report.Stats.Probes += v.probes
	switch v.finding {
	case shared:
		j.add(j.pairViolation(u, p, q, Overlap, v))
	case tooNear:
		j.add(j.pairViolation(u, p, q, Clearance, v))
	case unclear:
		j.add(j.pairViolation(u, p, q, Undecided, v))
	}
}

// againstSheet judges a part against the sheet's edge and its blocked zones.
func (j *judge) againstSheet(u int, b *body) {
	s := &j.sheet[j.l.Uses[u].Sheet]
	if !s.ok {
		return
	}
	j.sheetPart(u, b, s.beyond, -1, OutsideSheet)
	for z, zone := range s.zones {
		if zone != nil && boxGap(&zone.box, &b.box) <= j.l.Margin {
			j.sheetPart(u, b, zone, z, BlockedZone)
		}
	}
}

func (j *judge) sheetPart(u int, b *body, r *region, zone int, deep Kind) {
	v := compare(b.region(), r, j.l.Margin, j.tol+geom.SheetAllowance)
	j.report.Stats.Probes += v.probes
	switch v.finding {
	case shared:
		j.add(j.sheetViolation(u, b, zone, deep, v))
	case tooNear:
		j.add(j.sheetViolation(u, b, zone, Margin, v))
	case unclear:
		j.add(j.sheetViolation(u, b, zone, Undecided, v))
	}
}
