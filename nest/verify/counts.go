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

// kits judges whether every sheet holds whole kits only.
func (j *judge) kits() {
	members := map[string][]int{}
	for i, p := range j.l.Parts {
		if p.Kit != "" && (p.Min > 0 || p.PerKit > 0) {
			members[p.Kit] = append(members[p.Kit], i)
		}
	}
	for _, kit := range slices.Sorted(maps.Keys(members)) {
		shares := j.shares(members[kit])
		for u := range j.l.Uses {
			j.kitOn(kit, members[kit], shares, u)
		}
	}
}

// shares returns how many copies of each member make one kit: as given, or the
// least whole numbers that stand to each other as the quantities.
func (j *judge) shares(members []int) []int {
	per, least := make([]int, len(members)), make([]int, len(members))
	given, divisor := true, 0
	for k, i := range members {
		per[k], least[k] = j.l.Parts[i].PerKit, j.l.Parts[i].Min
		given = given && per[k] > 0
		divisor = gcd(divisor, least[k])
	}
	if given {
		return per
	}
	for k := range least {
		least[k] /= max(1, divisor)
	}
	return least
}

func gcd(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}

// kitOn reports the first member whose copies on a use do not make the number
// of whole kits that the first member's make.
func (j *judge) kitOn(kit string, members, shares []int, u int) {
	n := make(map[int]int, len(members))
	for _, p := range j.l.Uses[u].Placements {
		n[p.Part]++
	}
	whole := n[members[0]] / max(1, shares[0])
	for k, i := range members {
		if n[i] == whole*shares[k] {
			continue
		}
		first, p := j.l.Parts[members[0]], j.l.Parts[i]
		v := blank(Kit)
		v.Use, v.PartA, v.PartB = u, first.ID, p.ID
		v.Amount = float64(n[i] - whole*shares[k])
		v.Text = fmt.Sprintf("sheet %d holds %d of part %s and %d of part %s, which do not make whole kits %s; keep each kit on one sheet",
			u+1, n[members[0]], first.ID, n[i], p.ID, kit)
		j.add(v)
		return
	}
}
