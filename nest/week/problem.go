package week

import "kerfold/nest"

// A demand is what a layout problem asks for: copies by part and sheets by
// kind, as the group counts them.
type demand struct {
	want   []int
	sheets []int
}

func (d demand) clone() demand {
	return demand{append([]int(nil), d.want...), append([]int(nil), d.sheets...)}
}

// empty reports whether nothing is wanted.
func (d demand) empty() bool {
	for _, n := range d.want {
		if n > 0 {
			return false
		}
	}
	return true
}

// full is the group's whole demand.
func (t *task) full() demand {
	d := demand{make([]int, len(t.group.Parts)), make([]int, len(t.group.Sheets))}
	for i := range t.group.Parts {
		d.want[i] = t.group.Parts[i].Quantity
	}
	for i := range t.group.Sheets {
		d.sheets[i] = t.group.Sheets[i].Count
	}
	return d
}

// A posing is a layout problem with the way back from its indices to the
// group's.
type posing struct {
	nest.Problem
	part  []int // group part of each problem part
	sheet []int // group sheet of each problem sheet
}

// pose turns a demand into a layout problem.
func (t *task) pose(d demand) posing {
	p := posing{Problem: nest.Problem{Spacing: t.group.SpacingMM, Margin: t.group.MarginMM}}
	for i, n := range d.want {
		if n > 0 {
			p.addPart(t, i, n)
		}
	}
	for i, n := range d.sheets {
		if n > 0 {
			s := &t.group.Sheets[i]
			p.Sheets = append(p.Sheets, nest.Sheet{ID: s.ID, Outline: t.sheets[i], Count: n, Cost: s.Cost, Grain: s.GrainDeg})
			p.sheet = append(p.sheet, i)
		}
	}
	return p
}

func (p *posing) addPart(t *task, i, n int) {
	o := &t.group.Parts[i]
	p.Parts = append(p.Parts, nest.Part{
		ID: o.ID, Outline: t.flat[i], Quantity: n, Angles: o.Angles, FreeAngle: o.FreeAngle,
		Mirror: o.Mirror, Grain: o.GrainDeg, Filler: o.Filler, Kit: o.Kit, PerKit: o.PerKit,
	})
	p.part = append(p.part, i)
}

// solvable reports whether there is both something to lay and something to lay it on.
func (p *posing) solvable() bool { return len(p.Parts) > 0 && len(p.Sheets) > 0 }
