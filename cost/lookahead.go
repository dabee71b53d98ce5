package cost

import "math"

// A joint is what the corner between two spans demands.
type joint struct {
	speed float64 // greatest speed through it, mm/s
	curve float64 // greatest feed on a polyline's stand-in for a curve, mm/s; infinite at a true corner
	slow  float64 // greatest feed near a true corner for the jet's lag, mm/s; infinite for none
}

// straightHalfCos is the cosine of half an interior angle below which a joint
// is straight: a turn of about 2e-9 rad, rounding noise of unit tangents.
const straightHalfCos = 1e-9

// joint works out the corner between two spans. A polyline that stands for a
// curve has corners so flat that an arc touching both spans at the middle of
// the shorter one strays less than the allowed deviation: such a joint is
// driven, and judged, as that arc.
func (m Motion) joint(a, b span) joint {
	sin, cos := halfAngle(a, b)
	inf := math.Inf(1)
	if cos < straightHalfCos {
		return joint{inf, inf, inf}
	}
	rounded := junctionRadius(m.DeviationMM, sin, cos)
	touching := min(a.mm, b.mm) / 2 * sin / cos
	if touching > rounded {
		return joint{ArcSpeed(rounded, m.AccelMMPerS2), inf, m.cornerFeed(cos)}
	}
	v := min(ArcSpeed(touching, m.AccelMMPerS2), m.arcFeed(touching))
	return joint{v, m.arcFeed(touching), inf}
}

// halfAngle returns the sine and cosine of half the interior angle between two
// spans. For a turn τ they are cos(τ/2) and sin(τ/2); the latter comes from
// the cross product so that flat corners keep their digits.
func halfAngle(a, b span) (sin, cos float64) {
	dot := a.out[0]*b.in[0] + a.out[1]*b.in[1]
	cross := math.Abs(a.out[0]*b.in[1] - a.out[1]*b.in[0])
	sin = math.Sqrt(max(0, (1+dot)/2))
	if sin < 0.5 {
		return sin, math.Sqrt(max(0, (1-dot)/2))
	}
	return sin, cross / (2 * sin)
}

// arcFeed is the greatest feed in mm/s on an arc for the jet's lag.
func (m Motion) arcFeed(radius float64) float64 {
	if m.Lag == nil || math.IsInf(radius, 1) {
		return math.Inf(1)
	}
	return m.Lag.feed(ArcIndex(m.Lag.ThicknessMM, radius, m.Lag.ErrorMM)) / secPerMin
}

// cornerFeed is the greatest feed in mm/s near a corner for the jet's lag.
func (m Motion) cornerFeed(cosHalf float64) float64 {
	if m.Lag == nil {
		return math.Inf(1)
	}
	q := cornerIndex(m.Lag.ThicknessMM, m.Lag.ErrorMM, cosHalf)
	if q <= m.Lag.Index {
		return math.Inf(1)
	}
	return m.Lag.feed(q) / secPerMin
}

// plan cuts the spans into pieces of one greatest feed each.
func (m Motion) plan(spans []span) *profile {
	joints := make([]joint, len(spans)+1)
	joints[0].curve, joints[len(spans)].curve = math.Inf(1), math.Inf(1)
	for i := 1; i < len(spans); i++ {
		joints[i] = m.joint(spans[i-1], spans[i])
	}
	zones := m.slowZones(spans, joints)
	p := newProfile(len(spans) + 2*len(zones.at))
	x := 0.0
	for i, s := range spans {
		held, feed := m.spanFeed(s, joints[i], joints[i+1])
		zones.cut(p, x, s.mm, held, feed, joints[i].speed)
		x += s.mm
	}
	return p
}

// spanFeed is the greatest feed in mm/s on a span between two joints: what the
// cut allows, and what the acceleration leaves of it on an arc. A line counts as
// part of a curve only when both its ends do.
func (m Motion) spanFeed(s span, start, end joint) (held, feed float64) {
	held = m.FeedMMPerMin / secPerMin
	if math.IsInf(s.radius, 1) {
		held = min(held, max(start.curve, end.curve))
		return held, held
	}
	held = min(held, m.arcFeed(s.radius))
	return held, min(held, ArcSpeed(s.radius, m.AccelMMPerS2))
}
