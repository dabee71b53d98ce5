package week

import (
	"math"

	"kerfold/geom"
	"kerfold/nest/shop"
)

// stockAfter is the job's stock less the sheets cut, plus the remnants kept.
func (m *maker) stockAfter(p *Plan) []shop.Stock {
	left := make([]int, len(m.job.Stock))
	for i := range m.job.Stock {
		left[i] = m.job.Stock[i].Count
	}
	var remnants []shop.Stock
	for i, t := range m.tasks {
		g := &p.Groups[i]
		for k := range g.Layouts {
			l := &g.Layouts[k]
			left[t.lines[l.Sheet]] -= l.Repeats
			if l.Remnant != nil {
				remnants = append(remnants, remnantStock(&g.Sheets[l.Sheet], l))
			}
		}
	}
	var out []shop.Stock
	for i, s := range m.job.Stock {
		s.Count = left[i]
		s.Where = ""
		if s.Count > 0 {
			out = append(out, s)
		}
	}
	return append(out, remnants...)
}

// remnantStock is the stock line of a layout's remnants, in a frame of their
// own.
func remnantStock(from *shop.Stock, l *Layout) shop.Stock {
	s := *from
	box := l.Remnant.Bounds()
	s.ID, s.Count, s.Cost, s.Remnant = from.ID+"/"+l.ID, l.Repeats, cents(l.RemnantCredit), true
	s.Outline = l.Remnant.Transform(geom.Pose{X: -box.Min[0], Y: -box.Min[1]})
	s.Blocked, s.Location, s.Where = nil, "", ""
	s.Source = "remnant of " + from.ID
	return s
}

// cents rounds money as a price list writes it.
func cents(money float64) float64 { return math.Round(money*100) / 100 }
