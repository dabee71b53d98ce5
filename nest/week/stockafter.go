package week

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"time"

	"kerfold/geom"
	"kerfold/nest/shop"
)

// stockAfter fills in the job's stock less the sheets cut, plus the remnants
// kept, and numbers these.
func (m *maker) stockAfter(p *Plan) {
	p.Remnants, p.Register = m.o.Remnants, m.job.Register
	if p.Register != "" {
		p.RegisterSum = shop.RegisterSum(m.job.RegisterData)
	}
	left := make([]int, len(m.job.Stock))
	for i := range m.job.Stock {
		left[i] = m.job.Stock[i].Count
	}
	for i, t := range m.tasks {
		for _, l := range p.Groups[i].Layouts {
			left[t.lines[l.Sheet]] -= l.Repeats
		}
	}
	p.Stock = nil
	for i, s := range m.job.Stock {
		s.Count, s.Where = left[i], ""
		if s.Count > 0 {
			p.Stock = append(p.Stock, s)
		}
	}
	p.Stock = append(p.Stock, p.newRemnants(m.job.Stock)...)
}

// newRemnants gives every layout that leaves a remnant its id and returns their
// lines. All copies of a layout leave the same piece, so they are one line.
func (p *Plan) newRemnants(stock []shop.Stock) []shop.Stock {
	var out []shop.Stock
	number := lastNumber(stock)
	for gi := range p.Groups {
		g := &p.Groups[gi]
		for li := range g.Layouts {
			if l := &g.Layouts[li]; l.Remnant != nil {
				number++
				l.RemnantID = fmt.Sprintf("R-%03d", number)
				out = append(out, p.remnantStock(gi, li))
			}
		}
	}
	return out
}

var remnantID = regexp.MustCompile(`^R-([0-9]{1,9})$`)

// lastNumber is the highest among ids of the form R-041. Lines used up count
// too, so that an id is not given twice while they are in the register.
func lastNumber(stock []shop.Stock) int {
	last := 0
	for i := range stock {
		if m := remnantID.FindStringSubmatch(stock[i].ID); m != nil {
			n, _ := strconv.Atoi(m[1])
			last = max(last, n)
		}
	}
	return last
}

// remnantStock is the stock line of a layout's remnants, in a frame of their
// own.
func (p *Plan) remnantStock(group, layout int) shop.Stock {
	l := &p.Groups[group].Layouts[layout]
	from := &p.Groups[group].Sheets[l.Sheet]
	s := *from
	box := l.Remnant.Bounds()
	s.ID, s.Count, s.Cost, s.Remnant = l.RemnantID, l.Repeats, cents(l.RemnantCredit), true
	s.Outline = l.Remnant.Transform(geom.Pose{X: -box.Min[0], Y: -box.Min[1]})
	s.Blocked, s.Location, s.Where, s.Note = nil, p.Remnants.Location, "", ""
	s.Since = p.cutOn(group, layout)
	s.Source = "derived"
	s.Origin = fmt.Sprintf("%s, layout %s of %s", from.ID, l.ID, p.Job)
	return s
}

// cutOn is the day a layout's last sheet is cut; the zero time where it is not
// in the calendar.
func (p *Plan) cutOn(group, layout int) time.Time {
	last := -1
	for _, s := range p.Calendar {
		if s.Group == group && s.Layout == layout {
			last = max(last, s.EndDay)
		}
	}
	if last < 0 {
		return time.Time{}
	}
	return p.Days[last]
}

// StockChange is what the plan takes from the rack and puts onto it.
func (p *Plan) StockChange() shop.StockChange {
	c := shop.StockChange{Taken: map[string]int{}}
	born := map[string]bool{}
	for gi := range p.Groups {
		g := &p.Groups[gi]
		for li := range g.Layouts {
			l := &g.Layouts[li]
			c.Taken[g.Sheets[l.Sheet].ID] += l.Repeats
			born[l.RemnantID] = l.Remnant != nil
		}
	}
	for _, s := range p.Stock {
		if born[s.ID] {
			c.Added = append(c.Added, s)
		}
	}
	return c
}

// cents rounds money as a price list writes it.
func cents(money float64) float64 { return math.Round(money*100) / 100 }
