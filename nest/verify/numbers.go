package verify

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// numbers judges the numbers of the job as a whole. It reports whether the rest
// can be judged.
func (j *judge) numbers() bool {
	ok := true
	for _, n := range [...]struct {
		name string
		v    float64
	}{{"spacing", j.l.Spacing}, {"margin", j.l.Margin}, {"rounding tolerance", j.l.Rounding}} {
		if !(n.v >= 0 && n.v <= geom.MaxCoordinate) {
			v := blank(BadNumber)
			v.Text = fmt.Sprintf("%s is %v mm; give a number from 0 to %d", n.name, n.v, geom.MaxCoordinate)
			j.add(v)
			ok = false
		}
	}
	for _, p := range j.l.Parts {
		if p.Min < 0 || p.Max < p.Min {
			v := blank(BadNumber)
			v.PartA = p.ID
			v.Text = fmt.Sprintf("part %s is wanted at least %d and at most %d times; give 0 or more, the larger last", p.ID, p.Min, p.Max)
			j.add(v)
		}
	}
	for _, s := range j.l.Sheets {
		if s.Count < 0 {
			v := blank(BadNumber)
			v.Text = fmt.Sprintf("sheet kind %s: there are %d; give 0 or more", s.ID, s.Count)
			j.add(v)
		}
	}
	return ok
}

// useNumbers judges a use's indices and counts.
func (j *judge) useNumbers(u int) bool {
	use := j.l.Uses[u]
	v := blank(BadNumber)
	v.Use = u
	switch {
	case use.Sheet < 0 || use.Sheet >= len(j.l.Sheets):
		v.Text = fmt.Sprintf("sheet %d names sheet kind %d of %d; give one that exists", u+1, use.Sheet, len(j.l.Sheets))
	case use.Copies < 0:
		v.Text = fmt.Sprintf("sheet %d is to be cut %d times; give 1 or more", u+1, use.Copies)
	default:
		return true
	}
	j.add(v)
	return false
}

// placementNumbers judges one placement's numbers.
func (j *judge) placementNumbers(u, i int) bool {
	p := j.l.Uses[u].Placements[i]
	v := blank(BadNumber)
	v.Use, v.A = u, i
	if p.Part < 0 || p.Part >= len(j.l.Parts) {
		v.Text = fmt.Sprintf("%s: placement %d names part kind %d of %d; give one that exists",
			j.sheetName(u), i+1, p.Part, len(j.l.Parts))
		j.add(v)
		return false
	}
	if usable(p.Pose.X) && usable(p.Pose.Y) && usable(p.Pose.AngleDeg) {
		return true
	}
	v.PartA = j.partID(u, i)
	v.Text = fmt.Sprintf("%s: %s lies at (%v, %v) turned by %v; give finite numbers up to %d",
		j.sheetName(u), j.partName(u, i), p.Pose.X, p.Pose.Y, p.Pose.AngleDeg, geom.MaxCoordinate)
	j.add(v)
	return false
}

// usable reports whether a number is finite and within the range for which the
// arithmetic is derived; for angles the same bound serves.
func usable(x float64) bool { return math.Abs(x) <= geom.MaxCoordinate }

func usablePoint(p orb.Point) bool { return usable(p[0]) && usable(p[1]) }
