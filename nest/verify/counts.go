package verify

import (
	"fmt"
	"maps"
	"slices"
)

func (u Use) copies() int { return max(1, u.Copies) }

// made counts the parts of each kind, over all uses and their copies.
func (j *judge) made() []int {
	n := make([]int, len(j.l.Parts))
	for _, u := range j.l.Uses {
		for _, p := range u.Placements {
			if p.Part >= 0 && p.Part < len(n) {
				n[p.Part] += u.copies()
			}
		}
	}
	return n
}

func (j *judge) quantities() {
	for i, n := range j.made() {
		p := j.l.Parts[i]
		v := blank(TooFew)
		v.PartA = p.ID
		switch {
		case n < p.Min:
			v.Amount = float64(p.Min - n)
			v.Text = fmt.Sprintf("part %s is placed %d times where %d are ordered; place %d more", p.ID, n, p.Min, p.Min-n)
		case n > p.Max:
			v.Kind, v.Amount = TooMany, float64(n-p.Max)
			v.Text = fmt.Sprintf("part %s is placed %d times where %d are allowed; take %d away", p.ID, n, p.Max, n-p.Max)
		default:
			continue
		}
		j.add(v)
	}
}

func (j *judge) sheetCounts() {
	n := make([]int, len(j.l.Sheets))
	for _, u := range j.l.Uses {
		if u.Sheet >= 0 && u.Sheet < len(n) {
			n[u.Sheet] += u.copies()
		}
	}
	for i, s := range j.l.Sheets {
		if s.Count > 0 && n[i] > s.Count {
			v := blank(SheetCount)
			v.Amount = float64(n[i] - s.Count)
			v.Text = fmt.Sprintf("sheet kind %s is used %d times and there are %d; use %d fewer", s.ID, n[i], s.Count, n[i]-s.Count)
			j.add(v)
		}
	}
}

// kits judges whether every sheet holds whole kits only. One kit holds each of
// its parts as often as the ordered quantities stand to each other.
func (j *judge) kits() {
	members := map[string][]int{}
	for i, p := range j.l.Parts {
		if p.Kit != "" && p.Min > 0 {
			members[p.Kit] = append(members[p.Kit], i)
		}
	}
	for _, kit := range slices.Sorted(maps.Keys(members)) {
		for u := range j.l.Uses {
			j.kitOn(kit, members[kit], u)
		}
	}
}

func (j *judge) kitOn(kit string, members []int, u int) {
	n := make(map[int]int, len(members))
	for _, p := range j.l.Uses[u].Placements {
		n[p.Part]++
	}
	first := j.l.Parts[members[0]]
	for _, i := range members[1:] {
		p := j.l.Parts[i]
		if n[i]*first.Min == n[members[0]]*p.Min {
			continue
		}
		v := blank(Kit)
		v.Use, v.PartA, v.PartB = u, first.ID, p.ID
		v.Amount = 1
		v.Text = fmt.Sprintf("sheet %d holds %d of part %s and %d of part %s, which do not make whole kits %s; keep each kit on one sheet",
			u+1, n[members[0]], first.ID, n[i], p.ID, kit)
		j.add(v)
	}
}
