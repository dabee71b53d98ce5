package nest

import "math"

// solve picks the weights and prices that prove most. A variable stands for each
// weight; for each price, in shares of what the largest load in the hole's rule
// costs; and for what each part that may lie in a hole is granted, in shares of its
// own area; the last is the need, which falls below nothing as it grows.
func (p *roomProof) solve() {
	p.clear()
	v := p.variables()
	var s sepSimplex
	s.reset(v.last + 1)
	for j := range v.last {
		s.hi[j] = math.Inf(1)
	}
	s.lo[v.last] = -math.Inf(1)
	ones := s.row(1)
	for k := range p.claims {
		ones[k] = 1
	}
	p.gain(&v, s.row(0))
	for i, at := range v.granted {
		if at > 0 {
			p.beside(&v, i, s.row(0))
		}
	}
	for h := range p.holes {
		for _, i := range p.holes[h].fits {
			p.inside(&v, h, i, s.row(0))
		}
	}
	s.solve(proofPivots)
	x := make([]float64, v.last+1)
	s.solution(x)
	p.take(&v, x)
}

// proofPivots bounds the steps; what they have come to by then is a proof too.
const proofPivots = 3000

// proofVariables says where the program's variables are.
type proofVariables struct {
	prices  []int // first of each kind of hole
	granted []int // by part; 0 for those that fit no hole
	unit    [][]float64
	room    float64 // the unit of room
	last    int
}

func (p *roomProof) variables() proofVariables {
	v := proofVariables{granted: make([]int, len(p.counts)), last: len(p.claims)}
	for i, n := range p.counts {
		v.room += float64(n) * p.claims[0].takes[i]
	}
	v.room = max(v.room, 1)
	for h := range p.holes {
		v.prices = append(v.prices, v.last)
		v.last += len(p.holes[h].rules)
		v.unit = append(v.unit, p.units(&p.holes[h]))
	}
	for h := range p.holes {
		for _, i := range p.holes[h].fits {
			if v.granted[i] == 0 {
				v.granted[i] = v.last
				v.last++
			}
		}
	}
	return v
}

// units are the room that a load of 1 is priced in: the largest part's area.
func (p *roomProof) units(h *holeKind) []float64 {
	units := make([]float64, len(h.rules))
	for c, rule := range h.rules {
		units[c] = 1
		for _, i := range h.fits {
			if rule.load[i] > 0 {
				units[c] = max(units[c], p.claims[0].takes[i]/rule.load[i])
			}
		}
	}
	return units
}

// gain writes that the need is no more than what the parts are granted less what
// their holes give back.
func (p *roomProof) gain(v *proofVariables, row []float64) {
	for i, n := range p.counts {
		share := float64(n) / v.room
		if at := v.granted[i]; at > 0 {
			row[at] = -share * p.own(i)
			continue
		}
		for k, c := range p.claims {
			row[k] -= share * c.takes[i]
		}
	}
	for h, hole := range p.holes {
		for c, rule := range hole.rules {
			row[v.prices[h]+c] = float64(p.offered[h]) * rule.room * v.unit[h][c] / v.room
		}
	}
	row[v.last] = -1
}

// own is a part's own area, the unit of what it is granted.
func (p *roomProof) own(part int) float64 { return max(p.claims[0].takes[part], 1) }

// beside writes that a part is granted no more than it takes of the sheet.
func (p *roomProof) beside(v *proofVariables, part int, row []float64) {
	row[v.granted[part]] = 1
	for k, c := range p.claims {
		row[k] = -c.takes[part] / p.own(part)
	}
}

// inside writes that a part is granted no more than it pays in a hole.
func (p *roomProof) inside(v *proofVariables, hole, part int, row []float64) {
	row[v.granted[part]] = 1
	for c, rule := range p.holes[hole].rules {
		row[v.prices[hole]+c] = -rule.load[part] * v.unit[hole][c] / p.own(part)
	}
}

// take reads weights and prices off a solution and sees that they prove something:
// none negative, the weights one in all.
func (p *roomProof) take(v *proofVariables, x []float64) {
	sum := 0.0
	for k := range p.weights {
		p.weights[k] = max(0, x[k])
		sum += p.weights[k]
	}
	if sum == 0 {
		p.weights[0], sum = 1, 1
	}
	for k := range p.weights {
		p.weights[k] /= sum
	}
	for h := range p.prices {
		for c := range p.prices[h] {
			p.prices[h][c] = max(0, x[v.prices[h]+c]) * v.unit[h][c]
		}
	}
}
