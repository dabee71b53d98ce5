package geom

// Then returns the pose that does p first and q after it: q.Apply(p.Apply(pt)),
// up to rounding.
func (p Pose) Then(q Pose) Pose {
	at := q.Apply([2]float64{p.X, p.Y})
	turn := p.AngleDeg
	if q.Mirror { // a mirror turns a later turn's sense around
		turn = -turn
	}
	return Pose{X: at[0], Y: at[1], AngleDeg: NormalDeg(turn + q.AngleDeg), Mirror: p.Mirror != q.Mirror}
}

// Inverse returns the pose that undoes p, up to rounding.
func (p Pose) Inverse() Pose {
	inv := Pose{AngleDeg: NormalDeg(-p.AngleDeg)}
	if p.Mirror { // mirror·turn(−a) = turn(a)·mirror
		inv = Pose{AngleDeg: NormalDeg(p.AngleDeg), Mirror: true}
	}
	at := inv.Apply([2]float64{p.X, p.Y})
	inv.X, inv.Y = -at[0], -at[1]
	return inv
}
