package verify

import (
	"fmt"
	"math"

	"kerfold/geom"
)

// placementRules judges turn, mirroring and grain of one placement.
func (j *judge) placementRules(u, i int) {
	p := j.l.Uses[u].Placements[i]
	if p.Part < 0 || p.Part >= len(j.l.Parts) || !usable(p.Pose.AngleDeg) {
		return // reported as a bad number
	}
	part := j.l.Parts[p.Part]
	slack := j.turnSlack(p.Part)
	if p.Pose.Mirror && !part.Mirror {
		j.addRule(u, i, Mirrored, 0, "is turned over and must not be; turn it back")
	}
	if off := offAngles(part, p.Pose.AngleDeg); !(off <= slack) {
		j.addRule(u, i, Angle, off, fmt.Sprintf("is turned by %s, %s off the nearest allowed turn; turn it to that",
			degrees(p.Pose.AngleDeg), degrees(off)))
	}
	sheet := j.l.Sheets[j.l.Uses[u].Sheet]
	if part.GrainDeg == nil || sheet.GrainDeg == nil {
		return
	}
	if off := offGrain(*part.GrainDeg, *sheet.GrainDeg, p.Pose); !(off <= slack) {
		j.addRule(u, i, Grain, off, fmt.Sprintf("lies %s across the sheet's grain; turn it by that", degrees(off)))
	}
}

func (j *judge) addRule(u, i int, k Kind, amount float64, fact string) {
	v := blank(k)
	p := j.l.Uses[u].Placements[i]
	v.Use, v.A, v.PartA = u, i, j.partID(u, i)
	v.Where[0], v.Where[1] = p.Pose.X, p.Pose.Y
	v.Amount = amount
	v.Text = fmt.Sprintf("%s: %s %s", j.sheetName(u), j.partName(u, i), fact)
	j.add(v)
}

// turnSlack is the turn, in degrees, that moves no point of the part by more
// than the tolerance.
func (j *judge) turnSlack(part int) float64 {
	r := math.Max(1, j.kinds[part].template.reach)
	return j.tol / r * 180 / math.Pi
}

// offAngles returns how far a turn is from the nearest allowed one, degrees.
func offAngles(p Part, deg float64) float64 {
	if p.FreeAngle {
		return 0
	}
	if len(p.Angles) == 0 {
		return turnApart(deg, 0, 360)
	}
	best := math.Inf(1)
	for _, a := range p.Angles {
		if off := turnApart(deg, a, 360); off < best { // never for a NaN
			best = off
		}
	}
	return best
}

// offGrain returns the angle between the part's grain, where its pose takes it,
// and the sheet's.
func offGrain(part, sheet float64, p geom.Pose) float64 {
	if p.Mirror {
		part = 180 - part
	}
	return turnApart(part+p.AngleDeg, sheet, 180)
}

// turnApart returns the angle between two directions that repeat every period.
func turnApart(a, b, period float64) float64 {
	return math.Abs(math.Remainder(a-b, period))
}
