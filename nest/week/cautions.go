package week

import (
	"slices"

	"kerfold/cost"
)

// cautions are the hazards of what is cut, each once, in the order in which the
// groups bring them up.
func (m *maker) cautions(p *Plan) []string {
	var out []string
	for i, t := range m.tasks {
		depth := 1
		for k := range p.Groups[i].Layouts {
			depth = max(depth, p.Groups[i].Layouts[k].Depth())
		}
		for _, machine := range t.machines {
			cs, err := cost.Cautions(t.setup(machine, depth))
			if err != nil { // refused; the group's warnings say so
				continue
			}
			for _, c := range cs {
				if !slices.Contains(out, c.Text) {
					out = append(out, c.Text)
				}
			}
		}
	}
	return out
}
