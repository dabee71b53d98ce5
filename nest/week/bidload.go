package week

import (
	"fmt"
	"slices"
	"strings"

	"kerfold/nest/shop"
)

// behind is the job with the sheets that a load cuts taken off its stock, and a
// note on the remnants that are gone by it. Sheets are known by id, material and
// thickness. Whole ones are left as they are where the load has been booked: where
// the job holds as many as the load leaves, or another state of the load's register.
func behind(job *shop.Job, load *Plan) (*shop.Job, []string) {
	if load == nil {
		return job, nil
	}
	out := *job
	out.Stock = nil
	taken, left := load.StockChange().Taken, load.leftOver()
	booked := load.RegisterSum != "" && load.Register == job.Register && load.RegisterSum != shop.RegisterSum(job.RegisterData)
	var gone []string
	for _, s := range job.Stock {
		key := sheetKey(&s)
		n := taken[s.ID]
		switch {
		case n == 0 || !load.cutsFrom(key):
		case s.Remnant:
			s.Count = max(0, s.Count-n)
			gone = append(gone, s.ID)
		case !booked && s.Count != left[key]:
			s.Count = max(0, s.Count-n)
		}
		if s.Count > 0 || !s.Remnant {
			out.Stock = append(out.Stock, s)
		}
	}
	if len(gone) == 0 {
		return &out, nil
	}
	slices.Sort(gone)
	return &out, []string{fmt.Sprintf("cut by the work of %q, and so not counted on: %s", load.Job, strings.Join(slices.Compact(gone), ", "))}
}

// A sheetID tells a stock line from others that only share its name.
type sheetID struct {
	id string
	of shop.Group
}

func sheetKey(s *shop.Stock) sheetID {
	return sheetID{s.ID, shop.Group{Material: s.Material, ThicknessMM: s.ThicknessMM}}
}

// leftOver counts the sheets a plan leaves.
func (p *Plan) leftOver() map[sheetID]int {
	left := map[sheetID]int{}
	for i := range p.Stock {
		left[sheetKey(&p.Stock[i])] += p.Stock[i].Count
	}
	return left
}

// cutsFrom tells whether a layout of the plan lies on such a sheet.
func (p *Plan) cutsFrom(key sheetID) bool {
	for gi := range p.Groups {
		g := &p.Groups[gi]
		for li := range g.Layouts {
			if sheetKey(&g.Sheets[g.Layouts[li].Sheet]) == key {
				return true
			}
		}
	}
	return false
}

// shareToBuy is shareStock with every kind of whole sheet offered to every group
// that can use it: of a kind of which it gets none, all are bought.
func shareToBuy(job *shop.Job, tasks []*task) [][]stockShare {
	shares := shareStock(job, tasks)
	for i, t := range tasks {
		for line := range job.Stock {
			s := &job.Stock[line]
			fits := !s.Remnant && s.Material == t.group.Material && s.ThicknessMM == t.group.ThicknessMM
			if fits && !slices.ContainsFunc(shares[i], func(h stockShare) bool { return h.line == line }) {
				shares[i] = append(shares[i], stockShare{line: line})
			}
		}
	}
	return shares
}
