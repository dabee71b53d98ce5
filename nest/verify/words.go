package verify

import (
	"fmt"
	"math"
	"strconv"

	"github.com/paulmach/orb"
)

// blank returns a violation that points nowhere yet.
func blank(k Kind) Violation { return Violation{Kind: k, Use: -1, A: -1, B: -1, Zone: -1} }

func (j *judge) sheetName(u int) string {
	s := j.l.Uses[u].Sheet
	return fmt.Sprintf("sheet %d (%s)", u+1, j.l.Sheets[s].ID)
}

func (j *judge) partName(u, i int) string {
	return fmt.Sprintf("part %s (placement %d)", j.partID(u, i), i+1)
}

func (j *judge) partID(u, i int) string {
	return j.l.Parts[j.l.Uses[u].Placements[i].Part].ID
}

func (j *judge) pairViolation(u int, p, q *body, k Kind, v verdict) Violation {
	out := blank(k)
	out.Use, out.A, out.B = u, p.index, q.index
	out.PartA, out.PartB = j.partID(u, p.index), j.partID(u, q.index)
	out.Where, out.Amount = v.at, v.amount
	out.Text = fmt.Sprintf("%s: %s and %s %s", j.sheetName(u), j.partName(u, p.index), j.partName(u, q.index),
		pairFact(k, v, j.l.Spacing))
	return out
}

func pairFact(k Kind, v verdict, spacing float64) string {
	switch k {
	case Overlap:
		return fmt.Sprintf("overlap %s deep at %s; move one of them at least that far", mm(v.amount), point(v.at))
	case Clearance:
		return fmt.Sprintf("are %s apart at %s where %s are asked for; move them %s further apart",
			mm(spacing-v.amount), point(v.at), mm(spacing), mm(v.amount))
	}
	return fmt.Sprintf("are too entangled near %s to tell whether they overlap; move them apart", point(v.at))
}

func (j *judge) sheetViolation(u int, b *body, zone int, k Kind, v verdict) Violation {
	out := blank(k)
	out.Use, out.A, out.PartA, out.Zone = u, b.index, j.partID(u, b.index), zone
	out.Where, out.Amount = v.at, v.amount
	edge := "the sheet's edge"
	if zone >= 0 {
		edge = fmt.Sprintf("blocked zone %d", zone+1)
	}
	out.Text = fmt.Sprintf("%s: %s %s", j.sheetName(u), j.partName(u, b.index), sheetFact(k, v, edge, j.l.Margin))
	return out
}

func sheetFact(k Kind, v verdict, edge string, margin float64) string {
	switch k {
	case OutsideSheet:
		return fmt.Sprintf("reaches %s over the sheet's edge at %s; move it in", mm(v.amount), point(v.at))
	case BlockedZone:
		return fmt.Sprintf("lies %s deep on %s at %s; move it off", mm(v.amount), edge, point(v.at))
	case Margin:
		return fmt.Sprintf("is %s from %s at %s where %s are asked for; move it %s further away",
			mm(margin-v.amount), edge, point(v.at), mm(margin), mm(v.amount))
	}
	return fmt.Sprintf("is too entangled with %s near %s to tell whether it is clear; move it away", edge, point(v.at))
}

// mm prints a length with three decimals, or with enough digits to show that it
// is not 0.
func mm(x float64) string {
	if x != 0 && math.Abs(x) < 0.01 {
		return strconv.FormatFloat(x, 'g', 2, 64) + " mm"
	}
	return strconv.FormatFloat(x, 'f', 3, 64) + " mm"
}

func point(p orb.Point) string { return fmt.Sprintf("(%.3f, %.3f)", p[0], p[1]) }

func degrees(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) + "°" }
