package nest

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A latTurned is a cell turned to lie on a sheet: every copy of its motif is a
// form of the part that the sheet allows.
type latTurned struct {
	u, v  orb.Point
	at    []orb.Point
	form  []int32
	angle []float64
	ext   []sepBox
}

func latSort(cells []latCell) {
	slices.SortStableFunc(cells, func(a, b latCell) int { return cmp.Compare(b.density(), a.density()) })
}

// turned returns the cell turned by an angle, or false when that gives a copy a
// turn that the ground does not allow.
func (c *latCell) turned(s *sepStore, kind int, ground int32, deg float64) (latTurned, bool) {
	m := sepTurnMatrix(Turn{AngleDeg: deg})
	t := latTurned{u: latApply(m, c.u), v: latApply(m, c.v)}
	for i, turn := range c.turns {
		turn.AngleDeg = turn.AngleDeg + deg
		form, angle, ok := s.formOf(kind, turn)
		if !ok || !s.allowed(form, ground) {
			return t, false
		}
		_, ext := s.lie(form, angle)
		t.at = append(t.at, latApply(m, c.at[i]))
		t.form, t.angle, t.ext = append(t.form, form), append(t.angle, angle), append(t.ext, ext)
	}
	return t, true
}

func latApply(m sepMatrix, p orb.Point) orb.Point {
	x, y := m.apply(p[0], p[1])
	return orb.Point{x, y}
}

// formOf finds the form of a kind for a turn, and its angle where it is free.
func (s *sepStore) formOf(kind int, t Turn) (form int32, angle float64, ok bool) {
	k := &s.kinds[kind]
	angle = sepSnapAngle(t.AngleDeg)
	for i := k.form0; i < k.form0+k.forms; i++ {
		f := &s.forms[i]
		if f.is(angle, t.Mirror) {
			return int32(i), angle, true
		}
	}
	return 0, 0, false
}

// latAngles lists the angles to turn a cell by: those between turns that the
// part may have, and, for a part that may lie at any angle, those that lay the
// lattice's short vectors along the sheet's edges and some in between.
func latAngles(s *sepStore, kind int, c *latCell) []float64 {
	k := &s.kinds[kind]
	var list []float64
	add := func(deg float64) {
		deg = sepSnapAngle(deg)
		if !slices.Contains(list, deg) {
			list = append(list, deg)
		}
	}
	if !k.free {
		for _, f := range s.forms[k.form0 : k.form0+k.forms] {
			if f.turn.Mirror == c.turns[0].Mirror {
				add(f.turn.AngleDeg - c.turns[0].AngleDeg)
			}
		}
		return list
	}
	for _, w := range []orb.Point{c.u, c.v, {c.u[0] + c.v[0], c.u[1] + c.v[1]}, {c.u[0] - c.v[0], c.u[1] - c.v[1]}} {
		deg := math.Atan2(w[1], w[0]) * 180 / math.Pi
		add(-deg)
		add(90 - deg)
	}
	for n := range latFreeAngles {
		add(float64(n) * 180 / latFreeAngles)
	}
	return list
}

// latFreeAngles is how many evenly spread angles are tried besides.
const latFreeAngles = 18

// picks lists the copies inside the box as poses.
func (t *latTurned) picks(b sepBox, o orb.Point, sheet int32) []sepPick {
	var out []sepPick
	for k := range t.at {
		t.rows(b, k, o, func(x, y float64, from, to int) {
			for i := from; i <= to; i++ {
				out = append(out, sepPick{
					form: t.form[k], angle: t.angle[k], sheet: sheet,
					x: x + float64(i)*t.u[0], y: y + float64(i)*t.u[1],
				})
			}
		})
	}
	return out
}
